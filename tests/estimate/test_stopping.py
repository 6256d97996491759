"""The stopping rule: each lack by hand, and all of them against a count of their own."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import Enough, Lack
from hearthload.estimate.api import estimate, first_readings, trend
from hearthload.estimate.enough import covered_days
from hearthload.estimate.kinds import target_for
from hearthload.estimate.series import Series
from hearthload.estimate.spans import Span, spans_of
from tests.estimate import reference
from tests.estimate.measurements import answered, every_morning, series, series_of

# A target that nothing fails: the interval may be a hundred times as high as its middle.
ANY = 100.0


def enough_of(kind: Kind, *runs: Sequence[tuple[float, float]], target: float | None = ANY) -> Enough:
    measured = series_of(kind, *runs)
    return estimate(Series(kind, measured.runs, target)).enough


def mornings(first: int, last: int, kwh: float = 1.0) -> list[tuple[float, float]]:
    """Give one reading a morning of a steady load, from day `first` after a Monday to day `last`."""
    return [(day, kwh * (day - first)) for day in range(first, last + 1)]


def test_nothing_lacks_after_a_quiet_week() -> None:
    enough = enough_of(Kind.FREEZER, mornings(0, 7, 0.8), target=None)
    assert (enough.well_measured, enough.lacks, enough.days_to_go) == (True, (), None)
    assert enough.target == 0.10
    assert enough.half_width < 0.10


def test_two_readings_under_twelve_hours_apart_are_one() -> None:
    assert Lack.TWO_READINGS in enough_of(Kind.FREEZER, [(0, 0.0), (0.49, 0.4)]).lacks
    # Even where the figure is too wide as well.
    lacks = enough_of(Kind.FREEZER, [(0, 0.0), (0.49, 0.4)], target=0.001).lacks
    assert lacks == (Lack.TWO_READINGS, Lack.THREE_DAYS, Lack.NARROWER)


def test_one_look_is_not_two() -> None:
    # A fortnight between two readings: narrow enough now, but at no reading before.
    assert enough_of(Kind.FREEZER, [(0, 0.0), (14, 11.2)]).lacks == (Lack.TWO_READINGS,)


@pytest.mark.parametrize(("hours", "lacks"), [(11.9, (Lack.TWO_READINGS,)), (12.1, ())])
def test_the_reading_before_must_be_half_a_day_old(hours: float, lacks: tuple[Lack, ...]) -> None:
    later = 14.0 + hours / 24.0
    assert enough_of(Kind.FREEZER, [(0, 0.0), (14, 11.2), (later, 0.8 * later)]).lacks == lacks


def test_a_figure_that_was_too_wide_yesterday_waits_a_day() -> None:
    # From the morning on which a freezer's figure gets under 10 % for the first time.
    shown = [0.0, 0.83, 1.55, 2.42, 3.19, 3.95, 4.81, 5.57, 6.41, 7.2, 8.02, 8.79, 9.63, 10.4, 11.2]
    answers = trend(every_morning(Kind.FREEZER, shown), range(5, 16))
    narrow = [answer.enough.half_width <= 0.10 for answer in answers]
    assert not narrow[0]
    at = narrow.index(True)
    assert Lack.NARROWER in answers[at - 1].enough.lacks
    assert answers[at].enough.lacks == (Lack.TWO_READINGS,)
    assert answers[at + 1].enough.lacks == ()


@pytest.mark.parametrize(("days", "lacks"), [(2.9, (Lack.THREE_DAYS,)), (3.0, ())])
def test_three_days_at_least(days: float, lacks: tuple[Lack, ...]) -> None:
    assert enough_of(Kind.ALWAYS_ON, [(0, 0.0), (1, 0.2), (2, 0.4), (days, 0.2 * days)]).lacks == lacks


@pytest.mark.parametrize("kind", [Kind.CLIMATE, Kind.PUMP])
def test_what_the_weather_drives_wants_two_weeks(kind: Kind) -> None:
    calm = [(day, 3.0 * day) for day in range(15)]
    assert enough_of(kind, calm[:14]).lacks == (Lack.TWO_WEEKS,)
    assert enough_of(kind, calm).lacks == ()


def test_days_across_a_reset_do_not_count() -> None:
    # 2 + 0.9 days counted, though 4.9 have gone by.
    runs = ([(0, 0.0), (1, 0.2), (2, 0.4)], [(4, 0.0), (4.9, 0.18)])
    assert enough_of(Kind.ALWAYS_ON, *runs).lacks == (Lack.THREE_DAYS,)


@pytest.mark.parametrize("kind", list(Kind))
def test_a_working_week_lacks_a_weekend_where_the_week_has_a_shape(kind: Kind) -> None:
    # Monday 7:00 to Saturday 7:00: seven hours of weekend.
    lacks = enough_of(kind, mornings(0, 5)).lacks
    assert (Lack.WEEKEND_DAY in lacks) == (reference.TABLE[kind].kw >= 0.2)
    assert Lack.WEEKDAY not in lacks


@pytest.mark.parametrize("kind", list(Kind))
def test_two_weekends_lack_a_weekday_where_the_week_has_a_shape(kind: Kind) -> None:
    # Saturday 7:00 to Sunday 24:00, twice, the meter set back between.
    twice = [[(first, 0.0), (first + 1, 1.0), (first + 41 / 24, 1.7)] for first in (5, 12)]
    lacks = enough_of(kind, *twice).lacks
    assert (Lack.WEEKDAY in lacks) == (reference.TABLE[kind].kw >= 0.2)
    assert Lack.WEEKEND_DAY not in lacks


@pytest.mark.parametrize(("hours", "lacks"), [(15.9, (Lack.WEEKEND_DAY,)), (16.1, ())])
def test_a_morning_s_slack_is_no_missing_day(hours: float, lacks: tuple[Lack, ...]) -> None:
    # Read on from Saturday 7:00, when seven hours of weekend are over: with 16 more, 23 h are a day.
    last = 5.0 + hours / 24.0
    assert enough_of(Kind.KITCHEN, [*mornings(0, 5), (last, last)]).lacks == lacks


def test_seasonal_kinds_say_so_and_never_ask_for_less_than_thirty_percent() -> None:
    for kind in Kind:
        enough = enough_of(kind, mornings(0, 4), target=0.02)
        assert enough.seasonal == (kind in {Kind.CLIMATE, Kind.PUMP})
        assert enough.target == (0.30 if enough.seasonal else 0.02)


@pytest.mark.parametrize("kind", list(Kind))
def test_without_a_wanted_target_the_kind_s_own_counts(kind: Kind) -> None:
    assert enough_of(kind, mornings(0, 2), target=None).target == reference.TABLE[kind].target


def test_nothing_measured_lacks_everything() -> None:
    enough = enough_of(Kind.KITCHEN, [(0, 1.0)])
    assert enough.lacks == (
        Lack.TWO_READINGS,
        Lack.THREE_DAYS,
        Lack.WEEKEND_DAY,
        Lack.WEEKDAY,
        Lack.NARROWER,
    )
    assert (enough.well_measured, enough.half_width, enough.days_to_go) == (False, math.inf, None)


def test_covered_days_by_hand() -> None:
    # Friday 7:00 to Monday 7:00: 72 h, of which Saturday and Sunday; then Tuesday 7:00 to Wednesday 7:00.
    spans = spans_of(series_of(Kind.KITCHEN, [(4, 0.0), (7, 1.0)], [(8, 0.0), (9, 1.0)]))
    assert covered_days(spans) == pytest.approx((2.0, 4.0))
    assert covered_days([]) == (0.0, 0.0)


def half_width_of(measured: Series) -> float:
    answer = estimate(measured)
    return math.inf if answer.daily_kwh is None else answered(answer).log_half_width


def half_width_before(measured: Series, spans: tuple[Span, ...]) -> float:
    """Give the half-width at the last reading at least 12 h before the newest span's end."""
    latest = spans[-1].to_s - 12.0 * 3600.0
    counts = range(sum(len(run.snapshots) for run in measured.runs))
    parts = [first_readings(measured, count) for count in counts]
    early = [part for part in parts if spans_of(part) and spans_of(part)[-1].to_s <= latest]
    return half_width_of(early[-1]) if early else math.inf


def wanted_lacks(measured: Series) -> set[Lack]:
    """Give what lacks, counted from the spans and from estimates as they stood before."""
    spans, row = spans_of(measured), reference.TABLE[measured.kind]
    goal = math.log1p(target_for(measured.kind, measured.target))
    now = half_width_of(measured)
    length = sum(span.to_local_d - span.from_local_d for span in spans)
    weekend = 2.0 / 7.0 * length + sum(
        reference.weekend_contrast(span.from_local_d, span.to_local_d) for span in spans
    )
    shaped, seasonal = row.kw >= 0.2, measured.kind in {Kind.CLIMATE, Kind.PUMP}
    measured_d = sum(span.days for span in spans)
    found = {
        Lack.THREE_DAYS: not seasonal and measured_d < 3.0 - 1e-9,
        Lack.TWO_WEEKS: seasonal and measured_d < 14.0 - 1e-9,
        Lack.WEEKEND_DAY: shaped and weekend < 23.0 / 24.0,
        Lack.WEEKDAY: shaped and length - weekend < 23.0 / 24.0,
        Lack.NARROWER: now > goal,
        Lack.TWO_READINGS: spans[-1].to_s - spans[0].from_s < 12.0 * 3600.0
        or now <= goal < half_width_before(measured, spans),
    }
    return {lack for lack, is_lacking in found.items() if is_lacking}


@settings(max_examples=120)
@given(series(), st.sampled_from([None, 0.2, 0.6, 2.0, 10.0, ANY]))
def test_each_lack_is_there_exactly_when_it_should_be(drawn: Series, target: float | None) -> None:
    measured = Series(drawn.kind, drawn.runs, target)
    goal = math.log1p(target_for(drawn.kind, target))
    # The half-width at an earlier reading comes from the later one's factors: near, not the same.
    assume(half_width_before(measured, spans_of(measured)) != pytest.approx(goal, rel=0.02))
    enough = estimate(measured).enough
    assert set(enough.lacks) == wanted_lacks(measured)
    assert len(enough.lacks) == len(set(enough.lacks))
    assert enough.well_measured == (not enough.lacks)
    if enough.well_measured:
        assert enough.days_to_go is None

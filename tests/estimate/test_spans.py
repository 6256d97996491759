"""Spans by hand: where they run, what the display hides of them, and whose clock measures them."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta, timezone

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate.api import estimate
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import DEFAULT_GAIN, display_of, gain_of, spans_of
from tests.estimate.measurements import MONDAY, every_morning, read, run_of, series_of

STEP = 0.1
SQUARE = STEP * STEP / 12.0


def one_span_days(kind: Kind, hours: tuple[float | None, float | None], clock_h: float = 24.0) -> float:
    """Give the time reckoned with for a single span, of a meter that shows hours and minutes."""
    run = RunSeries((read(0, 5.0, hours[0]), read(clock_h / 24.0, 6.0, hours[1])), elapsed_step_h=1 / 60)
    (span,) = spans_of(Series(kind, (run,)))
    return span.days


def test_no_span_crosses_a_reset() -> None:
    # Counter 10.0, 10.9, 12.0, then set back to nothing between the third and the fourth morning.
    series = series_of(Kind.REFRIGERATOR, [(0, 10.0), (1, 10.9), (2, 12.0)], [(2.5, 0.0), (3, 0.4), (4, 1.5)])
    spans = spans_of(series)
    assert [span.run for span in spans] == [0, 0, 1, 1]
    assert [span.energy_kwh for span in spans] == pytest.approx([0.9, 1.1, 0.4, 1.1])
    assert [span.days for span in spans] == pytest.approx([1.0, 1.0, 0.5, 1.0])


def test_total_is_the_sum_of_both_runs() -> None:
    # (12.0 - 10.0) + (1.5 - 0.0) = 3.5 kWh over 2.0 + 1.5 = 3.5 days; the half day between is nobody's.
    series = series_of(Kind.REFRIGERATOR, [(0, 10.0), (1, 10.9), (2, 12.0)], [(2.5, 0.0), (3, 0.4), (4, 1.5)])
    answer = estimate(series)
    assert (answer.readings, answer.spans) == (6, 4)
    assert answer.days == pytest.approx(3.5)
    assert answer.total_per_day_kwh == pytest.approx(1.0)


def test_a_single_reading_after_a_reset_adds_no_span() -> None:
    series = series_of(Kind.FREEZER, [(0, 1.0), (1, 1.8)], [(1.2, 0.0)])
    (span,) = spans_of(series)
    assert span.run == 0
    assert span.energy_kwh == pytest.approx(0.8)


@pytest.mark.parametrize(
    ("exact", "rounding", "correction", "first_u2", "later_u2"),
    [
        # Not a known zero: both ends carry a rectangular error of one step, nothing to correct.
        (False, DisplayRounding.UNKNOWN, 0.0, SQUARE, SQUARE),
        (False, DisplayRounding.TRUNCATES, 0.0, SQUARE, SQUARE),
        # A known zero has no error. A counter that cuts off reads half a step low on average, ...
        (True, DisplayRounding.TRUNCATES, STEP / 2.0, 0.0, SQUARE),
        # ... one that rounds reads true, ...
        (True, DisplayRounding.ROUNDS, 0.0, 0.0, SQUARE),
        # ... and an even mixture of both: mean q/4, variance q²/12 + (q/4)² = 1.75 q²/12.
        (True, DisplayRounding.UNKNOWN, STEP / 4.0, 0.0, SQUARE + (STEP / 4.0) ** 2),
    ],
)
def test_what_the_display_hides(
    *, exact: bool, rounding: DisplayRounding, correction: float, first_u2: float, later_u2: float
) -> None:
    run = RunSeries((read(0, 0.0), read(1, 1.2), read(2, 2.1)), STEP, exact_start=exact, rounding=rounding)
    display = display_of(run)
    assert display.correction_kwh == pytest.approx(correction)
    assert (display.first_u2, display.later_u2) == pytest.approx((first_u2, later_u2))
    first, second = spans_of(Series(Kind.FREEZER, (run,)))
    # The correction belongs to every later reading alike, so of the spans only the first one has it.
    assert (first.correction_kwh, second.correction_kwh) == pytest.approx((correction, 0.0))
    assert (first.from_u2, first.to_u2) == pytest.approx((first_u2, later_u2))
    assert (second.from_u2, second.to_u2) == pytest.approx((later_u2, later_u2))


def test_half_a_hidden_step_is_added_to_the_answer() -> None:
    # A week of a steady load on a coarse display that cuts off: what shows is 3 kWh, what ran is 3.5 on
    # average, so (3 + 0.5)/7 = 0.5 kWh a day. The rounding twin of the meter gets (3 + 0)/7.
    run = RunSeries((read(0, 0.0), read(7, 3.0)), 1.0, exact_start=True, rounding=DisplayRounding.TRUNCATES)
    cut_off = estimate(Series(Kind.WORK_ELECTRONICS, (run,))).posterior
    rounded = estimate(
        Series(Kind.WORK_ELECTRONICS, (replace(run, rounding=DisplayRounding.ROUNDS),))
    ).posterior
    assert cut_off is not None
    assert rounded is not None
    # 0.5 kWh a day is this kind's own m0, so prior and readings agree in every node.
    assert cut_off.mean_log == pytest.approx([math.log(0.5)] * len(cut_off.mean_log))
    assert max(rounded.mean_log) < math.log(0.5)


@pytest.mark.parametrize(
    ("percent", "gain"),
    [(2.0, 0.02 / math.sqrt(3.0)), (0.0, 0.0), (0.5, 0.0028867513), (None, DEFAULT_GAIN)],
)
def test_gain_is_the_stated_half_width_over_root_three(percent: float | None, gain: float) -> None:
    assert gain_of(RunSeries((), gain_percent=percent)) == pytest.approx(gain)


def test_default_gain_is_three_quarters_of_a_percent() -> None:
    assert DEFAULT_GAIN == 0.0075


def test_two_meters_err_by_their_time() -> None:
    # 1 day on a meter of 3 %, 3 days on one of 1 %: (1·3 + 3·1)/4 = 1.5 %, over √3.
    first = replace(run_of([(0, 0.0), (1, 1.0)]), gain_percent=3.0)
    second = replace(run_of([(1, 7.0), (4, 10.0)]), gain_percent=1.0)
    posterior = estimate(Series(Kind.REFRIGERATOR, (first, second))).posterior
    assert posterior is not None
    assert posterior.gain == pytest.approx(0.015 / math.sqrt(3.0))


@pytest.mark.parametrize(
    ("hours", "days"),
    [
        # Tolerance of a day's span: 1/60 + 0.10 + 0.0005·24 = 0.12867 h.
        ((10.0, 34.05), 24.05 / 24.0),
        ((10.0, 34.128), 24.128 / 24.0),
        ((10.0, 34.129), 1.0),
        ((10.0, 33.872), 23.872 / 24.0),
        ((10.0, 33.871), 1.0),
        # Missing at either end, or gone back: nothing to go by but the clock.
        ((None, 34.05), 1.0),
        ((10.0, None), 1.0),
        ((10.0, 4.0), 1.0),
        ((10.0, 10.0), 1.0),
        ((10.0, math.nan), 1.0),
    ],
)
def test_hours_count_where_they_agree_with_the_clock(
    hours: tuple[float | None, float | None], days: float
) -> None:
    assert one_span_days(Kind.REFRIGERATOR, hours) == pytest.approx(days)


def test_hours_may_drift_with_the_length_of_a_span() -> None:
    # Ten days: 1/60 + 0.10 + 0.0005·240 = 0.2367 h, so 0.23 h agree and 0.25 h do not.
    assert one_span_days(Kind.FREEZER, (0.0, 240.23), 240.0) == pytest.approx(240.23 / 24.0)
    assert one_span_days(Kind.FREEZER, (0.0, 240.25), 240.0) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("kind", "counted_h", "days"),
    [
        # Four hours without mains. A freezer makes up for them, a router does not.
        (Kind.FREEZER, 20.0, 1.0),
        (Kind.ALWAYS_ON, 20.0, 20.0 / 24.0),
        # Less than half the day counted is rather a mistyped counter, and so are hours beyond the clock's.
        (Kind.ALWAYS_ON, 11.0, 1.0),
        (Kind.ALWAYS_ON, 28.0, 1.0),
    ],
)
def test_a_power_cut_counts_where_nothing_makes_up_for_it(kind: Kind, counted_h: float, days: float) -> None:
    assert one_span_days(kind, (3.0, 3.0 + counted_h)) == pytest.approx(days)


def test_of_two_readings_at_one_instant_the_higher_was_shown_last() -> None:
    twice = (read(0, 1.0), read(1, 2.0), read(1, 2.5), read(1, 2.2), read(2, 3.0))
    spans = spans_of(Series(Kind.KITCHEN, (RunSeries(twice),)))
    assert [span.energy_kwh for span in spans] == pytest.approx([1.5, 0.5])


def test_the_same_instant_in_two_zones_is_one_reading() -> None:
    abroad = Snapshot(read(1, 2.5).taken_at.astimezone(timezone(timedelta(hours=-6))), 2.5)
    run = RunSeries((read(0, 1.0), read(1, 2.0), abroad, read(2, 3.0)))
    assert len(spans_of(Series(Kind.KITCHEN, (run,)))) == 2


def test_a_counter_that_cannot_be_is_left_out() -> None:
    run = RunSeries((read(0, 1.0), read(1, math.nan), read(2, math.inf), read(3, 4.0)))
    (span,) = spans_of(Series(Kind.KITCHEN, (run,)))
    assert (span.days, span.energy_kwh) == pytest.approx((3.0, 3.0))


def test_local_days_are_those_of_the_wall_clock() -> None:
    (span,) = spans_of(every_morning(Kind.PUMP, [0.0, 0.1]))
    # 1970-01-05 was a Monday: day 4 and whole weeks on. `MONDAY` is at 7:00 local, 6:00 UTC.
    assert math.floor(span.from_local_d) % 7 == 4
    assert span.from_local_d % 1.0 == pytest.approx(7.0 / 24.0)
    assert span.from_s == MONDAY.timestamp()
    assert span.from_s / 86400.0 % 1.0 == pytest.approx(6.0 / 24.0)

"""The first reading of a run, and in which order and company complaints come."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.reading import ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Weight
from hearthload.service.checks import check_first_reading
from tests.service.made_stays import NOW, Stay, assert_plain, codes, draft, meter, saved

STAY = Stay(
    readings=(saved(1, 0.0, 1.0, 0.0), saved(2, 24.0, 2.0, 24.0), saved(3, 72.0, 4.0, 72.0)),
    meter=meter(current_a=0.5),
)


def first(typed: ReadingDraft, *, exact_zero: bool) -> list[str]:
    found = check_first_reading(typed, NOW, exact_zero=exact_zero)
    assert_plain(found)
    return codes(found)


@pytest.mark.parametrize(
    ("energy", "said"), [(0.0, []), (-0.0, []), (0.01, ["not_zero"]), (812.4, ["not_zero"])]
)
def test_an_exact_zero_is_zero(energy: float, said: list[str]) -> None:
    assert first(draft(0.0, energy), exact_zero=True) == said
    assert first(draft(0.0, energy), exact_zero=False) == []


@pytest.mark.parametrize(
    ("elapsed", "said"), [(None, []), (0.0, []), (0.25, []), (0.2501, ["hours_not_zero"])]
)
def test_the_hours_of_an_exact_zero_are_asked_about(elapsed: float | None, said: list[str]) -> None:
    found = check_first_reading(draft(0.0, 0.0, elapsed), NOW, exact_zero=True)
    assert codes(found) == said
    assert {(complaint.field, complaint.weight) for complaint in found} <= {("elapsed_h", Weight.WARNS)}
    assert first(draft(0.0, 0.0, elapsed), exact_zero=False) == []


def test_a_first_reading_has_a_time_and_values_like_any_other() -> None:
    late = replace(draft(0.0, 1.0), taken_at=NOW + timedelta(minutes=3))
    assert first(late, exact_zero=False) == ["future"]
    assert first(draft(0.0, math.nan), exact_zero=False) == ["not_finite"]
    assert first(draft(0.0, -1.0, voltage_v=2000.0), exact_zero=False) == ["negative", "out_of_range"]
    naive = replace(draft(0.0, 1.0), taken_at=NOW.replace(tzinfo=None))
    assert first(naive, exact_zero=False) == ["naive_time"]


def test_of_a_first_reading_too_what_stops_comes_first() -> None:
    typed = draft(0.0, 0.5, 3.0, power_w=50.0, highest_power_w=40.0)
    assert first(typed, exact_zero=True) == ["not_zero", "highest_below_watts", "hours_not_zero"]


def test_an_impossible_time_or_counter_is_said_without_guesses_about_the_rest() -> None:
    late = replace(draft(0.0, 0.1, 1.0), taken_at=NOW + timedelta(days=1))
    assert codes(STAY.check(late)) == ["future"]
    assert codes(STAY.check(draft(96.0, math.inf, 1.0))) == ["not_finite"]
    assert codes(STAY.check(draft(96.0, 0.1, math.inf))) == ["not_finite"]


def test_a_wrong_spot_value_does_not_hide_wrong_counters() -> None:
    assert codes(STAY.check(draft(96.0, 3.0, 96.0, voltage_v=-1.0))) == ["energy_fell", "negative"]
    assert codes(STAY.check(draft(72.0, 3.0, 72.0, voltage_v=-1.0))) == ["same_minute", "negative"]


def test_time_comes_before_counters_and_counters_before_watts() -> None:
    found = STAY.check(draft(96.0, 3.5, 9.6, power_factor=2.0))
    assert [complaint.field for complaint in found] == ["energy_kwh", "elapsed_h", "power_factor"]
    between = STAY.check(draft(48.0, 4.5, 80.0))
    assert codes(between) == ["before_last"]


def test_warnings_come_in_the_order_of_the_form() -> None:
    # 3.9 kWh at 48 h: (3.9 - 2.0 - 0.01)/24 h = 79 W, which the half ampere's 115 W carry.
    typed = draft(48.0, 3.9, 44.0, power_w=200.0, highest_power_w=150.0)
    found = STAY.check(typed, expected=Interval(3.0, 2.9, 3.1))
    assert codes(found) == [
        "goes_between",
        "unexpected",
        "hours_against_clock",
        "watts_above_rating",
        "highest_below_watts",
    ]


def test_a_stop_comes_before_every_warning() -> None:
    # 3.55 kWh a day is 147 W, above 1.25·115 W: it stops, and the place between others only warns.
    stay = replace(STAY, readings=(saved(1, 0.0, 1.0), saved(2, 72.0, 9.0)))
    found = stay.check(draft(24.0, 4.55))
    assert codes(found) == ["impossible_power", "goes_between"]


ANY_READING = st.builds(
    draft,
    st.floats(-48.0, 300.0),
    st.floats(-1.0, 20.0) | st.sampled_from([math.nan, math.inf, 1.0, 2.0, 4.0]),
    st.none() | st.floats(-1.0, 300.0),
    power_w=st.none() | st.floats(-1.0, 300.0),
    highest_power_w=st.none() | st.floats(0.0, 300.0),
)


@given(typed=ANY_READING, ignoring=st.sampled_from([None, 1, 2, 3]))
def test_of_any_reading_what_stops_is_said_first_and_plainly(
    typed: ReadingDraft, ignoring: int | None
) -> None:
    found = STAY.check(typed, ignoring=ignoring, expected=Interval(4.5, 4.2, 4.8))
    assert_plain(found)
    weights = [complaint.weight for complaint in found]
    assert weights == sorted(weights, key=[Weight.STOPS, Weight.WARNS].index)
    said = [(complaint.field, complaint.code) for complaint in found]
    assert len(said) == len(set(said))

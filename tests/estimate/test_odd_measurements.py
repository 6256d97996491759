"""Odd but possible measurements: whatever was typed, the answer is finite, in order, and above zero."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import Estimate, Interval, Lack
from hearthload.estimate.api import estimate, expected_energy_kwh
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import spans_of
from tests.estimate.measurements import KINDS, MONDAY, answered, every_morning, read, series_of

# Counters that stand still, jump, fall, or are enormous; hours that fall, jump, or are missing.
ENERGIES = st.one_of(
    st.sampled_from([0.0, 0.0, 1e-6, 0.01, 5.0, 1e9]),
    st.floats(0.0, 100.0),
    st.floats(0.0, 1e9),
)
HOURS = st.one_of(st.none(), st.sampled_from([0.0, 24.0, 1e9]), st.floats(0.0, 2000.0))
SPOTS = st.one_of(st.none(), st.sampled_from([0.0, 0.1, 1e6]), st.floats(0.01, 4000.0))
STATES = st.sampled_from([None, None, RunState.RUNNING, RunState.IDLE])
# Minutes after `MONDAY`; few different ones, so that instants coincide.
MINUTES = st.one_of(st.integers(0, 12), st.integers(0, 60000), st.integers(0, 40).map(lambda day: 1440 * day))


@st.composite
def snapshots(draw: st.DrawFn) -> Snapshot:
    moment = MONDAY + timedelta(minutes=draw(MINUTES))
    return Snapshot(moment, draw(ENERGIES), draw(HOURS), draw(SPOTS), draw(STATES))


RUNS = st.builds(
    RunSeries,
    st.lists(snapshots(), max_size=9).map(tuple),
    energy_step_kwh=st.sampled_from([1e-6, 0.001, 0.01, 1.0, 1000.0]),
    elapsed_step_h=st.sampled_from([1e-5, 1 / 60, 1.0, 24.0]),
    gain_percent=st.sampled_from([None, 0.0, 2.0, 100.0]),
    exact_start=st.booleans(),
    rounding=st.sampled_from(DisplayRounding),
)
SERIES = st.builds(
    Series,
    KINDS,
    st.lists(RUNS, max_size=3).map(tuple),
    target=st.sampled_from([None, 1e-3, 0.1, 5.0]),
    running_w=st.sampled_from([None, 0.1, 60.0, 1e5]),
    nameplate_w=st.sampled_from([None, 100.0]),
)


def rising(series: Series) -> Series:
    """Give the series as a meter may show it: counters that rise, by thousandths at the finest."""
    runs = []
    for run in series.runs:
        in_time = sorted(run.snapshots, key=lambda one: one.taken_at)
        counters = sorted(one.energy_kwh % 3000.0 for one in in_time)
        shown = [replace(one, energy_kwh=kwh) for one, kwh in zip(in_time, counters, strict=True)]
        step = max(run.energy_step_kwh, 0.001)
        runs.append(replace(run, snapshots=tuple(shown), energy_step_kwh=step))
    return replace(series, runs=tuple(runs))


def assert_ordered(interval: Interval) -> None:
    assert interval.low <= interval.value <= interval.high < math.inf


def assert_sound(series: Series, answer: Estimate) -> None:
    """Check what holds of every estimate, whatever it was made from."""
    assert answer.spans == len(spans_of(series))
    assert (answer.daily_kwh is None) == (answer.posterior is None) == (answer.spans == 0)
    assert answer.enough.well_measured == (not answer.enough.lacks)
    if answer.enough.days_to_go is not None:
        assert answer.enough.days_to_go.low >= 0.0
        assert_ordered(answer.enough.days_to_go)
    if answer.duty_cycle is not None:
        assert answer.duty_cycle.share.low >= 0.0
        assert answer.duty_cycle.share.high <= 1.0
        assert_ordered(answer.duty_cycle.share)
    if answer.daily_kwh is None or answer.posterior is None:
        return
    assert answer.daily_kwh.low > 0.0
    assert_ordered(answer.daily_kwh)
    assert answer.enough.half_width == pytest.approx(answer.daily_kwh.relative_half_width)
    assert answer.days > 0.0
    assert sum(answer.posterior.weight) == pytest.approx(1.0)
    assert min(answer.posterior.variance) > 0.0


@settings(max_examples=200)
@given(SERIES)
def test_every_answer_is_finite_and_in_order(series: Series) -> None:
    assert_sound(series, estimate(series))


@settings(max_examples=100)
@given(SERIES.map(rising), st.integers(-3, 60))
def test_what_is_expected_next_is_finite_and_in_order(series: Series, day: int) -> None:
    at = MONDAY + timedelta(days=day)
    begun = any(one.taken_at <= at for run in series.runs for one in run.snapshots)
    expected = expected_energy_kwh(series, at)
    assert (expected is not None) == begun
    if expected is not None:
        assert_ordered(expected)


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("count", [61, 700])
def test_seven_hundred_readings(kind: Kind, count: int) -> None:
    # Twice a day for a year, 0.9 kWh a day, the odd evening left out.
    readings = [(at / 2.0, round(0.45 * at, 2)) for at in range(count) if at % 11 != 7]
    answer = estimate(series_of(kind, readings))
    assert_sound(series_of(kind, readings), answer)
    assert answered(answer).value == pytest.approx(0.9, rel=0.02)
    assert answer.days == pytest.approx(readings[-1][0])


@pytest.mark.parametrize("kind", list(Kind))
def test_nothing_but_zeros(kind: Kind) -> None:
    series = every_morning(kind, [0.0] * 12)
    answer = estimate(series)
    assert_sound(series, answer)
    assert answer.total_per_day_kwh == 0.0
    # Nothing counted is no figure to stop at: what is left is what its kind is expected to take.
    assert Lack.NARROWER in answer.enough.lacks


@pytest.mark.parametrize("level_kwh", [1e-5, 1e3, 1e6])
def test_a_level_far_from_any_appliance(level_kwh: float) -> None:
    series = every_morning(Kind.NOT_SURE, [level_kwh * day for day in range(15)], step_kwh=1e-6)
    answer = answered(estimate(series))
    assert answer.value == pytest.approx(level_kwh, rel=0.05)
    assert answer.low < level_kwh < answer.high


def test_a_typo_cancels_in_the_next_span() -> None:
    # 12.3 typed for 3.2 on the third morning; energy over time does not know it.
    right = [0.0, 1.1, 2.1, 3.2, 4.3, 5.2]
    wrong = [0.0, 1.1, 2.1, 12.3, 4.3, 5.2]
    assert estimate(every_morning(Kind.REFRIGERATOR, wrong)).total_per_day_kwh == pytest.approx(5.2 / 5.0)
    narrow, wide = (answered(estimate(every_morning(Kind.REFRIGERATOR, typed))) for typed in (right, wrong))
    assert wide.log_half_width > 3.0 * narrow.log_half_width


def test_duplicates_change_nothing() -> None:
    once = every_morning(Kind.FREEZER, [0.0, 0.8, 1.7, 2.4])
    run = once.runs[0]
    twice = replace(once, runs=(replace(run, snapshots=run.snapshots * 2),))
    # The lower of two at one instant was shown first.
    lower = (*run.snapshots, read(2, 1.2))
    assert estimate(twice).daily_kwh == estimate(once).daily_kwh
    assert (
        estimate(replace(once, runs=(replace(run, snapshots=lower),))).daily_kwh == estimate(once).daily_kwh
    )


def test_hours_that_fall_leave_the_time_to_the_clock() -> None:
    hours = [10.0, 34.0, 2.0, 26.0]
    energies = [0.0, 0.8, 1.7, 2.4]
    fallen = RunSeries(tuple(read(day, energies[day], hours[day]) for day in range(4)))
    plain = estimate(every_morning(Kind.FREEZER, energies))
    assert answered(estimate(Series(Kind.FREEZER, (fallen,)))).value == pytest.approx(answered(plain).value)


def test_no_readings_at_all() -> None:
    for runs in ((), (RunSeries(()),), (RunSeries(()), RunSeries((read(0, 1.0),)))):
        assert_sound(Series(Kind.PUMP, runs), estimate(Series(Kind.PUMP, runs)))

"""What must not matter does not: weeks, zones, the order of rows, the unit, a reading too many."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import spans_of
from tests.estimate.measurements import KINDS, answered, every_morning, series, series_of
from tests.estimate.reference import TABLE

DAYS = st.lists(st.floats(0.5, 1.7), min_size=2, max_size=8)


def shifted(measured: Series, moved: Callable[[datetime], datetime]) -> Series:
    """Give the series with the moment of every reading moved."""
    runs = (
        replace(run, snapshots=tuple(replace(one, taken_at=moved(one.taken_at)) for one in run.snapshots))
        for run in measured.runs
    )
    return replace(measured, runs=tuple(runs))


def assert_same(found: Interval, wanted: Interval, *, by: float = 1.0, rel: float = 1e-7) -> None:
    scaled = [by * end for end in (wanted.value, wanted.low, wanted.high)]
    assert [found.value, found.low, found.high] == pytest.approx(scaled, rel=rel)


def growing(kind: Kind, days: list[float]) -> list[tuple[float, float]]:
    """Give a reading a morning of days that take so many times what is expected of the kind."""
    points = [(0.0, 0.0)]
    for day, times in enumerate(days, 1):
        points.append((day, points[-1][1] + times * TABLE[kind].m0_kwh))
    return points


@settings(max_examples=60)
@given(series(), st.integers(-500, 500))
def test_whole_weeks_make_no_difference(drawn: Series, weeks: int) -> None:
    later = shifted(drawn, lambda moment: moment + timedelta(weeks=weeks))
    wanted, found = estimate(drawn), estimate(later)
    assert_same(answered(found), answered(wanted))
    assert found.enough.lacks == wanted.enough.lacks


@settings(max_examples=60)
@given(series(st.just(Kind.PUMP)), st.integers(-720, 720))
def test_where_the_weekend_is_nothing_any_wall_clock_serves(drawn: Series, minutes: int) -> None:
    # With kw = 0 local time enters by its differences alone.
    assert_same(answered(estimate(elsewhere(drawn, minutes))), answered(estimate(drawn)))


@settings(max_examples=40)
@given(KINDS, st.lists(st.floats(0.5, 1.7), min_size=2, max_size=4), st.integers(-6 * 60, 16 * 60))
def test_within_the_working_week_any_wall_clock_serves(kind: Kind, days: list[float], minutes: int) -> None:
    # Monday 7:00 to Friday 7:00 stays between Monday 1:00 and Friday 23:00: no weekend on either clock.
    measured = series_of(kind, growing(kind, days))
    assert_same(answered(estimate(elsewhere(measured, minutes))), answered(estimate(measured)))


def test_the_wall_clock_matters_at_the_weekend() -> None:
    # The same instants, Friday 7:00 to Sunday 7:00 here, are mostly weekend 16 h further east.
    measured = series_of(Kind.WORK_ELECTRONICS, [(3, 0.0), (4, 0.8), (5, 1.2), (6, 1.2)])
    here, there = (estimate(elsewhere(measured, minutes)) for minutes in (0, 16 * 60))
    assert answered(there).value != pytest.approx(answered(here).value, rel=1e-3)


def elsewhere(measured: Series, minutes: int) -> Series:
    """Give the same instants on a wall clock so many minutes ahead of the one they were typed by."""

    def moved(moment: datetime) -> datetime:
        offset = moment.utcoffset()
        assert offset is not None
        total = offset + timedelta(minutes=minutes)
        # Zones reach a day at most; a whole day more or less changes no time of day.
        if abs(total) >= timedelta(days=1):
            total -= math.copysign(1.0, total.total_seconds()) * timedelta(days=1)
        return moment.astimezone(timezone(total))

    return shifted(measured, moved)


@settings(max_examples=60)
@given(series(), st.randoms(use_true_random=False))
def test_the_order_of_rows_makes_no_difference(drawn: Series, chance: random.Random) -> None:
    runs = []
    for run in drawn.runs:
        rows = list(run.snapshots)
        chance.shuffle(rows)
        runs.append(replace(run, snapshots=tuple(rows)))
    mixed_up = replace(drawn, runs=tuple(runs))
    assert spans_of(mixed_up) == spans_of(drawn)
    assert estimate(mixed_up).daily_kwh == estimate(drawn).daily_kwh


@settings(max_examples=60)
@given(
    series(st.sampled_from([Kind.REFRIGERATOR, Kind.FREEZER, Kind.ALWAYS_ON])),
    st.floats(1.0, 500.0),
    st.sampled_from([1e-3, 0.1, 3.6, 1000.0]),
)
def test_another_unit_of_energy_scales_the_answer(drawn: Series, watts: float, by: float) -> None:
    # m0 of these kinds comes from the stated watts, so all that has the unit of energy can be scaled.
    wanted = answered(estimate(replace(drawn, running_w=watts)))
    runs = tuple(
        replace(
            run,
            snapshots=tuple(replace(one, energy_kwh=by * one.energy_kwh) for one in run.snapshots),
            energy_step_kwh=by * run.energy_step_kwh,
        )
        for run in drawn.runs
    )
    found = answered(estimate(replace(drawn, runs=runs, running_w=by * watts)))
    assert_same(found, wanted, by=by, rel=1e-6)


@given(KINDS, st.floats(0.3, 3.0), st.integers(1, 12), st.integers(0, 11), st.floats(0.1, 0.9))
def test_a_reading_too_many_of_a_steady_load_widens_nothing(
    kind: Kind, times: float, days: int, at: int, part: float
) -> None:
    points = growing(kind, [times] * days)
    before, after = (
        answered(estimate(fine(kind, points))),
        answered(estimate(fine(kind, split(points, at % days, part)))),
    )
    # It can only say that there is little scatter. By the nodes' spacing it may be off by a thousandth.
    assert after.log_half_width <= 1.002 * before.log_half_width
    assert abs(math.log(after.value / before.value)) <= 0.1 * before.log_half_width


@given(KINDS, DAYS, st.integers(0, 7), st.floats(0.1, 0.9))
def test_a_reading_on_the_line_hardly_moves_the_answer(
    kind: Kind, days: list[float], at: int, part: float
) -> None:
    # Days that differ, one of them read twice with the same rate before and after.
    points = growing(kind, days)
    before = answered(estimate(fine(kind, points)))
    after = answered(estimate(fine(kind, split(points, at % len(days), part))))
    assert abs(math.log(after.value / before.value)) <= 0.2 * before.log_half_width
    assert 0.4 < after.log_half_width / before.log_half_width < 1.6


def fine(kind: Kind, points: list[tuple[float, float]]) -> Series:
    """Give a series read from a display so fine that its step does not matter."""
    return series_of(kind, points, step_kwh=1e-6)


def split(points: list[tuple[float, float]], at: int, part: float) -> list[tuple[float, float]]:
    """Add a reading on the straight line of one span."""
    (day, energy), (next_day, next_energy) = points[at], points[at + 1]
    between = (day + part * (next_day - day), energy + part * (next_energy - energy))
    return [*points[: at + 1], between, *points[at + 1 :]]


def test_where_the_counter_starts_makes_no_difference() -> None:
    low, high = ([start + 0.9 * day for day in range(8)] for start in (0.0, 4321.0))
    wanted = answered(estimate(every_morning(Kind.FREEZER, low)))
    assert_same(answered(estimate(every_morning(Kind.FREEZER, high))), wanted, rel=1e-6)


def test_watts_seen_say_nothing_about_the_day() -> None:
    measured = every_morning(Kind.REFRIGERATOR, [0.0, 1.1, 2.0, 3.2])
    seen = [replace(one, power_w=90.0, state=RunState.RUNNING) for one in measured.runs[0].snapshots]
    with_spots = replace(measured, runs=(replace(measured.runs[0], snapshots=tuple(seen)),))
    assert estimate(with_spots).daily_kwh == estimate(measured).daily_kwh
    assert estimate(with_spots).duty_cycle is not None


def test_runs_without_a_span_make_no_difference() -> None:
    measured = every_morning(Kind.REFRIGERATOR, [0.0, 1.1, 2.0, 3.2])
    later = Snapshot(measured.runs[0].snapshots[-1].taken_at + timedelta(hours=1), 0.0)
    more = replace(measured, runs=(*measured.runs, RunSeries((later,)), RunSeries(())))
    assert estimate(more).daily_kwh == estimate(measured).daily_kwh
    assert estimate(more).readings == estimate(measured).readings + 1

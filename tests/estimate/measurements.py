"""Measurements made up for these tests: plain ones laid out by hand, and odd but possible ones drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta, timezone

from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.series import RunSeries, Series, Snapshot
from tests.estimate.reference import TABLE

MONDAY = datetime(2026, 3, 2, 7, 0, tzinfo=timezone(timedelta(hours=1)))
"""A Monday morning in winter, local time; no change of clocks for four weeks."""

KINDS = st.sampled_from(list(Kind))


def read(day: float, energy_kwh: float, elapsed_h: float | None = None) -> Snapshot:
    """Give the reading taken so many days after `MONDAY`."""
    return Snapshot(MONDAY + timedelta(days=day), energy_kwh, elapsed_h)


def run_of(readings: Sequence[tuple[float, float]], step_kwh: float = 0.01) -> RunSeries:
    """Give a run from pairs of days after `MONDAY` and displayed energy."""
    return RunSeries(tuple(read(day, energy) for day, energy in readings), step_kwh)


def series_of(kind: Kind, *runs: Sequence[tuple[float, float]], step_kwh: float = 0.01) -> Series:
    """Give a series of runs, each of pairs of days after `MONDAY` and displayed energy."""
    return Series(kind, tuple(run_of(run, step_kwh) for run in runs))


def every_morning(kind: Kind, energies_kwh: Sequence[float], step_kwh: float = 0.01) -> Series:
    """Give a series of one reading a day."""
    return series_of(kind, list(enumerate(energies_kwh)), step_kwh=step_kwh)


def answered(estimate: Estimate) -> Interval:
    """Give the daily energy of an estimate that must have one."""
    assert estimate.daily_kwh is not None
    return estimate.daily_kwh


# Gaps between readings: whole days to the minute, mornings with some slack, an evening, a skipped week.
_GAPS_MIN = st.one_of(
    st.sampled_from([1440, 2880, 10080]),
    st.integers(1260, 1620),
    st.integers(45, 900),
    st.integers(2000, 8000),
)
# What the meter's hours are off the clock by: typing, power cuts, a mistyped counter. The first three
# never add up to more than the 0.1 h that agree with the clock, the others are far beyond it.
# What is always on is spared these: there the program lets the hours of a power cut count, and says why.
_TYPED_H = [0.0, 0.0, 0.04, -0.04]
_CUT_OR_MISTYPED_H = [3.0, 700.0]


@dataclass(frozen=True)
class Manner:
    """How a measurement is drawn: its start, its meter, hours off the clock, levels, and days' scatter."""

    start: datetime
    meter: RunSeries
    off_h: st.SearchStrategy[float]
    level_kwh: st.SearchStrategy[float]
    times: st.SearchStrategy[float]


@st.composite
def runs(draw: st.DrawFn, manner: Manner, most: int) -> RunSeries:
    """Draw a run of one meter, counting up from somewhere or from an exact zero."""
    meter = manner.meter
    exact = draw(st.booleans())
    level_kwh = draw(manner.level_kwh)
    true_kwh = 0.0 if exact else draw(st.integers(0, 4000)) / 40.0
    moment, snapshots = manner.start, []
    with_hours = draw(st.booleans())
    for at in range(draw(st.integers(1, most))):
        if at:
            gap = timedelta(minutes=draw(_GAPS_MIN))
            moment += gap
            true_kwh += level_kwh * gap.total_seconds() / 86400.0 * draw(manner.times)
        shown = round(true_kwh // meter.energy_step_kwh * meter.energy_step_kwh, 6)
        hours = round((moment - manner.start).total_seconds() / 3600.0 + draw(manner.off_h), 2)
        snapshots.append(Snapshot(moment, shown, hours if with_hours and not draw(st.booleans()) else None))
    return replace(
        meter,
        snapshots=tuple(snapshots),
        exact_start=exact,
        rounding=draw(st.sampled_from(DisplayRounding)),
    )


@st.composite
def manners(draw: st.DrawFn, kind: Kind, *, calm: bool) -> Manner:
    """Draw what all runs of a measurement have in common.

    Calm ones have levels and scatter as they are usual; the others stand still, or run far from both.
    """
    zone = timezone(timedelta(hours=draw(st.integers(-9, 12))))
    start = datetime(2026, 1, 1, 7, tzinfo=zone) + timedelta(minutes=draw(st.integers(0, 60 * 24 * 60)))
    step = draw(st.sampled_from([0.001, 0.01, 0.01, 0.1, 1.0]))
    m0_kwh = TABLE[kind].m0_kwh
    return Manner(
        start,
        RunSeries((), step, 1 / 60, draw(st.sampled_from([None, 0.0, 0.5, 2.0]))),
        st.sampled_from(_TYPED_H + ([] if kind is Kind.ALWAYS_ON else _CUT_OR_MISTYPED_H)),
        st.sampled_from(
            [0.6 * m0_kwh, m0_kwh, 1.7 * m0_kwh] if calm else [0.0, 0.004, 0.05, 0.4, 1.0, 3.0, 40.0]
        ),
        st.floats(0.75, 1.3) if calm else st.floats(0.0, 2.5),
    )


@st.composite
def series(
    draw: st.DrawFn, kinds: st.SearchStrategy[Kind] = KINDS, most_runs: int = 3, *, calm: bool = False
) -> Series:
    """Draw a measurement of one meter: 2 to 25 readings in up to three runs, with at least one span."""
    kind = draw(kinds)
    manner = draw(manners(kind, calm=calm))
    drawn: list[RunSeries] = []
    left = 25
    for number in range(draw(st.integers(1, most_runs))):
        run = draw(runs(manner, min(left, 25 if number == 0 else 9)))
        drawn.append(run)
        left -= len(run.snapshots)
        gap = timedelta(minutes=draw(st.integers(1, 3000)))
        manner = replace(manner, start=run.snapshots[-1].taken_at + gap)
        if left < 2:
            break
    if all(len(run.snapshots) < 2 for run in drawn):
        first = drawn[-1].snapshots[-1]
        second = Snapshot(first.taken_at + timedelta(days=1), first.energy_kwh + manner.meter.energy_step_kwh)
        drawn[-1] = replace(manner.meter, snapshots=(first, second))
    return Series(kind, tuple(drawn))

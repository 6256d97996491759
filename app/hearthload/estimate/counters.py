"""Counters that went back: a reset, a roll-over or a slip of the finger, told apart by what comes after."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from operator import le

from hearthload.domain.units import SECONDS_PER_HOUR
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import display_of, ordered

NEAR_FULL = 0.9
"""A counter rolls over from at least so much of its full scale."""

_TYPED_TIME_H = 0.10
LARGEST_POWER_KW = 7.36
"""No plug-in circuit carries more: 32 A at 230 V [kW]."""


@dataclass(frozen=True, slots=True)
class Fall:
    """A counter that fell: `what` is "reset", "roll_over", "typo" or "held"; the reading concerned.

    `before_kwh` and `after_kwh` are the counter before and at the fall [kWh].
    """

    what: str
    reading: Snapshot
    before_kwh: float
    after_kwh: float


def settled(series: Series) -> tuple[Series, tuple[Fall, ...]]:
    """Give the series with runs parted at resets and slips left out, and what was found.

    A counter that fell, y_i < y_{i−1} − q/2, was reset when its hours fell too and it could have counted
    y_i since then, or when the readings after it go on from below; it rolled over when it stood near full
    scale; it was mistyped when leaving one reading out makes the neighbours fit. The last reading is held
    until the next one tells.
    """
    runs: list[RunSeries] = []
    falls: list[Fall] = []
    for run in series.runs:
        parts, found = _parted(run)
        runs.extend(parts)
        falls.extend(found)
    return (replace(series, runs=tuple(runs)) if falls else series), tuple(falls)


def _parted(run: RunSeries) -> tuple[list[RunSeries], list[Fall]]:
    slack = 0.5 * display_of(run).step_kwh
    left = ordered(run)
    shown = [snapshot.energy_kwh for snapshot in left]
    if all(map(le, shown, [energy + slack for energy in shown[1:]])):
        return [run], []
    done: list[Snapshot] = []
    parts: list[RunSeries] = []
    falls: list[Fall] = []
    at = 1
    while at < len(left):
        before, now = left[at - 1], left[at]
        if now.energy_kwh >= before.energy_kwh - slack:
            at += 1
            continue
        what, gone = _judged(left, at, slack)
        falls.append(Fall(what, left[gone], before.energy_kwh, now.energy_kwh))
        if what in {"reset", "roll_over"}:
            parts.append(_part(run, left[:at], first=not parts))
            left, at = left[at:], 1
        else:
            left = [*left[:gone], *left[gone + 1 :]]
            at = max(gone - 1, 1)
    done.extend(left)
    parts.append(_part(run, done, first=not parts))
    return parts, falls


def _part(run: RunSeries, snapshots: Sequence[Snapshot], *, first: bool) -> RunSeries:
    zero_kept = first and bool(snapshots) and bool(run.snapshots) and snapshots[0] == ordered(run)[0]
    return replace(run, snapshots=tuple(snapshots), exact_start=run.exact_start and zero_kept)


def _judged(readings: Sequence[Snapshot], at: int, slack: float) -> tuple[str, int]:
    """Say what happened at a fall, and the place of the reading that it is about."""
    before, now = readings[at - 1], readings[at]
    if _hours_fell(before, now) and _possible_since_reset(before, now):
        return "reset", at
    if at + 1 == len(readings):
        return _at_the_end(readings, at, slack)
    after = readings[at + 1].energy_kwh
    if after >= before.energy_kwh - slack:
        return "typo", at
    if at == 1 or now.energy_kwh >= readings[at - 2].energy_kwh - slack:
        if after >= now.energy_kwh - slack:
            return ("typo", at - 1) if at > 1 else _first_or_reset(before, now, at)
        return "typo", at
    return ("roll_over", at) if _near_full(before.energy_kwh) else ("reset", at)


def _at_the_end(readings: Sequence[Snapshot], at: int, slack: float) -> tuple[str, int]:
    """Judge the newest reading: the one before it was too high if without it all fits, else it is held."""
    before, now = readings[at - 1], readings[at]
    if at >= 3 and now.energy_kwh >= readings[at - 2].energy_kwh - slack:
        usual = _rate(readings[0], readings[at - 2])
        high, low = _rate(readings[at - 2], before), _rate(readings[at - 2], now)
        if usual > 0.0 and abs(math.log(max(low, 1e-12) / usual)) < abs(math.log(max(high, 1e-12) / usual)):
            return "typo", at - 1
    return ("roll_over", at) if _near_full(before.energy_kwh) and now.energy_kwh < 1.0 else ("held", at)


def _first_or_reset(before: Snapshot, now: Snapshot, at: int) -> tuple[str, int]:
    """Judge a fall right after the first reading: the display was set to zero, or the first was a slip."""
    return (
        ("reset", at)
        if _near_full(before.energy_kwh) or now.energy_kwh < 0.5 * before.energy_kwh
        else (
            "typo",
            at - 1,
        )
    )


def _hours_fell(before: Snapshot, now: Snapshot) -> bool:
    if before.elapsed_h is None or now.elapsed_h is None:
        return False
    return now.elapsed_h < before.elapsed_h


def _possible_since_reset(before: Snapshot, now: Snapshot) -> bool:
    """Tell whether a counter set to zero in between could show this: hours and power in bounds."""
    hours = (now.taken_at - before.taken_at).total_seconds() / SECONDS_PER_HOUR
    counted = now.elapsed_h or 0.0
    return counted <= hours + _TYPED_TIME_H and now.energy_kwh <= LARGEST_POWER_KW * max(
        counted, _TYPED_TIME_H
    )


def _near_full(energy_kwh: float) -> bool:
    """Tell whether a counter stood near all nines: 999.9, 9999, 99 999 kWh."""
    return any(NEAR_FULL * full <= energy_kwh <= full for full in (999.999, 9999.99, 99999.9))


def _rate(first: Snapshot, last: Snapshot) -> float:
    hours = (last.taken_at - first.taken_at).total_seconds() / SECONDS_PER_HOUR
    return (last.energy_kwh - first.energy_kwh) / hours if hours > 0.0 else 0.0

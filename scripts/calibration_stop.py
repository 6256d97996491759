"""The stopping rule: how often the truth is outside when the program says enough, and the days to go."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

import mornings
from calibration_energy import plain
from calibration_run import Answer, Errand, estimated
from calibration_tables import Target, at_most, figure, middle, share, share_at_most, table
from hearthload.domain.appliance import Kind
from hearthload.estimate.kinds import target_for
from simulators import FAMILIES, WEATHER
from simulators_base import Load

MOST_READINGS = 60
"""Mornings after which a person gives up waiting."""

_ROUNDS = (7, 12, 20, 30, 45, MOST_READINGS)
"""Looks up to which each round of estimates goes: what is enough by then is not looked at again."""

LEAST_DAYS, LEAST_HOURS_APART = 3.0, 12.0
OUTSIDE_AT_MOST = 6.0
COLD_TARGET, COLD_MEDIAN_D = 0.15, 8.0
FORECAST_DAYS, FORECAST_FACTOR = 2.0, 1.5


@dataclass(frozen=True, slots=True)
class Look:
    """One morning's answer: days measured [d], interval over the truth [1], enough or not, days to go [d]."""

    days: float
    hour: float
    low: float
    high: float
    enough: bool
    to_go: tuple[float, float, float] | None

    @property
    def outside(self) -> bool:
        """Tell whether the truth lies outside the interval."""
        return not self.low <= 1.0 <= self.high


@dataclass(frozen=True, slots=True)
class Watched:
    """One appliance, looked at every morning until it was enough; `plain_*` the same for energy over time.

    `close` is the look at which ± 15 % was first held (cold appliances), each stop None where never.
    """

    family: str
    looks: tuple[Look, ...]
    stop: int | None
    close: int | None
    plain_stop_d: float | None
    plain_outside: bool


def watch(errand: Errand) -> list[Watched]:
    """Look at each appliance of an errand every morning until it is enough."""
    cases = [(load, mornings.stay(rng, load, MOST_READINGS)) for _, rng, _, load in errand.appliances()]
    looks: list[list[Look]] = [[] for _ in cases]
    begun = 2
    for until in _ROUNDS:
        open_ones = [at for at, seen in enumerate(looks) if not seen or not seen[-1].enough]
        series = [
            (f"{at} after {count}", errand.family, cases[at][1].first(count))
            for at in open_ones
            for count in range(begun, until + 1)
        ]
        answers = iter(estimated(series).answers) if series else iter(())
        for at in open_ones:
            seen = [_look(cases[at][1].first(count), next(answers)) for count in range(begun, until + 1)]
            stop = next((number for number, look in enumerate(seen) if look.enough), len(seen) - 1)
            looks[at] += seen[: stop + 1]
        begun = until + 1
    return [_watched(errand.family, case, seen) for case, seen in zip(cases, looks, strict=True)]


def _look(stay: mornings.Stay, answer: Answer) -> Look:
    daily, truth, to_go = answer["daily_kwh"], stay.long_run_kwh, answer["days_to_go"]
    return Look(
        answer["days"],
        stay.readings[-1].hour,
        daily["low"] / truth,
        daily["high"] / truth,
        answer["well_measured"],
        None if to_go is None else (to_go["value"], to_go["low"], to_go["high"]),
    )


def _watched(family: str, case: tuple[Load, mornings.Stay], looks: Sequence[Look]) -> Watched:
    stop = len(looks) - 1 if looks[-1].enough else None
    plain_stop, plain_outside = _plain_stop(family, case[1])
    return Watched(family, tuple(looks), stop, _close(looks, COLD_TARGET), plain_stop, plain_outside)


def _close(looks: Sequence[Look], target: float) -> int | None:
    """Find the look at which ± target holds now and at a look 12 h or more before, after three days."""
    narrow = [0.5 * math.log(look.high / look.low) <= math.log1p(target) for look in looks]
    for at, look in enumerate(looks):
        before = [n for n in range(at) if looks[n].hour <= look.hour - LEAST_HOURS_APART]
        if narrow[at] and before and narrow[before[-1]] and look.days >= LEAST_DAYS:
            return at
    return None


def _plain_stop(family: str, stay: mornings.Stay) -> tuple[float | None, bool]:
    """Stop by energy over time and its normal interval: days until then [d], truth outside or not."""
    target = target_for(Kind(family), None)
    narrow_before = False
    for count in range(3, MOST_READINGS + 1):
        part = stay.first(count)
        mean, half, _ = plain(part)
        days = (part.readings[-1].hour - part.readings[0].hour) / 24.0
        narrow = mean > 0.0 and 0.0 < half <= target * mean
        if narrow and narrow_before and days >= LEAST_DAYS:
            return days, not abs(mean - stay.long_run_kwh) <= half
        narrow_before = narrow
    return None, False


EXPLAINED = f"""
outside   share of those well measured whose truth lies outside the interval at that moment
normal    the same when energy over time with 1.96 s/√n is stopped by the same rule; days: its median
days      median of days until enough, over all; "-" where not half get there in {MOST_READINGS} readings
right     share of forecasts of the days to go within {FORECAST_DAYS:g} days or a factor {FORECAST_FACTOR:g}
range     share of forecasts whose 20 to 80 % range, and a day to either side, holds what it took
          (forecasts at every morning from the third reading on, each appliance weighing the same; those never
          enough count as right when the forecast, or the range, reaches beyond the last reading)"""


def report(found: Sequence[Watched]) -> tuple[list[str], list[Target]]:
    """Lay out the table and hold the targets against it."""
    families = [family for family in FAMILIES if any(one.family == family for one in found)]
    columns = ("family", "n", "target", "reached", "outside", "days", "normal", "days", "right", "range")
    rows = [_row(family, [one for one in found if one.family == family]) for family in families]
    lines = [
        "",
        "At the stopping rule: the first reading at which it is well measured",
        EXPLAINED.strip("\n"),
    ]
    lines += table("By family, each with its own target", columns, rows)
    return lines, list(_targets(families, found))


def _row(family: str, cell: Sequence[Watched]) -> tuple[str, ...]:
    stopped = [one for one in cell if one.stop is not None]
    outside = share([one.looks[-1].outside for one in stopped])
    plain_stops = [one for one in cell if one.plain_stop_d is not None]
    right, ranged = _forecasts(cell)
    return (
        family,
        str(len(cell)),
        f"± {100.0 * target_for(Kind(family), None):.0f} %",
        figure(100.0 * len(stopped) / len(cell)),
        figure(outside, missed=outside > OUTSIDE_AT_MOST and len(stopped) >= 0.2 * len(cell)),
        figure(median_days([one.looks[-1].days if one.stop is not None else math.inf for one in cell])),
        figure(share([one.plain_outside for one in plain_stops])),
        figure(median_days([math.inf if one.plain_stop_d is None else one.plain_stop_d for one in cell])),
        figure(right),
        figure(ranged),
    )


def median_days(days: Sequence[float]) -> float:
    """Give the median of days, not a number where half never come there [d]."""
    value = middle(days)
    return value if math.isfinite(value) else math.nan


def _forecasts(cell: Sequence[Watched]) -> tuple[float, float]:
    """Give the shares of right forecasts and right ranges [%]."""
    right, ranged = [], []
    for one in cell:
        over, last = one.stop is not None, one.looks[-1]
        told = [
            (look.to_go, (last.hour - look.hour) / 24.0)
            for look in one.looks[1:]
            if look.to_go is not None and not look.enough
        ]
        if told:
            right.append(sum(_is_right(to_go[0], took, over=over) for to_go, took in told) / len(told))
            ranged.append(
                sum(_in_range(to_go[1], to_go[2], took, over=over) for to_go, took in told) / len(told)
            )
    return 100.0 * _mean(right), 100.0 * _mean(ranged)


def _mean(values: Sequence[float]) -> float:
    return sum(values) / len(values) if values else math.nan


def _is_right(foreseen: float, took: float, *, over: bool) -> bool:
    if not over:
        return foreseen >= took / FORECAST_FACTOR or foreseen >= took - FORECAST_DAYS
    near = abs(foreseen - took) <= FORECAST_DAYS
    return near or took / FORECAST_FACTOR <= foreseen <= took * FORECAST_FACTOR


def _in_range(low: float, high: float, took: float, *, over: bool) -> bool:
    """Tell whether a range holds what it took; readings are daily, so a day to either side is no miss."""
    return high + 1.0 >= took and (not over or low - 1.0 <= took)


def _targets(families: Sequence[str], found: Sequence[Watched]) -> Iterator[Target]:
    for family in families:
        cell = [one for one in found if one.family == family]
        stopped = [one for one in cell if one.stop is not None]
        if family in WEATHER and len(stopped) < 0.2 * len(cell):
            continue
        outside = [one.looks[-1].outside for one in stopped]
        yield share_at_most(f"outside at the stop, {family}", outside, OUTSIDE_AT_MOST)
    every = [one.looks[-1].outside for one in found if one.stop is not None]
    yield share_at_most("outside at the stop, all", every, OUTSIDE_AT_MOST)
    cold = [one for one in found if one.family == "refrigerator"]
    if cold:
        days = [math.inf if one.close is None else one.looks[one.close].days for one in cold]
        # Readings come once a day: 8.01 days are eight mornings, so the median is told in whole days.
        what = f"whole days until a refrigerator is within ± {100.0 * COLD_TARGET:.0f} %, median"
        yield at_most(what, float(np.round(median_days(days))), COLD_MEDIAN_D, "d")
        close = [one.looks[one.close].outside for one in cold if one.close is not None]
        yield share_at_most("outside then", close, OUTSIDE_AT_MOST)

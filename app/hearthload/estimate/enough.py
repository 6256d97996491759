"""Enough? The stopping rule, what still lacks, and the days to go."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hearthload.domain.appliance import Kind
from hearthload.domain.units import HOURS_PER_DAY, SECONDS_PER_HOUR
from hearthload.estimate.answers import Enough, Interval, Lack
from hearthload.estimate.covariance import Floats, weekend_days
from hearthload.estimate.kinds import NORMAL_95, KindDefaults, is_seasonal, target_for
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series
from hearthload.estimate.spans import Span

LEAST_DAYS, LEAST_WEATHER_DAYS = 3.0, 14.0
"""Days that the counters must have run on [d]; for what the weather drives, three or four spells of it.

Measured for a week in calm weather such a thing looks steadier than it is: of those that were enough before
ten days, a third had the truth outside (scripts/calibration.py).
"""

_LEAST = ((Lack.THREE_DAYS, LEAST_DAYS), (Lack.TWO_WEEKS, LEAST_WEATHER_DAYS))
LEAST_HOURS_APART = 12.0
HALF_DAY_S = LEAST_HOURS_APART * SECONDS_PER_HOUR
"""Least time between the two readings at which the interval must be narrow enough [s]."""

WEEK_SHAPED_FROM = 0.2
"""Weekend contrast kw [1] from which a weekend day and a weekday must have been seen."""

_WHOLE_DAY = 23.0 / 24.0
"""Covered time that counts as a day of its sort [d]: morning readings are not taken to the minute."""

LONGEST_FORECAST_D = 366.0
"""Beyond a year, days to go are not foreseen."""

_FORECAST_MARGIN = 1.08
_COLD_MARGIN = 1.35
"""Forecasts of refrigerators and freezers came out at half the days it then took: scripts/calibration.py."""
_UNEVEN_HOURS = 0.05
_UNEVEN_WEEK = 0.04
_SHARES = (0.5, 0.2, 0.8)


def judge(
    series: Series,
    spans: Sequence[Span],
    defaults: KindDefaults,
    posterior: Posterior | None,
    half_widths: tuple[float, float],
) -> Enough:
    """Say whether the measurement is enough for a plan, what lacks, and how many days are to go.

    `half_widths` are (ln high − ln low)/2 [1] now and at the last reading at least 12 h before the newest:
    the interval must be narrow enough at both, so that one lucky morning does not end a measurement.
    """
    target = target_for(series.kind, series.target)
    goal = math.log1p(target)
    now, before = half_widths
    lacks = _calendar_lacks(spans, defaults, seasonal=is_seasonal(series.kind))
    if now > goal:
        lacks.append(Lack.NARROWER)
    if _hours_apart(spans) < LEAST_HOURS_APART or now <= goal < before:
        lacks.insert(0, Lack.TWO_READINGS)
    to_go = None
    if lacks and posterior is not None:
        to_go = days_to_go(posterior, defaults, target, margin_for(series.kind))
        to_go = None if to_go is None else _no_sooner(to_go, _calendar_days(spans, lacks))
    return Enough(not lacks, target, math.expm1(now), tuple(lacks), to_go, is_seasonal(series.kind))


def _hours_apart(spans: Sequence[Span]) -> float:
    """Give the hours from the first reading to the last [h]."""
    return (spans[-1].to_s - spans[0].from_s) / SECONDS_PER_HOUR if spans else 0.0


def _calendar_lacks(spans: Sequence[Span], defaults: KindDefaults, *, seasonal: bool) -> list[Lack]:
    lacks = []
    lack, least_d = _LEAST[seasonal]
    if sum(span.days for span in spans) < least_d - 1e-9:
        lacks.append(lack)
    if defaults.kw >= WEEK_SHAPED_FROM:
        weekend, whole = covered_days(spans)
        if weekend < _WHOLE_DAY:
            lacks.append(Lack.WEEKEND_DAY)
        if whole - weekend < _WHOLE_DAY:
            lacks.append(Lack.WEEKDAY)
    return lacks


def covered_days(spans: Sequence[Span]) -> tuple[float, float]:
    """Give the weekend days and all days that the spans cover, by the local calendar [d]."""
    if not spans:
        return 0.0, 0.0
    start = np.array([span.from_local_d for span in spans])
    stop = np.array([span.to_local_d for span in spans])
    return float((weekend_days(stop) - weekend_days(start)).sum()), float((stop - start).sum())


def _calendar_days(spans: Sequence[Span], lacks: Sequence[Lack]) -> float:
    """Give the days that the calendar alone still asks for [d], from the last reading on."""
    measured = sum(span.days for span in spans)
    wait = max((least_d - measured for lack, least_d in _LEAST if lack in lacks), default=0.0)
    if Lack.TWO_READINGS in lacks:
        wait = max(wait, LEAST_HOURS_APART / HOURS_PER_DAY)
    now = np.array(spans[-1].to_local_d)
    weekend, whole = covered_days(spans)
    for lack, seen, is_weekend in (
        (Lack.WEEKEND_DAY, weekend, True),
        (Lack.WEEKDAY, whole - weekend, False),
    ):
        if lack in lacks:
            wait = max(wait, _wait_for(now, _WHOLE_DAY - seen, is_weekend=is_weekend))
    return wait


def _wait_for(now: Floats, wanted_d: float, *, is_weekend: bool) -> float:
    """Find after how many whole quarters of a day `wanted_d` more days of that sort have gone by [d]."""
    ahead = np.arange(0.25, 8.25, 0.25)
    weekend = weekend_days(now + ahead) - weekend_days(now)
    gone = weekend if is_weekend else ahead - weekend
    return float(ahead[int(np.argmax(gone >= wanted_d))])


def _no_sooner(days: Interval, least_d: float) -> Interval:
    return Interval(max(days.value, least_d), max(days.low, least_d), max(days.high, least_d))


def margin_for(kind: Kind) -> float:
    """Give by how much the forecast half-width is widened, for what the nodes do not know of the days."""
    return _COLD_MARGIN if kind in {Kind.REFRIGERATOR, Kind.FREEZER} else _FORECAST_MARGIN


def days_to_go(
    posterior: Posterior, defaults: KindDefaults, target: float, margin: float = _FORECAST_MARGIN
) -> Interval | None:
    """Give weighted median and 20 to 80 % range over the nodes of the days N still wanted [d].

    For each node the least N with, S = T + N, m·1.96·√(c²g_τ(S)/S² + (.05kd/S)² + .04kw²/S² + u_g² +
    (q/μ)²/(6S²)) ≤ ln(1 + target), m the `margin`. None when the median lies beyond a year or is never
    reached (the meter's own accuracy may be coarser than the target); the upper end stops at a year.
    """
    goal = (math.log1p(target) / (NORMAL_95 * margin)) ** 2 - posterior.gain**2
    if goal <= 0.0:
        return None
    days = _days_by_node(posterior, defaults, goal)
    order = np.argsort(days, kind="stable")
    reached = np.cumsum(np.array(posterior.weight)[order])
    value, low, high = (
        float(days[order[min(int(np.searchsorted(reached, share - 1e-12)), len(order) - 1)]])
        for share in _SHARES
    )
    if not math.isfinite(value):
        return None
    return Interval(value, low, min(high, LONGEST_FORECAST_D))


def _days_by_node(posterior: Posterior, defaults: KindDefaults, goal: float) -> Floats:
    """Solve each node's inequality for N [d]; infinite where a year is not enough.

    With e = goal·S² − c²·g_τ(S) − fixed the least S with e ≥ 0 is sought. g_τ grows at most like S·slope, so
    the root of goal·S² − c²·slope·S − fixed lies at or beyond it, and Newton's steps come down from there.
    """
    c2 = np.array(posterior.c) ** 2
    tau = np.array(posterior.tau_d)
    level = np.exp(np.array(posterior.mean_log))
    once = (_UNEVEN_HOURS * defaults.kd) ** 2 + _UNEVEN_WEEK * defaults.kw**2
    fixed = once + (posterior.step_kwh / level) ** 2 / 6.0
    remembers = tau > 0.0
    memory = np.where(remembers, tau, 1.0)
    slope = np.where(remembers, 1.0 / (1.0 + memory * np.expm1(-1.0 / memory)), 1.0)

    def excess(total_d: Floats) -> tuple[Floats, Floats]:
        faded = np.where(remembers, np.expm1(-total_d / memory), 0.0)
        walk = slope * (total_d + memory * faded)
        rise = -slope * np.where(remembers, faded, -1.0)
        return goal * total_d**2 - c2 * walk - fixed, 2.0 * goal * total_d - c2 * rise

    linear = c2 * slope
    total = (linear + np.sqrt(linear**2 + 4.0 * goal * fixed)) / (2.0 * goal)
    for _ in range(_NEWTON_STEPS):
        value, rise = excess(total)
        down = value / np.maximum(rise, _LEAST_RISE)
        total -= down
        if float((down / total).max()) <= _NEWTON_CLOSE:
            break
    days = total - posterior.days
    done = excess(np.full_like(c2, posterior.days))[0] >= 0.0
    return np.where(done, 0.0, np.where(days > LONGEST_FORECAST_D, math.inf, np.maximum(days, 0.0)))


_LEAST_RISE = 1e-300
_NEWTON_CLOSE = 1e-12

_NEWTON_STEPS = 7
"""From the linear bound the first step leaves a small gap, each further one squares it."""

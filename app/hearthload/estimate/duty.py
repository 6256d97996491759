"""Duty cycle: the share of time an appliance runs, from its average watts and its watts while running."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import NormalDist
from typing import TypeGuard

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.reading import RunState
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.answers import DutyBasis, DutyCycle, DutyNature, Interval
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series

STATE_RATIO = 3.0
"""Running and idle watts lie further apart than this factor, or the spots show one state."""

_SPOT_SCATTER = 0.045
_SPOT_PRIOR_SPOTS = 4.0
_STATED_U = 0.10
_NAMEPLATE_U = 0.20
_IDLE_FLOOR_W, _IDLE_SHARE = 0.15, 0.05
UNKNOWN_IDLE_W, _UNKNOWN_IDLE_U_W = 1.0, 0.9
_STILL_RUNNING = 0.8
_SURE_DOF = 1e6

_HEATER_SHARE, _HEATER_U = 0.10, 0.07
"""Share of a frost-free machine's energy that its defrost heater takes: 10 ± 7 % [1]."""

_HEATER_RATIO = 2.2
"""A defrost heater draws 350 to 600 W, the compressor 60 to 160 W: more than this times as much [1]."""
LEAST_FREEDOM = 4.0
"""Degrees of freedom of running watts from a single spot."""

_Z95 = NormalDist().inv_cdf(0.975)
_G1 = (_Z95**3 + _Z95) / 4.0
_G2 = (5.0 * _Z95**5 + 16.0 * _Z95**3 + 3.0 * _Z95) / 96.0
_G3 = (3.0 * _Z95**7 + 19.0 * _Z95**5 + 17.0 * _Z95**3 - 15.0 * _Z95) / 384.0
_G4 = (79.0 * _Z95**9 + 776.0 * _Z95**7 + 1482.0 * _Z95**5 - 1920.0 * _Z95**3 - 945.0 * _Z95) / 92160.0

# Mean and standard deviation of a half-normal distribution of scale 1.
_HALF_NORMAL_MEAN = math.sqrt(2.0 / math.pi)
_HALF_NORMAL_SD = math.sqrt(1.0 - 2.0 / math.pi)


@dataclass(frozen=True, slots=True)
class Watts:
    """Watts of one state: value and standard uncertainty [W], degrees of freedom, number of spots."""

    value_w: float
    u_w: float
    freedom: float = _SURE_DOF
    spots: int = 0


def split_spots(
    spots: Sequence[tuple[float, RunState | None]], average_w: float
) -> tuple[list[float], list[float]]:
    """Sort spot watts into running and idle ones.

    Her word wins. The others part at the largest ratio between neighbours in size if it exceeds 3, the
    states she named counting as neighbours too. Watts that show one state are running watts unless they
    lie clearly below the average [W], which nothing that runs can do.
    """
    running = [watts for watts, state in spots if state is RunState.RUNNING]
    idle = [watts for watts, state in spots if state is RunState.IDLE]
    open_w = [watts for watts, state in spots if state is None]
    if not open_w:
        return running, idle
    split = _largest_gap(sorted(watts for watts, _ in spots))
    if split is None:
        if running and not idle:
            one_is_running = True
        elif idle and not running:
            one_is_running = False
        else:
            one_is_running = sum(open_w) / len(open_w) >= _STILL_RUNNING * average_w
        split = -math.inf if one_is_running else math.inf
    running += [watts for watts in open_w if watts > split]
    idle += [watts for watts in open_w if watts <= split]
    return running, idle


def _largest_gap(ordered_w: Sequence[float]) -> float | None:
    """Find the watts below the largest ratio gap, None if no gap exceeds the factor 3."""
    best, below = STATE_RATIO, None
    for lower, upper in pairwise(ordered_w):
        ratio = upper / lower if lower > 0.0 else (math.inf if upper > 0.0 else 1.0)
        if ratio > best:
            best, below = ratio, lower
    return below


def running_from_spots(running_w: Sequence[float]) -> Watts:
    """Give running watts from k spots: u² = s²/k [W²] with ν = 3 + k.

    s² = (4(0.045P)² + Σ(P_i − P)²)/(4 + k − 1): a prior scatter of 4.5 % worth four spots.
    """
    k = len(running_w)
    mean = sum(running_w) / k
    squares = sum((watts - mean) ** 2 for watts in running_w)
    variance = (_SPOT_PRIOR_SPOTS * (_SPOT_SCATTER * mean) ** 2 + squares) / (_SPOT_PRIOR_SPOTS + k - 1)
    return Watts(mean, math.sqrt(variance / k), k + 3.0, k)


def running_from_nameplate(nameplate_w: float) -> Watts:
    """Give running watts from a data plate, which states a maximum: P = plate·(1 − δ) [W], δ ≥ 0.

    δ is half-normal of scale 20 %, so P lies 16 ± 12 % below the plate.
    """
    return Watts(
        nameplate_w * (1.0 - _NAMEPLATE_U * _HALF_NORMAL_MEAN), nameplate_w * _NAMEPLATE_U * _HALF_NORMAL_SD
    )


def idle_watts(idle_w: Sequence[float]) -> Watts:
    """Give idle watts: the spots' mean ± (0.15 W + 5 %), or 1.0 ± 0.9 W where none was read."""
    if not idle_w:
        return Watts(UNKNOWN_IDLE_W, _UNKNOWN_IDLE_U_W)
    mean = sum(idle_w) / len(idle_w)
    return Watts(mean, _IDLE_FLOOR_W + _IDLE_SHARE * mean, spots=len(idle_w))


def duty_cycle(series: Series, posterior: Posterior) -> DutyCycle | None:
    """Give the share of time running, None where running watts are not known or do not exceed idle ones.

    Running watts come from spots, else as stated, else from the nameplate. With spots the same meter
    stands above and below the fraction, so its gain is left out. Of a frost-free machine the defrost heater's
    share of the energy, 10 ± 7 %, is taken off first; where it is not known whether a cold appliance has one,
    the share is an equivalent one. A machine of variable speed is measured against its highest watts.
    """
    if not _spots(series) and not _usable(series.running_w) and not _usable(series.nameplate_w):
        return None
    average_w = posterior.median_kwh(with_gain=False) * WATTS_PER_KILOWATT / HOURS_PER_DAY
    running_w, idle_w = read_watts(series, average_w)
    nature = nature_of(series)
    if nature is DutyNature.MEAN_LOAD and running_w:
        running_w = [max(running_w)]
    chosen = _running(series, running_w)
    if chosen is None:
        return None
    running, basis = chosen
    idle = idle_watts(idle_w)
    if running.value_w <= idle.value_w:
        return None
    _, log_u = posterior.log_moments(with_gain=basis is not DutyBasis.SPOTS)
    average = Watts(average_w, average_w * log_u)
    if nature is DutyNature.WITHOUT_DEFROST:
        average = _less_heater(average)
    share = share_running(average, running, idle)
    return DutyCycle(
        share, running.value_w, running.u_w, idle.value_w, basis, running.spots, nature, idle.spots
    )


def read_watts(series: Series, average_w: float) -> tuple[list[float], list[float]]:
    """Give the watts read while running and while idle [W], a defrost heater's left out."""
    return split_spots(_without_heater(_spots(series), series.cycling), average_w)


def nature_of(series: Series) -> DutyNature:
    """Tell what a share of this series means."""
    if series.cycling is Cycling.VARIABLE_SPEED:
        return DutyNature.MEAN_LOAD
    if series.cycling is Cycling.FROST_FREE:
        return DutyNature.WITHOUT_DEFROST
    is_cold = series.kind in {Kind.REFRIGERATOR, Kind.FREEZER}
    return DutyNature.EQUIVALENT if is_cold and series.cycling is Cycling.NOT_KNOWN else DutyNature.SHARE


def _less_heater(average: Watts) -> Watts:
    """Take the defrost heater's share h of the energy off: P(1 − h), u² = ((1 − h)·u)² + (P·u_h)² [W²]."""
    left = 1.0 - _HEATER_SHARE
    u = math.hypot(left * average.u_w, average.value_w * _HEATER_U)
    return Watts(average.value_w * left, u, average.freedom)


def _without_heater(
    spots: Sequence[tuple[float, RunState | None]], cycling: Cycling
) -> list[tuple[float, RunState | None]]:
    """Leave out the heater: spots named as its own, and of a frost-free machine those far above the rest."""
    named = [spot for spot in spots if spot[1] is not RunState.HEATING]
    if cycling is not Cycling.FROST_FREE:
        return named
    running = sorted(watts for watts, state in named if state is RunState.RUNNING)
    if not running:
        return named
    limit = _HEATER_RATIO * running[len(running) // 2]
    return [spot for spot in named if spot[1] is not None or spot[0] <= limit]


def _spots(series: Series) -> list[tuple[float, RunState | None]]:
    return [
        (snapshot.power_w, snapshot.state)
        for run in series.runs
        for snapshot in run.snapshots
        if snapshot.power_w is not None and math.isfinite(snapshot.power_w) and snapshot.power_w >= 0.0
    ]


def _running(series: Series, running_w: Sequence[float]) -> tuple[Watts, DutyBasis] | None:
    if running_w:
        return running_from_spots(running_w), DutyBasis.SPOTS
    if _usable(series.running_w):
        return Watts(series.running_w, _STATED_U * series.running_w), DutyBasis.STATED
    if _usable(series.nameplate_w):
        return running_from_nameplate(series.nameplate_w), DutyBasis.NAMEPLATE
    return None


def _usable(watts: float | None) -> TypeGuard[float]:
    return watts is not None and math.isfinite(watts) and watts > 0.0


def share_running(average: Watts, running: Watts, idle: Watts) -> Interval:
    """Give D = (P − P_idle)/(P_run − P_idle) [1] with its 95 % interval.

    u(D)² = [u(P)² + (D·u_run)² + ((1−D)·u_idle)²]/(P_run − P_idle)² (JCGM 100 5.1.2); t with the
    effective degrees of freedom of Welch and Satterthwaite (JCGM 100 G.4.1), on the logit scale, which
    keeps the interval inside 0 to 1. Where D is within t·u of one the logit has no room left; there the
    interval is taken on the plain scale and ends at one.
    """
    room = running.value_w - idle.value_w
    raw = (average.value_w - idle.value_w) / room
    share = min(max(raw, 0.0), 1.0)
    parts = (
        (average.u_w / room, average.freedom),
        (share * running.u_w / room, running.freedom),
        ((1.0 - share) * idle.u_w / room, idle.freedom),
    )
    square = sum(u * u for u, _ in parts)
    u = math.sqrt(square)
    if u == 0.0:
        return Interval(share, share, share)
    t = student_factor(square**2 / sum(part**4 / freedom for part, freedom in parts))
    if share + t * u >= 1.0:
        return Interval(share, max(share - t * u, 0.0), 1.0)
    return _on_logit(share, u, t)


def _on_logit(share: float, u: float, t: float) -> Interval:
    """Give share and interval on the logit scale [1]; a share of nothing keeps its upper end."""
    centre = max(share, 0.5 * u)
    logit = math.log(centre / (1.0 - centre))
    reach = t * u / (centre * (1.0 - centre))
    low, high = (1.0 / (1.0 + math.exp(-(logit + sign * reach))) for sign in (-1.0, 1.0))
    return Interval(share, min(low, share), max(high, share))


def student_factor(freedom: float) -> float:
    """Give the two-sided 95 % point of Student's t [1] for effective degrees of freedom.

    t = z + g₁/ν + g₂/ν² + g₃/ν³ + g₄/ν⁴ (Abramowitz and Stegun 26.7.5) with the polynomials g at z = 1.96:
    within 0.04 % from four degrees of freedom on, and no spot gives fewer. A numerical library would have it
    exactly but takes longer to load than the whole roster takes to show.
    """
    inverse = 1.0 / max(freedom, LEAST_FREEDOM)
    return _Z95 + inverse * (_G1 + inverse * (_G2 + inverse * (_G3 + inverse * _G4)))

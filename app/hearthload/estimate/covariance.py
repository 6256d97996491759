"""How the energies of spans scatter and hang together: the matrices behind the estimate."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthload.domain.units import SECONDS_PER_DAY
from hearthload.estimate.kinds import TAUS_D, KindDefaults
from hearthload.estimate.merging import MOST_SPANS
from hearthload.estimate.spans import Span

Floats = NDArray[np.float64]

WEEKEND_SHARE = 2.0 / 7.0


@dataclass(frozen=True, slots=True)
class Scatter:
    """Vectors and matrices of n spans (or n groups of spans where there are more runs than is handy).

    `days` T [d], weekends allowed for; `energy_kwh` d, corrected for what the display hides; `walk` D[g_τ],
    one for each of `TAUS_D` that the kind has; `habit` kd² D[b] + kw² w w'; `display_kwh2` Q. g and habit
    are relative to the mean [1].
    """

    days: Floats
    energy_kwh: Floats
    walk: Floats
    habit: Floats
    display_kwh2: Floats

    def leading(self, count: int) -> Scatter:
        """Give the same for the first `count` spans alone."""
        return Scatter(
            self.days[:count],
            self.energy_kwh[:count],
            self.walk[:, :count, :count],
            self.habit[:count, :count],
            self.display_kwh2[:count, :count],
        )


def walk_variance(lag_d: Floats, tau_d: float) -> Floats:
    """Give g_τ(h) [1], the variance of a lag h [d] of daily scatter in units of one day's variance.

    g_0(h) = |h|; g_τ(h) = f(|h|)/f(1) with f(x) = 2τ²(x/τ − 1 + e^(−x/τ)): the integral of a stationary
    process whose correlation is e^(−h/τ). Holds for every lag.
    """
    lag = np.abs(lag_d)
    if tau_d == 0.0:
        return lag
    one_day = 1.0 / tau_d + np.expm1(-1.0 / tau_d)
    grown: Floats = (lag / tau_d + np.expm1(-lag / tau_d)) / one_day
    return grown


def profile_variance(lag_d: Floats, *, rough: bool) -> Floats:
    """Give b(h) [1], what an unknown time-of-day profile contributes over a lag h [d].

    With r = h mod 1 day: 4r²(1−r)² for a smooth profile, r(1−r) for a rough one; nothing over whole days.
    """
    part = np.mod(lag_d, 1.0)
    bow = part * (1.0 - part)
    return bow if rough else 4.0 * bow * bow


def weekend_days(local_d: Floats) -> Floats:
    """Give the weekend days from 1970-01-01 (a Thursday) up to local wall days `local_d` [d]."""
    since = local_d - 2.0
    weeks = np.floor(since / 7.0)
    days: Floats = 2.0 * weeks + np.minimum(since - 7.0 * weeks, 2.0)
    return days


def weekend_excess(from_local_d: Floats, to_local_d: Floats) -> Floats:
    """Give w = ∫ (1[weekend] − 2/7) dt [d] over spans in local wall days."""
    weekend = weekend_days(to_local_d) - weekend_days(from_local_d)
    return weekend - WEEKEND_SHARE * (to_local_d - from_local_d)


def scatter_of(spans: Sequence[Span], defaults: KindDefaults) -> Scatter:
    """Work out the matrices of estimator sections 1 and 2 for spans of one kind of appliance.

    A weekday counts for more than a day, and a weekend's for less, where the kind is expected to rest then:
    T + k·w with k the kind's `weekend`, w = ∫ (1[weekend] − 2/7) dt [d].

    D[G]_kl = ½(G(t_k,t_l−1) + G(t_k−1,t_l) − G(t_k,t_l) − G(t_k−1,t_l−1)). Memory runs on the world's
    clock, habits on the local wall clock; the two differ only where the clocks change.
    """
    table = np.array(spans)
    run, from_s, to_s, from_local, to_local, days, energy, hidden, from_u2, to_u2 = table.T[:10]
    joint = _joint(run, from_s, to_s)
    closing = _closing(joint)
    moments = _chained(from_s - from_s.min(), to_s - from_s.min(), joint) / SECONDS_PER_DAY
    lag = np.abs(moments[:, None] - moments)
    local = _chained(from_local, to_local, joint)
    profile = profile_variance(local[:, None] - local, rough=defaults.rough)
    used = [tau for tau, weight in zip(TAUS_D, defaults.p_tau, strict=True) if weight > 0.0]
    parts = _between(np.stack([*(walk_variance(lag, tau) for tau in used), profile]), closing)
    walk = np.zeros((len(TAUS_D), *parts.shape[1:]))
    walk[[TAUS_D.index(tau) for tau in used]] = parts[:-1]
    excess = weekend_excess(from_local, to_local)
    habit = defaults.kd**2 * parts[-1] + defaults.kw**2 * np.outer(excess, excess)
    in_order = ((run[1:] > run[:-1]) | (from_s[1:] > from_s[:-1])).all()
    display = _display(joint, from_u2, to_u2) if in_order else _display_of_any(table.T)
    return Scatter(_rested(days, excess, defaults.weekend), energy + hidden, walk, habit, display)


def _rested(days: Floats, excess: Floats, weekend: float) -> Floats:
    """Give T + k·w [d], at least about a weekend day's part of T and at most about a weekday's.

    Beyond those it comes to where the meter counted far less time than the wall's clock, or that was changed.
    """
    least, most = 1.0 + weekend * (1.0 - WEEKEND_SHARE), 1.0 - weekend * WEEKEND_SHARE
    rested: Floats = np.clip(days + weekend * excess, 0.9 * least * days, 1.1 * most * days)
    return rested


def _joint(run: Floats, from_s: Floats, to_s: Floats) -> NDArray[np.bool_]:
    """Tell for each span but the first whether it begins with the reading that closes the one before."""
    joint: NDArray[np.bool_] = (run[1:] == run[:-1]) & (from_s[1:] == to_s[:-1])
    return joint


def _closing(joint: NDArray[np.bool_]) -> NDArray[np.intp] | None:
    """Give the places among all ends at which a span closes; None where every place but the first does."""
    if joint.all():
        return None
    opened = np.concatenate(([1], np.where(joint, 0, 1)))
    return np.cumsum(opened + 1) - 1


def _chained(starts: Floats, stops: Floats, joint: NDArray[np.bool_]) -> Floats:
    """Give the ends of all spans in order, one that two neighbours share but once."""
    anew = np.flatnonzero(~joint) + 1
    ends: Floats = np.concatenate((starts[:1], stops))
    return np.insert(ends, anew + 1, starts[anew]) if len(anew) else ends


def _between(variance: Floats, closing: NDArray[np.intp] | None) -> Floats:
    """Apply D[·] to matrices G over all ends, and keep the rows and columns at which a span closes."""
    grown = variance[:, :, 1:] - variance[:, :, :-1]
    out: Floats = 0.5 * (grown[:, :-1] - grown[:, 1:])
    return out if closing is None else out[:, closing[:, None] - 1, closing - 1]


def _display(joint: NDArray[np.bool_], from_u2: Floats, to_u2: Floats) -> Floats:
    """Give Q = D diag(u²) D' [kWh²] of spans in order: neighbours share a reading, its error enters both."""
    size = len(from_u2)
    out: Floats = np.zeros((size, size))
    flat = out.reshape(-1)
    flat[:: size + 1] = from_u2 + to_u2
    shared = np.where(joint, -to_u2[:-1], 0.0)
    flat[1 :: size + 1] = shared
    flat[size :: size + 1] = shared
    return out


def _display_of_any(columns: Floats) -> Floats:
    """Give Q for spans in any order, any two of which may share a reading: one ahead from the middle."""
    run, start, stop, start_u2, stop_u2 = columns[[0, 1, 2, 8, 9]]
    same_run = run[:, None] == run
    shared = np.where(same_run & (stop[:, None] == start), stop_u2[:, None], 0.0)
    starts = np.where(same_run & (start[:, None] == start), start_u2[:, None], 0.0)
    stops = np.where(same_run & (stop[:, None] == stop), stop_u2[:, None], 0.0)
    out: Floats = starts + stops - shared - shared.T
    return out


def grouped(scatter: Scatter) -> Scatter:
    """Sum neighbouring spans into at most `MOST_SPANS` groups, also across runs: S V S' for the sums S d."""
    if len(scatter.days) <= MOST_SPANS:
        return scatter
    at = np.linspace(0, len(scatter.days), MOST_SPANS, endpoint=False).astype(np.intp)

    def both(matrix: Floats) -> Floats:
        out: Floats = np.add.reduceat(np.add.reduceat(matrix, at, axis=-1), at, axis=-2)
        return out

    return Scatter(
        np.add.reduceat(scatter.days, at),
        np.add.reduceat(scatter.energy_kwh, at),
        both(scatter.walk),
        both(scatter.habit),
        both(scatter.display_kwh2),
    )

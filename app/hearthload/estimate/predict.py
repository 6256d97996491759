"""What the meter's counter should show next: the predictive range of the same model."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from hearthload.domain.units import SECONDS_PER_DAY
from hearthload.estimate.answers import Interval
from hearthload.estimate.covariance import Floats, Scatter, scatter_of
from hearthload.estimate.energy import NEGLIGIBLE, fit_day
from hearthload.estimate.factors import cholesky, nodes_for
from hearthload.estimate.kinds import TAUS_D, KindDefaults, defaults_for
from hearthload.estimate.merging import MOST_SPANS, merged
from hearthload.estimate.mixture import quantiles
from hearthload.estimate.posterior import SHARES, Posterior
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import Display, Span, display_of, gain_of, moment_of, ordered, spans_of


def _points(count: int) -> tuple[Floats, Floats]:
    """Give Gauss-Hermite points and weights for a standard normal, exact to the moment 2·count − 1."""
    points, weights = np.polynomial.hermite_e.hermegauss(count)
    return points, weights / weights.sum()


_MONTH = 30

_FEW, _MORE, _MANY = _points(7), _points(21), _points(61)
"""Seven points follow a level known from spans; of few spans, or of the prior alone, it spreads wider."""

_SETTLED = 5
"""Spans from which the level is known well enough for few points."""


def expected_energy_kwh(
    series: Series,
    at: datetime,
    spans: tuple[Span, ...] | None = None,
    posterior: Posterior | None = None,
) -> Interval | None:
    """Give median and 95 % range of what the counter shows at `at` [kWh], None before the first reading.

    The gain over the last reading before `at` in the run of that time is d* = μ(T* + ε*) + e*; given the
    spans, ε* and e* follow by the rules of the normal distribution with the covariances of estimator
    section 2, and μ by the posterior. The meter's gain is left out: the same meter will be read. A
    counter does not go back, so the range stays at or above the reading before, and at or below one
    after `at`. `spans` and `posterior` are those of the series where they are known already.
    """
    place = _place(series, at)
    if place is None:
        return None
    number, before, after = place
    run = series.runs[number]
    ahead = _span_ahead(number, run, before, at, first=before == ordered(run)[0])
    if ahead.days <= 0.0:
        return Interval(before.energy_kwh, before.energy_kwh, before.energy_kwh)
    known = _recent(spans_of(series) if spans is None else spans, posterior)
    gain = _predicted(known, ahead, defaults_for(series.kind, series.running_w), posterior)
    top = math.inf if after is None else max(after.energy_kwh, before.energy_kwh)
    value, low, high = (
        min(max(before.energy_kwh + part - ahead.correction_kwh, before.energy_kwh), top) for part in gain
    )
    return Interval(value, low, high)


def _recent(spans: tuple[Span, ...], posterior: Posterior | None) -> tuple[Span, ...]:
    """Give the spans that the one ahead is told from.

    With a posterior, which says the level, the last month alone tells how these days differ from it: memory
    fades within two weeks. Without one, all of them, joined to as many as are handy.
    """
    if posterior is not None and len(spans) >= MOST_SPANS:
        return spans[-_MONTH:]
    return merged(spans, MOST_SPANS - 1)[1 - MOST_SPANS :]


def _place(series: Series, at: datetime) -> tuple[int, Snapshot, Snapshot | None] | None:
    """Find the run that was on at a moment, with the readings just before and after it."""
    for number in reversed(range(len(series.runs))):
        snapshots = ordered(series.runs[number])
        if snapshots and snapshots[0].taken_at <= at:
            before = max((s for s in snapshots if s.taken_at <= at), key=lambda s: s.taken_at)
            after = next((s for s in snapshots if s.taken_at > at), None)
            return number, before, after
    return None


def _span_ahead(number: int, run: RunSeries, before: Snapshot, at: datetime, *, first: bool) -> Span:
    display: Display = display_of(run)
    from_s, from_local = moment_of(before)
    to_s, to_local = moment_of(Snapshot(at, before.energy_kwh))
    return Span(
        number,
        from_s,
        to_s,
        from_local,
        to_local,
        (to_s - from_s) / SECONDS_PER_DAY,
        0.0,
        display.correction_kwh if first else 0.0,
        display.first_u2 if first else display.later_u2,
        display.later_u2,
        display.step_kwh,
        gain_of(run),
    )


def _predicted(
    spans: Sequence[Span], ahead: Span, defaults: KindDefaults, posterior: Posterior | None
) -> list[float]:
    """Give the gain over a span ahead [kWh]: median and 95 % ends, with the display's error in it.

    With a posterior at hand its mean level serves as pivot: both are near the answer, and a pivot only
    scales the variance.
    """
    both = scatter_of((*spans, ahead), defaults)
    n = len(both.days) - 1
    if n == 0:
        pivot, known = defaults.m0_kwh, _prior(defaults)
    elif posterior is not None:
        pivot, known = math.exp(posterior.log_moments()[0]), _as_arrays(posterior)
    else:
        fit = fit_day(both.leading(n), defaults, spans)
        pivot, known = fit.pivot_kwh, _as_arrays(fit.posterior)
    share, offset, variance = _ahead_given(both, n, known, pivot)
    weight, mean_log, deviation = known.weight, known.mean_log, known.deviation
    points, weights = _FEW if n >= _SETTLED else _MORE if n else _MANY
    level = np.exp(mean_log[:, None] + deviation[:, None] * points)
    means = pivot * (level / pivot * share[:, None] + offset[:, None])
    spread = pivot * np.sqrt(np.maximum(variance, 0.0))[:, None] * np.ones_like(level)
    mass = weight[:, None] * weights
    return quantiles(SHARES, mass.ravel().tolist(), means.ravel().tolist(), spread.ravel().tolist())


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of the average day, node by node, as arrays: `tau` is an index into `TAUS_D`."""

    weight: Floats
    mean_log: Floats
    deviation: Floats
    tau: NDArray[np.intp]
    c: Floats


def _prior(defaults: KindDefaults) -> _Known:
    nodes = nodes_for(defaults)
    weight = np.exp(nodes.log_prior - nodes.log_prior.max())
    everywhere = np.ones_like(weight)
    mean_log, deviation = math.log(defaults.m0_kwh) * everywhere, defaults.ms * everywhere
    return _Known(weight / weight.sum(), mean_log, deviation, nodes.tau, nodes.c)


def _as_arrays(posterior: Posterior) -> _Known:
    weight = np.array(posterior.weight)
    counts = weight > NEGLIGIBLE
    return _Known(
        weight[counts],
        np.array(posterior.mean_log)[counts],
        np.sqrt(np.array(posterior.variance)[counts]),
        np.searchsorted(TAUS_D, posterior.tau_d)[counts],
        np.array(posterior.c)[counts],
    )


def _ahead_given(both: Scatter, n: int, known: _Known, pivot: float) -> tuple[Floats, Floats, Floats]:
    """Condition the last span on the first n: per node the factor of μ/μ0, the offset, the variance.

    With k = Cov(ahead, spans) and V their covariance: T* − k'V⁻¹T, k'V⁻¹(d/μ0), k** − k'V⁻¹k. One
    Cholesky factor of V bordered by the span ahead holds k'L⁻ᵀ in its last row.
    """
    c = known.c
    full = (c**2)[:, None, None] * both.walk[known.tau] + (both.habit + both.display_kwh2 / pivot**2)
    own = full[:, n, n].copy()
    if n == 0:
        return np.full(len(c), both.days[0]), np.zeros(len(c)), own
    inner, cross = full[:, :n, :n], full[:, n, :n]
    factor = cholesky(inner.copy(), n)
    sides = np.stack(
        (
            cross,
            np.broadcast_to(both.days[:n], cross.shape),
            np.broadcast_to(both.energy_kwh[:n] / pivot, cross.shape),
        ),
        axis=-1,
    )
    half = np.linalg.solve(factor, sides)
    k, days, energy = half[..., 0], half[..., 1], half[..., 2]
    share = both.days[n] - (k * days).sum(axis=1)
    return share, (k * energy).sum(axis=1), own - (k * k).sum(axis=1)

"""Daily energy: the posterior of the average day from spans, by estimator section 2."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from hearthload.estimate.covariance import Floats, Scatter, grouped, scatter_of
from hearthload.estimate.factors import Factors, Likelihood, Nodes, Sums, factors, nodes_for
from hearthload.estimate.kinds import TAUS_D, KindDefaults
from hearthload.estimate.merging import MOST_SPANS, merged
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.spans import Span

WIDEST_VARIANCE = 9.0
"""Relative variance of a likelihood beyond which the readings say nothing more [1]."""

_ONE_OR_TWO = 2

_NEAR = 0.1
"""Pivots this near on the log scale weigh the nodes alike."""

NEGLIGIBLE = 1e-13
"""Weight under which a node is left out: it could not move a printed figure."""

_SHORT_D = 0.25
"""Spans shorter than this are known by their display more than by their days [d]."""

HELD = 0.005
"""So much [1] another pivot may alter the evidence before V is factored again."""


class Fit(NamedTuple):
    """The pivot μ0 [kWh/d], the posterior of the average day, the nodes that carry it, the first factors."""

    pivot_kwh: float
    posterior: Posterior
    nodes: Nodes
    factors: Factors


def fit_day(scatter: Scatter, defaults: KindDefaults, spans: Sequence[Span], near: Fit | None = None) -> Fit:
    """Fit the average day to spans, over all nodes of the kind.

    Pivot log μ0 = A·log max(x, q/2T) + (1−A)·log m0, A = ms²/(ms² + log(1 + (2c0² + 0.02kw²)/T)): x is
    energy over time first, then the first pass's answer. The pivot, not μ, carries the variance: a
    variance that grows with μ² would pull skewed loads down by 5 to 18 %. Where the second pivot would alter
    V by next to nothing, the first one's factors serve; else nodes without weight are left out of the
    second pass where its pivot is near the first one's, for they may gain weight in it farther off. `near`
    is a fit to all but one or two of the same spans, or to these and one or two more: the nodes that carry
    weight in it serve.
    """
    pivots = _Pivots.of(scatter, spans, defaults)
    pivot = pivots.before(scatter)
    count = len(scatter.days)
    nodes = nodes_for(defaults)
    if near is not None and _is_near(pivot, near.pivot_kwh):
        nodes = near.nodes
    known = factors(scatter, nodes, pivot)
    sums = known.sums(count)
    first = _passed(sums, pivot, pivots)
    again = pivots.after(first)
    if _alters(scatter, first, again) > HELD:
        kept = nodes.where(first.weight > NEGLIGIBLE) if _is_near(again, pivot) else nodes
        sums = factors(scatter, kept, again).sums(count)
    return _fit(_passed(sums, again, pivots), spans, known)


def fit_earlier(scatter: Scatter, present: Fit, defaults: KindDefaults, spans: Sequence[Span]) -> Fit | None:
    """Fit the average day to the leading spans of a fit, from its factors; None where they do not serve."""
    sums = present.factors.sums(len(spans))
    pivots = _Pivots.of(scatter, spans, defaults)
    first = _passed(sums, pivots.before(scatter), pivots)
    again = pivots.after(first)
    if not _is_near(again, sums.pivot_kwh) or _alters(scatter, first, again) > HELD:
        return None
    return _fit(_passed(sums, again, pivots), spans, present.factors)


def _is_near(pivot_kwh: float, other_kwh: float) -> bool:
    """Tell whether two pivots weigh the nodes alike."""
    return abs(math.log(pivot_kwh / other_kwh)) <= _NEAR


def _alters(scatter: Scatter, first: _Pass, pivot_kwh: float) -> float:
    """Give by how much [1] another pivot alters the log evidence, where only Q/μ0² hangs on it.

    Twice the step of the log pivot times what the evidence gives for a change of Q: of log|V| the display's
    shares of V's diagonal, summed over the spans; of the misfit at most its largest share. Both averaged
    over the nodes, Q at whichever pivot makes it larger. Spans too short to tell by themselves hang together
    so closely that the diagonal says nothing: with one of them the answer is infinite.
    """
    if float(scatter.days.min()) < _SHORT_D:
        return math.inf
    nodes, own = first.sums.nodes, first.sums.pivot_kwh
    walk, habit, display = (
        np.einsum("...jj->...j", matrix) for matrix in (scatter.walk, scatter.habit, scatter.display_kwh2)
    )
    display = display / min(own, pivot_kwh) ** 2
    shares = display / (display + (nodes.c**2)[:, None] * walk[nodes.tau] + habit)
    misfit = first.sums.rest * (own / pivot_kwh) ** 2
    each = np.maximum(shares.sum(axis=1), misfit * shares.max(axis=1))
    return 2.0 * abs(math.log(pivot_kwh / own)) * float(first.weight @ each)


class _Pivots(NamedTuple):
    """How a level becomes a pivot: not under `floor_kwh` [kWh/d], drawn by 1 − `share` [1] to the m0."""

    floor_kwh: float
    share: float
    defaults: KindDefaults

    @classmethod
    def of(cls, scatter: Scatter, spans: Sequence[Span], defaults: KindDefaults) -> _Pivots:
        """Give the rule for spans with their matrices."""
        days = float(scatter.days.sum())
        own = math.log1p((2.0 * defaults.c0**2 + 0.02 * defaults.kw**2) / days)
        floor = max(span.step_kwh for span in spans) / (2.0 * days)
        return cls(floor, defaults.ms**2 / (defaults.ms**2 + own), defaults)

    def at(self, level_kwh: float) -> float:
        """Give the pivot [kWh/d] for a level [kWh/d]."""
        log_level = math.log(max(level_kwh, self.floor_kwh))
        return math.exp(self.share * log_level + (1.0 - self.share) * math.log(self.defaults.m0_kwh))

    def before(self, scatter: Scatter) -> float:
        """Give the first pass's pivot [kWh/d], from energy over time."""
        return self.at(float(scatter.energy_kwh.sum()) / float(scatter.days.sum()))

    def after(self, first: _Pass) -> float:
        """Give the second pass's pivot [kWh/d], from the first pass's answer."""
        return self.at(math.exp(float(first.weight @ first.log_mean)))


class _Pass(NamedTuple):
    """What one pivot [kWh/d] gives, node by node: log level, its relative variance, the node's weight."""

    sums: Sums
    pivot_kwh: float
    log_mean: Floats
    variance: Floats
    weight: Floats
    defaults: KindDefaults


def _passed(sums: Sums, pivot: float, pivots: _Pivots) -> _Pass:
    defaults = pivots.defaults
    fit = sums.likelihood(pivot)
    log_mean = np.log(np.maximum(pivot * fit.ratio, pivots.floor_kwh))
    variance = np.minimum(fit.variance, WIDEST_VARIANCE)
    off = log_mean - math.log(defaults.m0_kwh)
    weight = _weights(sums.nodes, fit, off, variance + defaults.ms**2)
    return _Pass(sums, pivot, log_mean, variance, weight, defaults)


def _fit(last: _Pass, spans: Sequence[Span], known: Factors) -> Fit:
    """Put the kind's prior of the level to the last pass; nodes without weight are left out."""
    defaults, carries = last.defaults, last.weight > NEGLIGIBLE
    nodes, variance = last.sums.nodes.where(carries), last.variance[carries]
    precision = 1.0 / variance + 1.0 / defaults.ms**2
    mean = (last.log_mean[carries] / variance + math.log(defaults.m0_kwh) / defaults.ms**2) / precision
    days = [span.days for span in spans]
    posterior = Posterior(
        tuple(last.weight[carries].tolist()),
        tuple(mean.tolist()),
        tuple((1.0 / precision).tolist()),
        tuple(nodes.c.tolist()),
        tuple([TAUS_D[index] for index in nodes.tau.tolist()]),
        _mean_gain(spans),
        sum(days),
        spans[-1].step_kwh,
    )
    return Fit(last.pivot_kwh, posterior, nodes, known)


def _weights(nodes: Nodes, fit: Likelihood, off: Floats, spread: Floats) -> Floats:
    """Weigh the nodes: prior, evidence, and how well the level agrees with the kind's."""
    log_weight = nodes.log_prior + fit.log_evidence - 0.5 * (np.log(spread) + off * off / spread)
    weight: Floats = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    return weight


def _mean_gain(spans: Sequence[Span]) -> float:
    """Average the meters' gain uncertainties by time, as if all erred alike: never too small."""
    return sum(span.gain * span.days for span in spans) / sum(span.days for span in spans)


class EnergyModel:
    """The spans of one measurement with their matrices, shared by the estimates after each reading."""

    __slots__ = ("_scatter", "defaults", "spans")

    def __init__(self, spans: Sequence[Span], defaults: KindDefaults) -> None:
        self.spans = tuple(spans)
        self.defaults = defaults
        self._scatter: Scatter | None = None

    def fit(self, count: int, near: Fit | None = None) -> Fit | None:
        """Fit the average day to the first `count` spans, None to none."""
        if count <= 0:
            return None
        if count > MOST_SPANS:
            joined = merged(self.spans[:count])
            return fit_day(grouped(scatter_of(joined, self.defaults)), self.defaults, joined, near)
        if self._scatter is None:
            self._scatter = scatter_of(self.spans[:MOST_SPANS], self.defaults)
        return fit_day(self._scatter.leading(count), self.defaults, self.spans[:count], near)

    def fit_before(self, count: int, present: Fit | None, of: int) -> Fit | None:
        """Fit the first `count` spans where the fit to the first `of` is known: near enough to compare."""
        if count <= 0 or present is None:
            return None
        if self._scatter is None or of > MOST_SPANS:
            return self.fit(count, present if of - count <= _ONE_OR_TWO else None)
        spans = self.spans[:count]
        earlier = fit_earlier(self._scatter.leading(count), present, self.defaults, spans)
        return self.fit(count) if earlier is None else earlier

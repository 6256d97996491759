"""Daily energy: the posterior of the average day from spans, by estimator section 2."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hearthload.estimate.covariance import Floats, Scatter, grouped, scatter_of
from hearthload.estimate.kinds import TAUS_D, KindDefaults
from hearthload.estimate.merging import MOST_SPANS, merged
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.spans import Span

WIDEST_VARIANCE = 9.0
"""Relative variance of a likelihood beyond which the readings say nothing more [1]."""

_C_NODES = 13
_C_FROM, _C_TO = -4.0, 5.0
_STUDENT = 3.0
_FAR = 1e200
"""Stands on the border's own diagonal: large enough to stay positive whatever is taken off it."""

_NEAR = 0.1
"""Pivots this near on the log scale weigh the nodes alike."""

NEGLIGIBLE = 1e-13
"""Weight under which a node is left out of the second pass: it could not move a printed figure."""


@dataclass(frozen=True, slots=True)
class Nodes:
    """The nodes of one kind: memory index into `TAUS_D`, scatter c [1], log of the prior weight."""

    tau: np.ndarray[tuple[int], np.dtype[np.intp]]
    c: Floats
    log_prior: Floats

    def where(self, wanted: NDArray[np.bool_]) -> Nodes:
        """Give the wanted nodes alone."""
        return Nodes(self.tau[wanted], self.c[wanted], self.log_prior[wanted])


@lru_cache(maxsize=64)
def nodes_for(c0: float, s_c: float, p_tau: tuple[float, ...]) -> Nodes:
    """Lay out the nodes: τ with weights p_τ, c = c0·exp(s_c z), 13 steps z from −4 to 5, Student-t(3)."""
    z = np.linspace(_C_FROM, _C_TO, _C_NODES)
    log_t3 = -0.5 * (_STUDENT + 1.0) * np.log1p(z * z / _STUDENT)
    used = np.array([index for index, weight in enumerate(p_tau) if weight > 0.0], dtype=np.intp)
    tau = np.repeat(used, _C_NODES)
    c = np.tile(c0 * np.exp(s_c * z), len(used))
    log_prior = np.repeat(np.log(np.array(p_tau)[used]), _C_NODES) + np.tile(log_t3, len(used))
    return Nodes(tau, c, log_prior)


@dataclass(frozen=True, slots=True)
class Likelihood:
    """Per node: generalised mean over the pivot, its relative variance, and the log of its evidence."""

    ratio: Floats
    variance: Floats
    log_evidence: Floats


def likelihood(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> Likelihood:
    """Fit d = μT for every node at once, with V = c²D[g_τ] + habit + Q/μ0² and pivot μ0 [kWh/d].

    a = T'V⁻¹T, μ̂/μ0 = T'V⁻¹x/a, v = 1/a with x = d/μ0; log evidence
    −½[log|V| + log a + x'V⁻¹x − (T'V⁻¹x)²/a] (generalised least squares, μ integrated out). Bordering
    V with T and x lets one Cholesky factor give all four terms, also where Q is next to nothing.
    """
    n = len(scatter.days)
    factor = cholesky(_bordered(scatter, nodes, pivot_kwh), n)
    days, energy = factor[:, n, :n], factor[:, n + 1, :n]
    a = np.einsum("ij,ij->i", days, days)
    b = np.einsum("ij,ij->i", days, energy)
    rest = np.einsum("ij,ij->i", energy, energy) - b * b / a
    log_size = 2.0 * np.log(np.einsum("ijj->ij", factor[:, :n, :n])).sum(axis=1)
    return Likelihood(b / a, 1.0 / a, -0.5 * (log_size + np.log(a) + rest))


def _bordered(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> Floats:
    """Lay out V for every node with T and x = d/μ0 in two more rows; only the lower triangle counts."""
    n = len(scatter.days)
    size = (n + 2, n + 2)
    shared, walk = np.zeros(size), np.zeros(size)
    shared[:n, :n] = scatter.habit + scatter.display_kwh2 / pivot_kwh**2
    shared[n, :n] = scatter.days
    shared[n + 1, :n] = scatter.energy_kwh / pivot_kwh
    shared[n, n] = shared[n + 1, n + 1] = _FAR
    bordered = np.empty((len(nodes.c), *size))
    for index, group in _groups(nodes.tau):
        walk[:n, :n] = scatter.walk[index]
        np.multiply((nodes.c[group] ** 2)[:, None, None], walk, out=bordered[group])
    bordered += shared
    return bordered


def inverses(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> tuple[Floats, Floats]:
    """Give V⁻¹ and log|V| for every node, V as in `likelihood`."""
    n = len(scatter.days)
    factor = cholesky(_bordered(scatter, nodes, pivot_kwh)[:, :n, :n].copy(), n)
    log_size = 2.0 * np.log(np.einsum("ijj->ij", factor)).sum(axis=1)
    root = np.linalg.solve(factor, np.broadcast_to(np.eye(n), factor.shape))
    return np.matmul(root.transpose(0, 2, 1), root), log_size


def _groups(tau: NDArray[np.intp]) -> list[tuple[int, slice]]:
    """Give the stretches of nodes that share a memory time: nodes are laid out memory by memory."""
    edges = np.searchsorted(tau, range(len(TAUS_D) + 1)).tolist()
    stretches = enumerate(slice(start, stop) for start, stop in pairwise(edges))
    return [(index, stretch) for index, stretch in stretches if stretch.stop > stretch.start]


def cholesky(matrices: Floats, n: int) -> Floats:
    """Factor matrices, lifting the first n diagonal terms a little where rounding spoils definiteness."""
    for lift in (0.0, 1e-12, 1e-9, 1e-6):
        if lift:
            each = np.arange(n)
            matrices[:, each, each] *= 1.0 + lift
        try:
            factor = np.asarray(np.linalg.cholesky(matrices), dtype=np.float64)
        except np.linalg.LinAlgError:
            continue
        return factor
    raise ArithmeticError("the readings' covariance is not positive definite")


class Fit(NamedTuple):
    """The pivot μ0 [kWh/d], the posterior of the average day, and the nodes that carry weight in it."""

    pivot_kwh: float
    posterior: Posterior
    nodes: Nodes


def fit_day(scatter: Scatter, defaults: KindDefaults, spans: Sequence[Span], near: Fit | None = None) -> Fit:
    """Fit the average day to spans, over all nodes of the kind.

    Pivot log μ0 = A·log max(x, q/2T) + (1−A)·log m0, A = ms²/(ms² + log(1 + (2c0² + 0.02kw²)/T)): x is
    energy over time first, then the first pass's answer. The pivot, not μ, carries the variance: a
    variance that grows with μ² would pull skewed loads down by 5 to 18 %. Nodes without weight are left out
    of the second pass where its pivot is near the first one's; else they may gain weight in it. `near` is a
    fit to nearly the same spans: where its pivot is near the first one's, it serves, with the nodes that
    carry weight in it, in one pass.
    """
    days = float(scatter.days.sum())
    floor = max(span.step_kwh for span in spans) / (2.0 * days)
    level = float(scatter.energy_kwh.sum()) / days
    share = defaults.ms**2 / (
        defaults.ms**2 + math.log1p((2.0 * defaults.c0**2 + 0.02 * defaults.kw**2) / days)
    )
    log_m0 = math.log(defaults.m0_kwh)

    def pivot_for(level_kwh: float) -> float:
        return math.exp(share * math.log(max(level_kwh, floor)) + (1.0 - share) * log_m0)

    pivot = pivot_for(level)
    if near is not None and _is_near(pivot, near.pivot_kwh):
        return _fit(_passed(scatter, defaults, near.nodes, near.pivot_kwh, floor), defaults, spans)
    nodes = nodes_for(defaults.c0, defaults.s_c, defaults.p_tau)
    first = _passed(scatter, defaults, nodes, pivot, floor)
    again = pivot_for(math.exp(float(first.weight @ first.log_mean)))
    kept = first.carrying() if _is_near(again, pivot) else nodes
    return _fit(_passed(scatter, defaults, kept, again, floor), defaults, spans)


def _is_near(pivot_kwh: float, other_kwh: float) -> bool:
    """Tell whether two pivots weigh the nodes alike."""
    return abs(math.log(pivot_kwh / other_kwh)) <= _NEAR


class _Pass(NamedTuple):
    """What one pivot [kWh/d] gives, node by node: log level, its relative variance, the node's weight."""

    nodes: Nodes
    pivot_kwh: float
    log_mean: Floats
    variance: Floats
    weight: Floats

    def carrying(self) -> Nodes:
        """Give the nodes that carry weight."""
        return self.nodes.where(self.weight > NEGLIGIBLE)


def _passed(scatter: Scatter, defaults: KindDefaults, nodes: Nodes, pivot: float, floor: float) -> _Pass:
    fit = likelihood(scatter, nodes, pivot)
    log_mean = np.log(np.maximum(pivot * fit.ratio, floor))
    variance = np.minimum(fit.variance, WIDEST_VARIANCE)
    off = log_mean - math.log(defaults.m0_kwh)
    return _Pass(nodes, pivot, log_mean, variance, _weights(nodes, fit, off, variance + defaults.ms**2))


def _fit(last: _Pass, defaults: KindDefaults, spans: Sequence[Span]) -> Fit:
    """Put the kind's prior of the level to the last pass."""
    precision = 1.0 / last.variance + 1.0 / defaults.ms**2
    mean = (last.log_mean / last.variance + math.log(defaults.m0_kwh) / defaults.ms**2) / precision
    posterior = Posterior(
        tuple(last.weight.tolist()),
        tuple(mean.tolist()),
        tuple((1.0 / precision).tolist()),
        tuple(last.nodes.c.tolist()),
        tuple(TAUS_D[index] for index in last.nodes.tau.tolist()),
        _mean_gain(spans),
        sum(span.days for span in spans),
        spans[-1].step_kwh,
    )
    return Fit(last.pivot_kwh, posterior, last.carrying())


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
            scatter = grouped(scatter_of(merged(self.spans[:count]), self.defaults))
            return fit_day(scatter, self.defaults, self.spans[:count], near)
        if self._scatter is None:
            self._scatter = scatter_of(self.spans[:MOST_SPANS], self.defaults)
        return fit_day(self._scatter.leading(count), self.defaults, self.spans[:count], near)

"""The nodes over which an estimate is averaged, and the spans' covariance factored at each of them."""

from __future__ import annotations

import math
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hearthload.estimate.covariance import Floats, Scatter
from hearthload.estimate.kinds import TAUS_D, KindDefaults

_C_NODES = 13
_C_FROM, _C_TO = -4.0, 5.0
_STUDENT = 3.0
_FAR = 1e200
"""Stands on the border's own diagonal: large enough to stay positive whatever is taken off it."""

CLOCKWORK_C, _CLOCKWORK_WIDTH = 0.015, 0.6
"""Days of what a clock runs differ by 1.5 % [1], give or take a factor exp(0.6·s_c)."""

_HANDY = 20_000
"""Numbers in a block of matrices that are worked on together: small enough to stay near the processor."""


@dataclass(frozen=True, slots=True)
class Nodes:
    """The nodes of one kind: memory index into `TAUS_D`, scatter c [1], log of the prior weight."""

    tau: np.ndarray[tuple[int], np.dtype[np.intp]]
    c: Floats
    log_prior: Floats

    def where(self, wanted: NDArray[np.bool_]) -> Nodes:
        """Give the wanted nodes alone."""
        return Nodes(self.tau[wanted], self.c[wanted], self.log_prior[wanted])


def nodes_for(defaults: KindDefaults) -> Nodes:
    """Lay out the nodes: τ with weights p_τ, c = c0·exp(s_c z), 13 steps z from −4 to 5, Student-t(3).

    Where a share a of the kind is run by a clock, z has the density (1 − a)·t(z) + a·t((z − z_a)/w)/w, z_a
    that of c = 0.015 and w = 0.6: one on a timer is as regular as its clock, one switched by hand is not.
    """
    return _laid_out(defaults.c0, defaults.s_c, defaults.p_tau, defaults.clockwork)


def _student3(z: Floats) -> Floats:
    """Give Student's density with three degrees of freedom, but for its constant."""
    density: Floats = (1.0 + z * z / _STUDENT) ** (-0.5 * (_STUDENT + 1.0))
    return density


@lru_cache(maxsize=64)
def _laid_out(c0: float, s_c: float, p_tau: tuple[float, ...], clockwork: float) -> Nodes:
    z = np.linspace(_C_FROM, _C_TO, _C_NODES)
    regular = (z - math.log(CLOCKWORK_C / c0) / s_c) / _CLOCKWORK_WIDTH
    log_density = np.log((1.0 - clockwork) * _student3(z) + clockwork / _CLOCKWORK_WIDTH * _student3(regular))
    used = np.array([index for index, weight in enumerate(p_tau) if weight > 0.0], dtype=np.intp)
    tau = np.repeat(used, _C_NODES)
    c = np.tile(c0 * np.exp(s_c * z), len(used))
    log_prior = np.repeat(np.log(np.array(p_tau)[used]), _C_NODES) + np.tile(log_density, len(used))
    return Nodes(tau, c, log_prior)


class Likelihood(NamedTuple):
    """Per node: generalised mean over the pivot, its relative variance, and the log of its evidence."""

    ratio: Floats
    variance: Floats
    log_evidence: Floats


class Factors(NamedTuple):
    """What a Cholesky factor L of V, for every node at one pivot [kWh/d], tells of any leading spans.

    `days` L⁻¹T and `energy` L⁻¹d/μ0, `log_diagonal` the logs of L's diagonal, each a row for each node: a
    leading part of L is the factor of that part of V, so that one factor serves every earlier reading.
    """

    nodes: Nodes
    pivot_kwh: float
    days: Floats
    energy: Floats
    log_diagonal: Floats

    def sums(self, count: int) -> Sums:
        """Sum up for the first `count` spans."""
        days, energy = self.days[:, :count], self.energy[:, :count]
        a = np.einsum("ij,ij->i", days, days)
        b = np.einsum("ij,ij->i", days, energy)
        rest = np.einsum("ij,ij->i", energy, energy) - b * b / a
        log_size = 2.0 * self.log_diagonal[:, :count].sum(axis=1) + np.log(a)
        return Sums(self.nodes, self.pivot_kwh, a, b / a, rest, log_size)


class Sums(NamedTuple):
    """For each node at one pivot [kWh/d]: a = T'V⁻¹T, T'V⁻¹x/a, x'V⁻¹x − (T'V⁻¹x)²/a, log|V| + log a."""

    nodes: Nodes
    pivot_kwh: float
    a: Floats
    ratio: Floats
    rest: Floats
    log_size: Floats

    def likelihood(self, pivot_kwh: float) -> Likelihood:
        """Fit d = μT, energies over a pivot μ0 [kWh/d], Q as at the factor's own.

        μ̂/μ0 = T'V⁻¹x/a, v = 1/a with x = d/μ0; log evidence −½[log|V| + log a + x'V⁻¹x − (T'V⁻¹x)²/a]
        (generalised least squares, μ integrated out).
        """
        scale = self.pivot_kwh / pivot_kwh
        evidence = -0.5 * (self.log_size + scale * scale * self.rest)
        return Likelihood(scale * self.ratio, 1.0 / self.a, evidence)


def factors(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> Factors:
    """Factor V = c²D[g_τ] + habit + Q/μ0² for every node at once, pivot μ0 [kWh/d].

    Bordering V with T and x lets one Cholesky factor give all terms, also where Q is next to nothing.
    """
    n = len(scatter.days)
    found = np.empty((3, len(nodes.c), n))
    for part, bordered in _bordered(scatter, nodes, pivot_kwh):
        factor = cholesky(bordered, n)
        found[0, part] = factor[:, n, :n]
        found[1, part] = factor[:, n + 1, :n]
        found[2, part] = np.einsum("ijj->ij", factor[:, :n, :n])
    return Factors(nodes, pivot_kwh, found[0], found[1], np.log(found[2]))


def likelihood(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> Likelihood:
    """Fit d = μT for every node at once, with V and pivot μ0 [kWh/d] as in `factors`."""
    return factors(scatter, nodes, pivot_kwh).sums(len(scatter.days)).likelihood(pivot_kwh)


class _Room(threading.local):
    """Where matrices are laid out, one block after the other: fresh memory would cost more than the sums."""

    def __init__(self) -> None:
        self.numbers = np.empty(_HANDY)

    def of(self, size: int) -> Floats:
        """Give so many numbers of it, or fresh ones where it is too small."""
        return self.numbers[:size] if size <= _HANDY else np.empty(size)


_room = _Room()


def _bordered(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> Iterator[tuple[slice, Floats]]:
    """Lay out V with T and x = d/μ0 in two more rows, a handful of nodes at a time in one and the same place.

    Only the lower triangle counts. Each V is a sum of a few matrices that all nodes share, so that one
    product of c² and ones with these gives a block.
    """
    n = len(scatter.days)
    size = n + 2
    shared = np.zeros((len(TAUS_D) + 1, size, size))
    shared[:-1, :n, :n] = scatter.walk
    shared[-1, :n, :n] = scatter.habit + scatter.display_kwh2 / pivot_kwh**2
    shared[-1, n, :n] = scatter.days
    shared[-1, n + 1, :n] = scatter.energy_kwh / pivot_kwh
    shared[-1, n, n] = shared[-1, n + 1, n + 1] = _FAR
    times = np.zeros((len(nodes.c), len(shared)))
    times[np.arange(len(nodes.c)), nodes.tau] = nodes.c**2
    times[:, -1] = 1.0
    flat = shared.reshape(len(shared), -1)
    most = max(_HANDY // size**2, 1)
    for start in range(0, len(times), most):
        part = times[start : start + most]
        room = _room.of(len(part) * size**2).reshape(len(part), -1)
        yield slice(start, start + len(part)), np.matmul(part, flat, out=room).reshape(-1, size, size)


def inverses(scatter: Scatter, nodes: Nodes, pivot_kwh: float) -> tuple[Floats, Floats]:
    """Give V⁻¹ and log|V| for every node, V as in `factors`."""
    n = len(scatter.days)
    inverse, diagonal = np.empty((len(nodes.c), n, n)), np.empty((len(nodes.c), n))
    for part, bordered in _bordered(scatter, nodes, pivot_kwh):
        factor = cholesky(bordered[:, :n, :n], n)
        root = np.linalg.solve(factor, np.broadcast_to(np.eye(n), factor.shape))
        np.matmul(root.transpose(0, 2, 1), root, out=inverse[part])
        diagonal[part] = np.einsum("ijj->ij", factor)
    return inverse, 2.0 * np.log(diagonal).sum(axis=1)


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

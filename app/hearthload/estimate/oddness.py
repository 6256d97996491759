"""Does a reading, a span or the course of a series stand out from the rest? Only for what is steady."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from hearthload.domain.appliance import Kind
from hearthload.estimate.covariance import Floats, scatter_of
from hearthload.estimate.energy import fit_day
from hearthload.estimate.factors import inverses, nodes_for
from hearthload.estimate.kinds import KindDefaults
from hearthload.estimate.merging import join
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.spans import Span

Places = NDArray[np.intp]

STEADY_KINDS = frozenset({Kind.REFRIGERATOR, Kind.FREEZER, Kind.ALWAYS_ON, Kind.LAMP_TIMER})
"""Kinds of which one day is much like another; for all others these tests would be noise."""

ODD_SHARE = 0.005
"""Share of untouched series in which a reading or a span may be called odd [1]; divided among the tests."""

CHANGE_SHARE = 0.001
DRIFT_SHARE = 0.003
"""Tail probabilities under which a change of level (about five separate places) or a drift is told [1]."""

MOST_ODD = 3
MOST_TESTED = 30
"""Spans looked at, the newest: older ones were looked at while they were new."""

LEAST_SPANS = 3
LEAST_SPANS_FOR_COURSE = 6
_SIDE = 2
_UNREMARKABLE = 2.9
"""Where no node that counts has z beyond this, the tail is above every limit: 0.0037 for one node."""
_COUNTS = 1e-3
_CARRIES = 1e-9
_ROOT_HALF = math.sqrt(0.5)


class Oddity(StrEnum):
    """What stands out: one reading against its neighbours, one span, or the course of the series."""

    READING = "reading"
    SPAN = "span"
    CHANGE = "change"
    DRIFT = "drift"


@dataclass(frozen=True, slots=True)
class Odd:
    """Something that stands out at span number `at`.

    A READING closes that span, a SPAN is it, a CHANGE begins with it, a DRIFT is of all. `tail` is the
    chance of as much by the usual scatter alone [1]. `excess_kwh`: how much too high the reading is, or the
    span [kWh]; for a change the step of the daily figure, for a drift its rise over the series [kWh/d].
    `spread_kwh` is its standard uncertainty in the same unit.
    """

    what: Oddity
    at: int
    tail: float
    excess_kwh: float
    spread_kwh: float


def odd_parts(
    spans: Sequence[Span],
    defaults: KindDefaults,
    pivot_kwh: float | None = None,
    posterior: Posterior | None = None,
) -> tuple[Odd, ...]:
    """Find readings and spans that stand out, the oddest first, at most `MOST_ODD`; then change or drift.

    For every node, z = r'P·x/√(r'P·r) for the regressor r of a mistyped reading (+1 and −1 on the spans
    that it closes and opens), of one span (+1), of a change (T from span j on), of a drift (T(t − mean)).
    Nodes are weighed by their evidence with that regressor taken out, so that a slip does not hide behind
    the scatter it makes; the tail probability is the mixture's. Holds for `STEADY_KINDS`. `pivot_kwh` is
    their average day and `posterior` its posterior, where known: nodes of more scatter than carry weight in
    it are left out, for without a slip the scatter is less.
    """
    kept = list(enumerate(spans))[-MOST_TESTED:]
    found: list[Odd] = []
    ground, highest = None, math.inf if posterior is None else _highest(posterior)
    while len(kept) >= LEAST_SPANS:
        ground = _Ground.of([span for _, span in kept], defaults, pivot_kwh, highest)
        odd = ground.oddest() if len(found) < MOST_ODD else None
        if odd is None:
            break
        found.append(replace(odd, at=kept[odd.at][0]))
        kept = _without(kept, odd)
    if ground is not None and len(kept) >= LEAST_SPANS_FOR_COURSE:
        course = ground.course()
        found.extend([replace(course, at=kept[course.at][0])] if course else [])
    return tuple(found)


def _highest(posterior: Posterior) -> float:
    """Give the largest scatter c that carries weight [1]."""
    carrying = zip(posterior.c, posterior.weight, strict=True)
    return max(c for c, weight in carrying if weight > _CARRIES)


def _without(kept: Sequence[tuple[int, Span]], odd: Odd) -> list[tuple[int, Span]]:
    """Leave out an odd span, or join the two spans that an odd reading parts."""
    at = odd.at
    if odd.what is Oddity.SPAN:
        return [*kept[:at], *kept[at + 1 :]]
    (_, before), (number, after) = kept[at], kept[at + 1]
    return [*kept[:at], (number, join(before, after)), *kept[at + 2 :]]


@dataclass(frozen=True, slots=True)
class _Ground:
    """What all tests of a series rest on: P = V⁻¹ − V⁻¹TT'V⁻¹/a, P·x and the log weight, node by node."""

    spans: Sequence[Span]
    days: Floats
    projector: Floats
    residual: Floats
    log_weight: Floats
    pivot_kwh: float

    @classmethod
    def of(
        cls, spans: Sequence[Span], defaults: KindDefaults, pivot_kwh: float | None, highest: float
    ) -> _Ground:
        """Work out the ground of a series, over nodes up to the `highest` scatter c [1]."""
        scatter = scatter_of(spans, defaults)
        nodes = nodes_for(defaults)
        nodes = nodes.where(nodes.c <= highest * (1.0 + 1e-9))
        pivot = fit_day(scatter, defaults, spans).pivot_kwh if pivot_kwh is None else pivot_kwh
        inverse, log_size = inverses(scatter, nodes, pivot)
        x = scatter.energy_kwh / pivot
        u = inverse @ scatter.days
        a = u @ scatter.days
        projector = inverse - u[:, :, None] * (u / a[:, None])[:, None, :]
        residual = projector @ x
        log_weight = nodes.log_prior - 0.5 * (log_size + np.log(a) + residual @ x)
        return cls(spans, scatter.days, projector, residual, log_weight, pivot)

    def oddest(self) -> Odd | None:
        """Give the reading or span that stands out most, if any stands out enough."""
        each = np.arange(len(self.spans))
        own = self.projector[:, each, each]
        pairs = zip(self.spans[:-1], self.spans[1:], strict=True)
        inner = np.array([one.run == other.run and one.to_s == other.from_s for one, other in pairs])
        size = own[:, :-1] + own[:, 1:] - 2.0 * self.projector[:, each[:-1], each[1:]]
        along = self.residual[:, :-1] - self.residual[:, 1:]
        at = np.flatnonzero(inner)
        found = [
            self._least(Oddity.READING, at, along[:, at], size[:, at]),
            self._least(Oddity.SPAN, each, self.residual, own),
        ]
        told = [odd for odd in found if odd is not None and odd.tail <= ODD_SHARE / len(self.spans)]
        return min(told, key=lambda odd: odd.tail, default=None)

    def course(self) -> Odd | None:
        """Tell a change of level or a drift, whichever is the more striking."""
        found = (self._change(), self._drift())
        limits = {Oddity.CHANGE: CHANGE_SHARE, Oddity.DRIFT: DRIFT_SHARE}
        told = [odd for odd in found if odd is not None and odd.tail < limits[odd.what]]
        return min(told, key=lambda odd: odd.tail / limits[odd.what], default=None)

    def _change(self) -> Odd | None:
        """Test T·1[from span j on] for every j with two spans or more at either side: sums from the end."""
        scaled = self.projector * self.days[:, None] * self.days
        both = np.cumsum(np.cumsum(scaled[:, ::-1, ::-1], axis=1), axis=2)[:, ::-1, ::-1]
        size = np.einsum("ijj->ij", both)
        along = np.cumsum((self.residual * self.days)[:, ::-1], axis=1)[:, ::-1]
        places = np.arange(_SIDE, len(self.spans) - _SIDE + 1)
        return self._least(Oddity.CHANGE, places, along[:, places], size[:, places])

    def _drift(self) -> Odd | None:
        middle = np.array([0.5 * (span.from_s + span.to_s) for span in self.spans])
        mean = float(middle @ self.days) / float(self.days.sum())
        regressor = self.days * (middle - mean) / max(float(middle[-1] - middle[0]), 1.0)
        along = self.residual @ regressor
        size = (self.projector @ regressor) @ regressor
        return self._least(Oddity.DRIFT, np.zeros(1, dtype=np.intp), along[:, None], size[:, None])

    def _least(self, what: Oddity, places: Places, along: Floats, size: Floats) -> Odd | None:
        """Give the test with the least tail, None where all are unremarkable; columns are the places."""
        if not len(places):
            return None
        size = np.maximum(size, 1e-300)
        z2 = along * along / size
        log_weight = self.log_weight[:, None] + 0.5 * z2 - 0.5 * np.log(size)
        weight = np.exp(log_weight - log_weight.max(axis=0))
        weight /= weight.sum(axis=0)
        striking = np.flatnonzero(np.where(weight > _COUNTS, z2, 0.0).max(axis=0) > _UNREMARKABLE**2)
        if not len(striking):
            return None
        tail = [_mixed_tail(weight[:, column], z2[:, column]) for column in striking]
        column = int(striking[int(np.argmin(tail))])
        shift = along[:, column] / size[:, column]
        w = weight[:, column]
        excess = float(w @ shift)
        spread = math.sqrt(float(w @ (1.0 / size[:, column] + (shift - excess) ** 2)))
        pivot = self.pivot_kwh
        return Odd(what, int(places[column]), min(tail), pivot * excess, pivot * spread)


def _mixed_tail(weight: Floats, z2: Floats) -> float:
    """Give the mixture's two-sided tail, Σ w·erfc(z/√2) [1]."""
    return math.fsum(
        w * math.erfc(math.sqrt(square) * _ROOT_HALF)
        for w, square in zip(weight.tolist(), z2.tolist(), strict=True)
        if w > 1e-12
    )

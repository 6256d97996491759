"""Quantiles of mixtures of normal distributions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import NormalDist

_ROOT2 = math.sqrt(2.0)
_ROOT_2PI = math.sqrt(2.0 * math.pi)
_NEGLIGIBLE = 1e-10
"""Weight under which a component cannot move a quantile in print."""

_STEPS = 200


def quantiles(
    shares: Sequence[float], weights: Sequence[float], means: Sequence[float], deviations: Sequence[float]
) -> list[float]:
    """Find where the mixture Σ w N(mean, deviation²) reaches each of `shares`; any one common unit.

    Newton's steps kept inside a bracket that always holds the root: every component reaches its own
    quantile inside it. Weights need not sum to one.
    """
    total = sum(weights)
    parts = [
        (weight / total, mean, max(deviation, 1e-300))
        for weight, mean, deviation in zip(weights, means, deviations, strict=True)
        if weight > _NEGLIGIBLE * total
    ]
    scale = sum(weight for weight, _, _ in parts)
    return [_quantile(share * scale, share, parts) for share in shares]


def _quantile(goal: float, share: float, parts: Sequence[tuple[float, float, float]]) -> float:
    z = NormalDist().inv_cdf(share)
    low = min(mean + z * deviation for _, mean, deviation in parts)
    high = max(mean + z * deviation for _, mean, deviation in parts)
    at = sum(weight * (mean + z * deviation) for weight, mean, deviation in parts) / sum(p[0] for p in parts)
    for _ in range(_STEPS):
        if high - low <= 1e-13 * max(1.0, abs(low), abs(high)):
            break
        below, density = _share_and_density(at, parts)
        if below < goal:
            low = at
        else:
            high = at
        step = (goal - below) / density if density > 0.0 else math.inf
        if abs(step) <= 1e-12 * max(1.0, abs(at)):
            return at
        at = at + step if low < at + step < high else 0.5 * (low + high)
    return at


def _share_and_density(at: float, parts: Sequence[tuple[float, float, float]]) -> tuple[float, float]:
    below = density = 0.0
    for weight, mean, deviation in parts:
        z = (at - mean) / deviation
        below += weight * math.erfc(-z / _ROOT2)
        density += weight * math.exp(-0.5 * z * z) / deviation if abs(z) < 38.0 else 0.0
    return 0.5 * below, density / _ROOT_2PI

"""Quantiles of mixtures of normal distributions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from math import erfc, exp
from statistics import NormalDist

Part = tuple[float, float, float]
"""A component: weight, mean, inverse of the standard deviation."""

_INVERSE_ROOT2 = math.sqrt(0.5)
_ROOT_2PI = math.sqrt(2.0 * math.pi)
_NEGLIGIBLE = 1e-10
"""Weight under which a component cannot move a quantile in print."""

_CLOSE = 3e-4
"""A step of third order this small beside the narrowest component leaves an error of about its cube."""

_STEPS = 200


def quantiles(
    shares: Sequence[float], weights: Sequence[float], means: Sequence[float], deviations: Sequence[float]
) -> list[float]:
    """Find where the mixture Σ w N(mean, deviation²) reaches each of `shares`; any one common unit.

    Halley's steps from the normal distribution of the same moments, kept inside a bracket that always
    holds the root: every component reaches its own quantile inside it. A step that leaves the bracket, or
    is not half the step before, gives way to halving the bracket, so that no walk to and fro lasts.
    Weights need not sum to one.
    """
    total = sum(weights)
    parts = [
        (weight, mean, 1.0 / max(deviation, 1e-300))
        for weight, mean, deviation in zip(weights, means, deviations, strict=True)
        if weight > _NEGLIGIBLE * total
    ]
    scale = sum(weight for weight, _, _ in parts)
    parts = [(weight / scale, mean, inverse) for weight, mean, inverse in parts]
    middle = sum(weight * mean for weight, mean, _ in parts)
    spread = math.sqrt(sum(w * ((mean - middle) ** 2 + inverse**-2) for w, mean, inverse in parts))
    return [_quantile(share, (middle, spread), parts) for share in shares]


def _quantile(goal: float, moments: tuple[float, float], parts: Sequence[Part]) -> float:
    z = NormalDist().inv_cdf(goal)
    low = min(mean + z / inverse for _, mean, inverse in parts)
    high = max(mean + z / inverse for _, mean, inverse in parts)
    at = min(max(moments[0] + z * moments[1], low), high)
    before, near = math.inf, _CLOSE / max(inverse for _, _, inverse in parts)
    for _ in range(_STEPS):
        if high - low <= 1e-13 * max(1.0, abs(low), abs(high)):
            break
        below, density, slope = _share_and_density(at, parts)
        if below < goal:
            low = at
        else:
            high = at
        step = (goal - below) / density if density > 0.0 else math.inf
        curved = 1.0 + 0.5 * step * slope / density if density > 0.0 else 1.0
        if 0.5 < curved < 2.0:
            step /= curved
        if abs(step) <= near:
            return at + step
        if low < at + step < high and 2.0 * abs(step) <= before:
            at, before = at + step, abs(step)
        else:
            at, before = 0.5 * (low + high), high - low
    return at


def _share_and_density(at: float, parts: Sequence[Part]) -> tuple[float, float, float]:
    """Give the share below, the density and its slope."""
    below = density = slope = 0.0
    for weight, mean, inverse in parts:
        z = (at - mean) * inverse
        below += weight * erfc(-_INVERSE_ROOT2 * z)
        if -38.0 < z < 38.0:
            height = weight * inverse * exp(-0.5 * z * z)
            density += height
            slope -= height * z * inverse
    return 0.5 * below, density / _ROOT_2PI, slope / _ROOT_2PI

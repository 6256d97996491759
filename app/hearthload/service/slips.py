"""Slips of the finger: which small change of a typed number would make it fit."""

from __future__ import annotations

from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction

_FACTORS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)
"""A decimal mark forgotten, added or moved: the nearest first."""


def decimal_slip(value: float, expected: Interval | None, step: float, unit: str) -> tuple[Fix, ...]:
    """Offer the value with its decimal mark moved, when that lands in the expected range."""
    if expected is None or expected.low <= value <= expected.high:
        return ()
    decimals = decimals_of_step(step)
    for factor in _FACTORS:
        moved = round(value * factor, decimals)
        if expected.low - step <= moved <= expected.high + step and moved > 0.0:
            label = f"Make it {format_decimals(moved, decimals)} {unit}"
            return (Fix(label, FixAction.SET_VALUE, moved),)
    return ()

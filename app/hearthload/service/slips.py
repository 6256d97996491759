"""Slips of the finger: which small change of a typed number would make it fit."""

from __future__ import annotations

from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.domain.units import MINUTES_PER_HOUR
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction

_FACTORS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)
"""A decimal mark forgotten, added or moved: the nearest first."""


def colon_slip(hours: float, expected: Interval | None) -> tuple[Fix, ...]:
    """Offer hours and minutes that were typed without their colon: 10217 for 102:17."""
    whole = int(hours)
    if expected is None or whole != hours or whole < 100 or expected.low <= hours <= expected.high:
        return ()
    full, minutes = divmod(whole, 100)
    meant = full + minutes / MINUTES_PER_HOUR
    if minutes >= MINUTES_PER_HOUR or not expected.low <= meant <= expected.high:
        return ()
    return (Fix(f"Make it {full}:{minutes:02d}", FixAction.SET_VALUE, meant),)


def digit_slip(value: float, expected: Interval | None, step: float, unit: str) -> tuple[Fix, ...]:
    """Offer the value with two neighbouring digits exchanged, when one such alone is to be expected."""
    if expected is None or expected.low <= value <= expected.high:
        return ()
    decimals = decimals_of_step(step)
    typed = format_decimals(value, decimals)
    found = set()
    for place in range(len(typed) - 1):
        first, second = typed[place], typed[place + 1]
        if first.isdigit() and second.isdigit() and first != second:
            other = float(typed[:place] + second + first + typed[place + 2 :])
            if expected.low <= other <= expected.high:
                found.add(other)
    if len(found) != 1:
        return ()
    (meant,) = found
    return (Fix(f"Make it {format_decimals(meant, decimals)} {unit}", FixAction.SET_VALUE, meant),)


def decimal_slip(value: float, expected: Interval | None, step: float, unit: str) -> tuple[Fix, ...]:
    """Offer the value with its decimal mark moved, when that lands in the expected range."""
    if expected is None or expected.low <= value <= expected.high:
        return ()
    decimals = decimals_of_step(step)
    for factor in _FACTORS:
        moved = round(value * factor, decimals)
        if expected.low <= moved <= expected.high and moved > 0.0:
            label = f"Make it {format_decimals(moved, decimals)} {unit}"
            return (Fix(label, FixAction.SET_VALUE, moved),)
    return ()

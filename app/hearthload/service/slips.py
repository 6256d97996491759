"""Slips of the finger as fixes: which small change of a typed number would make it fit."""

from __future__ import annotations

from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.domain.units import MINUTES_PER_HOUR
from hearthload.estimate.answers import Interval
from hearthload.estimate.slips import digits_swapped, hours_slip, marks_moved
from hearthload.service.answers import Fix, FixAction


def hours_fix(hours: float, expected: Interval | None) -> tuple[Fix, ...]:
    """Offer the hours that were meant, when exactly one small slip agrees with the clock."""
    meant = None if expected is None else hours_slip(hours, expected.low, expected.high)
    return () if meant is None else (Fix(f"Make it {hours_text(meant)}", FixAction.SET_VALUE, meant),)


def hours_text(hours: float) -> str:
    """Write hours the way they are typed: "288:12"."""
    minutes = round(hours * MINUTES_PER_HOUR)
    return f"{minutes // 60}:{minutes % 60:02d}"


def energy_fix(value: float, expected: Interval | None, step: float) -> tuple[Fix, ...]:
    """Offer the kWh with the decimal mark moved, or two digits exchanged, when that is to be expected."""
    meant = energy_meant(value, expected, step)
    if meant is None:
        return ()
    return (Fix(f"Make it {energy_text(meant, step)} kWh", FixAction.SET_VALUE, meant),)


def energy_text(energy_kwh: float, step: float) -> str:
    """Write kWh with the decimals of a display."""
    return format_decimals(energy_kwh, decimals_of_step(step))


def energy_meant(value: float, expected: Interval | None, step: float) -> float | None:
    """Give the one value a moved mark or two exchanged digits away that is expected, None without one.

    Of several moved marks the nearest is likeliest; of several exchanges none is picked.
    """
    if expected is None or expected.low <= value <= expected.high:
        return None
    decimals = decimals_of_step(step)
    moved = [
        found
        for found in marks_moved(value, decimals)
        if expected.low <= found <= expected.high and found > 0.0
    ]
    if moved:
        return moved[0]
    swapped = {
        found
        for found in digits_swapped(format_decimals(value, decimals))
        if expected.low <= found <= expected.high
    }
    return swapped.pop() if len(swapped) == 1 else None

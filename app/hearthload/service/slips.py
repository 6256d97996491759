"""Slips of the finger as fixes: which small change of a typed number would make it fit."""

from __future__ import annotations

from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.domain.units import MINUTES_PER_HOUR
from hearthload.estimate.answers import Interval
from hearthload.estimate.slips import hours_slip, slip_into
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
    if expected is None:
        return ()
    meant = slip_into(value, expected.low, expected.high, step).energy_kwh
    if meant is None:
        return ()
    return (Fix(f"Make it {energy_text(meant, step)} kWh", FixAction.SET_VALUE, meant),)


def energy_text(energy_kwh: float, step: float) -> str:
    """Write kWh with the decimals of a display."""
    return format_decimals(energy_kwh, decimals_of_step(step))

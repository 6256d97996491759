"""Slips of the finger: which small change of a typed counter makes it fit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hearthload.domain.doubt import Likely
from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.estimate.series import Snapshot

_FACTORS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)
"""A decimal mark forgotten, added or moved: the nearest first."""

_REACH = 2.0
"""A slip is offered when its value lies within so many standard uncertainties of what is expected."""


@dataclass(frozen=True, slots=True)
class Slip:
    """The likely slip, and what the counter may have shown [kWh], None where no small change fits."""

    likely: Likely
    energy_kwh: float | None = None


def likely_slip(typed: Snapshot, expected_kwh: float, spread_kwh: float, step_kwh: float) -> Slip:
    """Give the smallest change of what was typed that lands where it was expected."""
    reach = _REACH * spread_kwh + step_kwh
    for likely, candidates in _ways(typed, step_kwh):
        fitting = [value for value in candidates if abs(value - expected_kwh) <= reach]
        if fitting:
            return Slip(likely, min(fitting, key=lambda value: abs(value - expected_kwh)))
    return Slip(Likely.TYPO)


def _ways(typed: Snapshot, step_kwh: float) -> Iterator[tuple[Likely, list[float]]]:
    decimals = decimals_of_step(step_kwh)
    digits = format_decimals(typed.energy_kwh, decimals)
    yield Likely.DECIMAL_SLIP, [round(typed.energy_kwh * factor, decimals) for factor in _FACTORS]
    yield Likely.SWAPPED_DIGITS, list(_swapped(digits))
    if typed.elapsed_h is not None:
        yield Likely.HOURS_AS_ENERGY, [typed.elapsed_h]
    yield Likely.WRONG_DIGIT, list(_one_other_digit(digits))


def _swapped(digits: str) -> Iterator[float]:
    """Give the numbers with two neighbouring digits exchanged, over the decimal mark too."""
    places = [at for at, mark in enumerate(digits) if mark.isdigit()]
    for first, second in pairwise(places):
        marks = list(digits)
        marks[first], marks[second] = marks[second], marks[first]
        if marks != list(digits):
            yield float("".join(marks))


def _one_other_digit(digits: str) -> Iterator[float]:
    """Give the numbers that differ in one digit."""
    for at, mark in enumerate(digits):
        if mark.isdigit():
            for other in "0123456789":
                if other != mark:
                    yield float(f"{digits[:at]}{other}{digits[at + 1 :]}")

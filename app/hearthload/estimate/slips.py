"""Slips of the finger: which small change of a typed counter makes it fit, before saving and after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from hearthload.domain.doubt import Likely
from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.domain.units import MINUTES_PER_HOUR
from hearthload.estimate.series import Snapshot

_FACTORS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)
"""A decimal mark forgotten, added or moved: the nearest first."""

_REACH = 2.0
"""A slip is offered when its value lies within so many standard uncertainties of what is expected."""

_LEAST_WITHOUT_COLON = 100


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


def slip_into(
    typed_kwh: float, low_kwh: float, high_kwh: float, step_kwh: float, *, one_digit: bool = False
) -> Slip:
    """Give the slip that lands in a range which may be wide: a mark moved, or the only exchange of digits.

    Of several moved marks the nearest is likeliest. One wrong digit fits an unusual day too easily; it is
    looked for only on demand, where later readings say that there is a slip, and must be the only one.
    """
    decimals = decimals_of_step(step_kwh)
    if low_kwh <= typed_kwh <= high_kwh:
        return Slip(Likely.TYPO)
    moved = [each for each in marks_moved(typed_kwh, decimals) if low_kwh <= each <= high_kwh and each > 0.0]
    if moved:
        return Slip(Likely.DECIMAL_SLIP, moved[0])
    digits = format_decimals(typed_kwh, decimals)
    ways = [(Likely.SWAPPED_DIGITS, digits_swapped(digits))]
    if one_digit:
        ways.append((Likely.WRONG_DIGIT, list(_one_other_digit(digits))))
    for likely, candidates in ways:
        fitting = {each for each in candidates if low_kwh <= each <= high_kwh}
        if fitting:
            return Slip(likely, fitting.pop()) if len(fitting) == 1 else Slip(Likely.TYPO)
    return Slip(Likely.TYPO)


def _ways(typed: Snapshot, step_kwh: float) -> Iterator[tuple[Likely, list[float]]]:
    decimals = decimals_of_step(step_kwh)
    digits = format_decimals(typed.energy_kwh, decimals)
    yield Likely.DECIMAL_SLIP, marks_moved(typed.energy_kwh, decimals)
    yield Likely.SWAPPED_DIGITS, digits_swapped(digits)
    if typed.elapsed_h is not None:
        yield Likely.HOURS_AS_ENERGY, [typed.elapsed_h]
    yield Likely.WRONG_DIGIT, list(_one_other_digit(digits))


def marks_moved(value: float, decimals: int) -> list[float]:
    """Give a number with its decimal mark moved, the nearest first; zero stays zero and gives none."""
    return [round(value * factor, decimals) for factor in _FACTORS] if value > 0.0 else []


def digits_swapped(digits: str) -> list[float]:
    """Give the numbers with two neighbouring digits exchanged, over the decimal mark too."""
    return [float(text) for text in _swapped(digits)]


def hours_slip(typed_h: float, low_h: float, high_h: float) -> float | None:
    """Give the hours that were meant [h], where the smallest kind of slip leaves exactly one in a range.

    A colon forgotten (10217 for 102:17) or typed as a point (288.50 for 288:50), minutes for hours, a
    decimal mark moved, two digits exchanged, one wrong. The range is what agrees with the clock; whole
    minutes are given, as they are written.
    """
    if low_h <= typed_h <= high_h:
        return None
    for candidates in _ways_of_hours(typed_h):
        minutes = {round(value * MINUTES_PER_HOUR) for value in candidates}
        fitting = {
            found / MINUTES_PER_HOUR for found in minutes if low_h <= found / MINUTES_PER_HOUR <= high_h
        }
        if len(fitting) == 1:
            return fitting.pop()
        if fitting:
            return None
    return None


def _ways_of_hours(typed_h: float) -> Iterator[list[float]]:
    whole, part = int(typed_h), round(typed_h % 1.0 * 100.0)
    full, minutes = divmod(whole, 100)
    if whole == typed_h and whole >= _LEAST_WITHOUT_COLON and minutes < MINUTES_PER_HOUR:
        yield [full + minutes / MINUTES_PER_HOUR]
    if 0 < part < MINUTES_PER_HOUR:
        yield [whole + part / MINUTES_PER_HOUR]
    yield [typed_h / MINUTES_PER_HOUR]
    yield marks_moved(typed_h, 2)
    counted = round(typed_h * MINUTES_PER_HOUR)
    shown = f"{counted // 60}:{counted % 60:02d}"
    yield list(_as_hours(_swapped(shown)))
    yield list(_as_hours(_changed(shown)))


def _as_hours(texts: Iterator[str]) -> Iterator[float]:
    """Read h:mm; no display shows sixty minutes."""
    for text in texts:
        hours, minutes = text.split(":")
        if int(minutes) < MINUTES_PER_HOUR:
            yield int(hours) + int(minutes) / MINUTES_PER_HOUR


def _swapped(digits: str) -> Iterator[str]:
    """Give the texts with two neighbouring digits exchanged, over a mark or colon too."""
    places = [at for at, mark in enumerate(digits) if mark.isdigit()]
    for first, second in pairwise(places):
        marks = list(digits)
        marks[first], marks[second] = marks[second], marks[first]
        if marks != list(digits):
            yield "".join(marks)


def _one_other_digit(digits: str) -> Iterator[float]:
    """Give the numbers that differ in one digit."""
    for text in _changed(digits):
        yield float(text)


def _changed(digits: str) -> Iterator[str]:
    """Give the texts that differ in one digit."""
    for at, mark in enumerate(digits):
        if mark.isdigit():
            for other in "0123456789":
                if other != mark:
                    yield f"{digits[:at]}{other}{digits[at + 1 :]}"

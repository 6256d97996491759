"""Figures as they are printed: digits by the uncertainty, never in scientific notation."""

from __future__ import annotations

import math
from typing import Protocol

from hearthload.domain.units import HOURS_PER_DAY

DASH = "–"
"""Stands where there is no figure."""

MOST_DECIMALS = 6
UNSYMMETRIC = 0.1
"""Share of the half-width by which a side may differ before both ends are printed."""

LARGEST_PLUS_MINUS = 0.30
"""Half-width [1] above which ends are told: one percentage up and down would fit neither of them."""


class Ends(Protocol):
    """A value with a low and a high end."""

    @property
    def value(self) -> float: ...  # noqa: D102
    @property
    def low(self) -> float: ...  # noqa: D102
    @property
    def high(self) -> float: ...  # noqa: D102


def format_decimals(value: float, decimals: int, mark: str = ".") -> str:
    """Print a number with so many decimals; negative decimals round to tens, hundreds and so on."""
    if not math.isfinite(value):
        return DASH
    rounded = round(value, decimals) + 0.0
    return f"{rounded:.{max(0, min(decimals, MOST_DECIMALS))}f}".replace(".", mark)


def format_number(value: float, digits: int = 3, mark: str = ".") -> str:
    """Print a number with so many significant digits, zeros at the end included."""
    if not math.isfinite(value):
        return DASH
    return format_decimals(value, decimals_for(value, digits), mark)


def decimals_for(value: float, digits: int) -> int:
    """Give the decimals that leave so many significant digits, after rounding; 0 for zero."""
    if value == 0.0 or not math.isfinite(value):
        return 0
    rounded = float(f"{abs(value):.{digits - 1}e}")
    return min(digits - 1 - math.floor(math.log10(rounded)), MOST_DECIMALS)


def decimals_of_step(step: float) -> int:
    """Give the decimals a display of this step shows: 2 for 0.01, 0 for 1."""
    if step <= 0.0 or not math.isfinite(step):
        return 0
    return max(0, min(MOST_DECIMALS, math.ceil(-math.log10(step) - 1e-9)))


def uncertainty_decimals(half_width: float) -> int:
    """Give the decimals worth printing beside a half-width: at most two of its digits (GUM 7.2.6).

    Two digits while they are 10 to 35, one from there on: the Particle Data Group's rounding rule,
    so that rounding never changes the half-width by more than about an eighth.
    """
    exponent = math.floor(math.log10(half_width))
    leading = half_width / 10.0**exponent
    if leading >= 9.5:  # prints as 1.0 of the next decade
        leading, exponent = leading / 10.0, exponent + 1
    return min((1 if leading < 3.55 else 0) - exponent, MOST_DECIMALS)


def format_plus_minus(value: float, low: float, high: float, unit: str = "", mark: str = ".") -> str:
    """Print "1.02 ± 0.11", or "0.31 (0.18 to 0.60)" when unsymmetric by more than a tenth."""
    tail = f" {unit}" if unit else ""
    if not (math.isfinite(value) and math.isfinite(low) and math.isfinite(high)):
        return DASH
    half = 0.5 * (high - low)
    if half < 0.5 * 10.0**-MOST_DECIMALS:
        return f"{_printed_alone(value, mark)}{tail}"
    if _is_even(value, low, high):
        decimals = uncertainty_decimals(half)
        return f"{format_decimals(value, decimals, mark)} ± {format_decimals(half, decimals, mark)}{tail}"
    middle, bottom, top = _three(value, low, high, mark)
    return f"{middle} ({bottom} to {top}){tail}"


def format_ends(ends: Ends, unit: str = "", mark: str = ".") -> str:
    """Print an interval as format_plus_minus does."""
    return format_plus_minus(ends.value, ends.low, ends.high, unit, mark)


def ends_as_printed(ends: Ends, mark: str = ".") -> tuple[str, str, str]:
    """Print value, low and high end by themselves, to the last digit as format_ends prints them together.

    Where that is "0.77 ± 0.04", the ends are 0.73 and 0.81: so no interval is told in two ways.
    """
    value, low, high = ends.value, ends.low, ends.high
    if not (math.isfinite(value) and math.isfinite(low) and math.isfinite(high)):
        return DASH, DASH, DASH
    half = 0.5 * (high - low)
    if half < 0.5 * 10.0**-MOST_DECIMALS:
        alone = _printed_alone(value, mark)
        return alone, alone, alone
    if not _is_even(value, low, high):
        return _three(value, low, high, mark)
    decimals = uncertainty_decimals(half)
    middle, side = round(value, decimals), round(half, decimals)
    printed = [format_decimals(end, decimals, mark) for end in (middle, middle - side, middle + side)]
    return printed[0], printed[1], printed[2]


def format_range(low: float, high: float, unit: str = "", mark: str = ".", step: float | None = None) -> str:
    """Print "12.4 to 13.1": digits by the width of the range, or by the display step when that is coarser."""
    if not (math.isfinite(low) and math.isfinite(high)):
        return DASH
    half = max(0.5 * (high - low), 10.0**-MOST_DECIMALS)
    decimals = uncertainty_decimals(half)
    if step is not None:
        decimals = min(max(decimals, 0), decimals_of_step(step))
    bottom, top = format_decimals(low, decimals, mark), format_decimals(high, decimals, mark)
    tail = f" {unit}" if unit else ""
    return f"{bottom}{tail}" if bottom == top else f"{bottom} to {top}{tail}"


def format_percent(fraction: float, mark: str = ".") -> str:
    """Print a fraction as "14 %", with a decimal below 10 where it says something."""
    if not math.isfinite(fraction):
        return DASH
    percent = 100.0 * fraction
    if abs(percent) >= 9.95:
        return f"{format_decimals(percent, 0, mark)} %"
    return f"{format_decimals(percent, 1, mark).removesuffix(f'{mark}0')} %"


def format_watts(power_w: float, mark: str = ".") -> str:
    """Print watts: whole from 10 W with at most three digits that count, two digits below."""
    if not math.isfinite(power_w):
        return DASH
    if abs(power_w) >= 9.95:
        return f"{format_decimals(power_w, min(0, decimals_for(power_w, 3)), mark)} W"
    return f"{format_decimals(power_w, min(2, decimals_for(power_w, 2)), mark)} W"


def format_hours(hours: float) -> str:
    """Print a duration as "37 h 20 min", to the minute."""
    if not math.isfinite(hours):
        return DASH
    minutes = round(hours * 60.0)
    whole, rest = divmod(minutes, 60)
    if whole == 0:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


def format_days(days: float, mark: str = ".") -> str:
    """Print a number of days: one decimal below ten days, hours below one day."""
    if not math.isfinite(days):
        return DASH
    if days < 0.995:
        return format_hours(round(days * HOURS_PER_DAY))
    text = format_decimals(days, 1 if days < 9.95 else 0, mark).removesuffix(f"{mark}0")
    return f"{text} day" if text == "1" else f"{text} days"


def format_days_to_go(days: Ends | None) -> str:
    """Print a forecast of days as "about 3 (2 to 5) days"."""
    if days is None or math.isnan(days.value):
        return "cannot be foreseen"
    if days.value > 365.0:
        return "more than a year"
    value, low, high = (whole_days(end) for end in (days.value, days.low, days.high))
    noun = "day" if value == "1" and low == high else "days"
    return f"about {value} {noun}" if low == high else f"about {value} ({low} to {high}) days"


def whole_days(days: float) -> str:
    """Round days up to whole ones, as mornings come one by one; two digits from a hundred on."""
    if days > 365.0:
        return "more than 365"
    whole = max(1.0, math.ceil(days - 0.05))
    return format_decimals(whole, 0 if whole < 100.0 else -1)


def format_share_of_day(share: Ends) -> str:
    """Print a share of the day as "about 5½ hours a day (4¾ to 6½)", to the minute below an hour."""
    value, low, high = (HOURS_PER_DAY * end for end in (share.value, share.low, share.high))
    if not (math.isfinite(value) and math.isfinite(low) and math.isfinite(high)):
        return DASH
    if value < 1.0 - 1.0 / 8.0:
        noun, (middle, bottom, top) = "", (format_hours(end) for end in (value, low, high))
    else:
        middle, bottom, top = (_quarters(end) for end in (value, low, high))
        noun = " hour" if middle == "1" else " hours"
    between = "" if bottom == top else f" ({bottom} to {top})"
    return f"about {middle}{noun} a day{between}"


def _quarters(hours: float) -> str:
    """Print hours to the quarter: 5½."""
    whole, quarter = divmod(round(4.0 * hours), 4)
    part = ("", "¼", "½", "¾")[quarter]
    return f"{whole or ''}{part}" or "0"


def _is_even(value: float, low: float, high: float) -> bool:
    """Tell whether both sides of an interval are alike to a tenth, so that one ± says them."""
    return abs((high - value) - (value - low)) <= UNSYMMETRIC * (high - low)


def _printed_alone(value: float, mark: str) -> str:
    """Print a value without an uncertainty, zero where it is smaller than what is ever printed."""
    return format_number(value, 3, mark) if abs(value) >= 10.0**-MOST_DECIMALS else "0"


def _three(value: float, low: float, high: float, mark: str) -> tuple[str, str, str]:
    """Print value, low and high alike by the shorter side, or each by itself across decades."""
    if low <= 0.0 or high > 10.0 * low:
        printed = [format_number(end, 2, mark) for end in (value, low, high)]
        return printed[0], printed[1], printed[2]
    side = max(min(high - value, value - low), 0.1 * (high - low))
    decimals = uncertainty_decimals(side)
    printed = [format_decimals(end, decimals, mark) for end in (value, low, high)]
    return printed[0], printed[1], printed[2]

"""A limit of a verdict in words: what is needed, what is offered, and by how much it falls short."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from hearthload.domain.figures import DASH, decimals_for, format_decimals, format_percent
from hearthload.outage.answers import Limit, LimitCode, Outcome

LIMIT_WORDS: Final[Mapping[LimitCode, str]] = {
    LimitCode.ENERGY: "energy",
    LimitCode.RUNNING_W: "running watts",
    LimitCode.RUNNING_VA: "running VA",
    LimitCode.START_VA: "starting power",
    LimitCode.BATTERY_CURRENT: "battery current",
    LimitCode.OUTLET_CURRENT: "outlet current",
    LimitCode.VOLTAGE: "voltage",
    LimitCode.FREQUENCY: "frequency",
    LimitCode.WAVEFORM: "waveform",
    LimitCode.RECHARGE: "charging",
    LimitCode.FUEL: "fuel",
    LimitCode.MEAN_LOAD: "engine load",
    LimitCode.SUN: "sun",
}

OUTCOME_WORDS: Final[Mapping[Outcome, str]] = {
    Outcome.CARRIES: "carries",
    Outcome.FALLS_SHORT: "falls short",
    Outcome.NOT_KNOWN: "not known",
}

_THOUSANDS: Final[Mapping[str, str]] = {"W": "kW", "VA": "kVA", "Wh": "kWh"}
_UNIT_WORDS: Final[Mapping[str, str]] = {"d": "days", "h/d": "h a day"}
_PLAIN_UNITS: Final = frozenset({"V", "Hz", "°C"})
"""Nominal figures, printed as they stand on a plate."""
DIGITS: Final = 3
MOST_DIGITS: Final = 6


def quantity_pair(needed: float, offered: float, unit: str) -> tuple[str, str]:
    """Print two values of one unit alike; with so many digits that they look different where they are."""
    scale, shown_unit = _scale(max(abs(needed), abs(offered)), unit)
    smaller, larger = sorted((abs(needed / scale), abs(offered / scale)))
    texts = "", ""
    # Watts below a thousand are whole from ten on.
    fewest = DIGITS - 1 if unit in _THOUSANDS and scale == 1.0 else DIGITS
    for digits in range(fewest, MOST_DIGITS + 1):
        decimals = max(decimals_for(larger, digits), decimals_for(smaller, digits - 1), 0)
        texts = _printed(needed / scale, decimals, unit), _printed(offered / scale, decimals, unit)
        if texts[0] != texts[1] or needed == offered:
            break
    tail = f" {shown_unit}" if shown_unit else ""
    return f"{texts[0]}{tail}", f"{texts[1]}{tail}"


def quantity(value: float, unit: str) -> str:
    """Print one value with its unit, "2.70 kVA"."""
    return quantity_pair(value, value, unit)[0]


def by_words(excess: float, unit: str) -> str:
    """Say by how much a limit is passed, to two digits: "75 VA", "67 Wh"."""
    size, small_unit = (1000.0 * excess, "Wh") if unit == "kWh" and excess < 1.0 else (excess, unit)
    scale, shown_unit = _scale(size, small_unit)
    return f"{_printed(size / scale, max(0, decimals_for(size / scale, 2)), unit)} {shown_unit}"


def needed_words(limit: Limit) -> str:
    """Say what a limit needs."""
    if limit.needed is None:
        return "pure sine" if limit.code is LimitCode.WAVEFORM else DASH
    if limit.code is LimitCode.MEAN_LOAD and limit.needed.low is not None and limit.needed.high is not None:
        low, high = format_percent(limit.needed.low), format_percent(limit.needed.high)
        return f"{low.removesuffix(' %')} to {high}"
    if limit.offered is None:
        at = "at " if limit.unit == "°C" else ""
        return f"{at}{quantity(limit.needed.value, limit.unit)}"
    return quantity_pair(limit.needed.value, limit.offered, limit.unit)[0]


def offered_words(limit: Limit) -> str:
    """Say what is offered for a limit."""
    if limit.offered is None:
        return DASH
    if limit.code is LimitCode.MEAN_LOAD:
        return format_percent(limit.offered)
    if limit.needed is None:
        return quantity(limit.offered, limit.unit)
    return quantity_pair(limit.needed.value, limit.offered, limit.unit)[1]


def margin_words(limit: Limit) -> str:
    """Say by how much more, or less, is offered than needed: "+12 %", "−63 %"."""
    if limit.margin is None or not math.isfinite(limit.margin):
        return DASH
    text = format_percent(abs(limit.margin))
    if text == "0 %":
        return text
    return f"{'+' if limit.margin > 0.0 else '−'}{text}"


def short_words(limit: Limit) -> str:
    """Say a limit that falls short, "starting power, 2.7 kVA needed, 1.0 kVA offered"."""
    name = LIMIT_WORDS[limit.code]
    if limit.code is LimitCode.SUN and limit.missing:
        return f"alone it gives nothing in an outage; it takes {limit.missing}"
    about = f" for {limit.about}" if limit.about else ""
    if limit.needed is not None and limit.offered is not None:
        return f"{name}{about}, {needed_words(limit)} needed, {offered_words(limit)} offered"
    if limit.missing:
        return f"{name}{about}, it takes {limit.missing}"
    if limit.code is LimitCode.WAVEFORM:
        return f"{name}{about}, a pure sine is needed"
    return f"{name}{about}"


def below_words(limit: Limit) -> str:
    """Say what stands under a limit's name: what to look up, or which load it is about."""
    if limit.outcome is Outcome.NOT_KNOWN and limit.missing:
        return f"look up: {limit.missing}"
    if limit.missing:
        return f"takes {limit.missing}"
    if limit.code is LimitCode.RECHARGE and limit.unit == "°C":
        return "too cold or too hot to charge"
    return limit.about


def _scale(size: float, unit: str) -> tuple[float, str]:
    if unit in _THOUSANDS and 999.5 <= size < math.inf:
        return 1000.0, _THOUSANDS[unit]
    return 1.0, _UNIT_WORDS.get(unit, unit)


def _printed(value: float, decimals: int, unit: str) -> str:
    if math.isinf(value):
        return "∞"
    text = format_decimals(value, decimals)
    if unit in _PLAIN_UNITS and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−")

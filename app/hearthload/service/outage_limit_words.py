"""A limit of a verdict in words: what is needed, what is offered, and by how much it falls short."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final

from hearthload.domain.figures import DASH, decimals_for, format_decimals, format_number, format_percent
from hearthload.domain.supply import Waveform
from hearthload.outage.answers import Limit, LimitCode, Outcome, Verdict
from hearthload.service.outage_words import LIMIT_WORDS, OUTCOME_WORDS, WAVEFORM_WORDS

DOES_NOTHING: Final = "does nothing alone"
"""Of panels without a battery."""

_THOUSANDS: Final[Mapping[str, str]] = {"W": "kW", "VA": "kVA", "Wh": "kWh"}
_UNIT_WORDS: Final[Mapping[str, str]] = {"d": "days", "h/d": "h a day"}
_PLAIN_UNITS: Final = frozenset({"V", "Hz", "°C"})
"""Nominal figures, printed as they stand on a plate."""
_OFFERED_WAVE: Final[Mapping[Outcome, str]] = {
    Outcome.CARRIES: WAVEFORM_WORDS[Waveform.SINE],
    Outcome.FALLS_SHORT: "modified",
}
_MOST_NAMED: Final = 2
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
    """Say what a limit needs; "at least" where the watts or energy of a load are not known."""
    if limit.code is LimitCode.WAVEFORM:
        return WAVEFORM_WORDS[Waveform.SINE]
    if _is_days(limit):
        return DASH if limit.offered is None else f"within {limit.offered:g} d"
    if limit.needed is None:
        return DASH
    if limit.code is LimitCode.MEAN_LOAD and limit.needed.low is not None and limit.needed.high is not None:
        low, high = format_percent(limit.needed.low), format_percent(limit.needed.high)
        return f"{low.removesuffix(' %')} to {high}"
    if limit.offered is None:
        at = "at " if limit.unit == "°C" else ""
        return f"{at}{quantity(limit.needed.value, limit.unit)}"
    if limit.outcome is Outcome.NOT_KNOWN:
        return f"at least {quantity(limit.needed.value, limit.unit)}"
    return quantity_pair(limit.needed.value, limit.offered, limit.unit)[0]


def offered_words(limit: Limit) -> str:
    """Say what is offered for a limit; of charging by the sun, the days that it takes."""
    if limit.code is LimitCode.WAVEFORM:
        return _OFFERED_WAVE.get(limit.outcome, DASH)
    if _is_days(limit):
        return "never" if limit.needed is None else f"{format_number(limit.needed.value)} d"
    if limit.offered is None or limit.code is LimitCode.SUN:
        return DASH
    if limit.code is LimitCode.MEAN_LOAD:
        return format_percent(limit.offered)
    if limit.needed is None:
        return quantity(limit.offered, limit.unit)
    return quantity_pair(limit.needed.value, limit.offered, limit.unit)[1]


def margin_words(limit: Limit) -> str:
    """Say by how much more, or less, is offered than needed: "+12 %", "−63 %"; nothing where not known."""
    if limit.outcome is Outcome.NOT_KNOWN or limit.margin is None or not math.isfinite(limit.margin):
        return DASH
    text = format_percent(abs(limit.margin))
    if text == "0 %":
        return text
    return f"{'+' if limit.margin > 0.0 else '−'}{text}"


def outcome_words(limit: Limit) -> str:
    """Say what a limit comes to."""
    if limit.code is LimitCode.SUN and limit.outcome is Outcome.FALLS_SHORT:
        return DOES_NOTHING if limit.counts else "gives nothing"
    return OUTCOME_WORDS[limit.outcome]


def verdict_words(verdict: Verdict) -> str:
    """Say what a supply comes to."""
    if verdict.outcome is Outcome.FALLS_SHORT and verdict.fails_first is LimitCode.SUN:
        return DOES_NOTHING
    return OUTCOME_WORDS[verdict.outcome]


def verdict_cell(verdict: Verdict) -> str:
    """Say what a supply comes to where there is little room, and what it needs stands below."""
    return verdict_words(verdict).removesuffix(" alone")


def short_words(limit: Limit) -> str:
    """Say a limit that falls short, "starting power, 2.7 kVA needed, 1.0 kVA offered"."""
    name = LIMIT_WORDS[limit.code]
    about = f" for {limit.about}" if limit.about else ""
    if limit.needed is not None and limit.offered is not None:
        return f"{name}{about}, {needed_words(limit)} needed, {offered_words(limit)} offered"
    if limit.missing:
        return f"{name}{about}, it takes {limit.missing}"
    if limit.code is LimitCode.WAVEFORM:
        return f"{name}{about}, a pure sine is needed"
    return f"{name}{about}"


def missing_words(limit: Limit) -> str:
    """Say what to look up, or what it takes; nothing where that is clear from the figures."""
    if limit.outcome is Outcome.NOT_KNOWN and limit.missing:
        return f"look up: {limit.missing}"
    if limit.missing:
        return f"takes {limit.missing}"
    if limit.code is LimitCode.RECHARGE and limit.unit == "°C":
        return "too cold or too hot to charge"
    return ""


def below_words(limit: Limit, *, whole: bool = False) -> str:
    """Say what stands under a limit's name: which loads it is about, and what to look up.

    Of many loads the first are named, or all of them as a `whole`.
    """
    about = limit.about if whole else few(limit.about)
    return "; ".join(part for part in (about, missing_words(limit)) if part)


def few(names: str) -> str:
    """Name the first of many loads, so that rows about one limit can be told apart."""
    each = names.split(", ")
    more = len(each) - _MOST_NAMED
    return f"{', '.join(each[:_MOST_NAMED])} and {more} more" if more > 1 else names


def _is_days(limit: Limit) -> bool:
    """Tell whether it is about the days of charging by the sun: those wanted are what it offers."""
    return limit.code is LimitCode.RECHARGE and limit.unit == "d"


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

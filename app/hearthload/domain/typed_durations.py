"""Elapsed hours as meters show them and people type them."""

from __future__ import annotations

import re

from hearthload.domain.typed_numbers import TypedError, parse_number, shown, tidied
from hearthload.domain.units import HOURS_PER_DAY, MINUTES_PER_HOUR

_NUMBER = r"[0-9]+(?:[.,][0-9]+)?"
_CLOCK = re.compile(r"([0-9]+):([0-9]{1,2})(?:\s*(?:h|hours?))?", re.IGNORECASE)
_PARTS = re.compile(
    rf"(?:({_NUMBER})\s*(?:d|days?))?\s*"
    rf"(?:({_NUMBER})\s*(?:h|hrs?|hours?))?\s*"
    rf"(?:({_NUMBER})\s*(?:m|mins?|minutes?)?)?",
    re.IGNORECASE,
)
_DAYS_AND_CLOCK = re.compile(r"([0-9]+)\s*(?:d|days?)\s*([0-9]+):([0-9]{1,2})", re.IGNORECASE)
_HOW = "write it like 37:20, 37.3 or 1d 13h 20m."


def parse_duration_h(text: str) -> float:
    """Read a duration [h]: "37:20", "37.3", "37,3", "37 h 20", "1d 13h 20m", "90m", "2d"."""
    plain = tidied(text)
    if not plain:
        raise TypedError("empty", "Nothing is typed here yet.")
    if plain.startswith("-"):
        raise TypedError("negative", f"{shown(text)} is negative; hours can only be zero or more.")
    if ":" in plain:
        return _largest_checked(_clock_h(plain, text), text)
    if re.search(r"[0-9]\s*[dDmMhH]", plain):
        return _largest_checked(_parts_h(plain, text), text)
    try:
        return parse_number(plain, unit="h")
    except TypedError as error:
        if error.code in {"not_number", "unit"}:
            raise TypedError("not_duration", f"{shown(text)} is not a duration; {_HOW}") from None
        raise


def _clock_h(plain: str, text: str) -> float:
    """Read h:mm, or days and h:mm."""
    if re.fullmatch(r"[0-9]+:[0-9]+:[0-9]+", plain):
        raise TypedError(
            "ambiguous", f"{shown(text)} could be days or seconds; write 37:20 or 1d 13h 20m instead."
        )
    with_days = _DAYS_AND_CLOCK.fullmatch(plain)
    found = with_days or _CLOCK.fullmatch(plain)
    if found is None:
        raise TypedError("not_duration", f"{shown(text)} is not a duration; {_HOW}")
    days = float(found.group(1)) if with_days else 0.0
    hours, minutes = (float(part) for part in found.groups()[-2:])
    _within(hours, HOURS_PER_DAY, "hours after the days", text, apply=bool(with_days))
    _within(minutes, MINUTES_PER_HOUR, "minutes", text)
    return days * HOURS_PER_DAY + hours + minutes / MINUTES_PER_HOUR


def _parts_h(plain: str, text: str) -> float:
    """Read days, hours and minutes with their letters; only the last part may have decimals."""
    found = _PARTS.fullmatch(plain)
    if found is None:
        raise TypedError("not_duration", f"{shown(text)} is not a duration; {_HOW}")
    parts = list(found.groups())
    given = [part for part in parts if part is not None]
    if any("." in part or "," in part for part in given[:-1]):
        raise TypedError("ambiguous", f"{shown(text)} has decimals before its last part; {_HOW}")
    if parts[0] is not None and parts[1] is None and parts[2] is not None and plain[-1].isdigit():
        raise TypedError("ambiguous", f"{shown(text)} leaves open what the last number counts; {_HOW}")
    days, hours, minutes = (float(part.replace(",", ".")) if part else 0.0 for part in parts)
    _within(hours, HOURS_PER_DAY, "hours after the days", text, apply=parts[0] is not None)
    _within(minutes, MINUTES_PER_HOUR, "minutes", text, apply=len(given) > 1)
    return days * HOURS_PER_DAY + hours + minutes / MINUTES_PER_HOUR


def _within(value: float, limit: float, what: str, text: str, *, apply: bool = True) -> None:
    if apply and value >= limit:
        raise TypedError("minutes", f"{shown(text)} has {value:g} {what}; {limit - 1:g} is the most.")


def _largest_checked(hours: float, text: str) -> float:
    """Refuse what no hours counter can show, as parse_number does for plain numbers."""
    try:
        parse_number(f"{hours:.6f}")
    except TypedError:
        raise TypedError("too_large", f"{shown(text)} is longer than any meter has counted.") from None
    return hours

"""Single cells in the machine's format: a decimal point, ISO 8601 times, nothing guessed."""

from __future__ import annotations

import math
import re
from datetime import UTC, datetime

from hearthload.domain.appliance import Kind
from hearthload.errors import KnownError

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_DATE_ONLY = re.compile(r"[0-9]{4}-?(?:[0-9]{2}-?[0-9]{2}|W[0-9]{2}(?:-?[0-9])?)")
_SHOWN = 40


class CellError(ValueError):
    """A cell that cannot be what its column wants; the text says why, without file, line and column."""


def refused(file: str, line: int, column: str, why: str) -> KnownError:
    """Make the one sentence that names file, line and column."""
    return KnownError(f"“{file}”, line {line}, column {column}: {why}.")


def shown(text: str) -> str:
    """Quote a cell for a sentence, printable and short."""
    kept = text if len(text) <= _SHOWN else text[: _SHOWN - 1] + "…"
    return '"' + "".join(mark if mark.isprintable() else "�" for mark in kept) + '"'


def number(text: str, *, lowest: float = 0.0, highest: float = 1e9) -> float:
    """Read a number with a decimal point, within bounds."""
    if not _NUMBER.fullmatch(text):
        if "," in text and _NUMBER.fullmatch(text.replace(",", ".")):
            raise CellError(f"{shown(text)} has a comma; in a file the decimal mark is a point")
        raise CellError(f"{shown(text)} is not a number")
    value = float(text)
    if not math.isfinite(value) or value > highest:
        raise CellError(f"{shown(text)} is too large (at most {highest:g})")
    if value < lowest:
        why = "is negative" if value < 0.0 else f"is less than {lowest:g}"
        raise CellError(f"{shown(text)} {why}")
    return value


def step(text: str) -> float:
    """Read the step of a display, which is more than nothing."""
    value = number(text, highest=1000.0)
    if value <= 0.0:
        raise CellError(f"{shown(text)} is no step; the smallest step of a display is more than zero")
    return value


def percent(text: str) -> float:
    """Read an accuracy in percent."""
    return number(text, highest=100.0)


def whole(text: str) -> int:
    """Read a whole number that is not negative."""
    value = number(text)
    if value != math.floor(value):
        raise CellError(f"{shown(text)} is not a whole number")
    return int(value)


def yes_or_no(text: str) -> bool:
    """Read 1 for yes, 0 for no."""
    if text not in {"0", "1"}:
        raise CellError(f"{shown(text)} is neither 0 (no) nor 1 (yes)")
    return text == "1"


def kind(text: str) -> Kind:
    """Read the kind of an appliance."""
    try:
        return Kind(text.casefold())
    except ValueError:
        raise CellError(f"{shown(text)} is not a kind; there are {', '.join(Kind)}") from None


def moment(text: str) -> tuple[datetime, bool]:
    """Read an ISO 8601 date and time, and tell whether it carries its offset from UTC.

    Without an offset it is local time as written: the local days are right, and spans are, but for a
    change of the clocks.
    """
    if _DATE_ONLY.fullmatch(text):
        raise CellError(f"{shown(text)} is a date without a time of day")
    try:
        value = datetime.fromisoformat(text) if text.isascii() else None
    except ValueError:
        value = None
    if value is None:
        raise CellError(f"{shown(text)} is not a date and time such as 2026-11-24T07:30+01:00")
    if value.tzinfo is None:
        return value.replace(tzinfo=UTC), False
    return value, True

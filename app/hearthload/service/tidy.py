"""Typed text and numbers made fit to keep, or refused in a clear sentence."""

from __future__ import annotations

import math
import unicodedata

from hearthload.errors import RefusedError

LONGEST_NAME = 120
LONGEST_NOTE = 10_000


def tidy_name(text: str, what: str) -> str:
    """Give a name in one line without spaces at its ends; refuse one that is empty or overlong."""
    name = tidy_line(text, "name")
    if not name:
        raise RefusedError(f"Give the {what} a name.", field="name", code="empty_name")
    return name


def tidy_line(text: str, field: str) -> str:
    """Give text in one line, spaces joined; refuse what cannot be kept or is overlong."""
    line = " ".join(_keepable(text, field).split())
    if len(line) > LONGEST_NAME:
        raise RefusedError(f"That is too long: {LONGEST_NAME} letters at most.", field=field, code="too_long")
    return line


def tidy_note(text: str, field: str = "note") -> str:
    """Give a note, its lines kept; refuse what cannot be kept or is overlong."""
    note = _keepable(text, field).strip()
    if len(note) > LONGEST_NOTE:
        raise RefusedError(f"That is too long: {LONGEST_NOTE} letters at most.", field=field, code="too_long")
    return note


def same_name(one: str, other: str) -> bool:
    """Tell whether two names count as the same: letters' case aside."""
    return name_key(one) == name_key(other)


def name_key(name: str) -> str:
    """Give a name in the form in which names are compared and sorted."""
    return unicodedata.normalize("NFC", name).casefold()


def refuse_outside(value: float | None, field: str, what: str, *, low: float, high: float, unit: str) -> None:
    """Refuse a number that is not between two bounds; None is no number and passes."""
    if value is None or (math.isfinite(value) and low <= value <= high):
        return
    bounds = f"between {low:g} and {high:g} {unit}".rstrip()
    raise RefusedError(f"{what} must be {bounds}.", field=field, code="out_of_range")


def refuse_unless_positive(value: float | None, field: str, what: str, *, most: float, unit: str) -> None:
    """Refuse a number that is nought, negative or beyond all sense; None is no number and passes."""
    if value is None or 0.0 < value <= most:
        return
    bound = f"at most {most:g} {unit}" if value > most else f"more than 0 {unit}"
    raise RefusedError(f"{what} must be {bound.rstrip()}.", field=field, code="out_of_range")


def _keepable(text: str, field: str) -> str:
    normal = unicodedata.normalize("NFC", text)
    kinds = {unicodedata.category(letter) for letter in normal if letter not in "\n\t\r"}
    if kinds & {"Cc", "Cs"}:
        raise RefusedError(
            "There is a character in that text that cannot be kept. Type it again.",
            field=field,
            code="bad_text",
        )
    return normal

"""Numbers as people type them: both decimal marks, nothing guessed, every refusal in one sentence."""

from __future__ import annotations

import math
import re

LARGEST_NUMBER = 1e9
"""No counter, watt, volt or hour that a household types comes near this; beyond it a key was held down."""

_SIGNS = {"−": "-", "–": "-"}
_PLAIN = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_EXPONENT = re.compile(r"[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)[eE][+-]?[0-9]+")
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf|infinity|∞)", re.IGNORECASE)
_UNIT_WORDS = {
    "kwh": ("kwh",),
    "w": ("w", "watt", "watts"),
    "v": ("v", "volt", "volts"),
    "a": ("a", "amp", "amps", "ampere", "amperes"),
    "hz": ("hz", "hertz"),
    "°c": ("°c", "c", "°"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
    "%": ("%", "percent"),
}


class TypedError(ValueError):
    """What was typed cannot be taken: `code` is a short stable word, `str()` one clear sentence."""

    def __init__(self, code: str, sentence: str) -> None:
        super().__init__(sentence)
        self.code = code


def shown(text: str) -> str:
    """Quote what was typed for a sentence, shortened so that the sentence stays one line."""
    tidy = " ".join(text.split())
    return f"“{tidy}”" if len(tidy) <= 24 else f"“{tidy[:21]}…”"


def tidied(text: str) -> str:
    """Strip surrounding blanks and turn typographic minus signs into plain ones."""
    return "".join(_SIGNS.get(letter, letter) for letter in text.strip())


def parse_number(text: str, *, allow_negative: bool = False, unit: str = "") -> float:
    """Read one number with a decimal point or a decimal comma, by what is typed.

    A single mark is always the decimal mark. Two marks, exponents, underscores, blanks between digits
    and digits of other scripts are refused: none of them can be taken without guessing. `unit` names
    the unit whose words may follow the number ("12.3 kWh").
    """
    plain = _without_unit(tidied(text), unit)
    if not plain:
        raise TypedError("empty", "Nothing is typed here yet.")
    if not _PLAIN.fullmatch(plain):
        raise _refusal(plain, text)
    value = float(plain.replace(",", "."))
    if abs(value) > LARGEST_NUMBER:
        raise TypedError("too_large", f"{shown(text)} is larger than anything a household counts.")
    if plain.startswith("-") and not allow_negative:
        raise TypedError("negative", f"{shown(text)} is negative; this can only be zero or more.")
    return value + 0.0  # turns -0.0 into 0.0


def parse_count(text: str) -> int:
    """Read a whole number of zero or more, such as the uses since the last reading."""
    value = parse_number(text)
    if value != math.floor(value):
        raise TypedError("not_whole", f"{shown(text)} is not a whole number; count each use once.")
    return int(value)


def _without_unit(plain: str, unit: str) -> str:
    lowered = plain.lower()
    for word in sorted(_UNIT_WORDS.get(unit.lower(), ()), key=len, reverse=True):
        if lowered.endswith(word) and len(plain) > len(word):
            return plain[: -len(word)].rstrip()
    return plain


def _refusal(plain: str, text: str) -> TypedError:
    """Say what is wrong with text that is not a plain number."""
    if _NOT_FINITE.fullmatch(plain):
        return TypedError("not_finite", f"{shown(text)} is not a number that a meter can show.")
    if _EXPONENT.fullmatch(plain):
        if not _moderate(plain):
            return TypedError("too_large", f"{shown(text)} is larger than anything a household counts.")
        return TypedError("exponent", f"{shown(text)} has an exponent; write the number out in digits.")
    if any(letter.isdigit() and not letter.isascii() for letter in plain):
        return TypedError("other_digits", f"{shown(text)} has digits of another script; use 0 to 9.")
    if re.fullmatch(r"[+-]?[0-9.,]+", plain) and any(mark in plain for mark in ".,") and plain.strip("+-.,"):
        return TypedError(
            "ambiguous",
            f"{shown(text)} has more than one decimal mark; write only one, and none for thousands.",
        )
    if re.fullmatch(r"[+-]?[0-9.,]+(?:[\s_'’]+[0-9.,]+)+", plain):
        return TypedError("split", f"{shown(text)} has a gap between digits; write one number without gaps.")
    if re.match(r"[+-]?[0-9.,]*[0-9][.,]?\s*[^\s0-9.,]+$", plain):
        return TypedError("unit", f"{shown(text)} carries a unit that does not belong here.")
    return TypedError("not_number", f"{shown(text)} is not a number; write it like 12.34 or 12,34.")


def _moderate(plain: str) -> bool:
    return abs(float(plain.replace(",", "."))) <= LARGEST_NUMBER

"""The figures of the trade as rows of a table, and the sentences about one of them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

from hearthload.window.arithmetic import TYPICAL, TYPICAL_MARK
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.outage_words import ROOMS, exact_number, short_number

if TYPE_CHECKING:
    from hearthload.service.outage_answers import FactRow

OWN: Final = "● yours"
ROUNDING: Final = 1e-5
"""Typed as it is printed, an end of the usual range is still inside it."""


def fact_rows(facts: tuple[FactRow, ...], filtered: str = "") -> tuple[FigureRow, ...]:
    """Give the figures in which every word of the filter is found, a heading over each room."""
    words = filtered.casefold().split()
    found: list[FigureRow] = []
    rooms = dict.fromkeys(row.fact.room for row in facts)
    for room in rooms:
        head = FigureRow(f"head {room}", ROOMS.get(room, room.capitalize()))
        rows = [_row(each) for each in facts if each.fact.room == room]
        kept = [row for row in rows if _matches(row, head.what, words)]
        found += [head, *kept] if kept else []
    return tuple(found)


def fact_name(row: FactRow) -> str:
    """Give a figure's name with a capital at its beginning."""
    return row.fact.name[:1].upper() + row.fact.name[1:]


def outside_words(row: FactRow, value: float) -> str:
    """Say that a value is outside of what is usual for a figure, nothing where it is not."""
    low, high = row.fact.low, row.fact.high
    spare = ROUNDING * max(abs(low), abs(high))
    if low - spare <= value <= high + spare:
        return ""
    return f"outside what is usual ({_ends(row, short_number)})"


def fact_words(row: FactRow) -> str:
    """Say where a figure comes from and what may be typed."""
    fact = row.fact
    unit = f" {fact.unit}" if fact.unit else ""
    checked = " It is common practice and was not checked against a standard." if fact.typical else ""
    own = f" You set it to {row.value:.6g}{unit} in this plan." if row.is_own else ""
    return (
        f"The trade's figure: {fact.value:.6g}{unit}, usually {fact.low:g} to {fact.high:g}{unit}. "
        f"Source: {fact.source}.{checked}{own} What may be typed: {fact.least:g} to {fact.most:g}{unit}."
    )


def _matches(row: FigureRow, room: str, words: list[str]) -> bool:
    text = f"{row.what} {row.below} {row.unit} {room}".casefold()
    return all(word in text for word in words)


def _row(row: FactRow) -> FigureRow:
    fact = row.fact
    outside = outside_words(row, row.value) if row.is_own else ""
    marks = (
        OWN if row.is_own else f"{TYPICAL_MARK} {TYPICAL}" if fact.typical else "",
        f"{TYPICAL_MARK} {outside}" if outside else "",
        fact.source,
    )
    below = " · ".join(mark for mark in marks if mark)
    value = exact_number(row.value) if row.is_own else short_number(row.value)  # hers stands as she typed it
    values = (value, _ends(row, short_number))
    exact = (exact_number(row.value), _ends(row, exact_number))
    return FigureRow(fact.key, fact_name(row), values, fact.unit, below, exact=exact)


def _ends(row: FactRow, printed: Callable[[float], str]) -> str:
    low, high = row.fact.low, row.fact.high
    return printed(low) if low == high else f"{printed(low)} to {printed(high)}"

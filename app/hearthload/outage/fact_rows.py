"""Facts written as the rows of a table."""

from __future__ import annotations

from collections.abc import Iterable

from hearthload.outage.facts import Fact

Row = tuple[str, str, float, float, float, str, str, float, float, bool]
"""Key without its room, name, value, low, high, unit, source, least and most typable, typical."""


def in_room(room: str, prefix: str, rows: Iterable[Row]) -> tuple[Fact, ...]:
    """Make the facts of a room of the rows of its table; `prefix` goes before each key."""
    return tuple(
        Fact(f"{prefix}_{key}", name, value, low, high, unit, source, typical, room, least, most)
        for key, name, value, low, high, unit, source, least, most, typical in rows
    )

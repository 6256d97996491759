"""How the roster shares its width among its columns; a narrow one puts some figures under others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.window.readings.roster_cells import Column, Folded

WIDTHS: Final[Mapping[Column, int]] = {
    Column.NAME: 136,
    Column.STATE: 106,
    Column.DAILY: 108,
    Column.KNOWN: 62,
    Column.SHARE: 64,
    Column.DAYS: 68,
    Column.TO_GO: 68,
}
"""What each column needs [px]; the name is shortened last of all."""

ROOMY: Final[Mapping[Column, int]] = {
    Column.STATE: 144,
    Column.DAILY: 144,
    Column.KNOWN: 160,
    Column.SHARE: 96,
    Column.DAYS: 104,
    Column.TO_GO: 104,
}
"""How wide each column gets where there is room for more than every name [px]."""

FOLDS: Final = (Column.DAYS, Column.STATE)
"""The columns that a narrow roster puts under others, first to last."""

LEAST_PX: Final = sum(width for column, width in WIDTHS.items() if column not in FOLDS)

NAME_PX: Final = 320
"""No name gets more [px]."""


def folded_at(room: int) -> Folded:
    """Give the columns that a roster of this width [px] puts under others."""
    folded: set[Column] = set()
    for column in FOLDS:
        if sum(WIDTHS[each] for each in Column if each not in folded) <= room:
            break
        folded.add(column)
    return frozenset(folded)


def shared_out(room: int, folded: Folded, name_px: int) -> dict[Column, int]:
    """Give each shown column its width [px]: the names what they need first, then all in their order.

    What is left after that goes to the whiskers, which tell more the longer they are.
    """
    widths = {column: WIDTHS[column] for column in Column if column not in folded}
    left = max(0, room - sum(widths.values()))
    wanted = {Column.NAME: min(name_px, NAME_PX), **ROOMY}
    for column in (column for column in wanted if column in widths):
        more = min(left, max(0, wanted[column] - widths[column]))
        widths[column] += more
        left -= more
    widths[Column.KNOWN] += left
    return widths

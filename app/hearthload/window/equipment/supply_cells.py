"""What the list of equipment says in each cell."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import Final

from hearthload.domain.figures import DASH
from hearthload.domain.supply import Supply
from hearthload.outage.answers import Outcome
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_limit_words import verdict_cell
from hearthload.service.outage_verdict_words import below_hours_words, fails_first_words, hours_words
from hearthload.window.equipment.kind_words import what_it_is


@dataclass(frozen=True, slots=True)
class SupplyRow:
    """A supply and what it comes to against the chosen plan; None without a plan, or until it is reckoned."""

    supply: Supply
    answer: SupplyAnswer | None = None

    @property
    def outcome(self) -> Outcome | None:
        """Give the verdict's outcome."""
        return None if self.answer is None else self.answer.verdict.outcome


class Column(IntEnum):
    """The columns of the list of equipment, in order."""

    NAME = 0
    VERDICT = 1
    HOURS = 2


HEADERS: Final[Mapping[Column, str]] = {
    Column.NAME: "Equipment",
    Column.VERDICT: "Verdict,\nwhat fails first",
    Column.HOURS: "Energy lasts\n(95 %)",
}


def cell_text(row: SupplyRow, column: Column) -> str:
    """Give the text of one cell."""
    if column is Column.NAME:
        return row.supply.name
    if row.answer is None:
        return DASH
    if column is Column.VERDICT:
        return verdict_cell(row.answer.verdict)
    return hours_words(row.answer)


def second_line(row: SupplyRow, column: Column) -> str:
    """Give the muted line under the text."""
    if column is Column.NAME:
        return what_it_is(row.supply)
    if row.answer is None:
        return ""
    if column is Column.VERDICT:
        return fails_first_words(row.answer.verdict)
    return below_hours_words(row.answer)

"""What the load list says in each cell: the text, the muted line under it, the spoken words."""

from __future__ import annotations

from collections.abc import Mapping
from enum import IntEnum
from typing import TYPE_CHECKING, Final

from hearthload.domain.appliance import Role
from hearthload.domain.figures import DASH, format_plus_minus
from hearthload.domain.plan import Use
from hearthload.outage.answers import Note
from hearthload.outage.steps import Figure
from hearthload.window.outage.outage_words import NOT_KNOWN, ROLES, number_text, use_words

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanRow


class Column(IntEnum):
    """The columns of the load list, in order."""

    NAME = 0
    ROLE = 1
    USE = 2
    NUMBER = 3
    DAILY = 4
    RUNNING = 5
    START = 6


Folded = frozenset[Column]
"""Columns that a narrow list does without; what they say stands under the name."""

HEADERS: Final[Mapping[Column, str]] = {
    Column.NAME: "Appliance",
    Column.ROLE: "Role",
    Column.USE: "Use",
    Column.NUMBER: "Number",
    Column.DAILY: "Energy,\nkWh a day",
    Column.RUNNING: "Running,\nW",
    Column.START: "Starting,\nVA",
}

RIGHT_ALIGNED: Final = frozenset({Column.NUMBER, Column.DAILY, Column.RUNNING, Column.START})
ASSUMED: Final = "◇ assumed"
"""A shape and a word; colour says nothing here."""


def cell_text(row: PlanRow, column: Column) -> str:
    """Give the text of one cell."""
    match column:
        case Column.NAME:
            return row.appliance.name
        case Column.ROLE:
            return role_words(row)
        case Column.USE:
            return use_words(row.load)
        case Column.NUMBER:
            return str(row.load.quantity)
        case Column.DAILY:
            return daily_text(row.line.daily)
        case Column.RUNNING:
            return _watts(row.line.running_w)
        case Column.START:
            return _watts(row.line.start_va)


def second_line(row: PlanRow, column: Column, folded: Folded = frozenset()) -> str:
    """Give the muted line under the text."""
    match column:
        case Column.NAME:
            return _folded(row, folded)
        case Column.DAILY:
            return ASSUMED if Note.ASSUMED_ENERGY in row.line.notes else ""
        case Column.RUNNING:
            return _below_watts(row)
        case Column.START:
            return NOT_KNOWN if row.line.start_va is None else ""
        case _:
            return ""


def spoken(row: PlanRow, column: Column, folded: Folded = frozenset()) -> str:
    """Give a cell's words with its header, for reading aloud and for tool tips."""
    below = second_line(row, column, folded).replace("◇ ", "")
    header = HEADERS[column].replace("\n", " ")
    return f"{header}: {cell_text(row, column)}" + (f", {below}" if below else "")


def is_off(row: PlanRow) -> bool:
    """Tell whether an appliance is left off in the plan."""
    return row.load.role is Role.OFF


def role_words(row: PlanRow) -> str:
    """Say an appliance's role, with its rank among what is wanted."""
    ranked = row.load.role is Role.WANTED and row.load.rank > 0
    return f"{ROLES[row.load.role]}, {row.load.rank}" if ranked else ROLES[row.load.role]


def daily_text(figure: Figure | None) -> str:
    """Print an energy a day with its interval."""
    if figure is None:
        return NOT_KNOWN
    if figure.low is None or figure.high is None:
        return number_text(figure.value, figure.unit)
    return format_plus_minus(figure.value, figure.low, figure.high)


def _watts(figure: Figure | None) -> str:
    return DASH if figure is None else number_text(figure.value, "W")


def _below_watts(row: PlanRow) -> str:
    if row.line.running_w is None:
        return NOT_KNOWN
    if Note.ASSUMED_WATTS in row.line.notes:
        return ASSUMED
    heater_w = row.line.heater_w
    return f"heater {number_text(heater_w, 'W')}" if heater_w > 0.0 else ""


def _folded(row: PlanRow, folded: Folded) -> str:
    said = [role_words(row)] if Column.ROLE in folded else []
    # Nothing is used that is off, and the energy itself says that it is assumed.
    if Column.USE in folded and row.load.role is not Role.OFF and row.load.use is not Use.ASSUMED:
        said.append(use_words(row.load))
    if Column.NUMBER in folded and row.load.quantity != 1:
        said.append(f"{row.load.quantity} of them")
    return " · ".join(said)

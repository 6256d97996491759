"""The limits of a verdict as a Qt item model: those that count, a heading, and those that are only told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import IntEnum
from typing import Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hearthload.outage.answers import Limit
from hearthload.service.outage_limit_words import (
    below_words,
    margin_words,
    needed_words,
    offered_words,
    outcome_words,
)
from hearthload.service.outage_words import ALSO, LIMIT_WORDS
from hearthload.window.equipment.outcome_delegate import ACROSS_ROLE, MUTED_ROLE
from hearthload.window.equipment.supply_model import OUTCOME_ROLE
from hearthload.window.lines_delegate import LEFT, RIGHT

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()


class Column(IntEnum):
    """The columns of the list of limits, in order."""

    LIMIT = 0
    NEEDED = 1
    OFFERED = 2
    MARGIN = 3
    OUTCOME = 4


HEADERS: Final[Mapping[Column, str]] = {
    Column.LIMIT: "Limit",
    Column.NEEDED: "Needed",
    Column.OFFERED: "Offered",
    Column.MARGIN: "Margin",
    Column.OUTCOME: "Outcome",
}
_FIGURES: Final = frozenset({Column.NEEDED, Column.OFFERED, Column.MARGIN})


class LimitModel(QAbstractTableModel):
    """Rows of limits; the heading between them, None among the rows, can be read but not chosen."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[Limit | None, ...] = ()

    def set_limits(self, limits: Sequence[Limit]) -> None:
        """Show other limits."""
        counting = [limit for limit in limits if limit.counts]
        told = [limit for limit in limits if not limit.counts]
        self.beginResetModel()
        self.rows = (*counting, *((None, *told) if told else ()))
        self.endResetModel()

    @property
    def heading_row(self) -> int | None:
        """Give the row of the heading, None when every limit counts."""
        return self.rows.index(None) if None in self.rows else None

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the rows, the heading among them."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Count the columns."""
        return 0 if parent.isValid() else len(Column)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let limits be chosen, not the heading."""
        if index.isValid() and self.rows[index.row()] is None:
            return Qt.ItemFlag.NoItemFlags
        return super().flags(index)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Answer for one cell."""
        if not index.isValid():
            return None
        limit, column = self.rows[index.row()], Column(index.column())
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column in _FIGURES else LEFT
        if limit is None:
            heads = role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
            return (ALSO if column is Column.LIMIT else "") if heads else None
        return _answer(limit, column, role)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Answer for a column's header."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADERS[Column(section)]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if Column(section) in _FIGURES else LEFT
        return None


def cell_text(limit: Limit, column: Column) -> str:
    """Give the text of one cell."""
    match column:
        case Column.LIMIT:
            return LIMIT_WORDS[limit.code]
        case Column.NEEDED:
            return needed_words(limit)
        case Column.OFFERED:
            return offered_words(limit)
        case Column.MARGIN:
            return margin_words(limit)
        case Column.OUTCOME:
            return outcome_words(limit)


def _answer(limit: Limit, column: Column, role: int) -> object:
    below = below_words(limit)
    if role == Qt.ItemDataRole.DisplayRole:
        return cell_text(limit, column)
    if role == ACROSS_ROLE:
        return below
    if role == OUTCOME_ROLE:
        return limit.outcome if column is Column.OUTCOME else None
    if role == MUTED_ROLE:
        return not limit.counts
    if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
        return f"{HEADERS[column]}: {cell_text(limit, column)}" + (
            f", {below}" if below and column is Column.LIMIT else ""
        )
    return None

"""The load list as a Qt item model: tells only of the rows that differ."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE
from hearthload.window.outage.load_cells import (
    HEADERS,
    RIGHT_ALIGNED,
    Column,
    Folded,
    cell_text,
    is_off,
    second_line,
    spoken,
)

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanRow

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()
OFF_ROLE = Qt.ItemDataRole.UserRole + 6
"""Whether the appliance is left off."""


class LoadModel(QAbstractTableModel):
    """Rows of a plan in the answer's order."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[PlanRow] = []
        self.folded: Folded = frozenset()

    @property
    def rows(self) -> tuple[PlanRow, ...]:
        """Give the rows as they stand."""
        return tuple(self._rows)

    def row_of(self, appliance_id: int) -> int | None:
        """Give the place of an appliance, None when it is not here."""
        found = (at for at, row in enumerate(self._rows) if row.appliance.id == appliance_id)
        return next(found, None)

    def fold(self, columns: Folded) -> None:
        """Say what some columns hold under the name, as a narrow list needs it."""
        if columns != self.folded:
            self.folded = columns
            if self._rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, 0))

    def set_rows(self, rows: Sequence[PlanRow]) -> None:
        """Take other rows: they are removed, moved, added and changed so that a selection stays."""
        wanted = {row.appliance.id for row in rows}
        for at in range(len(self._rows) - 1, -1, -1):
            if self._rows[at].appliance.id not in wanted:
                self.beginRemoveRows(_NOWHERE, at, at)
                del self._rows[at]
                self.endRemoveRows()
        for at, row in enumerate(rows):
            self._place(row, at)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the loads."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Count the columns."""
        return 0 if parent.isValid() else len(Column)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Answer for one cell."""
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], Column(index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            return cell_text(row, column)
        if role == SECOND_ROLE:
            return second_line(row, column, self.folded)
        if role == OFF_ROLE:
            return is_off(row)
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return spoken(row, column, self.folded)
        return _side(column) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Answer for a column's header."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADERS[Column(section)]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return HEADERS[Column(section)].replace("\n", " ")
        return _side(Column(section)) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def _place(self, row: PlanRow, at: int) -> None:
        here = self.row_of(row.appliance.id)
        if here is None:
            self.beginInsertRows(_NOWHERE, at, at)
            self._rows.insert(at, row)
            self.endInsertRows()
            return
        if here != at:
            self.beginMoveRows(_NOWHERE, here, here, _NOWHERE, at)
            self._rows.insert(at, self._rows.pop(here))
            self.endMoveRows()
        if not _same(self._rows[at], row):
            self._rows[at] = row
            self.dataChanged.emit(self.index(at, 0), self.index(at, len(Column) - 1))
        else:
            self._rows[at] = row


def _side(column: Column) -> Qt.AlignmentFlag:
    return RIGHT if column in RIGHT_ALIGNED else LEFT


def _same(one: PlanRow, other: PlanRow) -> bool:
    """Tell whether two rows say the same in the list; their arithmetic may differ."""
    return (one.load, one.appliance, one.line.notes, one.line.heater_w, _figures(one)) == (
        other.load, other.appliance, other.line.notes, other.line.heater_w, _figures(other)
    )  # fmt: skip


def _figures(row: PlanRow) -> tuple[tuple[float, float | None, float | None] | None, ...]:
    shown = (row.line.daily, row.line.running_w, row.line.start_va)
    return tuple(None if each is None else (each.value, each.low, each.high) for each in shown)

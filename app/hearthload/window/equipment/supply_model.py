"""The list of equipment as a Qt item model."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hearthload.window.equipment.supply_cells import HEADERS, Column, SupplyRow, cell_text, second_line
from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE

Index = QModelIndex | QPersistentModelIndex
OUTCOME_ROLE = Qt.ItemDataRole.UserRole + 7
"""The outcome whose mark stands before the text."""
_NOWHERE = QModelIndex()


class SupplyModel(QAbstractTableModel):
    """Equipment in the logbook's order; there is little of it, so a change shows it all anew."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[SupplyRow, ...] = ()

    def set_rows(self, rows: Sequence[SupplyRow]) -> None:
        """Show other equipment; the same in the same order keeps its selection."""
        same = [row.supply.id for row in rows] == [row.supply.id for row in self.rows]
        if same and rows:
            self.rows = tuple(rows)
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(Column) - 1))
            return
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the supplies."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Count the columns."""
        return 0 if parent.isValid() else len(Column)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Answer for one cell."""
        if not index.isValid():
            return None
        row, column = self.rows[index.row()], Column(index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            return cell_text(row, column)
        if role == SECOND_ROLE:
            return second_line(row, column)
        if role == OUTCOME_ROLE:
            return row.outcome if column is Column.VERDICT else None
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            below = second_line(row, column)
            header = HEADERS[column].replace("\n", " ")
            return f"{header}: {cell_text(row, column)}" + (f", {below}" if below else "")
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column is Column.HOURS else LEFT
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Answer for a column's header."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADERS[Column(section)]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if Column(section) is Column.HOURS else LEFT
        return None

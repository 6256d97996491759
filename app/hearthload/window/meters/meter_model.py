"""The list of meters as a Qt item model."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from hearthload.service.answers import MeterRow
from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE
from hearthload.window.meters.meter_cells import HEADERS, Column, cell_text, second_line

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()
_RIGHT_ALIGNED = frozenset({Column.CARRIES, Column.SHOWS, Column.SERVED})


class MeterModel(QAbstractTableModel):
    """Meters in the logbook's order; there are few, so a change shows them all anew."""

    def __init__(self, clock: Callable[[], datetime], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._clock = clock
        self.rows: tuple[MeterRow, ...] = ()

    def set_rows(self, rows: Sequence[MeterRow]) -> None:
        """Show other meters; the same ones in the same order keep their selection."""
        same = [row.meter.id for row in rows] == [row.meter.id for row in self.rows]
        if same and rows:
            self.rows = tuple(rows)
            self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(Column) - 1))
            return
        self.beginResetModel()
        self.rows = tuple(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the meters."""
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
            return second_line(row, column, self._clock())
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            below = second_line(row, column, self._clock())
            header = HEADERS[column].replace("-\n", "").replace("\n", " ")
            return f"{header}: {cell_text(row, column)}" + (f", {below}" if below else "")
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return RIGHT if column in _RIGHT_ALIGNED else LEFT
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
            return RIGHT if Column(section) in _RIGHT_ALIGNED else LEFT
        return None

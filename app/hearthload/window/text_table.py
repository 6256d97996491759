"""A plain table of words and figures that are only read: one line each, figures standing right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hearthload.window.lines_delegate import LinesDelegate
from hearthload.window.lines_table import LinesTable

Index = QModelIndex | QPersistentModelIndex
ROOT = QModelIndex()


@dataclass(frozen=True, slots=True)
class TextColumn:
    """One column: its header, its width [px], whether figures stand in it."""

    header: str
    width: int
    is_figure: bool = True


class TextModel(QAbstractTableModel):
    """Rows of texts under fixed columns."""

    def __init__(self, columns: Sequence[TextColumn], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._columns = tuple(columns)
        self.rows: tuple[tuple[str, ...], ...] = ()

    def set_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show these rows."""
        fresh = tuple(tuple(row) for row in rows)
        if fresh != self.rows:
            self.beginResetModel()
            self.rows = fresh
            self.endResetModel()

    def rowCount(self, parent: Index = ROOT) -> int:
        """Give the number of rows."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Give the number of columns."""
        return 0 if parent.isValid() else len(self._columns)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:  # noqa: ANN401
        """Give the headers."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self._columns):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._columns[section].header
        return self._alignment(section) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        """Give a cell's text."""
        if not index.isValid():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.rows[index.row()][index.column()]
        return self._alignment(index.column()) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def _alignment(self, column: int) -> Qt.AlignmentFlag:
        side = Qt.AlignmentFlag.AlignRight if self._columns[column].is_figure else Qt.AlignmentFlag.AlignLeft
        return side | Qt.AlignmentFlag.AlignVCenter


class TextTable(LinesTable):
    """Shows a `TextModel`; the last column takes the width that is left."""

    def __init__(self, columns: Sequence[TextColumn], name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.texts = TextModel(columns, self)
        self.setModel(self.texts)
        self.setItemDelegate(LinesDelegate(self))
        self.setAccessibleName(name)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setWordWrap(False)
        self.horizontalHeader().setStretchLastSection(True)
        for place, column in enumerate(columns):
            self.setColumnWidth(place, column.width)

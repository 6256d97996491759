"""The table of a plan's loads; a narrow one says role, use and number under the name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Signal
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hearthload.window.colours import Theme
from hearthload.window.lines_delegate import Index, LinesDelegate
from hearthload.window.lines_table import LinesTable
from hearthload.window.outage.load_cells import Column
from hearthload.window.outage.load_model import OFF_ROLE, LoadModel

WIDTHS: Final[Mapping[Column, int]] = {
    Column.NAME: 160,
    Column.ROLE: 88,
    Column.USE: 104,
    Column.NUMBER: 72,
    Column.DAILY: 156,
    Column.RUNNING: 84,
    Column.START: 80,
}
"""What each column needs [px]; the name takes what is left."""

FOLDED: Final = (Column.NUMBER, Column.USE, Column.ROLE)
"""What a narrow list says under the name, in the order in which it is given up."""


class LoadDelegate(LinesDelegate):
    """Paints what is left off in the muted ink."""

    def ink(self, index: Index, theme: Theme) -> QColor:
        """Give the colour of a cell's text."""
        return theme.colour("muted" if index.data(OFF_ROLE) else "ink")


class LoadTable(LinesTable):
    """One row an appliance; `chosen` carries its number, None when there is none."""

    chosen = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.loads = LoadModel(self)
        self.setModel(self.loads)
        self.setItemDelegate(LoadDelegate(self))
        self.setAccessibleName("Loads of the plan")
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.selectionModel().currentRowChanged.connect(self._tell)

    def chosen_id(self) -> int | None:
        """Give the appliance of the chosen row."""
        index = self.currentIndex()
        return self.loads.rows[index.row()].appliance.id if index.isValid() else None

    def choose(self, appliance_id: int | None) -> None:
        """Choose an appliance's row, the first where it is not here."""
        at = None if appliance_id is None else self.loads.row_of(appliance_id)
        if at is None and self.loads.rows:
            at = 0
        index = QModelIndex() if at is None else self.loads.index(at, 0)
        flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.selectionModel().setCurrentIndex(index, flags)
        if index.isValid():
            self.scrollTo(index)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fold what a narrow table has no room for and give the name what is left."""
        super().resizeEvent(event)
        room, needed = self.viewport().width(), sum(WIDTHS.values())
        folded = set()
        for column in FOLDED:
            if needed <= room:
                break
            folded.add(column)
            needed -= WIDTHS[column]
        self.loads.fold(frozenset(folded))
        for column, width in WIDTHS.items():
            self.setColumnHidden(column, column in folded)
            extra = max(0, room - needed) if column is Column.NAME else 0
            self.setColumnWidth(column, width + extra)

    def _tell(self, _index: QModelIndex) -> None:
        self.chosen.emit(self.chosen_id())

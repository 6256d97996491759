"""The table of meters; fits its columns to its width."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from hearthload.window.lines_delegate import ROW_PX, LinesDelegate
from hearthload.window.meters.meter_cells import Column
from hearthload.window.meters.meter_model import MeterModel
from hearthload.window.theme import theme_news

WIDTHS: Final[Mapping[Column, int]] = {
    Column.NAME: 128,
    Column.WHERE: 176,
    Column.CARRIES: 110,
    Column.SHOWS: 82,
    Column.SERVED: 84,
}
"""What each column needs [px]; the first two share what is left."""

GIVEN_UP: Final = (Column.SERVED, Column.SHOWS, Column.CARRIES)


class MeterTable(QTableView):
    """One row a meter."""

    def __init__(self, clock: Callable[[], datetime], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.meters = MeterModel(clock, self)
        self.setModel(self.meters)
        self.setItemDelegate(LinesDelegate(self))
        self.setAccessibleName("Meters")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        across = self.horizontalHeader()
        across.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        across.setFixedHeight(ROW_PX)
        across.setHighlightSections(False)
        theme_news().changed.connect(self._repaint)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter and Esc to the page."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Hide what a narrow table goes without and share out what is left."""
        super().resizeEvent(event)
        room, needed = self.viewport().width(), sum(WIDTHS.values())
        hidden = set()
        for column in GIVEN_UP:
            if needed <= room:
                break
            hidden.add(column)
            needed -= WIDTHS[column]
        spare = max(0, room - needed)
        shares = {Column.NAME: spare - spare // 2, Column.WHERE: spare // 2}
        for column, width in WIDTHS.items():
            self.setColumnHidden(column, column in hidden)
            self.setColumnWidth(column, width + shares.get(column, 0))

    def _repaint(self, _theme: object) -> None:
        self.viewport().update()

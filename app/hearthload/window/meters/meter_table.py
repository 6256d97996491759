"""The table of meters; fits its columns to its width."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Final

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QWidget

from hearthload.window.lines_delegate import LinesDelegate
from hearthload.window.lines_table import LinesTable
from hearthload.window.meters.meter_cells import Column
from hearthload.window.meters.meter_model import MeterModel

WIDTHS: Final[Mapping[Column, int]] = {
    Column.NAME: 128,
    Column.WHERE: 176,
    Column.CARRIES: 110,
    Column.SHOWS: 82,
    Column.SERVED: 84,
}
"""What each column needs [px]; the first two share what is left."""

GIVEN_UP: Final = (Column.SERVED, Column.SHOWS, Column.CARRIES)


class MeterTable(LinesTable):
    """One row a meter."""

    def __init__(self, clock: Callable[[], datetime], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.meters = MeterModel(clock, self)
        self.setModel(self.meters)
        self.setItemDelegate(LinesDelegate(self))
        self.setAccessibleName("Meters")

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

"""The table of equipment; fits its columns to its width."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from hearthload.window.equipment.outcome_delegate import OutcomeDelegate
from hearthload.window.equipment.supply_cells import Column
from hearthload.window.equipment.supply_model import SupplyModel
from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.lines_table import LinesTable

WIDTHS: Final[Mapping[Column, int]] = {Column.NAME: 126, Column.VERDICT: 130, Column.HOURS: 110}
"""What each column needs [px]; the name takes what is left."""
LEAST_ROWS: Final = 3


class SupplyTable(LinesTable):
    """One row a supply; no higher than its rows, so that what it calls for stands right under it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.supplies = SupplyModel(self)
        self.setModel(self.supplies)
        self.setItemDelegate(OutcomeDelegate(self))
        self.setAccessibleName("Equipment")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.supplies.modelReset.connect(self.updateGeometry)

    def sizeHint(self) -> QSize:
        """Want all rows."""
        return QSize(super().sizeHint().width(), self._height(self.supplies.rowCount()))

    def minimumSizeHint(self) -> QSize:
        """Be content with few rows."""
        rows = min(self.supplies.rowCount(), LEAST_ROWS)
        return QSize(super().minimumSizeHint().width(), self._height(rows))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the name what the other columns leave."""
        super().resizeEvent(event)
        spare = max(0, self.viewport().width() - sum(WIDTHS.values()))
        for column, width in WIDTHS.items():
            self.setColumnWidth(column, width + (spare if column is Column.NAME else 0))

    def _height(self, rows: int) -> int:
        return (rows + 1) * ROW_PX + 2 * self.frameWidth()

"""The table of limits; Enter or a double click on one asks how it was reckoned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hearthload.outage.answers import Limit
from hearthload.window.equipment.limit_model import Column, LimitModel
from hearthload.window.equipment.outcome_delegate import AcrossDelegate
from hearthload.window.lines_table import LinesTable

WIDTHS: Final[Mapping[Column, int]] = {
    Column.LIMIT: 115,
    Column.NEEDED: 90,
    Column.OFFERED: 86,
    Column.MARGIN: 72,
    Column.OUTCOME: 108,
}
"""What each column needs [px]; the limit's name takes what is left, its loads stand under it."""


class LimitTable(LinesTable):
    """One row a limit; `chosen` carries the `Limit` or None, `opened` the one to be explained."""

    chosen = Signal(object)
    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.limits = LimitModel(self)
        self.setModel(self.limits)
        self.setItemDelegate(AcrossDelegate(self))
        self.setAccessibleName("Limits")
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.selectionModel().currentRowChanged.connect(self._choose)
        self.doubleClicked.connect(self._open)

    def show_limits(self, limits: Sequence[Limit]) -> None:
        """Show other limits; the same place stays chosen where it can."""
        row = max(self.currentIndex().row(), 0)
        self.clearSpans()
        self.limits.set_limits(limits)
        heading = self.limits.heading_row
        if heading is not None:
            self.setSpan(heading, 0, 1, len(Column))
        usable = [place for place, limit in enumerate(self.limits.rows) if limit is not None]
        if usable:
            self.selectRow(row if row in usable else usable[0])
        else:
            self.chosen.emit(None)

    def limit(self) -> Limit | None:
        """Give the chosen limit."""
        index = self.currentIndex()
        return self.limits.rows[index.row()] if index.isValid() else None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the chosen limit's arithmetic."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.limit() is not None:
            self.opened.emit(self.limit())
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the limit's name what the other columns leave."""
        super().resizeEvent(event)
        spare = max(0, self.viewport().width() - sum(WIDTHS.values()))
        for column, width in WIDTHS.items():
            self.setColumnWidth(column, width + (spare if column is Column.LIMIT else 0))

    def _choose(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self.chosen.emit(self.limit())

    def _open(self, index: QModelIndex) -> None:
        limit = self.limits.rows[index.row()]
        if limit is not None:
            self.opened.emit(limit)

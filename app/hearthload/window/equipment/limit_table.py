"""The table of limits; Enter or a double click on one asks how it was reckoned."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hearthload.domain.figures import DASH
from hearthload.outage.answers import Limit
from hearthload.service.outage_limit_words import margin_words
from hearthload.window.equipment.limit_model import Column, LimitModel
from hearthload.window.equipment.marks import MARK_PX
from hearthload.window.equipment.outcome_delegate import AcrossDelegate
from hearthload.window.fonts import text_font
from hearthload.window.lines_table import LinesTable
from hearthload.window.theme import GRID

USUAL_PX: Final[Mapping[Column, int]] = {Column.NEEDED: 90, Column.OFFERED: 86, Column.MARGIN: 72}
"""Columns that need not be narrower than this where there is room [px]."""
LEAST_NAME_PX: Final = 80
"""The limit's name gets no narrower than this [px]."""


class LimitTable(LinesTable):
    """One row a limit; `chosen` carries the `Limit` or None, `opened` the one to be explained."""

    chosen = Signal(object)
    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.limits = LimitModel(self)
        self._metrics = QFontMetrics(text_font())
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
        self._fit()
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
        """Fit the columns to another width."""
        super().resizeEvent(event)
        self._fit()

    def needed_px(self, column: Column) -> int:
        """Give the width that a column's words need [px], its header's among them."""
        model = self.limits
        words = [str(model.index(row, column).data()) for row, limit in enumerate(model.rows) if limit]
        widest = max((self._metrics.horizontalAdvance(each) for each in words), default=0)
        mark = MARK_PX + GRID if column is Column.OUTCOME else 0
        header = self.horizontalHeader().sectionSizeHint(column)
        return max(widest + mark + 2 * AcrossDelegate.pad, header) + 1

    def _fit(self) -> None:
        """Give each column what its words need, more where there is room, and the limit's name the rest.

        Where there is too little, the margins go if no limit has one.
        """
        widths: dict[Column, int] = {
            column: self.needed_px(column) for column in Column if column is not Column.LIMIT
        }
        name = max(self.needed_px(Column.LIMIT), LEAST_NAME_PX)
        spare = self.viewport().width() - name - sum(widths.values())
        no_margin = spare < 0 and all(
            limit is None or margin_words(limit) == DASH for limit in self.limits.rows
        )
        self.setColumnHidden(Column.MARGIN, no_margin)
        if no_margin:
            spare += widths.pop(Column.MARGIN)
        for column, usual in USUAL_PX.items():
            if column not in widths:
                continue
            more = min(max(usual - widths[column], 0), max(spare, 0))
            widths[column] += more
            spare -= more
        rest = self.viewport().width() - sum(widths.values())
        widths[Column.LIMIT] = max(rest, LEAST_NAME_PX)
        for column, width in widths.items():
            self.setColumnWidth(column, width)

    def _choose(self, _now: QModelIndex, _before: QModelIndex) -> None:
        self.chosen.emit(self.limit())

    def _open(self, index: QModelIndex) -> None:
        limit = self.limits.rows[index.row()]
        if limit is not None:
            self.opened.emit(limit)

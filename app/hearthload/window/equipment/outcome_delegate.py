"""Paints cells with an outcome's mark before their text, and rows that are only told in muted ink."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QTableView

from hearthload.outage.answers import Outcome
from hearthload.window.colours import Theme
from hearthload.window.equipment.marks import MARK_PX, paint_outcome
from hearthload.window.equipment.supply_model import OUTCOME_ROLE
from hearthload.window.lines_delegate import LEFT, SECOND_ROLE, Index, LinesDelegate
from hearthload.window.theme import GRID

MUTED_ROLE = Qt.ItemDataRole.UserRole + 8
"""Whether a row is told without counting."""
ACROSS_ROLE = Qt.ItemDataRole.UserRole + 9
"""The muted line under a row, from its first column to its last; every cell of the row gives the same."""


class OutcomeDelegate(LinesDelegate):
    """The painter of the lists of equipment and of limits."""

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint one cell, after its mark where it has one."""
        muted, told = bool(index.data(MUTED_ROLE)), index.data(OUTCOME_ROLE)
        dressed = replace(theme, ink=theme.muted) if muted else theme
        indent = 0
        if told:  # on its way through Qt an outcome becomes its plain text
            two = bool(index.data(SECOND_ROLE))
            height = box.top() + 2 + box.height() / 4 if two else box.top() + box.height() / 2
            centre = QPointF(box.left() + MARK_PX / 2, height)
            paint_outcome(painter, centre, Outcome(told), theme, muted=muted)
            indent = MARK_PX + GRID
        self.paint_lines(painter, box.adjusted(indent, 0, 0, 0), index, dressed, -indent)


class AcrossDelegate(OutcomeDelegate):
    """The painter of the list of limits: the muted line under a row takes the whole width of the table."""

    def __init__(self, table: QTableView) -> None:
        super().__init__(table)
        self._table = table

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint the cell into the upper half, and into the lower its piece of the line across."""
        across = str(index.data(ACROSS_ROLE) or "")
        if not across:
            super().paint_content(painter, box, index, theme)
            return
        half = box.height() // 2
        super().paint_content(painter, QRect(box.left(), box.top() + 2, box.width(), half), index, theme)
        table = self._table
        left = table.columnViewportPosition(0) + GRID
        row = QRect(left, box.top() + half, table.viewport().width() - left - self.pad, half - 2)
        painter.setClipRect(box.adjusted(-self.pad, 0, self.pad, 0))
        self._line(painter, row, across, (self._small, theme.colour("muted"), LEFT))

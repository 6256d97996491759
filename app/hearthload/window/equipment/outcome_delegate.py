"""Paints cells with an outcome's mark before their text, and rows that are only told in muted ink."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtGui import QPainter

from hearthload.outage.answers import Outcome
from hearthload.window.colours import Theme
from hearthload.window.equipment.marks import MARK_PX, paint_outcome
from hearthload.window.equipment.supply_model import OUTCOME_ROLE
from hearthload.window.lines_delegate import SECOND_ROLE, Index, LinesDelegate
from hearthload.window.theme import GRID

MUTED_ROLE = Qt.ItemDataRole.UserRole + 8
"""Whether a row is told without counting."""


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

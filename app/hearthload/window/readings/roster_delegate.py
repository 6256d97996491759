"""Paints the roster's cells: state shapes and the glyph of how well known, else lines of text."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF
from PySide6.QtGui import QPainter

from hearthload.service.answers import RosterRow
from hearthload.window.colours import Theme
from hearthload.window.lines_delegate import Index, LinesDelegate
from hearthload.window.readings.glyph import STATE_PX, paint_doubt, paint_known, paint_state, paint_tick
from hearthload.window.readings.roster_cells import Column, second_line
from hearthload.window.readings.roster_model import ROW_ROLE
from hearthload.window.theme import GRID


class RosterDelegate(LinesDelegate):
    """One painter for every cell of the roster."""

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint one cell by its column."""
        row = index.data(ROW_ROLE)
        if index.column() == Column.KNOWN and isinstance(row, RosterRow):
            if row.estimate is not None and row.estimate.daily_kwh is not None:
                paint_known(painter, QRectF(box), row.estimate.daily_kwh, row.estimate.enough, theme)
        elif index.column() == Column.STATE and isinstance(row, RosterRow):
            _paint_marks(painter, box, row, theme)
            self.paint_lines(painter, box.adjusted(STATE_PX + GRID, 0, 0, 0), index, theme)
        elif index.column() == Column.NAME and isinstance(row, RosterRow) and row.doubts:
            self.paint_lines(painter, box.adjusted(0, 0, -2 * GRID, 0), index, theme)
            paint_doubt(painter, QPointF(box.right() - GRID + 1, box.top() + box.height() / 4 + 2), theme)
        else:
            self.paint_lines(painter, box, index, theme)


def _paint_marks(painter: QPainter, box: QRect, row: RosterRow, theme: Theme) -> None:
    """Draw the state's shape at the first line and the tick of today's reading at the second."""
    two = bool(second_line(row, Column.STATE))
    height = box.top() + 2 + box.height() / 4 if two else box.top() + box.height() / 2
    centre = QPointF(box.left() + STATE_PX / 2, height)
    paint_state(painter, centre, row.state, theme, hard_wired=row.appliance.hard_wired)
    if row.read_today:
        paint_tick(painter, QPointF(box.left(), box.top() + 3 * box.height() / 4 - 2), theme.colour("accent"))

"""Paints the roster's cells: state shapes and the glyph of how well known, else lines of text."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRect, QRectF
from PySide6.QtGui import QPainter

from hearthload.service.roster_answers import RosterRow
from hearthload.window.colours import Theme
from hearthload.window.lines_delegate import Index, LinesDelegate
from hearthload.window.readings.glyph import STATE_PX, paint_doubt, paint_known, paint_state, paint_tick
from hearthload.window.readings.roster_cells import Column, is_read_today, second_line
from hearthload.window.readings.roster_model import ROW_ROLE
from hearthload.window.theme import CLOSE_PX, GRID


class RosterDelegate(LinesDelegate):
    """One painter for every cell of the roster; `state_in_name` puts the state's shape under the name."""

    pad = CLOSE_PX
    state_in_name = False

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint one cell by its column."""
        row = index.data(ROW_ROLE)
        if not isinstance(row, RosterRow):
            self.paint_lines(painter, box, index, theme)
        elif index.column() == Column.KNOWN:
            if row.estimate is not None and row.estimate.daily_kwh is not None:
                paint_known(painter, QRectF(box), row.estimate.daily_kwh, row.estimate.enough, theme)
        elif index.column() == Column.STATE:
            _paint_marks(painter, box, row, theme)
            self.paint_lines(painter, box.adjusted(STATE_PX + GRID, 0, 0, 0), index, theme)
        elif index.column() == Column.NAME:
            self._paint_name(painter, box, index, theme)
        else:
            self.paint_lines(painter, box, index, theme)

    def _paint_name(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint the name with the mark of a doubt at its right; the state's shape before the second line."""
        row: RosterRow = index.data(ROW_ROLE)
        inside, indent = box, 0
        if row.doubts:
            inside = box.adjusted(0, 0, -2 * GRID, 0)
            paint_doubt(painter, QPointF(box.right() - GRID + 1, box.top() + box.height() / 4 + 2), theme)
        if self.state_in_name:
            indent = STATE_PX + GRID // 2 + (STATE_PX if is_read_today(row) else 0)
            low = box.top() + 3 * box.height() / 4 - 1
            paint_state(painter, QPointF(box.left() + STATE_PX / 2, low), row.state, theme,
                hard_wired=row.appliance.hard_wired)  # fmt: skip
            if is_read_today(row):
                paint_tick(painter, QPointF(box.left() + STATE_PX + 2, low), theme.colour("accent"))
        self.paint_lines(painter, inside, index, theme, indent)


def _paint_marks(painter: QPainter, box: QRect, row: RosterRow, theme: Theme) -> None:
    """Draw the state's shape at the first line and the tick of today's reading at the second."""
    two = bool(second_line(row, Column.STATE))
    height = box.top() + 2 + box.height() / 4 if two else box.top() + box.height() / 2
    centre = QPointF(box.left() + STATE_PX / 2, height)
    paint_state(painter, centre, row.state, theme, hard_wired=row.appliance.hard_wired)
    if is_read_today(row):
        paint_tick(painter, QPointF(box.left(), box.top() + 3 * box.height() / 4 - 2), theme.colour("accent"))

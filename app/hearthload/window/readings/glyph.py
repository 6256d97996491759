"""The drawn marks of the roster: how well known, the shape of a state, the tick of a reading."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from hearthload.domain.measurement import MeasurementState
from hearthload.estimate.answers import Enough, Interval
from hearthload.window.colours import Theme
from hearthload.window.painting import fill

SCALE = math.log(2.0)
"""The glyph reaches from half the value to twice it, so that a factor looks the same at both sides."""

STATE_PX = 10
_ARROW_PX = 4.0


def place(ratio: float, width: float) -> float:
    """Give where a ratio to the value stands on the glyph [px]: x = w (1 + ln(ratio)/ln 2)/2, unclipped."""
    if ratio <= 0.0:
        return -math.inf
    return 0.5 * width * (1.0 + math.log(ratio) / SCALE)


def paint_known(painter: QPainter, box: QRectF, daily: Interval, enough: Enough, theme: Theme) -> None:
    """Draw the interval as a whisker upon the target band, the median as a tick."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)
    middle = box.center().y()
    _paint_band(painter, box, enough.target, theme)
    left = place(daily.low / daily.value if daily.value > 0.0 else 0.0, box.width())
    right = place(daily.high / daily.value if daily.value > 0.0 else math.inf, box.width())
    ink = theme.colour("ink")
    painter.setPen(QPen(ink, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    start, end = box.left() + max(0.0, left), box.left() + min(box.width(), right)
    painter.drawLine(QPointF(start, middle), QPointF(end, middle))
    _paint_end(painter, QPointF(start, middle), -1.0, opened=left < 0.0)
    _paint_end(painter, QPointF(end, middle), 1.0, opened=right > box.width())
    painter.setPen(QPen(theme.colour("accent"), 2.4, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    centre = box.left() + place(1.0, box.width())
    painter.drawLine(QPointF(centre, middle - 6), QPointF(centre, middle + 6))


def _paint_band(painter: QPainter, box: QRectF, target: float, theme: Theme) -> None:
    low, high = place(1.0 / (1.0 + target), box.width()), place(1.0 + target, box.width())
    band = QRectF(box.left() + low, box.center().y() - 9, high - low, 18)
    fill(painter, band, theme.colour("target"))
    painter.setPen(QPen(theme.colour("target_edge"), 1.0))
    painter.drawLine(band.topLeft(), band.bottomLeft())
    painter.drawLine(band.topRight(), band.bottomRight())


def _paint_end(painter: QPainter, at: QPointF, side: float, *, opened: bool) -> None:
    """Close a whisker with a bar, or leave it open with an arrow where it goes beyond the scale."""
    if not opened:
        painter.drawLine(at - QPointF(0, 4), at + QPointF(0, 4))
        return
    back = QPointF(-side * _ARROW_PX, 0)
    painter.drawPolyline(QPolygonF([at + back - QPointF(0, 4), at, at + back + QPointF(0, 4)]))


def paint_state(
    painter: QPainter,
    centre: QPointF,
    state: MeasurementState | None,
    theme: Theme,
    *,
    hard_wired: bool = False,
) -> None:
    """Draw a state's shape: running a disc, planned a ring, finished a square, set aside a barred ring."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)
    half = STATE_PX / 2
    ink = QColor(theme.accent if state is MeasurementState.RUNNING else theme.muted)
    painter.setPen(QPen(ink, 1.5))
    painter.setBrush(ink if state is MeasurementState.RUNNING else Qt.BrushStyle.NoBrush)
    if state in (MeasurementState.RUNNING, MeasurementState.PLANNED):
        painter.drawEllipse(centre, half - 0.75, half - 0.75)
    elif state is MeasurementState.FINISHED:
        painter.setBrush(theme.colour("ink"))
        painter.setPen(QPen(theme.colour("ink"), 1.0))
        painter.drawRect(QRectF(centre.x() - half + 0.5, centre.y() - half + 0.5, STATE_PX - 1, STATE_PX - 1))
    elif state is MeasurementState.SET_ASIDE:
        painter.drawEllipse(centre, half - 0.75, half - 0.75)
        painter.drawLine(centre + QPointF(-half, half), centre + QPointF(half, -half))
    elif hard_wired:
        painter.drawRect(QRectF(centre.x() - half + 0.5, centre.y() - half + 0.5, STATE_PX - 1, STATE_PX - 1))
    else:
        painter.drawLine(centre - QPointF(half - 1, 0), centre + QPointF(half - 1, 0))


def paint_tick(painter: QPainter, at: QPointF, colour: QColor) -> None:
    """Draw the tick that marks a reading made today; `at` is its left foot."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)
    painter.setPen(
        QPen(colour, 1.8, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    )
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(QPolygonF([at, at + QPointF(3, 3), at + QPointF(8.5, -4.5)]))


def paint_doubt(painter: QPainter, centre: QPointF, theme: Theme) -> None:
    """Draw the mark of an open doubt: an empty triangle, as beside a doubtful field."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)
    painter.setPen(QPen(theme.colour("doubt"), 1.6))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    corners = (QPointF(0, -5), QPointF(5.5, 4.5), QPointF(-5.5, 4.5))
    painter.drawPolygon(QPolygonF([centre + corner for corner in corners]))

"""The drawn marks of an outcome, told apart by their shapes; colour only supports them."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QWidget

from hearthload.outage.answers import Outcome
from hearthload.service.outage_words import OUTCOME_WORDS
from hearthload.window.colours import Theme
from hearthload.window.theme import current_theme, theme_news

MARK_PX = 14


def paint_outcome(
    painter: QPainter, centre: QPointF, outcome: Outcome, theme: Theme, *, muted: bool = False
) -> None:
    """Draw a mark: carries a tick in a ring, falls short a barred square, not known an empty dotted ring."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    half = MARK_PX / 2 - 1
    colour = theme.colour("muted" if muted or outcome is Outcome.NOT_KNOWN else "ink")
    if outcome is Outcome.FALLS_SHORT:
        colour = theme.colour("muted" if muted else "doubt")
        painter.setPen(QPen(colour, 1.6))
        painter.drawRect(QRectF(centre.x() - half + 0.5, centre.y() - half + 0.5, 2 * half - 1, 2 * half - 1))
        painter.drawLine(centre - QPointF(half - 3, 0), centre + QPointF(half - 3, 0))
        return
    dashed = Qt.PenStyle.DotLine if outcome is Outcome.NOT_KNOWN else Qt.PenStyle.SolidLine
    painter.setPen(QPen(colour, 1.4, dashed))
    painter.drawEllipse(centre, half, half)
    if outcome is Outcome.CARRIES:
        painter.setPen(QPen(colour, 1.6, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
        tick = (QPointF(-3, 0.3), QPointF(-0.8, 2.6), QPointF(3.2, -2.4))
        painter.drawPolyline(QPolygonF([centre + corner for corner in tick]))


class OutcomeMark(QWidget):
    """The mark of an outcome before a sentence."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._outcome: Outcome | None = None
        self.setFixedSize(QSize(MARK_PX + 2, MARK_PX + 6))
        theme_news().changed.connect(self._repaint)

    @property
    def outcome(self) -> Outcome | None:
        """Give the outcome that is shown."""
        return self._outcome

    def show_outcome(self, outcome: Outcome | None) -> None:
        """Show another outcome, or none."""
        self._outcome = outcome
        self.setAccessibleName("" if outcome is None else OUTCOME_WORDS[outcome])
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - as Qt gives it
        """Draw the mark."""
        if self._outcome is not None:
            centre = QPointF(self.width() / 2, self.height() / 2)
            paint_outcome(QPainter(self), centre, self._outcome, current_theme())

    def _repaint(self, _theme: object) -> None:
        self.update()

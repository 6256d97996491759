"""The plot of the demand; this module imports pyqtgraph and is imported when first drawn."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtWidgets import QWidget

from hearthload.domain.units import HOURS_PER_DAY
from hearthload.window.fonts import small_font
from hearthload.window.readings.charts_axes import FigureAxis, dress_axis
from hearthload.window.theme import GRID, Theme

HOUR_TICKS: Final = (0.0, 4.0, 8.0, 12.0, 16.0, 20.0, 24.0)
FILL_ALPHA: Final = 40
HEADROOM: Final = 1.1
LABEL_AT: Final = 0.98
"""Where along a line its words end [share of the width]."""


class DemandPlot(pg.PlotWidget):  # type: ignore[misc]
    """A falling staircase over the hours of a day, with lines at the average and at all running together."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent, axisItems={"left": FigureAxis()})
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(self.Shape.NoFrame)
        self.setMenuEnabled(False)
        self.setMouseEnabled(x=False, y=False)
        self.hideButtons()
        self.curve = pg.PlotCurveItem(fillLevel=0.0)
        self.average = self._line(Qt.PenStyle.DashLine, (1, 1))
        self.highest = self._line(Qt.PenStyle.DotLine, (1, 0))
        for item in (self.curve, self.average, self.highest):
            self.addItem(item)
        self.plotItem.setContentsMargins(0, 0, 2 * GRID, 0)
        bottom = self.getAxis("bottom")
        bottom.setStyle(hideOverlappingLabels=False)
        bottom.setTicks([[(hour, f"{hour:.0f} h") for hour in HOUR_TICKS]])
        self.setXRange(0.0, HOURS_PER_DAY, padding=0.0)
        self.dress(theme)

    def show_demand(
        self, hours: Sequence[float], watts: Sequence[float], average_w: float, highest_w: float
    ) -> None:
        """Draw the staircase [h, W] and the two lines [W] in place."""
        self.curve.setData(list(hours), list(watts))
        for line, words, value in (
            (self.average, "average", average_w),
            (self.highest, "all running together", highest_w),
        ):
            line.setValue(value)
            line.label.setFormat(words)
        self.setYRange(0.0, max(HEADROOM * max(highest_w, *watts), 1.0), padding=0.0)

    def dress(self, theme: Theme) -> None:
        """Put the theme's colours on everything."""
        self.setBackground(theme.colour("sheet"))
        for side in ("left", "bottom"):
            dress_axis(self.getAxis(side), theme)
        watts = theme.colour("watts")
        faded = QColor(watts)
        faded.setAlpha(FILL_ALPHA)
        self.curve.setPen(pg.mkPen(watts, width=2))
        self.curve.setBrush(faded)
        for line, style in ((self.average, Qt.PenStyle.DashLine), (self.highest, Qt.PenStyle.DotLine)):
            line.setPen(pg.mkPen(theme.colour("ink"), width=1, style=style))
            line.label.setColor(theme.colour("muted"))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page."""
        event.ignore()

    def _line(self, style: Qt.PenStyle, anchor: tuple[int, int]) -> pg.InfiniteLine:
        options = {"position": LABEL_AT, "anchors": [anchor, anchor]}
        line = pg.InfiniteLine(0.0, angle=0, movable=False, label="", labelOpts=options)
        line.setPen(pg.mkPen("k", width=1, style=style))
        line.label.setFont(small_font())
        return line

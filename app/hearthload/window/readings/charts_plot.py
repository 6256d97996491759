"""The two plots on one time axis; this module imports pyqtgraph and is imported when first drawn."""

from __future__ import annotations

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QFontMetrics, QMouseEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from hearthload.service.answers import ChartData
from hearthload.window.fonts import small_font
from hearthload.window.readings.charts_axes import FigureAxis, TimeAxis, dress_axis
from hearthload.window.readings.charts_data import Curves, Scales, curves_of, scales_of
from hearthload.window.theme import Theme

BAND_ALPHA = 56
BAR_ALPHA = 40
POINT_PX = 6
CHOSEN_PX = 11
MOST_MARKERS = 60
"""Beyond so many the marks of the trend run into each other; twice as many for the readings below."""
DAILY_LEAST, WATTS_LEAST = 184, 104
"""What each plot needs so that its curve can be followed [px]."""

DAILY_HEAD = "Daily average, kWh a day"
WATTS_HEAD = "Average watts between readings"
HEAD_MARGIN = 24
"""Width of the plots that their heads cannot use [px]."""


def daily_heads(*, target: bool) -> tuple[str, ...]:
    """Give what may stand above the upper plot, the longest first."""
    return (
        f"{DAILY_HEAD}; shaded its 95 % interval" + (", between the dashes the target" if target else ""),
        f"{DAILY_HEAD}; shaded 95 %" + (", dashed the target" if target else ""),
        DAILY_HEAD,
    )


class Plots(pg.GraphicsLayoutWidget):  # type: ignore[misc]
    """Daily average above, watts below; `hovered` carries the moment under the pointer, None when it left."""

    hovered = Signal(object)
    _heads: tuple[pg.LabelItem, ...] = ()  # the first resizing comes before they are made

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setFrameShape(self.Shape.NoFrame)
        self._scales: Scales | None = None
        self._lines: list[pg.InfiniteLine] = []
        self._theme = theme
        self.daily, self.watts = self._plot(1), self._plot(3)
        self._heads = (pg.LabelItem(justify="left"), pg.LabelItem(justify="left"))
        self.ci.addItem(self._heads[0], row=0, col=0)
        self.ci.addItem(self._heads[1], row=2, col=0)
        self.ci.setContentsMargins(0, 0, 8, 0)
        self.ci.setSpacing(2)
        self.ci.layout.setRowMinimumHeight(1, DAILY_LEAST)
        self.ci.layout.setRowMinimumHeight(3, WATTS_LEAST)
        self.ci.layout.setRowStretchFactor(1, 3)
        self.ci.layout.setRowStretchFactor(3, 2)
        self.daily.getAxis("bottom").setStyle(showValues=False)
        self.watts.setXLink(self.daily)
        self._make_items()
        self.scene().sigMouseMoved.connect(self._pointed)
        self.dress(theme)

    def _plot(self, row: int) -> pg.PlotItem:
        plot = pg.PlotItem(axisItems={"bottom": TimeAxis(), "left": FigureAxis()})
        plot.setMenuEnabled(False)
        plot.hideButtons()
        plot.setMouseEnabled(x=True, y=False)
        self.ci.addItem(plot, row=row, col=0)
        return plot

    def _make_items(self) -> None:
        """Make every item once; new data are put into them in place."""
        self._target = pg.LinearRegionItem(orientation="horizontal", movable=False)
        self._low, self._high = pg.PlotCurveItem(antialias=True), pg.PlotCurveItem(antialias=True)
        self._band = pg.FillBetweenItem(self._low, self._high)
        self._median = pg.PlotDataItem(antialias=True, symbol="o", symbolSize=POINT_PX)
        self._bars = pg.BarGraphItem(x0=[0.0], x1=[0.0], y0=0.0, y1=[0.0], pen=pg.mkPen(None))
        self._steps = pg.PlotCurveItem(connect="pairs")
        self._points = pg.ScatterPlotItem(symbol="d", size=POINT_PX + 1)
        self._doubts = pg.ScatterPlotItem(symbol="t1", size=CHOSEN_PX)
        self._cursors = [pg.InfiniteLine(angle=90, movable=False) for _ in range(2)]
        self._chosen = [pg.ScatterPlotItem(symbol=symbol, size=CHOSEN_PX) for symbol in ("o", "d")]
        above = (
            self._target,
            self._band,
            self._low,
            self._high,
            self._cursors[0],
            self._median,
            self._chosen[0],
        )
        below = (self._bars, self._steps, self._cursors[1], self._points, self._doubts, self._chosen[1])
        for plot, items in ((self.daily, above), (self.watts, below)):
            for depth, item in enumerate(items):
                item.setZValue(depth)
                plot.addItem(item)

    def show_data(self, data: ChartData) -> None:
        """Put a measurement's values into the plots and show all of them."""
        curves, self._scales = curves_of(data), scales_of(data)
        self._low.setData(curves.band_s, curves.low)
        self._high.setData(curves.band_s, curves.high)
        symbol = "o" if len(curves.trend_s) <= MOST_MARKERS else None
        self._median.setData(curves.trend_s, curves.median, symbol=symbol)
        self._show_spans(curves)
        known = data.target_low_kwh is not None and data.target_high_kwh is not None
        self._target.setVisible(known)
        if known:
            self._target.setRegion((data.target_low_kwh, data.target_high_kwh))
        self._show_marks(data)
        self._write_heads(target=known)
        self.reset_view()

    def _show_spans(self, curves: Curves) -> None:
        starts, ends, tops = curves.span_s[::2], curves.span_s[1::2], curves.span_w[::2]
        self._bars.setVisible(bool(starts))
        if starts:
            self._bars.setOpts(x0=starts, x1=ends, y0=0.0, y1=tops)
        self._steps.setData(curves.span_s, curves.span_w, connect="pairs")
        few = len(curves.point_s) <= 2 * MOST_MARKERS
        self._points.setData(curves.point_s if few else [], curves.point_w if few else [])
        self._points.setVisible(few)
        self._doubts.setData(curves.doubt_s, curves.doubt_w)

    def _show_marks(self, data: ChartData) -> None:
        """Draw where the counters began anew and where the measurement was finished."""
        for line in self._lines:
            line.getViewBox().removeItem(line)
        self._lines = []
        for at_s in data.breaks_s:
            self._mark(at_s, "counters anew", Qt.PenStyle.DashLine)
        finished = data.measurement.finished_at
        if finished is not None:
            self._mark(finished.timestamp(), "finished", Qt.PenStyle.SolidLine)

    def _mark(self, at_s: float, words: str, style: Qt.PenStyle) -> None:
        colour = self._theme.colour("muted")
        pen = pg.mkPen(colour, width=1, style=style)
        for plot, text in ((self.daily, words), (self.watts, None)):
            options = {"position": 0.96, "color": colour, "rotateAxis": (1, 0), "anchors": [(1, 0), (1, 1)]}
            line = pg.InfiniteLine(at_s, angle=90, pen=pen, movable=False, label=text, labelOpts=options)
            if text is not None:
                line.label.setFont(small_font())
            plot.addItem(line)
            self._lines.append(line)

    def choose(self, at_s: float | None, daily: float | None, watts: float | None) -> None:
        """Mark the reading that the read-out speaks of."""
        for cursor in self._cursors:
            cursor.setVisible(at_s is not None)
            if at_s is not None:
                cursor.setValue(at_s)
        for marker, value in zip(self._chosen, (daily, watts), strict=True):
            known = at_s is not None and value is not None
            marker.setData([at_s] if known else [], [value] if known else [])

    def reset_view(self) -> None:
        """Show all of the time again."""
        if self._scales is not None:
            self.daily.setXRange(self._scales.from_s, self._scales.to_s, padding=0)
            self.daily.setYRange(*self._scales.daily, padding=0)
            self.watts.setYRange(*self._scales.watts, padding=0)

    def dress(self, theme: Theme) -> None:
        """Put the theme's colours on everything; shapes and dashes tell apart what colours support."""
        self._theme = theme
        self.setBackground(theme.colour("sheet"))
        for plot in (self.daily, self.watts):
            for side in ("left", "bottom"):
                dress_axis(plot.getAxis(side), theme)
        trend, watts, ink = theme.colour("trend"), theme.colour("watts"), theme.colour("ink")
        self._band.setBrush(_faded(trend, BAND_ALPHA))
        for edge in (self._low, self._high):
            edge.setPen(pg.mkPen(_faded(trend, 150), width=1))
        self._median.setPen(pg.mkPen(trend, width=2))
        self._median.setSymbolBrush(theme.colour("sheet"))
        self._median.setSymbolPen(pg.mkPen(trend, width=1.5))
        self._target.setBrush(theme.colour("target"))
        for line in self._target.lines:
            line.setPen(pg.mkPen(theme.colour("target_edge"), width=1, style=Qt.PenStyle.DashLine))
        self._bars.setOpts(brush=_faded(watts, BAR_ALPHA))
        self._steps.setPen(pg.mkPen(watts, width=2))
        self._points.setBrush(watts)
        self._points.setPen(pg.mkPen(theme.colour("sheet"), width=1))
        self._doubts.setBrush(theme.colour("sheet"))
        self._doubts.setPen(pg.mkPen(theme.colour("doubt"), width=2))
        for cursor in self._cursors:
            cursor.setPen(pg.mkPen(theme.colour("accent"), width=1))
        for marker in self._chosen:
            marker.setBrush(theme.colour("accent"))
            marker.setPen(pg.mkPen(ink, width=1))
        self._write_heads(target=self._target.isVisible())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Say as much above the plots as there is room for."""
        super().resizeEvent(event)
        if self._heads:
            self._write_heads(target=self._target.isVisible())

    def _write_heads(self, *, target: bool) -> None:
        metrics, room = QFontMetrics(small_font()), self.width() - HEAD_MARGIN
        daily = next(
            (words for words in daily_heads(target=target) if metrics.horizontalAdvance(words) <= room),
            DAILY_HEAD,
        )
        for head, words in zip(self._heads, (daily, WATTS_HEAD), strict=True):
            if head.text != words or head.opts["color"] != self._theme.colour("muted"):
                head.setText(words, color=self._theme.colour("muted"), size="9pt")
                head.item.setFont(small_font())

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page; with Ctrl it zooms the time axis."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            super().wheelEvent(event)
        else:
            event.ignore()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Show all again."""
        self.reset_view()
        event.accept()

    def leaveEvent(self, event: QEvent) -> None:
        """Tell that the pointer left."""
        super().leaveEvent(event)
        self.hovered.emit(None)

    def _pointed(self, at: QPointF) -> None:
        for plot in (self.daily, self.watts):
            if plot.sceneBoundingRect().contains(at):
                self.hovered.emit(float(plot.vb.mapSceneToView(at).x()))
                return


def _faded(colour: QColor, alpha: int) -> QColor:
    faded = QColor(colour)
    faded.setAlpha(alpha)
    return faded

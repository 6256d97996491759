"""The chart panel: how the daily average settles and what was drawn between readings, with a read-out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QKeyEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.errors import RefusedError
from hearthload.service.answers import ChartData
from hearthload.service.changes import Changes
from hearthload.window.following import Following
from hearthload.window.parts import label
from hearthload.window.readings.charts_data import nearest, read_out, summary, values_at
from hearthload.window.session import Session
from hearthload.window.theme import GRID, Theme, current_theme, theme_news

if TYPE_CHECKING:
    from hearthload.window.readings.charts_plot import Plots

HOW = "Left and Right go from reading to reading, Home shows all"
LEAST_HEIGHT = 396
"""What the plots need to be read, a page that is too low for them scrolls [px]."""
EMPTY_HEIGHT = 96
ONE_LINE = 640
"""From this width on the read-out fits one line [px]."""


class ChartPanel(Following):
    """Shows one measurement's charts; the plots are made after the panel was painted once."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "sheet")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(EMPTY_HEIGHT)
        self._session = session
        self._measurement_id: int | None = None
        self._data: ChartData | None = None
        self._place: int | None = None
        self._painted = False
        self.plots: Plots | None = None
        self.words = label("", "small", self, wrap=True)
        self.message = label("", "", self, wrap=True)
        self.message.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._page = QVBoxLayout(self)
        self._page.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        self._page.setSpacing(GRID // 2)
        self._page.addWidget(self.words)
        self._page.addWidget(self.message, 1)
        session.changed.connect(self._changed)
        session.switched.connect(self._switched)
        theme_news().changed.connect(self._themed)
        self.refresh()

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show another measurement's charts."""
        if measurement_id != self._measurement_id:
            self._measurement_id, self._place = measurement_id, None
            self.refresh()

    def refresh(self) -> None:
        """Ask again, and draw what is so now."""
        if not self.isVisible() or not self._painted:
            self.stale = True
            return
        self.stale = False
        data = self._data = self._asked()
        drawn = data is not None and bool(data.trend or data.spans)
        if drawn and data is not None:
            plots = self._made_plots()
            plots.show_data(data)
            last = len(data.readings_s) - 1
            self._place = last if self._place is None else min(self._place, last)
        self.message.setText("" if drawn else _empty_words(data))
        self.message.setVisible(not drawn)
        self._want_height(LEAST_HEIGHT if drawn else EMPTY_HEIGHT)
        self.words.setVisible(drawn)
        if self.plots is not None:
            self.plots.setVisible(drawn)
        self._describe()
        self._read_out(self._place if drawn else None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and Right move the read-out, Home shows all of the time."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is not None and self._data is not None and self._place is not None:
            last = len(self._data.readings_s) - 1
            self._place = min(max(self._place + step, 0), last)
            self._read_out(self._place)
        elif event.key() == Qt.Key.Key_Home and self.plots is not None:
            self.plots.reset_view()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and after the first time make the plots."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self.refresh)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep room for as many lines as the read-out may need, so that the plots never jump."""
        super().resizeEvent(event)
        lines = 1 if self.width() >= ONE_LINE else 2
        self.words.setFixedHeight(lines * self.words.fontMetrics().lineSpacing() + 2)

    def _want_height(self, least: int) -> None:
        """Ask for at least so much height [px]; a splitter around does not pass such a wish on by itself."""
        self.setMinimumHeight(least)
        around = self.parentWidget()
        if around is not None:
            around.updateGeometry()

    def _asked(self) -> ChartData | None:
        if self._measurement_id is None or not self._session.is_open:
            return None
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        try:
            return queries.chart(self._session.logbook, self._measurement_id)
        except RefusedError:  # its measurement was taken back by undo
            return None

    def _made_plots(self) -> Plots:
        """Make the plots when they are first needed; pyqtgraph takes longer than the first paint may."""
        if self.plots is None:
            from hearthload.window.readings.charts_plot import Plots  # noqa: PLC0415

            self.plots = Plots(current_theme(), self)
            self.plots.hovered.connect(self._hovered)
            self._page.addWidget(self.plots, 1)
        return self.plots

    def _describe(self) -> None:
        name = "Charts" if self._data is None else f"Charts of {self._data.appliance_name}"
        said = self.message.text() if self._data is None or not self._data.trend else summary(self._data)
        for widget in (self, self.plots):
            if widget is not None:
                widget.setAccessibleName(name)
                widget.setAccessibleDescription(f"{said} {HOW}.")

    def _hovered(self, at_s: float | None) -> None:
        """Read out the reading under the pointer; the chosen one again when the pointer leaves."""
        data = self._data
        if data is None:
            return
        self._read_out(self._place if at_s is None else nearest(data.readings_s, at_s))

    def _read_out(self, place: int | None) -> None:
        data = self._data
        if data is None or place is None:
            self.words.setText("")
            return
        self.words.setText(read_out(data, place, self._session.now()))
        if self.plots is not None:
            self.plots.choose(data.readings_s[place], *values_at(data, place))

    def _changed(self, changes: Changes) -> None:
        if (
            self._measurement_id is None
            or self._measurement_id in changes.measurement_ids
            or changes.appliance_ids
            or changes.about_all
        ):
            self._place = None
            self.refresh()

    def _switched(self, _path: object) -> None:
        self._measurement_id, self._place = None, None
        self.refresh()

    def _themed(self, theme: Theme) -> None:
        if self.plots is not None:
            self.plots.dress(theme)
            if self._data is not None and self.plots.isVisible():
                self.refresh()


def _empty_words(data: ChartData | None) -> str:
    """Say what to do so that there is something to draw."""
    if data is None:
        return "Nothing measured yet. The charts begin with the second reading of a measurement."
    if data.measurement.state is MeasurementState.PLANNED:
        return "Planned. The charts begin when the measurement is started and two readings are typed."
    if not data.readings_s:
        return "No reading yet. Type the first one above; the charts begin with the second."
    return f"{_so_far(data)} The next one, half a day later or more, begins the charts."


def _so_far(data: ChartData) -> str:
    """Say why the readings that are there give nothing to draw."""
    readings, runs = len(data.readings_s), len(data.breaks_s) + 1
    if readings == 1:
        return "One reading so far."
    if readings == runs:
        return f"{readings} readings so far, each the first since the counters began."
    return f"{readings} readings so far, too close together to tell anything."

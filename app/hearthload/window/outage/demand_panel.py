"""The panel of the demand chart: for how many hours a day the loads draw at least so many watts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QTimer
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from hearthload.domain.figures import format_number, format_watts
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.outage.answers import Demand, Totals
from hearthload.window.parts import label
from hearthload.window.theme import GRID, Theme, current_theme, theme_news

if TYPE_CHECKING:
    from hearthload.window.outage.demand_plot import DemandPlot

LEAST_PX: Final = 160
NOTHING: Final = "Nothing is kept on in this plan, so there is no demand to draw."


class DemandPanel(QFrame):
    """Draws the demand; the plot is made after the panel was painted once, as it takes long to load."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "sheet")
        self.setMinimumHeight(LEAST_PX)
        self._totals: Totals | None = None
        self._painted = False
        self.plot: DemandPlot | None = None
        self.words = label("", "small", self, wrap=True)
        self._page = QVBoxLayout(self)
        self._page.setContentsMargins(GRID, GRID, GRID, GRID // 2)
        self._page.setSpacing(GRID // 2)
        self._page.addWidget(self.words)
        self._page.addStretch(0)
        theme_news().changed.connect(self._themed)

    def show_totals(self, totals: Totals) -> None:
        """Draw another plan's demand, or the same one as it is now."""
        self._totals = totals
        self.words.setText(summary(totals))
        self.setAccessibleName("Demand")
        self.setAccessibleDescription(self.words.text())
        if self._painted:
            self._draw()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint, and after the first time make the plot."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self._draw)

    def _draw(self) -> None:
        totals = self._totals
        drawn = totals is not None and totals.demand is not None
        if drawn and self.plot is None:
            from hearthload.window.outage.demand_plot import DemandPlot  # noqa: PLC0415 (slow to load)

            self.plot = DemandPlot(current_theme(), self)
            self._page.addWidget(self.plot, 1)
        if self.plot is not None:
            self.plot.setVisible(drawn)
            if totals is not None and totals.demand is not None:
                hours, watts = staircase(totals.demand)
                self.plot.show_demand(hours, watts, totals.average_w, totals.running_w.value)
                self.plot.setAccessibleName("Demand")
                self.plot.setAccessibleDescription(self.words.text())

    def _themed(self, theme: Theme) -> None:
        if self.plot is not None:
            self.plot.dress(theme)


def staircase(demand: Demand) -> tuple[list[float], list[float]]:
    """Give the corners of the curve: hours a day [h], and the watts [W] that the demand reaches for so long.

    With watts w falling, h(w) = 24 · Σ of the shares of time at w and above.
    """
    hours, watts, gone = [0.0], [], 0.0
    for power_w, share in zip(reversed(demand.watts), reversed(demand.share), strict=True):
        gone = min(gone + share * HOURS_PER_DAY, HOURS_PER_DAY)
        watts += [power_w, power_w]
        hours += [gone, gone]
    return hours[:-1], watts


def hours_at_least(demand: Demand, power_w: float) -> float:
    """Give for how many hours a day the demand is at so many watts or above [h]."""
    share = sum(share for watts, share in zip(demand.watts, demand.share, strict=True) if watts >= power_w)
    return HOURS_PER_DAY * min(share, 1.0)


def summary(totals: Totals) -> str:
    """Say in words what the chart shows."""
    demand = totals.demand
    if demand is None:
        return NOTHING
    above = format_number(hours_at_least(demand, totals.average_w), 2)
    average, highest = format_watts(totals.average_w), format_watts(totals.running_w.value)
    return f"Hours a day at so many watts or more: average {average}, {above} h; all running {highest}."

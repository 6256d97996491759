"""Axes of the charts: local days along the bottom, plain decimals at the left; imports pyqtgraph."""

from __future__ import annotations

from collections.abc import Sequence

import pyqtgraph as pg

from hearthload.domain.figures import decimals_of_step, format_decimals
from hearthload.window.fonts import small_font
from hearthload.window.readings.charts_ticks import Tick, time_ticks
from hearthload.window.theme import Theme

LEFT_WIDTH = 52
TICK_WIDTH = 78
"""Room that a label under the time axis takes [px]."""
TICK_HEIGHT = 22
"""Room that a label beside a value axis takes [px]."""


class TimeAxis(pg.AxisItem):  # type: ignore[misc]
    """The shared time axis: round local times with a label under each."""

    def __init__(self) -> None:
        super().__init__(orientation="bottom")
        self._ticks: tuple[Tick, ...] = ()

    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[float, list[float]]]:  # noqa: N803
        """Choose the ticks between two moments for so many pixels."""
        self._ticks = time_ticks(minVal, maxVal, max(2, int(size // TICK_WIDTH)))
        return [(max(maxVal - minVal, 1.0), [tick.at_s for tick in self._ticks])]

    def tickStrings(self, values: Sequence[float], _scale: float, _spacing: float) -> list[str]:
        """Give the labels of the chosen ticks."""
        texts = {tick.at_s: tick.text for tick in self._ticks}
        return [texts.get(value, "") for value in values]


class FigureAxis(pg.AxisItem):  # type: ignore[misc]
    """A value axis with plain decimals, never an exponent."""

    def __init__(self) -> None:
        super().__init__(orientation="left")
        self.enableAutoSIPrefix(False)  # noqa: FBT003 (pyqtgraph's own)
        self.setWidth(LEFT_WIDTH)

    def tickValues(self, minVal: float, maxVal: float, size: float) -> list[tuple[float, list[float]]]:  # noqa: N803
        """Keep the ticks that carry figures; finer ones only where the plot would have fewer than three."""
        levels: list[tuple[float, list[float]]] = super().tickValues(minVal, maxVal, size)
        if len(levels) > 1 and len(levels[0][1]) < 3:
            finer = sorted([*levels[0][1], *levels[1][1]])
            if len(finer) * TICK_HEIGHT <= size:
                return [(levels[1][0], finer)]
        return levels[:1]

    def tickStrings(self, values: Sequence[float], _scale: float, spacing: float) -> list[str]:
        """Print each tick with as many decimals as the spacing needs."""
        return [format_decimals(value, decimals_of_step(spacing)) for value in values]


def dress_axis(axis: pg.AxisItem, theme: Theme) -> None:
    """Give an axis the theme's lines and small figures."""
    axis.setPen(theme.colour("rule"))
    axis.setTextPen(theme.colour("muted"))
    axis.setStyle(tickFont=small_font(), tickLength=-4, tickTextOffset=6)

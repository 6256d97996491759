"""Charts and single readings: one above the other where the window is tall, else one at a time."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from hearthload.window.parts import button
from hearthload.window.theme import GRID

CHARTS, READINGS = "Charts", "Readings"
BOTH_PX: Final = 980
"""From this height of the page on both are shown [px]."""


class LowerHalf(QWidget):
    """Two tabs that a tall page goes without."""

    def __init__(self, charts: QWidget, table: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._parts = {CHARTS: charts, READINGS: table}
        self._both = False
        self._chosen = CHARTS
        self.splitter = QSplitter(Qt.Orientation.Vertical, self)
        self.splitter.setObjectName("down")
        for part in (charts, table):
            self.splitter.addWidget(part)
        self.splitter.setChildrenCollapsible(False)
        self.splitter.setHandleWidth(GRID)
        self.splitter.setStretchFactor(0, 3)
        self.splitter.setStretchFactor(1, 2)
        self.tabs: dict[str, QPushButton] = {}
        self._bar = self._make_bar()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._bar)
        column.addWidget(self.splitter, stretch=1)
        self._show()

    def fit(self, page_px: int) -> None:
        """Show both where a page of this height [px] has room for them."""
        if (page_px >= BOTH_PX) != self._both:
            self._both = not self._both
            self._show()

    def choose(self, name: str) -> None:
        """Show the charts or the readings."""
        self._chosen = name
        self._show()

    def turn(self) -> None:
        """Go to the other of the two."""
        self.choose(READINGS if self._chosen == CHARTS else CHARTS)
        self._parts[self._chosen].setFocus(Qt.FocusReason.OtherFocusReason)

    def _show(self) -> None:
        for name, part in self._parts.items():
            part.setVisible(self._both or name == self._chosen)
            self.tabs[name].setChecked(name == self._chosen)
        self._bar.setVisible(not self._both)

    def _make_bar(self) -> QWidget:
        bar = QWidget(self)
        row = QHBoxLayout(bar)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        group = QButtonGroup(bar)
        for name in self._parts:
            tab = button(name, "tab", bar)
            tab.setCheckable(True)
            tab.setToolTip("Ctrl+T goes from one to the other")
            group.addButton(tab)
            row.addWidget(tab)
            self.tabs[name] = tab
        row.addStretch(1)
        group.buttonClicked.connect(self._clicked)
        return bar

    def _clicked(self, tab: QPushButton) -> None:
        self.choose(next(name for name, each in self.tabs.items() if each is tab))

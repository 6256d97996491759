"""Limits, their arithmetic, what to leave off: one at a time, or two together on a tall page."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from hearthload.window.parts import button
from hearthload.window.theme import GRID

LIMITS, ARITHMETIC, LEAVE_OFF = "Limits", "Arithmetic", "What to leave off"
TOGETHER = "Limits and arithmetic"
BOTH_PX: Final = 100 * GRID
"""From this height on limits and arithmetic are shown together [px]."""


class DetailTabs(QWidget):
    """Three tabs; a tall page needs two of them."""

    def __init__(
        self, limits: QWidget, arithmetic: QWidget, leave_off: QWidget, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._parts = {LIMITS: limits, ARITHMETIC: arithmetic, LEAVE_OFF: leave_off}
        self._chosen, self._both = LIMITS, False
        self.tabs: dict[str, QPushButton] = {}
        self._splitter = QSplitter(Qt.Orientation.Vertical, self)
        self._splitter.setChildrenCollapsible(False)
        self._splitter.setHandleWidth(2 * GRID)
        for part in (limits, arithmetic):
            self._splitter.addWidget(part)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addLayout(self._make_bar())
        column.addWidget(self._splitter, stretch=1)
        column.addWidget(leave_off, stretch=1)
        self._show()

    @property
    def chosen(self) -> str:
        """Give the tab that is shown; the limits stand for both where both are shown."""
        return LIMITS if self._both and self._chosen == ARITHMETIC else self._chosen

    def choose(self, name: str) -> None:
        """Show one of the three."""
        self._chosen = name
        self._show()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show two together where there is room."""
        super().resizeEvent(event)
        if (self.height() >= BOTH_PX) != self._both:
            self._both = not self._both
            self._show()

    def _show(self) -> None:
        for name, part in self._parts.items():
            together = self._both and self.chosen == LIMITS and name == ARITHMETIC
            part.setVisible(name == self.chosen or together)
            self.tabs[name].setChecked(name == self.chosen)
        self._splitter.setVisible(self.chosen != LEAVE_OFF)
        self.tabs[LIMITS].setText(TOGETHER if self._both else LIMITS)
        self.tabs[ARITHMETIC].setVisible(not self._both)

    def _make_bar(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(0)
        group = QButtonGroup(self)
        for name in self._parts:
            tab = button(name, "tab", self)
            tab.setCheckable(True)
            group.addButton(tab)
            row.addWidget(tab)
            self.tabs[name] = tab
        self.tabs[ARITHMETIC].setToolTip("How the chosen limit was reckoned (Enter on the limit)")
        row.addStretch(1)
        group.buttonClicked.connect(self._clicked)
        return row

    def _clicked(self, tab: QPushButton) -> None:
        self.choose(next(name for name, each in self.tabs.items() if each is tab))

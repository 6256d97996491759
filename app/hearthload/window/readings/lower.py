"""Charts, single readings and days: one at a time; in a tall window charts and readings stand together."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from hearthload.window.parts import button
from hearthload.window.theme import GRID

CHARTS, READINGS, DAYS = "Charts", "Readings", "Days"
TOGETHER = "Charts and readings"
BOTH_PX: Final = 980
"""From this height of the page on both are shown [px]."""
TABLE_SHARE: Final = 0.45
"""The readings take no more of the height than this, and no more than their rows need [1]."""


class LowerHalf(QWidget):
    """Tabs; a tall page needs two of them."""

    def __init__(self, charts: QWidget, table: QWidget, days: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._parts = {CHARTS: charts, READINGS: table, DAYS: days}
        self._both = False
        self._chosen = CHARTS
        self.splitter = QSplitter(Qt.Orientation.Vertical, self)
        self.splitter.setObjectName("down")
        for part in (charts, table):
            self.splitter.addWidget(part)
        self.splitter.setChildrenCollapsible(False)
        self.splitter.setHandleWidth(GRID)
        self.splitter.setStretchFactor(0, 1)
        self.splitter.setStretchFactor(1, 0)
        self._moved = False
        self.splitter.splitterMoved.connect(self._note_moved)
        self._rows = table.findChild(QTableView)
        if self._rows is not None:
            for news in (self._rows.model().modelReset, self._rows.model().layoutChanged):
                news.connect(self._share_out)
        self.tabs: dict[str, QPushButton] = {}
        self._bar = self._make_bar()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._bar)
        column.addWidget(self.splitter, stretch=1)
        column.addWidget(days, stretch=1)
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
        """Go to the next tab."""
        names = [name for name, tab in self.tabs.items() if not tab.isHidden()]
        at = names.index(self.chosen) if self.chosen in names else -1
        self.choose(names[(at + 1) % len(names)])
        self._parts[self._chosen].setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def chosen(self) -> str:
        """Give the tab that is shown; charts stand for both where both are shown."""
        return CHARTS if self._both and self._chosen == READINGS else self._chosen

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share out the height."""
        super().resizeEvent(event)
        self._share_out()

    def _share_out(self) -> None:
        """Give the readings what their rows need and the charts the rest, until the line was moved."""
        if self._moved or not self._both or self._rows is None:
            return
        height = self.splitter.height() - self.splitter.handleWidth()
        around = self._parts[READINGS].sizeHint().height() - self._rows.sizeHint().height()
        rows = self._rows.verticalHeader().length() + self._rows.horizontalHeader().sizeHint().height()
        needed = min(around + rows + 2 * GRID, int(TABLE_SHARE * height))
        self.splitter.setSizes([height - needed, needed])

    def _note_moved(self, _place: int, _line: int) -> None:
        self._moved = True

    def _show(self) -> None:
        together = self._both and self.chosen == CHARTS
        for name, part in self._parts.items():
            part.setVisible(name == self.chosen or (together and name == READINGS))
            self.tabs[name].setChecked(name == self.chosen)
        self.splitter.setVisible(self.chosen != DAYS)
        self.tabs[CHARTS].setText(TOGETHER if self._both else CHARTS)
        self.tabs[READINGS].setVisible(not self._both)
        self._share_out()

    def _make_bar(self) -> QWidget:
        bar = QWidget(self)
        row = QHBoxLayout(bar)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        group = QButtonGroup(bar)
        for name in self._parts:
            tab = button(name, "tab", bar)
            tab.setCheckable(True)
            tab.setToolTip("Ctrl+T goes from one to the next")
            group.addButton(tab)
            row.addWidget(tab)
            self.tabs[name] = tab
        row.addStretch(1)
        group.buttonClicked.connect(self._clicked)
        return bar

    def _clicked(self, tab: QPushButton) -> None:
        self.choose(next(name for name, each in self.tabs.items() if each is tab))

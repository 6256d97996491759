"""Two sides of a page beside each other, with a line between them that can be moved."""

from __future__ import annotations

from PySide6.QtCore import QByteArray, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QWidget

from hearthload.window.theme import GRID


class SideBySide(QSplitter):
    """Shares the page's width as asked for until the line is moved, now or in an earlier session."""

    def __init__(self, page: QWidget, sides: tuple[QWidget, QWidget], shares: tuple[int, int]) -> None:
        super().__init__(Qt.Orientation.Horizontal, page)
        self.setObjectName("across")
        self._shares = shares
        self.moved = False
        self.splitterMoved.connect(self._note_moved)
        for place, side in enumerate(sides):
            self.addWidget(side)
            self.setStretchFactor(place, shares[place])
        self.setChildrenCollapsible(False)
        self.setHandleWidth(GRID)
        row = QHBoxLayout(page)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self)

    def restoreState(self, state: QByteArray | bytes | bytearray | memoryview, /) -> bool:
        """Put the line where it was."""
        self.moved = super().restoreState(state)
        return self.moved

    def resizeEvent(self, event: QResizeEvent, /) -> None:
        """Share out the width."""
        super().resizeEvent(event)
        if not self.moved:
            whole = sum(self._shares)
            self.setSizes([self.width() * share // whole for share in self._shares])

    def _note_moved(self, _place: int, _line: int) -> None:
        self.moved = True

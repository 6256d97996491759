"""A row of words of which one is chosen: the sections of a page, or of a part of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from hearthload.window.theme import current_theme

STOP: Final = Qt.FocusPolicy.StrongFocus
NO_STOP: Final = Qt.FocusPolicy.ClickFocus
STEPS: Final[Mapping[int, int]] = {Qt.Key.Key_Left.value: -1, Qt.Key.Key_Right.value: 1}


class Tab(QPushButton):
    """One word of the row, framed while it has the cursor."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setAutoDefault(True)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setProperty("look", "tab")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Left and Right to the row; Qt would step to whatever Tab stops at."""
        if event.key() in STEPS:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the word and, with the cursor on it, a frame."""
        super().paintEvent(event)
        if self.hasFocus():
            painter = QPainter(self)
            painter.setPen(current_theme().colour("accent"))
            painter.drawRect(self.rect().adjusted(0, 0, -1, -1))


class Tabs(QWidget):
    """Tabs; Left and Right go from one to the next; `chosen` carries the name of the one that was chosen.

    Tab stops at one of the row only, the chosen one, and at each that stands elsewhere.
    """

    chosen = Signal(str)

    def __init__(self, names: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tabs: dict[str, QPushButton] = {}
        self._row = tuple(names)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for name in names:
            row.addWidget(self.add(Tab(name, self), name))
        row.addStretch(1)
        self._mark(names[0])

    @property
    def name(self) -> str:
        """Give the chosen name."""
        return next(name for name, tab in self.tabs.items() if tab.isChecked())

    def add(self, tab: QPushButton, name: str) -> QPushButton:
        """Make a button, which may stand elsewhere, one of the tabs."""
        tab.setCheckable(True)
        tab.clicked.connect(partial(self._clicked, name))
        self.tabs[name] = tab
        return tab

    def choose(self, name: str) -> None:
        """Choose a tab."""
        self._mark(name)
        self.chosen.emit(name)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the neighbour."""
        step = STEPS.get(event.key())
        if step is None:
            super().keyPressEvent(event)
            return
        at = next((at for at, name in enumerate(self._row) if self.tabs[name].hasFocus()), 0)
        name = self._row[(at + step) % len(self._row)]
        self.choose(name)
        self.tabs[name].setFocus(Qt.FocusReason.TabFocusReason)

    def _mark(self, chosen: str) -> None:
        stop = chosen if chosen in self._row else self._row[0]
        for name, tab in self.tabs.items():
            tab.setChecked(name == chosen)
            tab.setFocusPolicy(STOP if name == stop or name not in self._row else NO_STOP)

    def _clicked(self, name: str, _checked: bool = False) -> None:
        self.choose(name)

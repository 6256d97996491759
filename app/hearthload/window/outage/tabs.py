"""A row of words of which one is chosen: the sections of a page, or of a part of it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QPushButton, QWidget

from hearthload.window.parts import button


class Tabs(QWidget):
    """Tabs; Left and Right go from one to the next; `chosen` carries the name of the one that was chosen."""

    chosen = Signal(str)

    def __init__(self, names: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.tabs: dict[str, QPushButton] = {}
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for name in names:
            row.addWidget(self.add(button(name, "tab", self), name))
        row.addStretch(1)
        self.tabs[names[0]].setChecked(True)
        self._group.buttonClicked.connect(self._clicked)

    @property
    def name(self) -> str:
        """Give the chosen name."""
        return next(name for name, tab in self.tabs.items() if tab.isChecked())

    def add(self, tab: QPushButton, name: str) -> QPushButton:
        """Make a button, which may stand elsewhere, one of the tabs."""
        tab.setCheckable(True)
        self._group.addButton(tab)
        self.tabs[name] = tab
        return tab

    def choose(self, name: str) -> None:
        """Choose a tab."""
        self.tabs[name].setChecked(True)
        self.chosen.emit(name)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go to the neighbour."""
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
            return
        names = list(self.tabs)
        name = names[(names.index(self.name) + step) % len(names)]
        self.choose(name)
        self.tabs[name].setFocus(Qt.FocusReason.TabFocusReason)

    def _clicked(self, tab: QAbstractButton) -> None:
        self.chosen.emit(next(name for name, each in self.tabs.items() if each is tab))

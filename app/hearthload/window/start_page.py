"""What the window shows while no logbook is open: open one, begin one, or look at the demo."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.window.parts import button, label
from hearthload.window.theme import GRID


class StartPage(QWidget):
    """The wordmark and, once it is known that no logbook will open by itself, three ways to begin."""

    new_wanted = Signal()
    open_wanted = Signal()
    demo_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.new_button = button("New logbook", "primary", self)
        self.open_button = button("Open a logbook", "", self)
        self.demo_button = button("Open the demo", "", self)
        self.new_button.clicked.connect(self.new_wanted)
        self.open_button.clicked.connect(self.open_wanted)
        self.demo_button.clicked.connect(self.demo_wanted)
        self._line = label(
            "From the readings of plug-in meters to a supply that carries what matters.", "muted", self
        )
        self._choices = QWidget(self)
        row = QHBoxLayout(self._choices)
        row.setContentsMargins(0, GRID * 2, 0, 0)
        row.setSpacing(GRID)
        for choice in (self.new_button, self.open_button, self.demo_button):
            row.addWidget(choice)
        column = QVBoxLayout(self)
        column.addStretch(2)
        centre = Qt.AlignmentFlag.AlignHCenter
        column.addWidget(label("Hearthload", "title", self), alignment=centre)
        column.addWidget(self._line, alignment=centre)
        column.addWidget(self._choices, alignment=centre)
        column.addStretch(3)
        self._choices.hide()

    def offer(self) -> None:
        """Offer the ways to begin."""
        self._choices.show()
        self.new_button.setFocus(Qt.FocusReason.OtherFocusReason)

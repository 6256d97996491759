"""The message strip above the page: what stands in the way, said in place and never in a box."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from hearthload.service.answers import Weight
from hearthload.window.complaints import DoubtMark
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID


class MessageStrip(QFrame):
    """One sentence with a mark and a button that takes it away; hidden while there is nothing to say."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "strip")
        self._sentence = label("", parent=self, wrap=True)
        self._close = button("Dismiss", "quiet", self)
        self._close.clicked.connect(self.dismiss)
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        row.setSpacing(GRID)
        row.addWidget(DoubtMark(Weight.STOPS, self), alignment=Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self._sentence, stretch=1)
        row.addWidget(self._close)
        self.hide()

    @property
    def sentence(self) -> str:
        """Give what is said, empty when nothing is."""
        return "" if self.isHidden() else self._sentence.text()

    def say(self, sentence: str) -> None:
        """Show a sentence."""
        self._sentence.setText(sentence)
        self.setAccessibleName(sentence)
        self.show()

    def dismiss(self) -> None:
        """Take the sentence away."""
        self.hide()

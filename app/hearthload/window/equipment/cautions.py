"""The cautions of a supply, whole sentences with the mark of a doubt, beside its verdict."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from hearthload.service.answers import Weight
from hearthload.window.complaints import DoubtMark
from hearthload.window.parts import label
from hearthload.window.theme import GRID


class Cautions(QScrollArea):
    """Sentences that must be read; scrolls where the page is low."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sentences: tuple[str, ...] = ()
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Cautions")
        self.hide()

    def show_cautions(self, sentences: Sequence[str]) -> None:
        """Show these sentences; none take no room."""
        if tuple(sentences) == self.sentences:
            return
        self.sentences = tuple(sentences)
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(GRID)
        for sentence in self.sentences:
            column.addWidget(_line(sentence, inside))
        column.addStretch(1)
        self.setWidget(inside)
        self.setAccessibleDescription(" ".join(self.sentences))
        self.setVisible(bool(self.sentences))


def _line(sentence: str, parent: QWidget) -> QWidget:
    line = QWidget(parent)
    row = QHBoxLayout(line)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(GRID)
    row.addWidget(DoubtMark(Weight.WARNS, line), alignment=Qt.AlignmentFlag.AlignTop)
    row.addWidget(label(sentence, "small", line, wrap=True), stretch=1)
    return line

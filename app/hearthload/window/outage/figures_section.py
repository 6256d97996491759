"""A section made of a table of figures at the left and the chosen figure's arithmetic at the right."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.window.outage.arithmetic import FigureArithmetic
from hearthload.window.outage.figure_table import FigureRow, FigureTable, Headers
from hearthload.window.parts import label
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

SHARES = (54, 46)


class FiguresSection(QWidget):
    """Up and Down go through the figures; the arithmetic follows. Enter goes into it, Esc back."""

    def __init__(self, headers: Headers, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = FigureTable(headers, name, self)
        self.arithmetic = FigureArithmetic(self)
        self.words = label("", "small", self, wrap=True)
        self.words.hide()
        left, self.left = QWidget(self), QVBoxLayout()
        self.left.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        self.left.setSpacing(GRID)
        self.left.addWidget(self.words)
        self.left.addWidget(self.table, stretch=1)
        left.setLayout(self.left)
        right = QWidget(self)
        self.right = QVBoxLayout(right)
        self.right.setContentsMargins(GRID, GRID, GRID * 2, GRID)
        self.right.setSpacing(GRID)
        self.right.addWidget(self.arithmetic, stretch=1)
        self.splitter = SideBySide(self, (left, right), SHARES)
        self.splitter.setObjectName(name.replace(" ", "_").lower())
        self.table.chosen.connect(self.show_figure)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show what a plan says."""
        raise NotImplementedError

    def say(self, *sentences: str) -> None:
        """Put sentences above the table, or none."""
        self.words.setText("\n".join(sentences))
        self.words.setVisible(bool(sentences))

    def show_figure(self, row: FigureRow | None) -> None:
        """Show one figure's arithmetic."""
        if row is None:
            self.arithmetic.show_nothing()
        else:
            value = " ".join(part for part in (row.values[0], row.unit) if part)
            self.arithmetic.show_steps(f"{row.what}: {value}", row.steps, row.lead, row.result)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes into the arithmetic, Esc back to the table."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.table.hasFocus():
            self.arithmetic.enter()
        elif event.key() == Qt.Key.Key_Escape and not self.table.hasFocus():
            self.table.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)

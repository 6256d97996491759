"""The panel that says what to leave off, why, and in which order to switch off the rest."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QScrollArea, QVBoxLayout, QWidget

from hearthload.domain.plan import Plan
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import LeaveOffWords, LoadName, leave_off_words
from hearthload.window.parts import label
from hearthload.window.theme import GRID

LEFT_OFF = "Leave off"


class LeaveOffPanel(QScrollArea):
    """Sentences, what is left off with its reason, and the order of switching off; scrolls by itself."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.said: LeaveOffWords | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("What to leave off")
        self._fresh()

    def show_answer(self, answer: SupplyAnswer | None, plan: Plan | None, loads: Sequence[LoadName]) -> None:
        """Say it of a supply, or say nothing."""
        said = None if answer is None or plan is None else leave_off_words(answer, plan, loads)
        if said == self.said:
            return
        self.said = said
        column = self._fresh()
        if said is None:
            return
        for sentence in said.sentences:
            column.addWidget(label(sentence, "", self.widget(), wrap=True))
        numbered = [(f"{place}.  {name}", role) for place, (name, role) in enumerate(said.shed_order, 1)]
        lists = [(LEFT_OFF, said.left_off), (said.heading, tuple(numbered))]
        for heading, pairs in lists if said.stays else reversed(lists):
            self._add_list(column, heading, pairs)
        column.addStretch(1)
        self.setAccessibleDescription(" ".join(said.sentences))

    def _fresh(self) -> QVBoxLayout:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, GRID, GRID, GRID)
        column.setSpacing(GRID)
        self.setWidget(inside)
        return column

    def _add_list(self, column: QVBoxLayout, heading: str, pairs: Sequence[tuple[str, str]]) -> None:
        """Add a list of loads under a heading, hairlines between them."""
        if not pairs:
            return
        column.addSpacing(GRID)
        column.addWidget(label(heading, "lead", self.widget()))
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(GRID // 2)
        grid.setColumnStretch(0, 2)
        grid.setColumnStretch(1, 3)
        for place, (name, words) in enumerate(pairs):
            line = QFrame(self.widget())
            line.setProperty("look", "hairline")
            line.setFixedHeight(1)
            grid.addWidget(line, 2 * place, 0, 1, 2)
            grid.addWidget(label(name, "", self.widget(), wrap=True), 2 * place + 1, 0)
            grid.addWidget(label(words, "small", self.widget(), wrap=True), 2 * place + 1, 1)
        column.addLayout(grid)

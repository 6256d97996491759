"""The view that sets the chosen plan beside another one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.window.choice import Choice
from hearthload.window.outage.compare_rows import compared, standing
from hearthload.window.outage.figure_table import FigureTable, Headers
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

ONLY_ONE: Final = "There is only one plan. Copy it and change the copy to see the two side by side."
WIDEST_PX: Final = 160 * GRID


class CompareSection(QWidget):
    """Two columns, one a plan; `copy_wanted` asks for a copy where there is no other plan."""

    copy_wanted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._answer: PlanAnswer | None = None
        self.other: Choice[int] = Choice((), self)
        self.other.setAccessibleName("The other plan")
        self.caption = label("Beside", parent=self)
        self.caption.setBuddy(self.other)
        self.words = label("", "muted", self, wrap=True)
        self.copy_button = button("Copy this plan", "", self)
        headers = Headers("", ("This plan", "The other"))
        self.table = FigureTable(headers, "Two plans", self)
        self._lay_out()
        self.other.currentIndexChanged.connect(self._chosen)
        self.copy_button.clicked.connect(self.copy_wanted)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Set a plan beside the other that was chosen, else the first other one."""
        from hearthload.service.queries_plans import plans  # noqa: PLC0415 (after first paint)

        self._answer = answer
        others = [(plan.id, plan.name) for plan in plans(self._session.logbook) if plan.id != answer.plan.id]
        kept = self.other.value if self.other.count() else None
        blocked = self.other.blockSignals(True)  # noqa: FBT003 (Qt's own)
        self.other.set_choices(others)
        if kept in dict(others):
            self.other.choose(kept)
        self.other.blockSignals(blocked)
        for part in (self.other, self.caption, self.table):
            part.setVisible(bool(others))
        self.copy_button.setVisible(not others)
        self._compare()

    def _chosen(self, _index: int) -> None:
        self._compare()

    def _compare(self) -> None:
        from hearthload.service.outages import plan_answer  # noqa: PLC0415 (slow to load)

        if self._answer is None or not self.other.count():
            self.words.setText(ONLY_ONE)
            return
        other = plan_answer(self._session.logbook, self.other.value)
        self.words.setText(standing(other))
        self.table.figures.set_value_headers((self._answer.plan.name, other.plan.name))
        self.table.show_rows(compared(self._answer, other))

    def _lay_out(self) -> None:
        line = QHBoxLayout()
        line.setSpacing(GRID)
        line.addWidget(self.caption)
        line.addWidget(self.other)
        line.addWidget(self.copy_button)
        line.addStretch(1)
        inside = QWidget(self)
        inside.setMaximumWidth(WIDEST_PX)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addLayout(line)
        column.addWidget(self.words)
        column.addWidget(self.table, stretch=1)
        column.addStretch(0)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(inside)

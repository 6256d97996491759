"""The head of the Equipment page: which plan it is held against, how it stands, and the button that adds."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hearthload.domain.plan import Plan
from hearthload.outage.answers import Outcome
from hearthload.service.outage_verdict_words import plan_words
from hearthload.window.choice import Choice
from hearthload.window.equipment.supply_cells import SupplyRow
from hearthload.window.parts import button, label, title_row
from hearthload.window.theme import GRID

NO_PLAN = "Equipment is checked against an outage plan, and there is none yet."
NO_EQUIPMENT = (
    "Enter the battery, generator or panels that you have or are offered, from the data plate or the papers; "
    "what you do not find stays empty. Then you see whether it carries your plan, for how long, what fails "
    "first, and what to leave off."
)


class PageHead(QWidget):
    """`plan_chosen` tells that another plan was chosen, `plan_wanted` that there is none yet."""

    plan_chosen = Signal()
    plan_wanted = Signal()
    add_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plans: tuple[Plan, ...] = ()
        self.add_button = button("Add equipment", "", self)
        self.choice: Choice[int] = Choice((), self)
        self.choice.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.choice.setMinimumWidth(20 * GRID)
        self._against = label("Against", "", self)
        self._against.setBuddy(self.choice)
        self.choice.setAccessibleName("Outage plan to check against")
        self.no_plan = label(NO_PLAN, "", self, wrap=True)
        self.plan_button = button("Make an outage plan", "", self)
        self.standing = label("", "muted", self)
        self.no_equipment = label(NO_EQUIPMENT, "", self, wrap=True)
        self._lay_out()
        self.choice.currentIndexChanged.connect(self._plan_chosen)
        self.plan_button.clicked.connect(self.plan_wanted)
        self.add_button.clicked.connect(self.add_wanted)

    @property
    def plan(self) -> Plan | None:
        """Give the chosen plan, None when there is none."""
        return self._plans[self.choice.currentIndex()] if self._plans else None

    def show_plans(self, plans: Sequence[Plan], wanted: int | None = None) -> None:
        """Offer these plans: the one that is wanted is chosen, where it is not there the one that was."""
        before = None if self.plan is None else self.plan.id
        self._plans = tuple(plans)
        offered = [(plan.id, plan_words(plan)) for plan in plans]
        with QSignalBlocker(self.choice):
            self.choice.set_choices(offered)
            for plan_id in (before, wanted):
                if plan_id is not None and plan_id in dict(offered):
                    self.choice.choose(plan_id)
        self.choice.setVisible(bool(plans))
        self._against.setVisible(bool(plans))
        self.no_plan.setVisible(not plans)
        self.plan_button.setVisible(not plans)

    def show_standing(self, rows: Sequence[SupplyRow]) -> None:
        """Say how many are entered and how many carry the plan."""
        carrying = sum(row.outcome is Outcome.CARRIES for row in rows)
        many = f"{len(rows)} entered"
        judged = f", {carrying} {'carries' if carrying == 1 else 'carry'} the plan"
        self.standing.setText(
            many + (judged if any(row.answer for row in rows) else "") if rows else "none yet"
        )
        self.no_equipment.setVisible(not rows)
        _dress(self.add_button, "" if rows else "primary")
        _dress(self.plan_button, "primary" if rows else "")

    def _plan_chosen(self, _place: int) -> None:
        self.plan_chosen.emit()

    def _lay_out(self) -> None:
        title = QVBoxLayout()
        title.setSpacing(0)
        title.addLayout(title_row(label("Equipment", "title", self), self.add_button))
        title.addWidget(self.standing)
        against = QHBoxLayout()
        against.setSpacing(GRID)
        against.addWidget(self._against)
        against.addWidget(self.choice, stretch=1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addLayout(title)
        column.addLayout(against)
        column.addWidget(self.no_equipment)
        column.addWidget(self.no_plan)
        column.addWidget(self.plan_button)


def _dress(pressed: QPushButton, look: str) -> None:
    """Make a button stand out, or no longer: one of them is what comes next."""
    if (pressed.property("look") or "") != look:
        pressed.setProperty("look", look)
        pressed.style().unpolish(pressed)
        pressed.style().polish(pressed)

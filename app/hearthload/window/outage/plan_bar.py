"""The bar at the top of the page: which plan is shown, and what can be done with it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from hearthload.domain.plan import Plan
from hearthload.window.choice import Choice
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID

LEAST_CHOICE_PX, MOST_CHOICE_PX = 20 * GRID, 40 * GRID


class PlanBar(QWidget):
    """`chosen` carries the number of the plan that was chosen."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = label("Outage", "title", self)
        self.title.setFixedHeight(5 * GRID)
        self.choice: Choice[int] = Choice((), self)
        self.choice.setAccessibleName("Plan")
        self.choice.setMinimumWidth(LEAST_CHOICE_PX)
        self.choice.setMaximumWidth(MOST_CHOICE_PX)
        self.change_button = button("Change", "quiet", self)
        self.copy_button = button("Copy", "quiet", self)
        self.remove_button = button("Remove", "quiet", self)
        self.remove_button.setToolTip("Remove this plan; Ctrl+Z brings it back")
        self.compare_button = button("Compare", "quiet", self)
        self.compare_button.setToolTip("Set this plan beside another one")
        self.compare_button.toggled.connect(self._dress_compare)
        self.add_button = button("Add plan", "", self)  # last, as Tab goes in the order of making
        self._with_plan = (
            self.add_button,
            self.choice, self.change_button, self.copy_button, self.remove_button, self.compare_button
        )  # fmt: skip
        self._offered: tuple[tuple[int, str], ...] = ()
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 2, GRID, GRID * 2, 0)
        row.setSpacing(0)
        row.addWidget(self.title)
        row.addSpacing(2 * GRID)
        row.addWidget(self.choice, 1)
        row.addSpacing(GRID)
        for each in (self.change_button, self.copy_button, self.remove_button, self.compare_button):
            row.addWidget(each)
        row.addStretch(1)
        row.addWidget(self.add_button)
        self.choice.currentIndexChanged.connect(self._chose)

    def show_plans(self, plans: Sequence[Plan], chosen: int | None) -> None:
        """Offer these plans."""
        offered = tuple((plan.id, plan.name) for plan in plans)
        blocked = self.choice.blockSignals(True)  # noqa: FBT003 (Qt's own)
        if offered != self._offered:
            self._offered = offered
            self.choice.set_choices(offered)
        if chosen is not None:
            self.choice.choose(chosen)
        self.choice.blockSignals(blocked)
        for part in self._with_plan:
            part.setVisible(bool(plans))

    def _dress_compare(self, chosen: bool) -> None:
        """Look like the neighbours, but framed while plans are compared."""
        self.compare_button.setProperty("look", "" if chosen else "quiet")
        self.compare_button.style().unpolish(self.compare_button)
        self.compare_button.style().polish(self.compare_button)

    def _chose(self, index: int) -> None:
        if index >= 0:
            self.chosen.emit(self.choice.value)

"""The plan's loads: the list at the left, the chosen one at the right; appliances that are not in it yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.window.outage.load_detail import LoadDetail
from hearthload.window.outage.load_table import LoadTable
from hearthload.window.outage.outage_words import listed
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

SHARES = (58, 42)
MOST_NAMES = 4
"""So many appliances that are not in the plan are named; more are counted."""


class LoadsSection(QWidget):
    """Enter goes from the list into the chosen load's settings, Enter there saves and goes back."""

    appliance_wanted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._answer: PlanAnswer | None = None
        self._refreshing = False
        self.missing = label("", "", self, wrap=True)
        self.add_missing_button = button("Add to the plan", "", self)
        self.empty = label(
            "There is no appliance yet. List on the Readings page what must stay on in an outage, then come "
            "back: each appliance gets its role and its use here.", "", self, wrap=True,
        )  # fmt: skip
        self.appliance_button = button("Add an appliance", "primary", self)
        self.table = LoadTable(self)
        self.detail = LoadDetail(session, self)
        self._lay_out()
        self.table.chosen.connect(self._show_chosen)
        self.detail.back_wanted.connect(self._go_back)
        self.add_missing_button.clicked.connect(self.add_missing)
        self.appliance_button.clicked.connect(self.appliance_wanted)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show a plan's loads; the chosen appliance stays chosen."""
        other_plan = self._answer is not None and self._answer.plan.id != answer.plan.id
        self._answer = answer
        kept = self.table.chosen_id()
        self._refreshing = True
        self.table.loads.set_rows(answer.rows)
        if self.table.chosen_id() != kept or kept is None or other_plan:
            self.table.choose(kept)
        self._refreshing = False
        self._say_missing(answer)
        self.table.setVisible(bool(answer.rows))
        nothing = not answer.rows and not answer.not_in_plan
        self.empty.setVisible(nothing)
        self.appliance_button.setVisible(nothing)
        self._show_chosen(self.table.chosen_id())

    def add_missing(self) -> None:
        """Take every appliance that is not in the plan into it, as one edit."""
        from hearthload.service.edits.plans import add_missing_loads  # noqa: PLC0415 (after first paint)

        if self._answer is not None:
            self._session.do(add_missing_loads, self._answer.plan.id)
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in the list goes into the settings."""
        enters = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enters and self.table.hasFocus() and self.table.chosen_id() is not None:
            self.detail.begin()
        else:
            super().keyPressEvent(event)

    def _show_chosen(self, appliance_id: object) -> None:
        if self._answer is None or self._refreshing:
            return
        found = (row for row in self._answer.rows if row.appliance.id == appliance_id)
        row = next(found, None)
        self._say_lost(None if row is None else row.load.id)
        self.detail.show_row(row, self._answer.plan)

    def _say_lost(self, load_id: int | None) -> None:
        """Say that something was typed and not saved, where another load is shown instead."""
        form = self.detail.form
        if form.load is not None and form.load.id != load_id and form.is_touched():
            self._session.said.emit("What was typed for the other appliance was not saved.")

    def _say_missing(self, answer: PlanAnswer) -> None:
        names = [f"“{appliance.name}”" for appliance in answer.not_in_plan]
        many = len(names) > MOST_NAMES
        named = (
            f"{len(names)} appliances are"
            if many
            else f"{listed(names)} {'is' if len(names) == 1 else 'are'}"
        )
        self.missing.setText(f"{named} not in this plan yet." if names else "")
        self.missing.setVisible(bool(names))
        self.add_missing_button.setVisible(bool(names))

    def _go_back(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        left = QWidget(self)
        line = QHBoxLayout()
        line.setSpacing(GRID)
        line.addWidget(self.missing, 1)
        line.addWidget(self.add_missing_button)
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.empty)
        column.addWidget(self.appliance_button)
        column.addLayout(line)
        column.addWidget(self.table, stretch=1)
        column.addStretch(0)
        self.splitter = SideBySide(self, (left, self.detail), SHARES)
        self.splitter.setObjectName("loads")

"""One piece of equipment against the plan: the verdict in a sentence, its limits, and what to leave off."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.domain.figures import DASH
from hearthload.domain.plan import Plan
from hearthload.errors import RefusedError
from hearthload.outage.answers import Limit, LimitCode
from hearthload.outage.steps import Step, chained
from hearthload.service.answers import Complaint, Weight
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import LoadName
from hearthload.service.outage_limit_words import below_words, needed_words, offered_words
from hearthload.service.outage_verdict_words import hours_sentence, verdict_sentence
from hearthload.service.outage_words import LIMIT_WORDS
from hearthload.window.arithmetic import ArithmeticPanel
from hearthload.window.complaints import ComplaintLines
from hearthload.window.equipment.detail_tabs import ARITHMETIC, LIMITS, DetailTabs
from hearthload.window.equipment.kind_words import plate_words, what_it_is
from hearthload.window.equipment.leave_off import LeaveOffPanel
from hearthload.window.equipment.limit_table import LimitTable
from hearthload.window.equipment.marks import OutcomeMark
from hearthload.window.equipment.supply_cells import SupplyRow
from hearthload.window.parts import TitleLabel, button, label, title_row
from hearthload.window.theme import GRID

NO_PLAN = "There is no outage plan yet to check it against."
RECKONING = "Being reckoned …"
NO_FIGURES = "No figure was reckoned for this limit."


class SupplyDetail(QWidget):
    """What is known of the chosen equipment; empty when there is none."""

    change_wanted = Signal()
    remove_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: SupplyAnswer | None = None
        self.name = TitleLabel(self)
        self.change_button = button("Change", "quiet", self)
        self.remove_button = button("Remove", "quiet", self)
        self.remove_button.setToolTip("Remove this equipment; Ctrl+Z brings it back")
        self.complaints = ComplaintLines(self)
        self.plate = label("", "muted", self, wrap=True)
        self.mark = OutcomeMark(self)
        self.sentence = label("", "lead", self, wrap=True)
        self.hours = label("", "", self, wrap=True)
        self.limits = LimitTable(self)
        self.arithmetic = ArithmeticPanel(self)
        self.arithmetic.lines.setPlaceholderText(NO_FIGURES)
        self.leave_off = LeaveOffPanel(self)
        self.about = label("", "small", self, wrap=True)
        self.tabs = DetailTabs(self._limits_with_about(), self.arithmetic, self.leave_off, self)
        self._lay_out()
        self._order_tab()
        self.change_button.clicked.connect(self.change_wanted)
        self.remove_button.clicked.connect(self.remove_wanted)
        self.limits.chosen.connect(self._explain)
        self.limits.opened.connect(self._open)

    def show_supply(self, row: SupplyRow | None, plan: Plan | None, loads: Sequence[LoadName]) -> None:
        """Show a piece of equipment against a plan, or nothing."""
        self._inside.setVisible(row is not None)
        self.complaints.show_complaints(())
        self._answer = None if row is None else row.answer
        if row is None:
            return
        self.name.setText(row.supply.name)
        members = () if row.answer is None else row.answer.members
        figures = plate_words(row.supply, members)
        self.plate.setText(f"{what_it_is(row.supply)}{': ' if figures else ''}{figures}")
        self._show_verdict(row.answer, plan)
        self.leave_off.show_answer(row.answer, plan, loads)

    def complain(self, error: RefusedError) -> None:
        """Say why something cannot be done with this equipment."""
        self.complaints.show_complaints((Complaint("supply_id", error.code, Weight.STOPS, str(error)),))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back from the arithmetic to the limits."""
        if event.key() == Qt.Key.Key_Escape and self.tabs.chosen == ARITHMETIC:
            self.tabs.choose(LIMITS)
            self.limits.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            super().keyPressEvent(event)

    def _show_verdict(self, answer: SupplyAnswer | None, plan: Plan | None) -> None:
        judged = answer is not None and plan is not None
        self.tabs.setVisible(judged)
        self.mark.setVisible(judged)
        if answer is None or plan is None:
            self.sentence.setText(NO_PLAN if plan is None else RECKONING)
            self.hours.setVisible(False)
            return
        self.mark.show_outcome(answer.verdict.outcome)
        self.sentence.setText(verdict_sentence(answer, plan))
        lasts = hours_sentence(answer, plan)
        self.hours.setText(lasts)
        self.hours.setVisible(bool(lasts))
        self.limits.show_limits(answer.verdict.limits)

    def _limits_with_about(self) -> QWidget:
        """Set under the table what a narrow row has no room for: the whole of what the chosen one says."""
        both = QWidget(self)
        column = QVBoxLayout(both)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.limits, stretch=1)
        column.addWidget(self.about)
        return both

    def _explain(self, limit: Limit | None) -> None:
        below = "" if limit is None else below_words(limit, whole=True)
        self.about.setText("" if limit is None else f"{limit_name(limit)}: {below}")
        self.about.setVisible(bool(below))
        if limit is None:
            self.arithmetic.clear()
        else:
            self.arithmetic.show_steps(limit_title(limit), self._steps(limit))

    def _steps(self, limit: Limit) -> tuple[Step, ...]:
        """Give the arithmetic of a limit; with the energy, that of the hours it lasts."""
        needed = () if limit.needed is None else limit.needed.steps
        hours = None if self._answer is None else self._answer.verdict.hours
        with_hours = hours is not None and limit.code is LimitCode.ENERGY and limit.counts
        return chained(needed, limit.steps, hours.steps if hours is not None and with_hours else ())

    def _open(self, limit: Limit) -> None:
        self._explain(limit)
        self.tabs.choose(ARITHMETIC)
        self.arithmetic.lines.setFocus(Qt.FocusReason.OtherFocusReason)

    def _order_tab(self) -> None:
        """Let Tab go as the page is read: the buttons, the tabs, what they show."""
        shown = (self.limits, self.arithmetic.lines, self.leave_off)
        stops = (self.change_button, self.remove_button, *self.tabs.tabs.values(), *shown)
        for before, after in pairwise(stops):
            QWidget.setTabOrder(before, after)

    def _lay_out(self) -> None:
        self._inside = QWidget(self)
        self._inside.setMaximumWidth(120 * GRID)
        verdict = QHBoxLayout()
        verdict.setSpacing(GRID)
        verdict.addWidget(self.mark, 0, Qt.AlignmentFlag.AlignTop)
        verdict.addWidget(self.sentence, 1)
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(GRID, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addLayout(title_row(self.name, self.change_button, self.remove_button))
        column.addWidget(self.plate)
        column.addWidget(self.complaints)
        column.addLayout(verdict)
        column.addWidget(self.hours)
        column.addWidget(self.tabs, stretch=1)
        column.addStretch(0)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._inside, stretch=1)
        row.addStretch(0)


def limit_name(limit: Limit) -> str:
    """Name a limit at the beginning of a line."""
    name = LIMIT_WORDS[limit.code]
    return f"{name[0].upper()}{name[1:]}"


def limit_title(limit: Limit) -> str:
    """Name a limit over its arithmetic, "Starting power: 2.70 kVA needed, 1.00 kVA offered"."""
    link = " " if limit.code is LimitCode.RECHARGE else " for "
    title = limit_name(limit) + (f"{link}{limit.about}" if limit.about else "")
    said = (needed_words(limit), "needed"), (offered_words(limit), "offered")
    figures = [f"{amount} {verb}" for amount, verb in said if amount != DASH]
    if limit.missing:
        figures.append(f"still to look up: {limit.missing}")
    return f"{title}: {', '.join(figures)}" if figures else title

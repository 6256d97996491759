"""The Outage page: a plan's loads, its totals, what it asks for, the figures behind it, and its cords."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, Protocol, cast

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from hearthload.domain.plan import Plan
from hearthload.service.changes import Changes, Topic
from hearthload.window.navigation import Page
from hearthload.window.outage.cautions import CautionFoot, MedicalCaution
from hearthload.window.outage.compare_section import CompareSection
from hearthload.window.outage.cord_section import CordSection
from hearthload.window.outage.facts_section import FactsSection
from hearthload.window.outage.loads_section import LoadsSection
from hearthload.window.outage.needs_section import NeedsSection
from hearthload.window.outage.outage_words import plan_words
from hearthload.window.outage.plan_bar import PlanBar
from hearthload.window.outage.plan_form import CopySheet, PlanSheet
from hearthload.window.outage.tabs import Tabs
from hearthload.window.outage.totals_line import TotalsLine
from hearthload.window.outage.totals_section import TotalsSection
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

LOADS, TOTALS, NEEDS, FACTS, CORD = SECTIONS = (
    "Loads", "Totals", "What to look for", "Figures of the trade", "Cord"
)  # fmt: skip
COMPARE: Final = "Compare"
EMPTY: Final = (
    "Plan an outage: how long the grid is down, in which month, and what stays on. The plan then says how "
    "much energy that takes and what battery, inverter, sun or fuel carries it. Its loads are the appliances "
    "of this logbook."
)
IRRELEVANT: Final = frozenset({Topic.SUPPLIES})


class Section(Protocol):
    """A part of the page that shows one side of a plan's answer."""

    def show_answer(self, answer: PlanAnswer) -> None: ...  # noqa: D102


class OutagePage(Page):
    """One plan at a time; only the section in sight is written anew when something changes."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._stale = True
        self._plan_id: int | None = None
        self.answer: PlanAnswer | None = None
        self._shown: dict[str, PlanAnswer] = {}
        self._build()
        self._wire()
        self.refresh()

    @property
    def section(self) -> str:
        """Give the name of the section that is shown."""
        return self.tabs.name

    def add_plan(self) -> None:
        """Open the empty plan sheet."""
        self._open(self.sheet)
        self.sheet.begin_add()

    def change_plan(self) -> None:
        """Open the sheet of the plan that is shown."""
        if self.answer is not None:
            self._open(self.sheet)
            self.sheet.begin_change(self.answer.plan)

    def copy_plan(self) -> None:
        """Open the sheet that names a copy of the plan that is shown."""
        if self.answer is not None:
            self._open(self.copy_sheet)
            self.copy_sheet.begin_copy(self.answer.plan)

    def remove_plan(self) -> None:
        """Remove the plan that is shown; undo brings it back."""
        from hearthload.service.edits.plans import remove_plan  # noqa: PLC0415 (after first paint)

        if self.answer is not None:
            self._session.do(remove_plan, self.answer.plan.id)
            left = self.empty_button if self.answer is None else self.bar.choice
            left.setFocus(Qt.FocusReason.OtherFocusReason)

    def choose_plan(self, plan_id: int) -> None:
        """Show another plan."""
        self._session.plan_id = plan_id
        self._below.setCurrentWidget(self._plan_view)
        self.refresh()

    def choose_section(self, name: str) -> None:
        """Show another section."""
        self.tabs.choose(name)

    def open_total(self, key: str) -> None:
        """Show one of the totals with its arithmetic."""
        self.tabs.choose(TOTALS)
        self.totals.table.choose(key)
        self.totals.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def refresh(self) -> None:
        """Ask for the plan again and show what is in sight."""
        from hearthload.service.queries_plans import plans  # noqa: PLC0415 (after first paint)

        self._stale = False
        known = plans(self._session.logbook)
        self._plan_id = self._sensible(known)
        self.bar.show_plans(known, self._plan_id)
        self._ask()
        if self.answer is not None:
            self._show_whole(self.answer)
            self._show_section()
        if self._below.currentWidget() in (self._plan_view, self._empty):
            self._below.setCurrentWidget(self._empty if self.answer is None else self._plan_view)
        self._show_around()

    def _show_around(self, _index: int = 0) -> None:
        """Leave out what stands around a plan where there is none, and most of it beside a sheet."""
        planned = self.answer is not None
        beside_plan = planned and self._below.currentWidget() is self._plan_view
        self.standing.setVisible(planned)
        self.medical.setVisible(self.answer is not None and self.answer.medical)
        for part in (self.totals_line, self.tabs, self.foot):
            part.setVisible(beside_plan)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while hidden, and with the plan that was chosen elsewhere."""
        super().showEvent(event)
        chosen_elsewhere = self._session.plan_id not in (None, self._plan_id)
        if (self._stale or chosen_elsewhere) and self._session.is_open:
            self.refresh()

    def _ask(self) -> None:
        """Ask for the answer about the plan that is shown."""
        self.answer = None
        if self._plan_id is not None:
            from hearthload.service.outages import plan_answer  # noqa: PLC0415 (slow to load)

            self.answer = plan_answer(self._session.logbook, self._plan_id)

    def _sensible(self, known: tuple[Plan, ...]) -> int | None:
        """Give the plan to show: the one chosen last on any page, else the one that was, else the first.

        While a sheet is open its own plan stays, so that nobody changes one plan under the name of another.
        """
        numbers = [plan.id for plan in known]
        wanted = [self._session.plan_id, self._plan_id]
        if self._below.currentWidget() in (self.sheet, self.copy_sheet):
            wanted.reverse()
        return next((number for number in (*wanted, *numbers) if number in numbers), None)

    def _show_whole(self, answer: PlanAnswer) -> None:
        self.standing.setText(plan_words(answer.plan))
        self.medical.show_answer(answer)
        self.totals_line.show_answer(answer)

    def _show_section(self, _name: str = "") -> None:
        """Bring the chosen section to the front, written anew where it does not show this answer yet."""
        name = self.tabs.name
        section = self._sections[name]
        if self.answer is not None and self._shown.get(name) is not self.answer:
            self._shown[name] = self.answer
            cast("Section", section).show_answer(self.answer)
        if self.answer is not None:
            self.foot.show_answer(self.answer, of_supplies=name in (NEEDS, COMPARE))
        self._plan_view.setCurrentWidget(section)

    def _changed(self, news: Changes) -> None:
        if news.topics <= IRRELEVANT:
            return
        if self.isVisible() and self._session.is_open:
            self.refresh()
        else:
            self._stale = True

    def _switched(self, _path: object) -> None:
        self._plan_id, self.answer = None, None
        self._shown.clear()
        self._stale = True
        if self.isVisible() and self._session.is_open:
            self.refresh()

    def _open(self, sheet: QWidget) -> None:
        self._below.setCurrentWidget(sheet)

    def _close_sheet(self, saved: object) -> None:
        if isinstance(saved, int):
            self._session.plan_id = saved
        self._below.setCurrentWidget(self._plan_view if self.bar.choice.count() else self._empty)
        self.refresh()
        first = self.loads.table if self.answer is not None else self.empty_button
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _add_appliance(self) -> None:
        self.task_wanted.emit("add_appliance")

    def _build(self) -> None:
        self.bar = PlanBar(self)
        self.standing = label("", "muted", self, wrap=True)
        self.standing.setContentsMargins(GRID * 2, 0, GRID * 2, 0)
        self.medical = MedicalCaution(self)
        self.totals_line = TotalsLine(self)
        self.totals_line.setContentsMargins(GRID * 2, 0, GRID * 2, 0)
        self.tabs = Tabs(SECTIONS, self)
        self.tabs.add(self.bar.compare_button, COMPARE)
        self.tabs.setContentsMargins(GRID, 0, 0, 0)
        self.loads = LoadsSection(self._session, self)
        self.totals = TotalsSection(self)
        self.needs = NeedsSection(self)
        self.facts = FactsSection(self._session, self)
        self.cord = CordSection(self._session, self)
        self.compare = CompareSection(self._session, self)
        sections = (self.loads, self.totals, self.needs, self.facts, self.cord, self.compare)
        self._sections: dict[str, QWidget] = dict(zip((*SECTIONS, COMPARE), sections, strict=True))
        self._plan_view = QStackedWidget(self)
        for section in sections:
            self._plan_view.addWidget(section)
        self.sheet = PlanSheet(self._session, self)
        self.copy_sheet = CopySheet(self._session, self)
        self._empty = self._build_empty()
        self.foot = CautionFoot(self)  # last, as Tab goes in the order of making
        self._below = QStackedWidget(self)
        for part in (self._plan_view, self.sheet, self.copy_sheet, self._empty):
            self._below.addWidget(part)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID // 2)
        column.addWidget(self.bar)
        for part in (self.standing, self.medical, self.totals_line, self.tabs):
            column.addWidget(part)
        column.addWidget(self._below, stretch=1)
        column.addWidget(self.foot)

    def _build_empty(self) -> QWidget:
        empty = QWidget(self)
        inside = QWidget(empty)
        inside.setMaximumWidth(80 * GRID)
        self.empty_words = label(EMPTY, "", inside, wrap=True)
        self.empty_button = button("Add a plan", "primary", inside)
        self.empty_button.clicked.connect(self.add_plan)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.empty_words)
        column.addWidget(self.empty_button)
        column.addStretch(1)
        outer = QVBoxLayout(empty)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(inside)
        return empty

    def _wire(self) -> None:
        self._session.changed.connect(self._changed)
        self._session.switched.connect(self._switched)
        self.bar.chosen.connect(self.choose_plan)
        self.bar.add_button.clicked.connect(self.add_plan)
        self.bar.change_button.clicked.connect(self.change_plan)
        self.bar.copy_button.clicked.connect(self.copy_plan)
        self.bar.remove_button.clicked.connect(self.remove_plan)
        self.tabs.chosen.connect(self._show_section)
        self.totals_line.wanted.connect(self.open_total)
        self.loads.appliance_wanted.connect(self._add_appliance)
        self.compare.copy_wanted.connect(self.copy_plan)
        self._below.currentChanged.connect(self._show_around)
        for sheet in (self.sheet, self.copy_sheet):
            sheet.setContentsMargins(GRID, 0, 0, 0)
            sheet.closed.connect(self._close_sheet)

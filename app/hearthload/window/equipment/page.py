"""The Equipment page: what she has or is offered, held against an outage plan limit by limit."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from hearthload.errors import RefusedError
from hearthload.service import queries, queries_plans
from hearthload.service.changes import Changes
from hearthload.service.edits.supplies import remove_supply
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import LoadName
from hearthload.window.equipment.cautions import Cautions
from hearthload.window.equipment.page_head import PageHead
from hearthload.window.equipment.supply_cells import SupplyRow
from hearthload.window.equipment.supply_detail import SupplyDetail
from hearthload.window.equipment.supply_form import SupplySheet
from hearthload.window.equipment.supply_table import SupplyTable
from hearthload.window.navigation import Page
from hearthload.window.parts import label
from hearthload.window.session import Session
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID

FIRST_SHARES = (46, 54)
"""How the list and the chosen equipment share the width until the person moves the line between them."""


class EquipmentPage(Page):
    """The list with its cautions at the left; the verdict, or the sheet to change it, at the right."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._stale = True
        self._answers: dict[int, SupplyAnswer] = {}
        self._loads: tuple[LoadName, ...] = ()
        self._judged_by: int | None = None
        # What is typed and listed is shown at once; the verdicts follow as soon as that is painted.
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(0)
        self._later.timeout.connect(self._reckon)
        self._build()
        session.changed.connect(self._changed)
        session.switched.connect(self._switched)
        self.refresh()

    def add_supply(self) -> None:
        """Open the empty equipment sheet."""
        self._right.setCurrentWidget(self.sheet)
        self.sheet.begin_add()

    def change_supply(self) -> None:
        """Open the sheet of the chosen equipment."""
        row = self.chosen()
        if row is not None:
            self._right.setCurrentWidget(self.sheet)
            self.sheet.begin_change(row.supply)

    def remove_supply(self) -> None:
        """Remove the chosen equipment; what is part of a combination stays, and the page says so."""
        row = self.chosen()
        if row is not None:
            with self._session.refusals_to(self._say_refusal):
                self._session.do(remove_supply, row.supply.id)

    def chosen(self) -> SupplyRow | None:
        """Give the chosen equipment's row."""
        index = self.table.currentIndex()
        return self.table.supplies.rows[index.row()] if index.isValid() else None

    def refresh(self) -> None:
        """Ask for plans and equipment again; the verdicts follow."""
        self._stale = False
        self.head.show_plans(queries_plans.plans(self._session.logbook), self._session.plan_id)
        plan = self.head.plan
        if plan is None or plan.id != self._judged_by:
            self._forget()
        self._show_rows()
        if plan is not None and self.table.supplies.rows:
            self._later.start()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while hidden, and with the plan that was chosen on another page."""
        super().showEvent(event)
        shown = None if self.head.plan is None else self.head.plan.id
        if self._session.is_open and (self._stale or self._session.plan_id not in (None, shown)):
            self.refresh()

    def _changed(self, news: Changes | object) -> None:
        del news
        if self.isVisible() and self._session.is_open:
            self.refresh()
        else:
            self._stale = True

    def _switched(self, path: object) -> None:
        self._forget()
        self._changed(path)

    def _forget(self) -> None:
        """Show no verdict until it is reckoned again: those there are of another plan or logbook."""
        self._answers, self._loads, self._judged_by = {}, (), None

    def _reckon(self) -> None:
        """Judge all equipment against the chosen plan."""
        plan = self.head.plan
        if plan is None or self._stale or not self._session.is_open:
            return
        from hearthload.service import outages  # noqa: PLC0415 (after first paint: numpy and scipy)

        found = outages.supply_answers(self._session.logbook, plan.id)
        self._answers = {answer.supply.id: answer for answer in found}
        self._loads, self._judged_by = self._load_names(plan.id), plan.id
        self._show_rows()

    def _load_names(self, plan_id: int) -> tuple[LoadName, ...]:
        """Name the plan's rows, in the order that what to leave off counts them."""
        logbook = self._session.logbook
        names = {each.id: each.name for each in queries.appliances(logbook)}
        return tuple(
            LoadName(
                names[load.appliance_id] + (f" × {load.quantity}" if load.quantity > 1 else ""), load.role
            )
            for load in queries_plans.plan_loads(logbook, plan_id)
        )

    def _show_rows(self) -> None:
        chosen = self.chosen()
        supplies = queries_plans.supplies(self._session.logbook)
        rows = [SupplyRow(supply, self._answers.get(supply.id)) for supply in supplies]
        self.table.supplies.set_rows(rows)
        self._choose(None if chosen is None else chosen.supply.id)
        self.table.setVisible(bool(rows))
        self.head.show_standing(rows)
        self._show_chosen()

    def _choose(self, supply_id: int | None) -> None:
        ids = [row.supply.id for row in self.table.supplies.rows]
        if ids:
            self.table.selectRow(ids.index(supply_id) if supply_id in ids else 0)

    def _show_chosen(self, _index: QModelIndex | None = None) -> None:
        row = self.chosen()
        self.detail.show_supply(row, self.head.plan, self._loads)
        sentences = () if row is None or row.answer is None else row.answer.cautions
        self._cautions_head.setVisible(bool(sentences))
        self.cautions.show_cautions(sentences)

    def _say_refusal(self, error: RefusedError) -> None:
        self.detail.complain(error)

    def _close_sheet(self, saved: object) -> None:
        self._right.setCurrentWidget(self.detail)
        if isinstance(saved, int):
            self._choose(saved)
        target = self.table if self.table.supplies.rows else self.head.add_button
        target.setFocus(Qt.FocusReason.OtherFocusReason)

    def _plan_chosen(self) -> None:
        self._session.plan_id = None if self.head.plan is None else self.head.plan.id
        self.refresh()

    def _want_plan(self) -> None:
        self.task_wanted.emit("show_outage")

    def _build(self) -> None:
        self.head = PageHead(self)
        self.table = SupplyTable(self)
        self.cautions = Cautions(self)
        self.sheet = SupplySheet(self._session, self)
        self.detail = SupplyDetail(self)
        self._right = QStackedWidget(self)
        self._right.addWidget(self.detail)
        self._right.addWidget(self.sheet)
        self.splitter = SideBySide(self, (self._build_left(), self._right), FIRST_SHARES)
        self.table.selectionModel().currentRowChanged.connect(self._show_chosen)
        self.sheet.closed.connect(self._close_sheet)
        self.head.add_wanted.connect(self.add_supply)
        self.head.plan_chosen.connect(self._plan_chosen)
        self.head.plan_wanted.connect(self._want_plan)
        self.detail.change_wanted.connect(self.change_supply)
        self.detail.remove_wanted.connect(self.remove_supply)

    def _build_left(self) -> QWidget:
        left = QWidget(self)
        self._cautions_head = label("Cautions", "lead", left)
        policy = self.cautions.sizePolicy()
        policy.setVerticalPolicy(QSizePolicy.Policy.Expanding)
        self.cautions.setSizePolicy(policy)
        self.cautions.setMinimumHeight(9 * GRID)
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.head)
        column.addWidget(self.table)
        column.addWidget(self._cautions_head)
        column.addWidget(self.cautions, stretch=1)
        column.addStretch(0)
        left.setMaximumWidth(104 * GRID)
        return left

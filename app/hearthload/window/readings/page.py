"""The Readings page: the roster at the left; measurement, entry form, charts and readings at the right."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from hearthload.service import queries
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import remove_appliance
from hearthload.service.roster_answers import RosterRow
from hearthload.window.navigation import Page
from hearthload.window.readings.appliance_form import ApplianceSheet
from hearthload.window.readings.explanation import ExplanationPage
from hearthload.window.readings.first_steps import FirstSteps, Progress
from hearthload.window.readings.lower import DAYS, READINGS
from hearthload.window.readings.measure_words import Action
from hearthload.window.readings.sides import Sides
from hearthload.window.readings.work import WorkPanel
from hearthload.window.session import Session

ROWS_ONLY = frozenset({Topic.READINGS, Topic.MEASUREMENTS})
"""Edits about nothing else than these change single rows of the roster."""


class ReadingsPage(Page):
    """Puts the parts together: whatever the roster or the morning round chooses is shown everywhere."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._day: date | None = None
        self._stale = False
        self._just_opened = True
        self._build()
        self._wire()
        self._show_rows()

    # --- what the menus ask for ---

    def focus_filter(self) -> None:
        """Put the cursor into the filter box."""
        self.roster.filter_box.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.roster.filter_box.selectAll()

    def add_appliance(self) -> None:
        """Open the empty appliance sheet."""
        self._right.setCurrentWidget(self.sheet)
        self.left.show()
        self.sheet.begin_add()

    def change_appliance(self) -> None:
        """Open the sheet of the chosen appliance."""
        row = self._chosen_row()
        if row is not None:
            self._right.setCurrentWidget(self.sheet)
            self.sheet.begin_change(row.appliance)

    def remove_appliance(self) -> None:
        """Remove the chosen appliance with its readings; undo brings all of it back."""
        appliance_id = self.roster.view.chosen_id()
        if appliance_id is not None:
            self._session.do(remove_appliance, appliance_id)
            self.roster.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def begin_round(self) -> None:
        """Begin the morning round at the first meter that was not read today."""
        if queries.is_measuring_begun(self._session.logbook):
            self._right.setCurrentWidget(self.work)
        self.work.entry.begin_round()

    def show_steps(self) -> None:
        """Show what a fresh logbook asks for next, while nothing was measured yet."""
        if not queries.is_measuring_begun(self._session.logbook):
            self._right.setCurrentWidget(self.steps)
            self.steps.focus_next()

    def turn_lower(self) -> None:
        """Go to the next of charts, readings and days, with the cursor where its keys work."""
        details = self.work.details
        details.turn()
        if details.chosen == READINGS:
            self.work.table.focus_last()
        elif details.chosen == DAYS:
            self.work.days.days.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.work.focus_first()

    def measure(self, action: Action) -> None:
        """Do something with the shown measurement."""
        if self._chosen_row() is None and self.roster.view.order.rowCount():
            self.roster.view.selectRow(0)
        if self._chosen_row() is not None:
            self._right.setCurrentWidget(self.work)
            self.work.measure.begin(action)

    def possible_measuring(self) -> Collection[Action]:
        """Give what can be done with the shown measurement now."""
        return self.work.measure.possible

    # --- showing ---

    def refresh(self) -> None:
        """Ask for the whole roster again."""
        self._show_rows()
        self._show_rest()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while hidden."""
        super().showEvent(event)
        if not self._session.is_open:
            return
        if self._just_opened:
            self._open()
        elif self._stale:
            self.refresh()

    def event(self, event: QEvent) -> bool:
        """Begin a new day when the window comes to the front on another morning."""
        activated = event.type() == QEvent.Type.WindowActivate and self._session.is_open
        if activated and self._day is not None and self._session.now().date() != self._day:
            self.refresh()
            self.work.measure.refresh()
            self.work.entry.new_day()
        return super().event(event)

    def _show_rows(self) -> None:
        self._stale = False
        self._day = self._session.now().date()
        self.roster.set_rows(queries.roster(self._session.logbook, self._session.now()))

    def _open(self) -> None:
        """Show a logbook that was just opened and begin the round where a meter waits for its reading."""
        self._just_opened = False
        self.refresh()
        stops = queries.morning_round(self._session.logbook, self._session.now())
        if any(not stop.read_today for stop in stops):
            self.begin_round()
        elif self.roster.view.order.rowCount():
            self.roster.view.selectRow(0)
        self.show_steps()

    def _changed(self, changes: Changes) -> None:
        if not self.isVisible():
            self._stale = True
            return
        if changes.topics <= ROWS_ONLY and changes.appliance_ids:
            for appliance_id in changes.appliance_ids:
                self.roster.set_row(
                    queries.roster_row(self._session.logbook, appliance_id, self._session.now())
                )
            self._show_rest()
        else:
            self.refresh()
        self._follow(changes)

    def _follow(self, changes: Changes) -> None:
        """Show the appliance that a change was about when it is not the one shown."""
        shown = self.roster.view.chosen_id()
        if len(changes.appliance_ids) == 1 and shown not in changes.appliance_ids:
            (changed,) = changes.appliance_ids
            if self.roster.view.rows.row_of(changed) is not None:
                self.roster.choose(changed)

    def _show_rest(self) -> None:
        rows = self.roster.view.rows.rows
        measured = queries.is_measuring_begun(self._session.logbook)
        meters = queries.count_meters(self._session.logbook)
        self.steps.show_progress(Progress(meters, len(rows), measured))
        mains = queries.household(self._session.logbook).mains_voltage_v
        self.steps.show_mains(f"Your mains are taken to have {mains:.0f} V.")
        self.head.show_rows(rows)
        self.left.setVisible(bool(rows))
        self.work.show_row(self._chosen_row())
        if self._right.currentWidget() is self.steps and measured:
            self._right.setCurrentWidget(self.work)
        elif self._right.currentWidget() is self.work and not measured and self._chosen_row() is None:
            self._right.setCurrentWidget(self.steps)

    def _chosen_row(self) -> RosterRow | None:
        chosen = self.roster.view.chosen_id()
        at = None if chosen is None else self.roster.view.rows.row_of(chosen)
        return None if at is None else self.roster.view.rows.rows[at]

    def _show_chosen(self, _appliance_id: int) -> None:
        self.work.show_row(self._chosen_row())
        if self._right.currentWidget() is not self.sheet:
            self._right.setCurrentWidget(self.work)

    def _show_clicked(self, _at: object) -> None:
        """Show the appliance whose row is clicked, also where it is the chosen one already."""
        row = self._chosen_row()
        if row is not None:
            self._show_chosen(row.appliance.id)

    def _show_measurement(self, measurement_id: int) -> None:
        """Show one measurement everywhere, as the round or the measurement bar wants."""
        context = queries.entry_context(self._session.logbook, measurement_id, self._session.now())
        self.roster.choose(context.appliance.id)
        self.work.show_measurement(measurement_id)
        self._right.setCurrentWidget(self.work)

    def _move_on(self, appliance_id: int, meter_id: int) -> None:
        """Choose the appliance that a free meter goes to, and ask for its start."""
        self.roster.choose(appliance_id)
        self.work.measure.begin_on(meter_id)

    def _explain(self, measurement_id: int) -> None:
        """Show how an estimate came about, in place of the measurement."""
        from hearthload.service.explain import explain  # noqa: PLC0415 (numpy: when asked for)

        told = explain(self._session.logbook, measurement_id, self._session.now())
        self.explanation.show_explanation(told)
        self._right.setCurrentWidget(self.explanation)

    def _leave_explanation(self) -> None:
        self._right.setCurrentWidget(self.work)
        self.work.measure.explain_button.setFocus(Qt.FocusReason.OtherFocusReason)

    def _close_sheet(self, saved: object) -> None:
        rows = self.roster.view.rows.rows
        if isinstance(saved, int):
            self.roster.choose(saved)
        begun = queries.is_measuring_begun(self._session.logbook)
        self._right.setCurrentWidget(self.work if begun else self.steps)
        self.left.setVisible(bool(rows))
        self.roster.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def _want(self, task: str) -> None:
        self.task_wanted.emit(task)

    def _switched(self, path: object) -> None:
        self._just_opened = True
        self._right.setCurrentWidget(self.work)
        if path is not None and self.isVisible():
            self._open()

    # --- building ---

    def _build(self) -> None:
        self.work = WorkPanel(self._session, self)
        self.sheet = ApplianceSheet(self._session, self)
        self.steps = FirstSteps(self)
        self._right = QStackedWidget(self)
        self.explanation = ExplanationPage(self)
        for part in (self.work, self.sheet, self.steps, self.explanation):
            self._right.addWidget(part)
        sides = Sides(self._right, self)
        self.left, self.head, self.roster = sides.left, sides.head, sides.roster

    def _wire(self) -> None:
        self._session.changed.connect(self._changed)
        self._session.switched.connect(self._switched)
        self.roster.chosen.connect(self._show_chosen)
        self.roster.view.clicked.connect(self._show_clicked)
        self.head.add_wanted.connect(self.add_appliance)
        self.work.change_wanted.connect(self.change_appliance)
        self.work.remove_wanted.connect(self.remove_appliance)
        self.work.measurement_wanted.connect(self._show_measurement)
        self.work.explanation_wanted.connect(self._explain)
        self.work.moving_on_wanted.connect(self._move_on)
        self.explanation.left.connect(self._leave_explanation)
        self.sheet.closed.connect(self._close_sheet)
        self.steps.appliance_wanted.connect(self.add_appliance)
        self.steps.task_wanted.connect(self._want)

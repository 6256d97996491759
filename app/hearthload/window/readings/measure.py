"""The measurement bar: where the appliance's measurement stands, and what can be done with it now."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.errors import KnownError, RefusedError
from hearthload.service.answers import MeasurementChoice
from hearthload.service.changes import Changes
from hearthload.service.roster_answers import RosterRow
from hearthload.window.flow import FlowLayout
from hearthload.window.following import Following
from hearthload.window.form import Choice
from hearthload.window.parts import button, label
from hearthload.window.readings.doubt_lines import DoubtLines
from hearthload.window.readings.measure_edits import Details, Subject, perform
from hearthload.window.readings.measure_forms import FORM_WORDS, ActionForm, changed_measurement
from hearthload.window.readings.measure_words import (
    ACTION_WORDS,
    SELDOM,
    Action,
    choice_words,
    enough_words,
    estimate_words,
    joins,
    possible_actions,
    season_words,
    standing_words,
)
from hearthload.window.readings.move_on import MoveOnLine
from hearthload.window.session import Session
from hearthload.window.theme import GRID
from hearthload.window.words import CAUTION_HARD_WIRED, CAUTION_MEDICAL

if TYPE_CHECKING:
    from hearthload.window.readings.note_form import NoteForm


class MeasureBar(Following):
    """Shows one appliance's measurement in words and offers what is possible now.

    `measurement_wanted` carries the number of the measurement to show next, after one was chosen among
    several or was just started or planned; `explanation_wanted` that to be explained. `acted` tells that
    something was done here and the cursor has no place any more.
    """

    measurement_wanted = Signal(int)
    explanation_wanted = Signal(int)
    acted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._appliance_id: int | None = None
        self._measurement_id: int | None = None
        self.open_form: ActionForm | NoteForm | None = None
        self.buttons: dict[Action, QPushButton] = {}
        self.possible: tuple[Action, ...] = ()
        self._build()
        session.changed.connect(self._changed)
        session.switched.connect(self._switched)

    def _build(self) -> None:
        self.standing = label("", "small", self, wrap=True)
        self.says = label("", "", self, wrap=True)
        self.enough = label("", "muted", self, wrap=True)
        self.season = label("", "muted", self, wrap=True)
        self.caution = label("", "muted", self, wrap=True)
        self.doubts = DoubtLines(self._session, self)
        self.move_on = MoveOnLine(self._session, self)
        self.explain_button = button("How this came about", "link", self)
        self.explain_button.clicked.connect(self._explain)
        self.choice: Choice[int] = Choice((), self)
        self.choice.setAccessibleName("which of its measurements to show")
        self.choice.activated.connect(self._chosen)
        top = QHBoxLayout()
        top.setSpacing(GRID)
        top.addWidget(self.standing, 1)
        top.addWidget(self.choice)
        self._row = QWidget(self)
        flow = FlowLayout(self._row)
        for action, words in ACTION_WORDS.items():
            made = button(words.label, "link" if action in SELDOM else "", self)
            made.setToolTip(words.purpose)
            made.setAccessibleDescription(words.purpose)
            made.clicked.connect(partial(self._begin, action))
            self.buttons[action] = made
            flow.addWidget(made)
        flow.addWidget(self.explain_button)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(GRID // 2)
        page.addLayout(top)
        for part in (self.says, self.enough, self.season, self.move_on, self.caution, self.doubts):
            page.addWidget(part)
        page.addWidget(self._row)
        self._page = page

    def show_appliance(self, appliance_id: int | None) -> None:
        """Show the measurement that speaks for an appliance."""
        self._show(appliance_id, None)

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show one measurement of whichever appliance it belongs to."""
        if measurement_id is None:
            self._show(None, None)
            return
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        context = queries.entry_context(self._session.logbook, measurement_id, self._session.now())
        self._show(context.appliance.id, measurement_id)

    def _show(self, appliance_id: int | None, measurement_id: int | None) -> None:
        if (appliance_id, measurement_id) != (self._appliance_id, self._measurement_id):
            self._close_form()
        self._appliance_id, self._measurement_id = appliance_id, measurement_id
        self.refresh()

    def refresh(self) -> None:
        """Ask again and show what is so now."""
        if not self.isVisible():
            self.stale = True
            return
        self.stale = False
        row, choices = self._asked()
        shown = next((c for c in choices if c.measurement.id == self._measurement_id), None)
        if shown is None:
            speaking = None if row is None or row.measurement is None else row.measurement.id
            shown = next((c for c in choices if c.measurement.id == speaking), None)
        self._measurement_id = None if shown is None else shown.measurement.id
        self._show_words(row, shown)
        self._show_choices(choices, shown)
        self.doubts.show_measurement(self._measurement_id)
        self.move_on.show_choice(shown if self.open_form is None else None)
        self._show_actions(row, choices, shown)

    def begin(self, action: Action) -> None:
        """Open the inline form of an action, or do it at once when it needs no form."""
        if self._appliance_id is None:
            return
        subject = Subject(self._appliance_id, self._measurement_id)
        if action in {Action.START, Action.PLAN} and Action.DROP_PLAN not in self.possible:
            subject = Subject(self._appliance_id)
        self._close_form()
        if action is Action.DESCRIBE:
            self._open_note()
            return
        if action not in FORM_WORDS:
            with self._session.refusals_to(self._say_refusal):
                changes = perform(self._session, action, subject, Details(self._session.now()))
            if changes is not None:
                self._follow(changes)
            return
        self._open(action, subject)

    def begin_on(self, meter_id: int) -> None:
        """Open the start form with this meter chosen."""
        self.begin(Action.START)
        if isinstance(self.open_form, ActionForm) and self.open_form.meter is not None:
            self.open_form.meter.choose(meter_id)

    def _asked(self) -> tuple[RosterRow | None, Sequence[MeasurementChoice]]:
        """Ask for the appliance's roster row and measurements; nothing when it is gone."""
        if self._appliance_id is None or not self._session.is_open:
            return None, ()
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        logbook = self._session.logbook
        if all(appliance.id != self._appliance_id for appliance in queries.appliances(logbook)):
            return None, ()
        row = queries.roster_row(logbook, self._appliance_id, self._session.now())
        return row, queries.measurements_of(logbook, self._appliance_id)

    def _show_words(self, row: RosterRow | None, shown: MeasurementChoice | None) -> None:
        now = self._session.now()
        estimate = None
        if row is not None and shown is not None and row.measurement is not None:
            estimate = row.estimate if row.measurement.id == shown.measurement.id else None
        if shown is not None:
            standing = standing_words(shown.measurement, shown.meter_name, shown.readings, now)
        elif row is None:
            standing = "Choose an appliance in the list to see its measurement."
        else:
            standing = "Not measured by a plug-in meter" if row.appliance.hard_wired else "Not yet measured"
        running = shown is not None and shown.measurement.state is MeasurementState.RUNNING
        caution = ""
        if row is not None and row.appliance.hard_wired:
            caution = CAUTION_HARD_WIRED
        elif row is not None and row.appliance.medical and not running:
            caution = CAUTION_MEDICAL
        says = estimate_words(estimate, joined=row is not None and row.joined)
        self.explain_button.setVisible(bool(says))
        enough = enough_words(estimate) if running or says else ""
        pairs = (
            (self.standing, standing),
            (self.says, says),
            (self.enough, enough),
            (self.season, season_words(estimate)),
            (self.caution, caution),
        )
        for where, words in pairs:
            where.setText(words)
            where.setVisible(bool(words))

    def _show_choices(self, choices: Sequence[MeasurementChoice], shown: MeasurementChoice | None) -> None:
        self.choice.setVisible(len(choices) > 1)
        self.choice.set_choices([(choice.measurement.id, choice_words(choice)) for choice in choices])
        if shown is not None:
            self.choice.choose(shown.measurement.id)

    def _show_actions(
        self, row: RosterRow | None, choices: Sequence[MeasurementChoice], shown: MeasurementChoice | None
    ) -> None:
        states = [choice.measurement.state for choice in choices]
        self.possible = ()
        if row is not None:
            self.possible = possible_actions(
                None if shown is None else shown.measurement.state,
                hard_wired=row.appliance.hard_wired,
                running_elsewhere=MeasurementState.RUNNING in states,
                joins=joins(choices, shown),
            )
        for action, made in self.buttons.items():
            made.setVisible(action in self.possible)
        shown_at_all = bool(self.possible) or bool(self.says.text())
        self._row.setVisible(shown_at_all and self.open_form is None)

    def _open(self, action: Action, subject: Subject) -> None:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        lead = self.enough.text() if action is Action.FINISH else ""
        form = ActionForm(self._session, action, subject, queries.free_meters(self._session.logbook), lead)
        self._show_form(form)
        self.enough.setVisible(bool(self.enough.text()) and action is not Action.FINISH)

    def _open_note(self) -> None:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)
        from hearthload.window.readings.note_form import NoteForm  # noqa: PLC0415 (when first needed)

        if self._measurement_id is not None:
            context = queries.entry_context(self._session.logbook, self._measurement_id, self._session.now())
            self._show_form(NoteForm(self._session, context.measurement))

    def _show_form(self, form: ActionForm | NoteForm) -> None:
        form.done.connect(self._done)
        form.left.connect(self._left)
        self.open_form = form
        self._page.addWidget(form)
        self._row.hide()
        form.show()
        form.begin()

    def _close_form(self) -> None:
        if self.open_form is not None:
            self.open_form.hide()
            self.open_form.deleteLater()
            self.open_form = None

    def _left(self) -> None:
        self._close_form()
        self.refresh()
        self.acted.emit()

    def _done(self, changes: Changes) -> None:
        self._close_form()
        self._follow(changes)

    def _follow(self, changes: Changes) -> None:
        """Show the measurement that an action made or touched."""
        made = changed_measurement(changes)
        self._measurement_id = made
        self.refresh()
        if self._measurement_id is not None:
            self.measurement_wanted.emit(self._measurement_id)
        self.acted.emit()

    def _explain(self, _checked: bool = False) -> None:
        if self._measurement_id is not None:
            self.explanation_wanted.emit(self._measurement_id)

    def _say_refusal(self, error: RefusedError) -> None:
        """Say what an action without a form was refused for where everybody looks."""
        self._session.troubled.emit(KnownError(str(error)))

    def _begin(self, action: Action, _checked: bool = False) -> None:
        self.begin(action)

    def _chosen(self, _index: int) -> None:
        self.measurement_wanted.emit(self.choice.value)

    def _changed(self, changes: Changes) -> None:
        """Catch up at once; with a reading alone, once roster and charts are painted."""
        if changes.is_reading:
            self.follow_later()
        else:
            self.refresh()

    def _switched(self, _path: object) -> None:
        self._show(None, None)

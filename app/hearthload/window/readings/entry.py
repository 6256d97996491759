"""The reading-entry panel: a morning's numbers by keyboard alone, each judged while it is typed."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, EntryContext, Fix, FixAction, RoundStop, Weight
from hearthload.service.changes import Changes
from hearthload.window.readings.entry_confirm import Confirmation
from hearthload.window.readings.entry_face import EntryFace
from hearthload.window.readings.entry_fields import Drafts, numbered
from hearthload.window.readings.entry_fixes import apply_fix
from hearthload.window.readings.entry_judge import (
    NO_COUNTER,
    Judged,
    is_new_run,
    judge,
    settled_only,
)
from hearthload.window.readings.entry_round import Round
from hearthload.window.readings.entry_words import counter_words
from hearthload.window.readings.measure_edits import Subject
from hearthload.window.readings.measure_forms import ActionForm
from hearthload.window.readings.measure_words import Action
from hearthload.window.session import Session

PREVIEW_DELAY_MS = 80
SETTLE_MS = 350
"""A half-typed number is not complained about before the fingers rest for so long or the field is left."""

MOST_FIXES = 9


class EntryPanel(EntryFace):
    """Takes one reading after another; `measurement_wanted` tells where the morning round goes next."""

    measurement_wanted = Signal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._measurement_id: int | None = None
        self._context: EntryContext | None = None
        self._drafts = Drafts()
        self._cleared: dict[str, str] = {}
        self._round: Round | None = None
        self._fixes: tuple[tuple[Complaint, Fix], ...] = ()
        self._shown: tuple[Complaint, ...] = ()
        self._settled = True
        self._saving = False
        self._confirmation = Confirmation(self.save_button)
        self._wire()
        self.refresh()

    def _wire(self) -> None:
        self._look_timer, self._settle_timer = QTimer(self), QTimer(self)
        for timer, delay, slot in (
            (self._look_timer, PREVIEW_DELAY_MS, self._look),
            (self._settle_timer, SETTLE_MS, self._settle),
        ):
            timer.setSingleShot(True)
            timer.setInterval(delay)
            timer.timeout.connect(slot)
        self.form.typed.connect(self._typed)
        self.form.moved.connect(self._moved)
        self.form.entered.connect(self._entered)
        self.form.left.connect(self.clear)
        self.form.fix_wanted.connect(lambda wanted: self._fix(wanted.complaint, wanted.fix))
        self.save_button.clicked.connect(self._save_pressed)
        self.skip_button.clicked.connect(self.skip)
        for number in range(1, MOST_FIXES + 1):
            shortcut = QShortcut(QKeySequence(f"Alt+{number}"), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(partial(self._fix_numbered, number))
        self._session.changed.connect(self._changed)
        self._session.refused.connect(self._refused)
        self._session.switched.connect(self._switched)

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show the form for a measurement; what was typed for another is kept until she comes back."""
        if measurement_id == self._measurement_id:
            return
        self._drafts.keep(self._measurement_id, self.form.texts())
        self.close_run_form()
        self._measurement_id = measurement_id
        self._cleared = {}
        self._put_texts({} if measurement_id is None else self._drafts.get(measurement_id, {}))
        self.show_result("")
        self.refresh()

    def begin_round(self) -> None:
        """Begin the morning round at the first running measurement without a reading today."""
        self._round = Round(self._stops())
        first = self._round.first()
        if first is None:
            self._session.said.emit(self._round.done_words())
            self._end_round()
            if not self.form.texts():
                self._complain([])
            self.form.focus_field("energy_kwh")
            return
        self._go_to(first.measurement_id)

    def new_day(self) -> None:
        """Begin another morning: yesterday's words go, and the round begins where nothing is half typed."""
        self.round_words.setText("")
        self.show_result("")
        self.refresh()
        if not self.form.texts() and any(not stop.read_today for stop in self._stops()):
            self.begin_round()

    def skip(self) -> None:
        """Leave this stop out of the round and go to the next; what was typed is kept."""
        if self._round is not None and self._measurement_id is not None:
            self._round = self._round.skipping(self._measurement_id)
            self._go_on()

    def clear(self) -> None:
        """Empty the form; once more brings back what was cleared."""
        texts = self.form.texts()
        if not texts and not self._cleared:
            return
        self._put_texts(self._cleared if not texts else {})
        self._cleared = texts
        self._settle()
        if texts:
            self.show_result("Cleared. Esc once more brings it back.")
        self.form.focus_field("energy_kwh")

    def refresh(self) -> None:
        """Ask again for what stands beside the fields, and judge what is typed."""
        if self._measurement_id is not None and not self._page_is_shown():
            self.stale = True
            return
        self.stale = False
        self._context = self._asked()
        running = self.show_who(self._context)
        self.form.show_context(self._context if running else None, self._session.now())
        self._show_round()
        self._look()

    def _page_is_shown(self) -> bool:
        """Tell whether the page is in sight; the panel itself hides while nothing is measured."""
        page = self.parentWidget()
        return page is not None and page.isVisible()

    def _asked(self) -> EntryContext | None:
        if self._measurement_id is None or not self._session.is_open:
            return None
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        at = self.form.moment(self._session.now())
        try:
            return queries.entry_context(self._session.logbook, self._measurement_id, at)
        except RefusedError:  # its measurement was taken back by undo
            return None

    # --- judging ---

    def _typed(self) -> None:
        self._settled = False
        self._cleared = {}
        if self._round is None:
            self.round_words.setText("")
        self._show_moment()
        self._look_timer.start()
        self._settle_timer.start()

    def _show_moment(self) -> None:
        """Say which moment the typed time means; what is expected goes by it."""
        now = self._session.now()
        before = self.form.shown_moment
        self.form.show_moment(now)
        if self._context is not None and self.form.shown_moment != before:
            self._context = self._asked()
            self.form.show_context(self._context, now)

    def _put_texts(self, texts: dict[str, str]) -> None:
        self.form.set_texts(texts)
        self._show_moment()

    def _moved(self) -> None:
        """Judge what was typed once its field is left; a click that left it did not see the answer."""
        before = self._shown
        self._settle()
        if self._shown != before:
            self._confirmation.appeared()

    def _settle(self) -> None:
        self._settled = True
        self._look()

    def _look(self) -> None:
        """Show what the typed values would give, and complain about what has settled."""
        self._look_timer.stop()
        judged = self._judged()
        if judged is not None:
            self._show_judged(judged)

    def _judged(self) -> Judged | None:
        if self._context is None or self._context.measurement.state is not MeasurementState.RUNNING:
            return None
        return judge(self._session.logbook, self._context, self.form.texts(), self._session.now())

    def _show_judged(self, judged: Judged) -> None:
        held = "" if self._settled else self.form.focused_field()
        complaints = settled_only(judged.complaints, held, self._shown)
        self._complain(complaints)
        if judged.words or self.form.texts():
            self.show_result("" if judged.stopped else judged.words)

    def _complain(self, complaints: list[Complaint]) -> None:
        self._shown = tuple(complaints)
        marked, self._fixes = numbered(complaints)
        self.show_complaints(marked)

    # --- saving ---

    def _entered(self, field: str) -> None:
        """Enter goes from the counter to the hours, and saves from everywhere else."""
        if field == "energy_kwh" and self.form.energy.text().strip():
            self.form.focus_field("elapsed_h")
            self._settle()
            return
        self._save(confirmed=False)

    def _save_pressed(self) -> None:
        self._save(confirmed=self._confirmation.given)

    def _save(self, *, confirmed: bool) -> None:
        """Save what is typed; a doubt not yet confirmed takes the cursor to "Save anyway" first."""
        before = self._shown
        self._settled = True
        judged = self._judged()
        if judged is None:
            return
        self._show_judged(judged)
        if judged.draft is None and not judged.complaints:
            self._complain([NO_COUNTER])
        if judged.stopped or judged.draft is None:
            self.form.focus_field(self._shown[0].field if self._shown else "energy_kwh")
        elif judged.doubtful and not (confirmed and set(judged.complaints) <= set(before)):
            self._confirmation.seen()
            self.save_button.setFocus(Qt.FocusReason.TabFocusReason)
        else:
            self._store(judged.draft)

    def _store(self, draft: ReadingDraft) -> None:
        from hearthload.service.edits.readings import add_reading  # noqa: PLC0415 (after first paint)

        measurement_id, context = self._measurement_id, self._context
        if measurement_id is None or context is None:
            return
        self._saving = True
        changes = self._session.do(add_reading, measurement_id, draft)
        self._saving = False
        if changes is None:
            return
        step = None if context.meter is None else context.meter.energy_step_kwh
        self._drafts.pop(measurement_id, None)
        self._put_texts({})
        self._settled = True
        self._complain([])
        self.follow_later()
        self.show_result(f"Saved {counter_words(draft.energy_kwh, step)} kWh for {context.appliance.name}.")
        self._go_on()

    def _refused(self, error: RefusedError) -> None:
        """Say beside its field what the edit refused; the typed texts stay."""
        if self._saving:
            self._complain([Complaint(error.field, error.code, Weight.STOPS, str(error))])
            self.form.focus_field(error.field)

    # --- fixes ---

    def _fix_numbered(self, number: int) -> None:
        if number <= len(self._fixes) and self.run_form is None:
            self._fix(*self._fixes[number - 1])

    def _fix(self, complaint: Complaint, fix: Fix) -> None:
        if is_new_run(fix.action):
            self._open_run_form(Action.RESET if fix.action is FixAction.METER_RESET else Action.SWAP)
            return
        if apply_fix(self._session, self.form, complaint, fix, self._context):
            self._settle()

    def _open_run_form(self, action: Action) -> None:
        """Open the inline reset or swap form with the typed values as the new count's first."""
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        context = self._context
        if context is None:
            return
        subject = Subject(context.appliance.id, context.measurement.id)
        form = ActionForm(self._session, action, subject, queries.free_meters(self._session.logbook))
        form.prefill(self.form.texts())
        form.done.connect(self._run_begun)
        form.left.connect(self._run_left)
        self.open_run_form(form)
        self.refresh()
        form.begin()

    def _run_begun(self, _changes: Changes) -> None:
        """Go on after a reset or swap: values saved as its first reading leave the form, others stay."""
        form = self.run_form
        used = form is not None and not form.is_zero
        self.close_run_form()
        if used and self._measurement_id is not None:
            self._drafts.pop(self._measurement_id, None)
            self._put_texts({})
        self.refresh()
        if used:
            self.show_result("Noted, with what the display showed as the first reading of the new count.")
            self._go_on()
        else:
            self._settle()
            self.form.focus_field("energy_kwh")

    def _run_left(self) -> None:
        self.close_run_form()
        self.refresh()
        self.form.focus_field("energy_kwh")

    # --- the round ---

    def _stops(self) -> tuple[RoundStop, ...]:
        if not self._session.is_open:
            return ()
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        return queries.morning_round(self._session.logbook, self._session.now())

    def _go_on(self) -> None:
        """Go to the next stop of the round, or stay where there is no round."""
        if self._round is None:
            self.form.focus_field("energy_kwh")
            return
        self._round = self._round.renewed(self._stops())
        upcoming = self._round.next_after(self._measurement_id)
        if upcoming is None:
            self._end_round()
            self.form.focus_field("energy_kwh")
        else:
            self._go_to(upcoming.measurement_id)

    def _go_to(self, measurement_id: int) -> None:
        said = self.result.text() if self.result.text().startswith("Saved") else ""
        self.show_measurement(measurement_id)
        if said and not self.form.texts():
            self.show_result(said)
        self.measurement_wanted.emit(measurement_id)
        self._show_round()
        self.form.focus_field("energy_kwh")

    def _end_round(self) -> None:
        ended, self._round = self._round, None
        self._show_round()
        self.round_words.setText("" if ended is None else ended.done_words())

    def _show_round(self) -> None:
        under_way = self._round is not None
        words = "" if self._round is None else self._round.place_words(self._measurement_id)
        if under_way or not self.round_words.text().startswith("The round is done"):
            self.round_words.setText(words)
        self.skip_button.setVisible(under_way and bool(words))

    # --- news ---

    def _changed(self, changes: Changes) -> None:
        if self._round is not None:
            self._round = self._round.renewed(self._stops())
        elif not self._saving:
            self.round_words.setText("")
        if not self._saving and not self.form.texts():
            self.show_result("")
        if self._saving:  # what was typed is saved: it is judged no more, and cleared next
            return
        if changes.is_reading and not self.form.texts():
            self.follow_later()
        else:
            self.refresh()

    def _switched(self, _path: object) -> None:
        """Another logbook: its numbers are other things, so drafts go with the one before."""
        self.close_run_form()
        self._measurement_id, self._round = None, None
        self._drafts, self._cleared = Drafts(), {}
        self._put_texts({})
        self.round_words.setText("")
        self.refresh()

"""The inline form of an action: which meter, what its display shows, when; no box stops the work."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from hearthload.domain.meter import Meter
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, Weight
from hearthload.service.changes import Changes
from hearthload.window.form import Choice, Form
from hearthload.window.parts import button, label
from hearthload.window.readings.entry_fields import Entry, read_entry
from hearthload.window.readings.entry_words import clock_words, day_words
from hearthload.window.readings.measure_edits import Details, Subject, perform
from hearthload.window.readings.measure_words import Action
from hearthload.window.session import Session
from hearthload.window.theme import GRID


@dataclass(frozen=True, slots=True)
class FormWords:
    """An inline form's heading, what it is for, and the word on its button."""

    heading: str
    lead: str
    button: str


FORM_WORDS: Final = {
    Action.START: FormWords(
        "Start the measurement",
        "Plug the meter in between socket and appliance. Best at the time of day at which you will read it.",
        "Start",
    ),
    Action.RESET: FormWords(
        "The meter was reset",
        "What was read before stays; the counters begin anew from here.",
        "Note the reset",
    ),
    Action.SWAP: FormWords(
        "Swap the meter",
        "What was read before stays; another meter goes on from here.",
        "Note the swap",
    ),
    Action.PLAN: FormWords("Plan the measurement", "Which meter will come to this appliance?", "Plan"),
    Action.FINISH: FormWords("Finish the measurement", "", "Finish"),
}

NONE_FREE = "Every meter is on an appliance now: finish one of those measurements or add a meter."

NONE_AT_ALL = "There is no meter yet: Ctrl+Shift+M adds one."

ZERO, SHOWS = "zero", "shows"
DISPLAY_CHOICES = ((ZERO, "was just set to zero"), (SHOWS, "shows these values:"))


class ActionForm(QFrame):
    """The inline form of one action; `done` carries the `Changes` of its edit, `left` tells of Cancel."""

    done = Signal(object)
    left = Signal()

    def __init__(
        self, session: Session, action: Action, subject: Subject, meters: Sequence[Meter], lead: str = ""
    ) -> None:
        super().__init__()
        self.setProperty("look", "sheet")
        self.action = action
        self._session, self._subject, self._meters = session, subject, meters
        self._doing = False
        self._asked: ReadingDraft | None = None
        words = FORM_WORDS[action]
        self.form = Form(self, field_width=200)
        self.meter: Choice[int | None] | None = None
        self.display: Choice[str] | None = None
        page = QVBoxLayout(self)
        page.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID * 2)
        page.setSpacing(GRID)
        page.addWidget(label(words.heading, "lead", self))
        page.addWidget(label(lead or words.lead, "muted", self, wrap=True))
        page.addWidget(self.form)
        self._add_rows()
        page.addLayout(self._add_buttons(words.button))
        self.form.accepted.connect(self.submit)
        self.form.left.connect(self.left)
        session.refused.connect(self._refused)
        self._show_moment()

    def prefill(self, texts: Mapping[str, str]) -> None:
        """Take over what was typed in the reading form: the new count's first values, and since when."""
        if self.display is None:
            return
        self.display.choose(SHOWS)
        for name in ("energy_kwh", "elapsed_h", "taken_at"):
            self.form.rows[name].editor.setText(texts.get(name, ""))  # type: ignore[attr-defined]
        self._display_chosen()
        self._show_moment()

    def begin(self) -> None:
        """Put the cursor into the first field."""
        first = next(iter(self.form.rows.values()), None)
        if first is not None:
            first.editor.setFocus(Qt.FocusReason.TabFocusReason)

    def submit(self) -> None:
        """Read the fields and do the edit; what cannot be read is said under its field."""
        entry = self._read()
        complaints = list(entry.complaints)
        if self.meter is not None and self.meter.value is None and self.action is not Action.PLAN:
            complaints.append(Complaint("meter_id", "no_meter", Weight.STOPS, "It needs a free meter."))
        self.form.show_complaints(complaints)
        if complaints or entry.draft is None:
            self.form.focus_first_complaint()
            return
        zero = self.display is not None and self.is_zero
        if not zero and self._asks_back(entry.draft):
            return
        meter_id = None if self.meter is None else self.meter.value
        details = Details(entry.draft.taken_at, meter_id, entry.draft, exact_zero=zero)
        self._doing = True
        changes = perform(self._session, self.action, self._subject, details)
        self._doing = False
        if changes is not None:
            self.done.emit(changes)

    def _asks_back(self, draft: ReadingDraft) -> bool:
        """Ask once where the hours say that there was no reset; pressed again it is noted all the same."""
        measurement_id = self._subject.measurement_id
        if self.action is not Action.RESET or measurement_id is None or draft == self._asked:
            return False
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        complaint = queries.reset_complaint(self._session.logbook, measurement_id, draft)
        if complaint is None:
            return False
        self._asked = draft
        self.form.show_complaints((complaint,))
        return True

    @property
    def _none_free(self) -> bool:
        needs = self.action in {Action.START, Action.SWAP}
        return needs and not self._meters

    @property
    def is_zero(self) -> bool:
        """Tell whether the display was set to zero, rather than showing values."""
        return self.display is None or self.display.value == ZERO

    def _add_rows(self) -> None:
        if self.action in {Action.START, Action.SWAP, Action.PLAN}:
            none_free = self._none_free
            self.meter = self.form.add_choice(
                "meter_id", "Meter", self._meter_choices(), hint=self._why_none() if none_free else ""
            )
        if self.action in {Action.START, Action.SWAP, Action.RESET}:
            self.display = self.form.add_choice("display", "Its display", DISPLAY_CHOICES)
            self.form.add_line("energy_kwh", "Counter", unit="kWh")
            self.form.add_line("elapsed_h", "Elapsed", unit="hours, if the meter shows them")
            self.display.currentIndexChanged.connect(self._display_chosen)
            self._display_chosen()
        if self.action is not Action.PLAN:
            line = self.form.add_line("taken_at", "When")
            line.setPlaceholderText("now")
            line.textEdited.connect(self._show_moment)

    def _why_none(self) -> str:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        return NONE_FREE if queries.count_meters(self._session.logbook) else NONE_AT_ALL

    def _meter_choices(self) -> list[tuple[int | None, str]]:
        choices: list[tuple[int | None, str]] = [(meter.id, meter.name) for meter in self._meters]
        if self.action is Action.PLAN or not choices:
            none = "not yet decided" if self.action is Action.PLAN else "no meter is free"
            choices.append((None, none))
        return choices

    def _add_buttons(self, words: str) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(GRID)
        self.accept_button = button(words, "primary", self)
        self.cancel_button = button("Cancel", "quiet", self)
        self.accept_button.setEnabled(not self._none_free)
        self.accept_button.clicked.connect(self.submit)
        self.cancel_button.clicked.connect(self.left)
        row.addWidget(self.accept_button)
        row.addWidget(self.cancel_button)
        row.addStretch(1)
        return row

    def _read(self) -> Entry:
        """Read the fields; a display set to zero shows zero kWh and zero hours."""
        texts = {
            name: row.editor.text()  # type: ignore[attr-defined]
            for name, row in self.form.rows.items()
            if name in {"energy_kwh", "elapsed_h", "taken_at"}
        }
        if self.is_zero:
            texts |= {"energy_kwh": "0", "elapsed_h": "0"}
        entry = read_entry(texts, self._session.now())
        if not texts["energy_kwh"].strip() and not entry.complaints:
            missing = Complaint("energy_kwh", "empty", Weight.STOPS, "Type the kWh that the display shows.")
            return Entry(None, (missing,))
        return entry

    def _display_chosen(self, _index: int = 0) -> None:
        shows = self.display is not None and self.display.value == SHOWS
        for name in ("energy_kwh", "elapsed_h"):
            self.form.rows[name].set_visible(shows)

    def _show_moment(self, _text: str = "") -> None:
        row = self.form.rows.get("taken_at")
        if row is None:
            return
        now = self._session.now()
        entry = read_entry({"energy_kwh": "0", "taken_at": row.editor.text()}, now)  # type: ignore[attr-defined]
        moment = None if entry.draft is None else entry.draft.taken_at
        row.beside.setText("" if moment is None else f"{day_words(moment, now)}, {clock_words(moment)}")
        if moment is not None:
            row.complaints.show_complaints(())

    def _refused(self, error: RefusedError) -> None:
        if self._doing:
            first = next(iter(self.form.rows), "")
            field = error.field if error.field in self.form.rows else first
            self.form.show_complaints((Complaint(field, error.code, Weight.STOPS, str(error)),))
            self.form.focus_first_complaint()


def changed_measurement(changes: Changes) -> int | None:
    """Give the measurement that an edit made or touched, when it is one."""
    if len(changes.measurement_ids) == 1:
        return next(iter(changes.measurement_ids))
    return changes.created_id

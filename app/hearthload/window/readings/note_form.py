"""The inline form about a whole measurement: how warm the room was, and a note."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from hearthload.domain.measurement import Measurement
from hearthload.domain.typed import TypedError, parse_number
from hearthload.errors import RefusedError
from hearthload.window.form import Form
from hearthload.window.parts import button, label
from hearthload.window.readings.entry_words import plain_words
from hearthload.window.session import Session
from hearthload.window.theme import GRID

HEADING = "Room and note"
LEAD = (
    "What an appliance takes goes by the season and the room. Temperatures typed with readings count before "
    "this one."
)


class NoteForm(QFrame):
    """Describes one measurement; `done` carries the `Changes` of its edit, `left` tells of Cancel."""

    done = Signal(object)
    left = Signal()

    def __init__(self, session: Session, measurement: Measurement) -> None:
        super().__init__()
        self.setProperty("look", "sheet")
        self._session, self._measurement = session, measurement
        self.form = Form(self, field_width=200)
        self.warmth = self.form.add_line("room_temperature_c", "Room", unit="°C, as it usually was")
        self.note = self.form.add_line("note", "Note")
        stated = measurement.room_temperature_c
        self.warmth.setText("" if stated is None else plain_words(stated))
        self.note.setText(measurement.note)
        self.accept_button = button("Save", "primary", self)
        self.cancel_button = button("Cancel", "quiet", self)
        self._lay_out()
        self.accept_button.clicked.connect(self.submit)
        self.cancel_button.clicked.connect(self.left)
        self.form.accepted.connect(self.submit)
        self.form.left.connect(self.left)

    def begin(self) -> None:
        """Put the cursor into the first field."""
        self.warmth.setFocus(Qt.FocusReason.TabFocusReason)
        self.warmth.selectAll()

    def submit(self) -> None:
        """Save; what cannot be read is said under its field."""
        from hearthload.service.edits.measurements import (  # noqa: PLC0415 (after first paint)
            describe_measurement,
        )

        text, warmth = self.warmth.text().strip(), None
        try:
            warmth = parse_number(text, unit="°C", allow_negative=True) if text else None
        except TypedError as error:
            self.form.rows["room_temperature_c"].complain(str(error), error.code)
            self.form.focus_first_complaint()
            return
        with self._session.refusals_to(self._refused):
            changes = self._session.do(
                describe_measurement, self._measurement.id, room_temperature_c=warmth, note=self.note.text()
            )
        if changes is not None:
            self.done.emit(changes)

    def _refused(self, error: RefusedError) -> None:
        field = error.field if error.field in self.form.rows else "note"
        self.form.rows[field].complain(str(error), error.code)
        self.form.focus_first_complaint()

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.accept_button)
        row.addWidget(self.cancel_button)
        row.addStretch(1)
        page = QVBoxLayout(self)
        page.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID * 2)
        page.setSpacing(GRID)
        page.addWidget(label(HEADING, "lead", self))
        page.addWidget(label(LEAD, "muted", self, wrap=True))
        page.addWidget(self.form)
        page.addLayout(row)

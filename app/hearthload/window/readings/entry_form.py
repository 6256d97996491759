"""The form of one reading: the two counters and the time, each with what stands beside it, and the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QBoxLayout, QLineEdit, QWidget

from hearthload.domain.typed import TypedError, parse_moment
from hearthload.service.answers import Complaint, EntryContext
from hearthload.window.form import Form
from hearthload.window.readings.entry_spots import SpotGrid
from hearthload.window.readings.entry_words import beside_energy, beside_hours, clock_words, day_words
from hearthload.window.theme import GRID

FIELD_WIDTH = 112
SIDE_BY_SIDE = 1080
"""From this width on the optional values stand at the right of the counters instead of below."""

PRIMARY = ("energy_kwh", "elapsed_h", "taken_at")


class EntryForm(QWidget):
    """All fields of a reading as raw texts.

    `typed` tells that a text changed, `entered` carries the name of the field in which Enter was pressed,
    `left` tells of Esc, `moved` that the cursor went to another field, `fix_wanted` carries a `FixWanted`.
    """

    typed = Signal()
    entered = Signal(str)
    left = Signal()
    moved = Signal()
    fix_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.form = Form(self, field_width=FIELD_WIDTH, shares=(0, 1))
        self.energy = self.form.add_line("energy_kwh", "Counter", unit="kWh")
        self.hours = self.form.add_line("elapsed_h", "Elapsed", unit="hours")
        self.when = self.form.add_line("taken_at", "Read at")
        self.when.setPlaceholderText("now")
        self.shown_moment = ""
        self.spots = SpotGrid(self)
        self._body = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._body.setContentsMargins(0, 0, 0, 0)
        self._body.setSpacing(GRID)
        self._body.addWidget(self.form, 5, Qt.AlignmentFlag.AlignTop)
        self._body.addWidget(self.spots, 6, Qt.AlignmentFlag.AlignTop)
        self._wire()

    def _wire(self) -> None:
        for line in (self.energy, self.hours, self.when):
            line.textEdited.connect(self._typed)
            line.editingFinished.connect(self.moved)
        for row in self.form.rows.values():
            row.complaints.fix_wanted.connect(self.fix_wanted)
        self.spots.typed.connect(self.typed)
        self.spots.complaints.fix_wanted.connect(self.fix_wanted)
        self.form.accepted.connect(self._accepted)
        self.form.left.connect(self.left)

    def texts(self) -> dict[str, str]:
        """Give the raw texts, empty ones left out."""
        lines = dict(zip(PRIMARY, (self.energy, self.hours, self.when), strict=True))
        return {name: line.text() for name, line in lines.items() if line.text()} | self.spots.texts()

    def set_texts(self, texts: Mapping[str, str]) -> None:
        """Put raw texts back."""
        for name, line in zip(PRIMARY, (self.energy, self.hours, self.when), strict=True):
            line.setText(texts.get(name, ""))
        self.spots.set_texts(texts)

    def line(self, field: str) -> QLineEdit | None:
        """Give the line of a field, None when it has none."""
        lines = dict(zip(PRIMARY, (self.energy, self.hours, self.when), strict=True)) | self.spots.lines
        return lines.get(field)

    def focused_field(self) -> str:
        """Give the name of the field that has the cursor, empty when none has."""
        focus = QApplication.focusWidget()
        names = (*PRIMARY, *self.spots.lines)
        return next((name for name in names if focus is not None and self.line(name) is focus), "")

    def focus_field(self, field: str) -> None:
        """Put the cursor into a field, all of its text chosen."""
        line = self.line(field) or self.energy
        line.setFocus(Qt.FocusReason.TabFocusReason)
        line.selectAll()

    def show_context(self, context: EntryContext | None, now: datetime) -> None:
        """Show last values and expected ranges beside the fields."""
        beside = ("kWh", "hours") if context is None else (beside_energy(context, now), beside_hours(context))
        for name, words in zip(PRIMARY, beside, strict=False):
            row = self.form.rows[name]
            row.beside.setText(words)
            row.editor.setAccessibleDescription(words)
        self.show_moment(now)
        self.spots.show_context(context)

    def moment(self, now: datetime) -> datetime:
        """Give the moment that the time field means, now while it cannot be read or lies ahead."""
        try:
            return min(parse_moment(self.when.text(), now), now)
        except TypedError:
            return now

    def show_moment(self, now: datetime) -> None:
        """Say beside the time field which moment is meant."""
        try:
            moment = parse_moment(self.when.text(), now)
            words = f"{day_words(moment, now)}, {clock_words(moment)}"
        except TypedError:
            words = ""
        self.form.rows["taken_at"].beside.setText(words)
        self.shown_moment = words

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say each complaint under its field."""
        spots = [complaint for complaint in complaints if complaint.field in self.spots.lines]
        self.form.show_complaints([complaint for complaint in complaints if complaint not in spots])
        self.spots.show_complaints(spots)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter accepts the field, Esc leaves the form; the counters' own rows have told already."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._accepted()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand side by side where there is room."""
        super().resizeEvent(event)
        wide = self.width() >= SIDE_BY_SIDE
        direction = QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        if self._body.direction() != direction:
            self._body.setDirection(direction)
            self._body.setSpacing(GRID * 4 if wide else GRID)

    def _accepted(self) -> None:
        self.entered.emit(self.focused_field())

    def _typed(self, _text: str) -> None:
        self.typed.emit()

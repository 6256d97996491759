"""The one maker of labelled rows: label, field, unit, what stands beside it, and complaints under it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from hearthload.service.answers import Complaint, Weight
from hearthload.window.choice import Choice
from hearthload.window.complaints import ComplaintLines
from hearthload.window.parts import label
from hearthload.window.theme import GRID

__all__ = ["Choice", "Form", "FormRow"]

Value = TypeVar("Value")

LEAST_FIELD_PX = 14 * GRID
"""No field gets narrower than this."""


@dataclass(slots=True)
class FormRow:
    """One row of a form: its field, what stands beside it, the help and the complaints under it."""

    name: str
    caption: QLabel
    editor: QWidget
    beside: QLabel
    hint: QLabel
    complaints: ComplaintLines
    across: bool = False
    """Whether the field takes the width of what else would stand beside it."""

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say these complaints under the field and mark the field."""
        self.complaints.show_complaints(complaints)
        stops = any(complaint.weight is Weight.STOPS for complaint in complaints)
        mark = "stops" if stops else ""
        if (self.editor.property("complaint") or "") != mark:
            self.editor.setProperty("complaint", mark)
            self.editor.style().unpolish(self.editor)
            self.editor.style().polish(self.editor)

    def complain(self, sentence: str, code: str = "") -> None:
        """Say one sentence under the field: it cannot be saved like this."""
        self.show_complaints((Complaint(self.name, code, Weight.STOPS, sentence),))

    def clear(self) -> None:
        """Take the complaints away."""
        self.show_complaints(())

    def say_hint(self, sentence: str) -> None:
        """Put another hint under the field, or none."""
        self.hint.setText(sentence)
        self.hint.setVisible(bool(sentence))
        self.editor.setAccessibleDescription(sentence)

    def set_visible(self, visible: bool) -> None:
        """Show or hide the whole row."""
        for part in (self.caption, self.editor):
            part.setVisible(visible)
        self.beside.setVisible(visible and not self.across)
        self.hint.setVisible(visible and bool(self.hint.text()))
        self.complaints.setVisible(visible and bool(self.complaints.complaints))


class Form(QWidget):
    """Labelled rows in one grid; Enter in a field accepts, Esc leaves.

    Columns: caption, field, beside (unit, last value, expected range); the last two share the width by
    `shares`, a field no wider than `field_width` [px], or than the longest of its choices. With `units_only`
    nothing but units stands beside, and a field without one takes that room too. Under a field: its
    complaints, then its hint. Every field carries its caption and unit as accessible name and its hint as
    description.
    """

    accepted = Signal()
    left = Signal()

    def __init__(
        self,
        parent: QWidget | None = None,
        *,
        field_width: int = 240,
        shares: tuple[int, int] = (1, 1),
        units_only: bool = False,
    ) -> None:
        super().__init__(parent)
        self.rows: dict[str, FormRow] = {}
        self._field_width = field_width
        self._units_only = units_only
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(1, shares[0])
        self._grid.setColumnStretch(2, shares[1])
        self._grid.setColumnMinimumWidth(2, 5 * GRID)
        self._next = 0

    def add_row(self, name: str, caption: str, editor: QWidget, *, unit: str = "", hint: str = "") -> FormRow:
        """Add a labelled field; `name` is the field name that complaints use."""
        row = FormRow(
            name, label(caption, parent=self), editor, label(unit, "muted", self, wrap=True),
            label(hint, "muted", self, wrap=True), ComplaintLines(self),
        )  # fmt: skip
        if not isinstance(editor, QCheckBox):
            row.across = self._units_only and not unit
            needed = editor.sizeHint().width() if isinstance(editor, Choice) else 0
            least = LEAST_FIELD_PX if row.across else max(LEAST_FIELD_PX, needed)
            editor.setMinimumWidth(min(self._field_width, least))
            editor.setMaximumWidth(max(self._field_width, needed))
            editor.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        row.caption.setBuddy(editor)
        row.hint.setVisible(bool(hint))
        editor.setAccessibleName(f"{caption} ({unit})" if unit else caption)
        editor.setAccessibleDescription(hint)
        self._place(row)
        self.rows[name] = row
        return row

    def add_line(self, name: str, caption: str, *, unit: str = "", hint: str = "") -> QLineEdit:
        """Add a line to type in."""
        editor = QLineEdit(self)
        self.add_row(name, caption, editor, unit=unit, hint=hint)
        return editor

    def add_choice(
        self, name: str, caption: str, choices: Sequence[tuple[Value, str]], *, hint: str = ""
    ) -> Choice[Value]:
        """Add a list to choose from."""
        editor: Choice[Value] = Choice(choices, self)
        self.add_row(name, caption, editor, hint=hint)
        return editor

    def add_check(self, name: str, caption: str, text: str, *, hint: str = "") -> QCheckBox:
        """Add a box to tick; `caption` stands in the caption column, `text` beside the box."""
        editor = QCheckBox(text, self)
        row = self.add_row(name, caption, editor, hint=hint)
        editor.setAccessibleName(f"{caption}: {text}" if caption else text)
        self._grid.removeWidget(row.beside)
        row.across = True
        row.beside.hide()
        return editor

    def add_wide(self, widget: QWidget) -> None:
        """Add something across all columns."""
        self._grid.addWidget(widget, self._next, 0, 1, 3)
        self._advance(1)

    def add_heading(self, text: str) -> QLabel:
        """Add a heading between rows."""
        heading = label(text, "lead", self)
        heading.setContentsMargins(0, GRID * 2 if self._next else 0, 0, GRID)
        self.add_wide(heading)
        return heading

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say each complaint under its field, and clear the others; unknown fields go under the first."""
        first = next(iter(self.rows), "")
        for name, row in self.rows.items():
            row.show_complaints(
                [c for c in complaints if c.field == name or (name == first and c.field not in self.rows)]
            )

    def set_texts(self, **texts: str) -> None:
        """Fill lines by their names."""
        for name, text in texts.items():
            editor = self.rows[name].editor
            if isinstance(editor, QLineEdit):
                editor.setText(text)

    def show_row(self, name: str, *, visible: bool) -> None:
        """Show or hide a row with the room under it."""
        row = self.rows[name]
        row.set_visible(visible)
        at = self._grid.getItemPosition(self._grid.indexOf(row.editor))[0]  # type: ignore[index]
        self._grid.setRowMinimumHeight(at + 3, GRID if visible else 0)

    def clear_complaints(self) -> None:
        """Take all complaints away."""
        self.show_complaints(())

    def focus_first_complaint(self) -> None:
        """Put the cursor into the first field that has a complaint."""
        for row in self.rows.values():
            if row.complaints.complaints:
                row.editor.setFocus(Qt.FocusReason.OtherFocusReason)
                if isinstance(row.editor, QLineEdit):
                    row.editor.selectAll()
                return

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter accepts, Esc leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.accepted.emit()
        elif event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _place(self, row: FormRow) -> None:
        at = self._next
        top = Qt.AlignmentFlag.AlignVCenter
        self._grid.addWidget(row.caption, at, 0, Qt.AlignmentFlag.AlignLeft | top)
        self._grid.addWidget(row.editor, at, 1, 1, 2 if row.across else 1)
        if row.across:
            row.beside.hide()
        else:
            self._grid.addWidget(row.beside, at, 2, top)
        self._grid.addWidget(row.complaints, at + 1, 1, 1, 2)
        self._grid.addWidget(row.hint, at + 2, 1, 1, 2)
        self._grid.setRowMinimumHeight(at + 3, GRID)
        self._advance(4)

    def _advance(self, lines: int) -> None:
        """Step down so many lines and let what is below them take the room that is left."""
        self._grid.setRowStretch(self._next, 0)
        self._next += lines
        self._grid.setRowStretch(self._next, 1)

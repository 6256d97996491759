"""The optional values of a reading: the usual ones in one line, the others on demand below it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLineEdit, QVBoxLayout, QWidget

from hearthload.domain.appliance import Kind, UsePattern
from hearthload.domain.reading import RunState
from hearthload.service.answers import Complaint, EntryContext
from hearthload.window.complaints import ComplaintLines
from hearthload.window.form import Choice
from hearthload.window.parts import button, label
from hearthload.window.readings.entry_fields import SPOT_FIELDS
from hearthload.window.readings.entry_words import beside_spot
from hearthload.window.theme import GRID

CELL_WIDTH = 104
STATE_CHOICES = (
    ("", "–"),
    (RunState.RUNNING.value, "running"),
    (RunState.IDLE.value, "idle"),
    (RunState.HEATING.value, "defrost, heater"),
)
MORE, LESS = "More values", "Fewer values"

USES, ROOM = "uses", "room_temperature_c"
COUNTED: Final = frozenset({UsePattern.BY_THE_USE})
"""Patterns for which the number of uses is asked for first; for the others it is the room's warmth."""


class SpotGrid(QWidget):
    """Small captioned fields for everything beside the two counters; as many columns as there is room for."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines: dict[str, QLineEdit] = {}
        self._cells: dict[str, QWidget] = {}
        self.state = Choice(STATE_CHOICES, self)
        self.complaints = ComplaintLines(self)
        self.more_button = button(MORE, "link", self)
        self.more_button.setAccessibleDescription("volts, amps, power factor, highest watts and so on")
        self.more_button.clicked.connect(self._toggle)
        self._more = False
        self._columns = 0
        self._first: tuple[str, ...] = ()
        self._make_cells()
        self.state.currentIndexChanged.connect(self._chosen)
        self._lay_out()
        self._show_for(Kind.NOT_SURE)

    def texts(self) -> dict[str, str]:
        """Give the raw texts, empty ones left out."""
        texts = {name: line.text() for name, line in self.lines.items() if line.text()}
        if self.state.value:
            texts["state"] = self.state.value
        return texts

    def set_texts(self, texts: Mapping[str, str]) -> None:
        """Put raw texts back, without telling that something was typed."""
        blocked = self.blockSignals(True)  # noqa: FBT003 (Qt's own)
        for name, line in self.lines.items():
            line.setText(texts.get(name, ""))
        self.state.choose(texts.get("state", ""))
        self.blockSignals(blocked)
        if any(texts.get(name) for name in self.lines if name not in self._first):
            self.show_more(more=True)

    def show_context(self, context: EntryContext | None) -> None:
        """Show the last values inside the empty fields, as words that no one takes for typed ones."""
        for field in SPOT_FIELDS:
            last = "" if context is None else beside_spot(field.name, context)
            self.lines[field.name].setPlaceholderText(last)
            self.lines[field.name].setAccessibleDescription(f"{field.hint}; {last}" if last else field.hint)
        if context is not None:
            self._show_for(context.appliance.kind)

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say complaints under the grid and mark their fields, all of them in sight."""
        self.complaints.show_complaints(complaints)
        marked = {complaint.field for complaint in complaints}
        if marked - set(self._first):
            self.show_more(more=True)
        for name, line in self.lines.items():
            mark = "stops" if name in marked else ""
            if (line.property("complaint") or "") != mark:
                line.setProperty("complaint", mark)
                line.style().unpolish(line)
                line.style().polish(line)

    def show_more(self, *, more: bool) -> None:
        """Show or hide the values that are seldom typed."""
        if more != self._more:
            self._more = more
            self.more_button.setText(LESS if more else MORE)
            self._arrange(force=True)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Use as many columns as there is room for."""
        super().resizeEvent(event)
        self._arrange()

    def minimumSizeHint(self) -> QSize:
        """Four columns are the least."""
        return QSize(4 * CELL_WIDTH // 2 + 3 * GRID, super().minimumSizeHint().height())

    def _make_cells(self) -> None:
        for field in SPOT_FIELDS:
            unit = f" ({field.unit})" if field.unit and field.unit not in {"W", "V", "A"} else ""
            self._add_line(field.name, f"{field.caption}{unit}", field.hint)
            if field.name == "power_w":
                self._add_cell(
                    "state", "Running or idle", self.state, "was it running when the watts were read?"
                )
        self._add_line("note", "Note", "anything worth remembering")

    def _lay_out(self) -> None:
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(GRID // 2)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addLayout(self._grid)
        page.addWidget(self.complaints)

    def _add_line(self, name: str, caption: str, hint: str) -> None:
        line = QLineEdit(self)
        line.textEdited.connect(self._typed)
        self.lines[name] = line
        self._add_cell(name, caption, line, hint)

    def _add_cell(self, name: str, caption: str, editor: QWidget, hint: str) -> None:
        cell = QWidget(self)
        column = QVBoxLayout(cell)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        above = label(caption, "muted", cell)
        above.setBuddy(editor)
        column.addWidget(above)
        column.addWidget(editor)
        editor.setMinimumWidth(CELL_WIDTH // 2)
        editor.setAccessibleName(caption)
        editor.setAccessibleDescription(hint)
        editor.setToolTip(hint)
        self._cells[name] = cell

    def _show_for(self, kind: Kind) -> None:
        """Put first what is worth typing for a kind: watts, and what its energy goes by."""
        goes_by = USES if kind.use_pattern in COUNTED else ROOM
        first = ("power_w", "state", goes_by, "note")
        if first != self._first:
            self._first = first
            self._arrange(force=True)

    def _arrange(self, *, force: bool = False) -> None:
        columns = max(4, (self.width() + GRID) // (CELL_WIDTH + GRID))
        if columns == self._columns and not force:
            return
        for column in range(max(columns, self._columns)):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        self._columns = columns
        others = [name for name in self._cells if name not in self._first]
        self._place(self._first, 0)
        self._place(others if self._more else (), 1)
        for name in others:
            self._cells[name].setVisible(self._more)
        self.order_tabs()

    def _place(self, names: Sequence[str], from_row: int) -> None:
        """Set cells in rows; the note takes what is left of its row."""
        for place, name in enumerate(names):
            row, column = divmod(place, self._columns)
            wide = self._columns - column if name == "note" else 1
            self._cells[name].setVisible(True)
            self._grid.addWidget(
                self._cells[name], from_row + row, column, 1, wide, Qt.AlignmentFlag.AlignTop
            )

    def order_tabs(self) -> None:
        """Let the Tab key go through the fields as they stand, once all of them stand in one window."""
        others = [name for name in self._cells if name not in self._first]
        editors: list[QWidget] = [self._editor(name) for name in (*self._first, *others)]
        editors.insert(len(self._first), self.more_button)
        if self.more_button.window() is not self.window():
            return
        for before, after in pairwise(editors):
            QWidget.setTabOrder(before, after)

    def _editor(self, name: str) -> QWidget:
        return self.state if name == "state" else self.lines[name]

    def _toggle(self, _checked: bool = False) -> None:
        self.show_more(more=not self._more)

    def _typed(self, _text: str) -> None:
        self.typed.emit()

    def _chosen(self, _index: int) -> None:
        self.typed.emit()

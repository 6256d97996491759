"""The optional values of a reading, in a grid of small fields that follows the width."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QLineEdit, QVBoxLayout, QWidget

from hearthload.domain.reading import RunState
from hearthload.service.answers import Complaint, EntryContext
from hearthload.window.complaints import ComplaintLines
from hearthload.window.form import Choice
from hearthload.window.parts import label
from hearthload.window.readings.entry_fields import SPOT_FIELDS
from hearthload.window.readings.entry_words import beside_spot
from hearthload.window.theme import GRID

CELL_WIDTH = 104
STATE_CHOICES = (("", "–"), (RunState.RUNNING.value, "running"), (RunState.IDLE.value, "idle"))


class SpotGrid(QWidget):
    """Small captioned fields for everything beside the two counters; as many columns as there is room for."""

    typed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.lines: dict[str, QLineEdit] = {}
        self._cells: list[QWidget] = []
        self.state = Choice(STATE_CHOICES, self)
        self.complaints = ComplaintLines(self)
        self._columns = 0
        self._grid = QGridLayout()
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(GRID)
        self._grid.setVerticalSpacing(GRID // 2)
        for field in SPOT_FIELDS:
            unit = f" ({field.unit})" if field.unit and field.unit not in {"W", "V", "A"} else ""
            self._add_line(field.name, f"{field.caption}{unit}", field.hint)
            if field.name == "power_w":
                self._add_cell("Running or idle", self.state, "was it running when the watts were read?")
        self._note = self._add_line("note", "Note", "anything worth remembering")
        self.state.currentIndexChanged.connect(self._chosen)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(0)
        page.addLayout(self._grid)
        page.addWidget(self.complaints)
        page.addStretch(1)
        self._arrange(5)

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

    def show_context(self, context: EntryContext | None) -> None:
        """Show the last values inside the empty fields, as words that no one takes for typed ones."""
        for field in SPOT_FIELDS:
            last = "" if context is None else beside_spot(field.name, context)
            self.lines[field.name].setPlaceholderText(last)
            self.lines[field.name].setAccessibleDescription(f"{field.hint}; {last}" if last else field.hint)

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say complaints under the grid and mark their fields."""
        self.complaints.show_complaints(complaints)
        marked = {complaint.field for complaint in complaints}
        for name, line in self.lines.items():
            mark = "stops" if name in marked else ""
            if (line.property("complaint") or "") != mark:
                line.setProperty("complaint", mark)
                line.style().unpolish(line)
                line.style().polish(line)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Use as many columns as there is room for."""
        super().resizeEvent(event)
        self._arrange(max(3, (self.width() + GRID) // (CELL_WIDTH + GRID)))

    def minimumSizeHint(self) -> QSize:
        """Three columns are the least."""
        return QSize(3 * CELL_WIDTH // 2 + 2 * GRID, super().minimumSizeHint().height())

    def _add_line(self, name: str, caption: str, hint: str) -> QLineEdit:
        line = QLineEdit(self)
        line.textEdited.connect(self._typed)
        self.lines[name] = line
        self._add_cell(caption, line, hint)
        return line

    def _add_cell(self, caption: str, editor: QWidget, hint: str) -> None:
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
        self._cells.append(cell)

    def _arrange(self, columns: int) -> None:
        if columns == self._columns:
            return
        for column in range(max(columns, self._columns)):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        self._columns = columns
        for place, cell in enumerate(self._cells[:-1]):
            self._grid.addWidget(cell, place // columns, place % columns, Qt.AlignmentFlag.AlignTop)
        for row in range((len(self._cells) - 1) // columns + 1):
            self._grid.setRowMinimumHeight(row, self._cells[0].sizeHint().height())
        row, column = divmod(len(self._cells) - 1, columns)
        self._grid.addWidget(self._cells[-1], row, column, 1, columns - column, Qt.AlignmentFlag.AlignTop)

    def _typed(self, _text: str) -> None:
        self.typed.emit()

    def _chosen(self, _index: int) -> None:
        self.typed.emit()

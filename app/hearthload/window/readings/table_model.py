"""The reading table's model: newest first, corrected by typing, wrong text kept until it is right."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from hearthload.domain.figures import format_decimals
from hearthload.domain.reading import ReadingDraft
from hearthload.domain.typed import TypedError
from hearthload.errors import KnownError, RefusedError
from hearthload.service.answers import Complaint, Fix, FixAction, ReadingRow, Weight
from hearthload.window.readings.table_columns import COLUMNS, Column, corrected, counter_decimals
from hearthload.window.session import Session

Index = QModelIndex | QPersistentModelIndex
RUN_START_ROLE = Qt.ItemDataRole.UserRole
REFUSED_ROLE = Qt.ItemDataRole.UserRole + 1
DOUBT_ROLE = Qt.ItemDataRole.UserRole + 2
ROOT = QModelIndex()


class ReadingModel(QAbstractTableModel):
    """Rows of one measurement; `complained` carries a correction's `Complaint`, None when it is right.

    A text that was refused stays in its cell, with its sentence as tool tip, until it is corrected,
    dropped, or the reading is gone.
    """

    complained = Signal(object)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: tuple[ReadingRow, ...] = ()
        self._decimals = 0
        self._refused: dict[tuple[int, int], tuple[str, Complaint]] = {}
        self._error: KnownError | None = None
        session.refused.connect(self._note_error)
        session.troubled.connect(self._note_error)

    @property
    def rows(self) -> tuple[ReadingRow, ...]:
        """Give the rows as shown."""
        return self._rows

    def set_rows(self, rows: Sequence[ReadingRow]) -> None:
        """Show these rows; cells are renewed in place when the readings are the same ones."""
        same = [row.reading.id for row in rows] == [row.reading.id for row in self._rows]
        alive = {row.reading.id for row in rows}
        self._refused = {key: kept for key, kept in self._refused.items() if key[0] in alive}
        if same:
            self._rows, self._decimals = tuple(rows), counter_decimals(rows)
            if rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(rows) - 1, len(COLUMNS) - 1))
            return
        self.beginResetModel()
        self._rows, self._decimals = tuple(rows), counter_decimals(rows)
        self.endResetModel()

    def rowCount(self, parent: Index = ROOT) -> int:
        """Give the number of readings."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = ROOT) -> int:
        """Give the number of columns."""
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:  # noqa: ANN401
        """Give the headers, units in them."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(COLUMNS):
            return None
        column = COLUMNS[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.header
        if role == Qt.ItemDataRole.ToolTipRole:
            return column.hint
        return _alignment(column) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        """Give what a cell shows, edits, or is marked with."""
        if not index.isValid() or not index.row() < len(self._rows):
            return None
        row, column = self._rows[index.row()], COLUMNS[index.column()]
        kept = self._refused.get((row.reading.id, index.column()))
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return self._shown(row, column) if kept is None else kept[0]
            case Qt.ItemDataRole.EditRole:
                return self._edit_text(row, column) if kept is None else kept[0]
            case Qt.ItemDataRole.ToolTipRole:
                return " ".join(row.doubts) or None if kept is None else kept[1].sentence
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column, words=row.span_h is None)
            case _:
                marks = {
                    RUN_START_ROLE: row.span_h is None,
                    REFUSED_ROLE: kept is not None,
                    DOUBT_ROLE: bool(row.doubts) and index.column() == 0,
                }
                return marks.get(Qt.ItemDataRole(role)) if role in marks else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Let what was typed at the meter be corrected, not what follows from it."""
        flags = super().flags(index)
        writable = index.isValid() and COLUMNS[index.column()].read is not None
        if writable and self._session.is_open and not self._session.logbook.read_only:
            flags |= Qt.ItemFlag.ItemIsEditable
        return flags

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:  # noqa: ANN401
        """Correct one value; what cannot be taken stays in the cell with its complaint."""
        if role != Qt.ItemDataRole.EditRole or not index.isValid():
            return False
        row, place, text = self._rows[index.row()], index.column(), str(value)
        column = COLUMNS[place]
        try:
            draft = corrected(row, column, text, self._session.now())
        except TypedError as error:
            self._keep(row, place, text, Complaint(column.field, error.code, Weight.STOPS, str(error)))
            return False
        self._drop(row, place)
        if draft is None:
            return True
        return self._store(row, place, text, draft)

    def complaint_at(self, index: Index) -> Complaint | None:
        """Give the complaint about a cell's kept text, None when there is none."""
        if not index.isValid() or not index.row() < len(self._rows):
            return None
        kept = self._refused.get((self._rows[index.row()].reading.id, index.column()))
        return None if kept is None else kept[1]

    def drop_refused(self, index: Index) -> None:
        """Put a cell's saved value back in place of a refused text."""
        if index.isValid() and index.row() < len(self._rows):
            self._drop(self._rows[index.row()], index.column())

    def _shown(self, row: ReadingRow, column: Column) -> str:
        if column.field == "energy_kwh":
            return format_decimals(row.reading.energy_kwh, self._decimals)
        return column.show(row, self._session.now())

    def _edit_text(self, row: ReadingRow, column: Column) -> str | None:
        return None if column.edit_text is None else column.edit_text(row, self._session.now())

    def _store(self, row: ReadingRow, place: int, text: str, draft: ReadingDraft) -> bool:
        from hearthload.service.edits.readings import change_reading  # noqa: PLC0415 (after first paint)

        self._error = None
        if self._session.do(change_reading, row.reading.id, draft) is not None:
            return True
        code = getattr(self._error, "code", "")
        fixes = self._fixes(row, draft, code)
        sentence = str(self._error)
        self._keep(row, place, text, Complaint(COLUMNS[place].field, code, Weight.STOPS, sentence, fixes))
        return False

    def _fixes(self, row: ReadingRow, draft: ReadingDraft, code: str) -> tuple[Fix, ...]:
        """Ask what would fit in place of a value that was refused."""
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        try:
            found = queries.correction_complaints(
                self._session.logbook, row.reading.id, draft, self._session.now()
            )
        except RefusedError:  # the reading is not there any more
            return ()
        about = next((complaint for complaint in found if complaint.code == code), None)
        kept = () if about is None else about.fixes
        return tuple(fix for fix in kept if fix.action is FixAction.SET_VALUE)

    def _keep(self, row: ReadingRow, place: int, text: str, complaint: Complaint) -> None:
        self._refused[row.reading.id, place] = (text, complaint)
        self._renew(row, place)
        self.complained.emit(complaint)

    def _drop(self, row: ReadingRow, place: int) -> None:
        if self._refused.pop((row.reading.id, place), None) is not None:
            self._renew(row, place)
            self.complained.emit(None)

    def _renew(self, row: ReadingRow, place: int) -> None:
        ids = [each.reading.id for each in self._rows]
        at = self.index(ids.index(row.reading.id), place)
        self.dataChanged.emit(at, at)

    def _note_error(self, error: KnownError) -> None:
        self._error = error


def _alignment(column: Column, *, words: bool = False) -> Qt.AlignmentFlag:
    is_span = column.is_figure and column.read is None
    right = column.is_figure and not (words and is_span)
    side = Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft
    return side | Qt.AlignmentFlag.AlignVCenter

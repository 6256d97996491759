"""The reading table: every reading of a measurement, corrected in place or deleted, all of it undoable."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, ReadingRow, Weight
from hearthload.service.changes import Changes
from hearthload.window.complaints import ComplaintLines, FixWanted
from hearthload.window.following import Following
from hearthload.window.parts import label
from hearthload.window.readings.entry_fixes import fix_text
from hearthload.window.readings.glyph import paint_doubt
from hearthload.window.readings.table_columns import COLUMNS, SPAN_COLUMNS
from hearthload.window.readings.table_model import DOUBT_ROLE, REFUSED_ROLE, RUN_START_ROLE, ReadingModel
from hearthload.window.readings.table_widths import fit_columns
from hearthload.window.session import Session
from hearthload.window.theme import GRID, current_theme

ROW_PX = 28
PAD_PX = 5
EMPTY = "No reading yet. Each one typed above becomes a line here."
HOW = "Typing corrects a value, Delete removes a reading, Ctrl+Z takes it back."


class LineDelegate(QStyledItemDelegate):
    """Cells upon hairlines; a stronger line under the start of a run, a mark on a refused text."""

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Draw the cell, its line, and its mark."""
        theme = current_theme()
        super().paint(painter, option, index)
        painter.save()
        starts = bool(index.data(RUN_START_ROLE))
        painter.setPen(QPen(theme.colour("rule" if starts else "hairline"), 1))
        box = option.rect
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        if index.data(DOUBT_ROLE):
            paint_doubt(painter, QPointF(box.right() - GRID, box.center().y()), theme)
        if index.data(REFUSED_ROLE):
            painter.setPen(QPen(theme.colour("doubt"), 2))
            painter.drawRect(box.adjusted(1, 1, -2, -2))
        painter.restore()

    def initStyleOption(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Print the words at a run's start muted."""
        super().initStyleOption(option, index)
        if index.data(RUN_START_ROLE) and COLUMNS[index.column()].read is None:
            palette = option.palette
            palette.setColor(palette.ColorRole.Text, current_theme().colour("muted"))


class ReadingView(QTableView):
    """The table itself; what it cannot do with a key goes on to the panel."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setItemDelegate(LineDelegate(self))
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setAlternatingRowColors(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setStyleSheet(f"QTableView::item {{ padding-left: {PAD_PX}px; padding-right: {PAD_PX}px; }}")
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setStretchLastSection(True)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setMinimumSectionSize(48)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )


class ReadingTable(Following):
    """All readings of one measurement, newest first, with what is wrong about a correction below."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "sheet")
        self._session = session
        self._measurement_id: int | None = None
        self.model = ReadingModel(session, self)
        self.view = ReadingView(self)
        self.view.setModel(self.model)
        self.view.setAccessibleName("Readings")
        self.view.setAccessibleDescription(HOW)
        self.complaints = ComplaintLines(self)
        self.message = label("", "muted", self, wrap=True)
        page = QVBoxLayout(self)
        page.setContentsMargins(GRID, GRID, GRID, GRID)
        page.setSpacing(GRID // 2)
        page.addWidget(self.view, 1)
        page.addWidget(self.complaints)
        page.addWidget(self.message)
        self.model.complained.connect(self._complained)
        self.complaints.fix_wanted.connect(self._fix)
        self.view.selectionModel().currentChanged.connect(self._moved)
        session.changed.connect(self._changed)
        session.switched.connect(self._switched)
        self.refresh()

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show another measurement's readings."""
        if measurement_id != self._measurement_id:
            self._measurement_id = measurement_id
            self.complaints.show_complaints(())
            self.refresh()

    def refresh(self) -> None:
        """Ask again, and keep the chosen reading chosen."""
        if self._measurement_id is not None and not self.isVisible():
            self.stale = True
            return
        self.stale = False
        at = self.view.currentIndex()
        chosen = self.model.rows[at.row()].reading.id if at.isValid() else None
        rows = self._asked()
        self.model.set_rows(rows)
        self.view.clearSpans()
        for place, row in enumerate(rows):
            if row.span_h is None:
                self.view.setSpan(place, SPAN_COLUMNS[0], 1, SPAN_COLUMNS[1])
        ids = [row.reading.id for row in rows]
        if chosen in ids:
            self.view.setCurrentIndex(self.model.index(ids.index(chosen), at.column()))
        self.message.setText(HOW if rows else EMPTY)
        self.message.setVisible(self._measurement_id is not None)
        fit_columns(self.view)

    def focus_last(self) -> None:
        """Put the cursor into the last reading's counter, or back to where it was."""
        last = self.model.rowCount() - 1
        if not self.view.currentIndex().isValid() and last >= 0:
            self.view.setCurrentIndex(self.model.index(last, 1))
        self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def remove_chosen(self) -> None:
        """Delete the chosen reading; undo brings it back."""
        at = self.view.currentIndex()
        if not at.isValid():
            return
        from hearthload.service.edits.readings import remove_reading  # noqa: PLC0415 (after first paint)

        row, column = at.row(), at.column()
        with self._session.refusals_to(self._say_refusal):
            done = self._session.do(remove_reading, self.model.rows[row].reading.id)
        if done is None:
            return
        left = self.model.rowCount()
        if left:
            self.view.setCurrentIndex(self.model.index(min(row, left - 1), column))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete removes the chosen reading, Esc puts a refused text's saved value back."""
        if event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.remove_chosen()
        elif event.key() == Qt.Key.Key_Escape:
            self.model.drop_refused(self.view.currentIndex())
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out what there is no room for."""
        super().resizeEvent(event)
        fit_columns(self.view)

    def _asked(self) -> tuple[ReadingRow, ...]:
        if self._measurement_id is None or not self._session.is_open:
            return ()
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        try:
            return queries.reading_rows(self._session.logbook, self._measurement_id)
        except RefusedError:  # its measurement was taken back by undo
            return ()

    def _complained(self, complaint: Complaint | None) -> None:
        self.complaints.show_complaints(() if complaint is None else (complaint,))

    def _fix(self, wanted: FixWanted) -> None:
        """Write what would fit into the cell whose text was refused."""
        at, fix = self.view.currentIndex(), wanted.fix
        if at.isValid() and fix.value is not None and COLUMNS[at.column()].field == wanted.complaint.field:
            self.model.setData(at, fix_text(wanted.complaint.field, fix.value, None))
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)

    def _say_refusal(self, error: RefusedError) -> None:
        self._complained(Complaint(error.field, error.code, Weight.STOPS, str(error)))

    def _moved(self, current: QModelIndex, _before: QModelIndex) -> None:
        self._complained(self.model.complaint_at(current))

    def _changed(self, changes: Changes) -> None:
        if (
            self._measurement_id is None
            or self._measurement_id in changes.measurement_ids
            or changes.meter_ids
            or changes.about_all
        ):
            self.refresh()

    def _switched(self, _path: object) -> None:
        self._measurement_id = None
        self.complaints.show_complaints(())
        self.refresh()

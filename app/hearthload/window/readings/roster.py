"""The roster: every appliance in one table, with a box above it that filters by words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QVBoxLayout, QWidget

from hearthload.service.roster_answers import RosterRow
from hearthload.window.fonts import text_font
from hearthload.window.lines_table import LinesTable
from hearthload.window.parts import label
from hearthload.window.readings.roster_cells import Column
from hearthload.window.readings.roster_delegate import RosterDelegate
from hearthload.window.readings.roster_model import RosterModel, RosterOrder
from hearthload.window.readings.roster_widths import LEAST_PX, folded_at, shared_out
from hearthload.window.theme import GRID


class RosterView(LinesTable):
    """The table of the roster; fits its columns to its width."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = RosterModel(self)
        self.order = RosterOrder(self)
        self.order.setSourceModel(self.rows)
        self.setModel(self.order)
        self._painter = RosterDelegate(self)
        self.setItemDelegate(self._painter)
        self.setObjectName("roster")
        self.setAccessibleName("Appliances")
        self._settle()
        self.selectionModel().currentRowChanged.connect(self._tell_chosen)

    def chosen_id(self) -> int | None:
        """Give the appliance of the current row."""
        return self._id_at(self.currentIndex())

    def choose(self, appliance_id: int | None) -> bool:
        """Make an appliance's row the current one; tell whether it is in sight."""
        at = None if appliance_id is None else self.rows.row_of(appliance_id)
        index = QModelIndex() if at is None else self.order.mapFromSource(self.rows.index(at, 0))
        flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.selectionModel().setCurrentIndex(index, flags)
        if index.isValid():
            self.scrollTo(index)
        return index.isValid()

    def sort_by(self, column: Column) -> None:
        """Sort by a column; the same one again turns the order round."""
        descending = (
            self.order.sortColumn() == column and self.order.sortOrder() is Qt.SortOrder.AscendingOrder
        )
        self.sortByColumn(column, Qt.SortOrder.DescendingOrder if descending else Qt.SortOrder.AscendingOrder)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns."""
        super().resizeEvent(event)
        self.fit_columns()

    def fit_columns(self) -> None:
        """Put figures under each other where the roster is narrow, and share out the width."""
        room = self.viewport().width()
        folded = folded_at(room)
        self._painter.state_in_name = Column.STATE in folded
        self.rows.fold(folded)
        for column in Column:
            self.setColumnHidden(column, column in folded)
        for column, width in shared_out(room, folded, self._name_width()).items():
            self.setColumnWidth(column, width)

    def _name_width(self) -> int:
        """Give what the longest name needs [px]."""
        names = (row.appliance.name for row in self.rows.rows)
        metrics = QFontMetrics(text_font())
        return max((metrics.horizontalAdvance(name) for name in names), default=0) + 5 * GRID

    def _settle(self) -> None:
        self.setMinimumWidth(LEAST_PX + 2 * GRID)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setSortingEnabled(True)
        self.sortByColumn(Column.NAME, Qt.SortOrder.AscendingOrder)

    def _tell_chosen(self, index: QModelIndex) -> None:
        found = self._id_at(index)
        if found is not None:
            self.chosen.emit(found)

    def _id_at(self, index: QModelIndex) -> int | None:
        if not index.isValid():
            return None
        return self.rows.rows[self.order.mapToSource(index).row()].appliance.id


class RosterPanel(QWidget):
    """The filter box and the roster under it; `chosen` carries the appliance's number."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._kept: int | None = None
        self.filter_box = QLineEdit(self)
        self.filter_box.setPlaceholderText("Filter by name, room, kind or state")
        self.filter_box.setAccessibleName("Filter the appliances by name, room, kind or state")
        self.filter_box.setClearButtonEnabled(True)
        self.view = RosterView(self)
        self.nothing = label("No appliance matches the filter.", "muted", self)
        self.nothing.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.filter_box)
        column.addWidget(self.nothing)
        column.addWidget(self.view, stretch=1)
        self.filter_box.textChanged.connect(self._filter)
        self.view.chosen.connect(self.chosen)

    def set_rows(self, rows: Sequence[RosterRow]) -> None:
        """Show another roster and keep the chosen row."""
        self.view.rows.set_rows(rows)
        self.view.fit_columns()
        self._say_nothing()

    def set_row(self, row: RosterRow) -> None:
        """Show one appliance's row anew."""
        self.view.rows.set_row(row)
        self.view.fit_columns()

    def choose(self, appliance_id: int | None) -> None:
        """Choose an appliance; a filter that hides it is cleared."""
        if not self.view.choose(appliance_id) and appliance_id is not None and self.filter_box.text():
            self.filter_box.clear()
            self.view.choose(appliance_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc clears the filter, Down and Enter go from the box to the rows."""
        from_box = self.filter_box.hasFocus()
        if event.key() == Qt.Key.Key_Escape and self.filter_box.text():
            self.filter_box.clear()
        elif from_box and event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.view.setFocus(Qt.FocusReason.OtherFocusReason)
            if not self.view.currentIndex().isValid() and self.view.order.rowCount():
                self.view.selectRow(0)
        else:
            super().keyPressEvent(event)

    def _filter(self, text: str) -> None:
        """Filter without choosing another appliance; the chosen one is marked while it is in sight."""
        kept = self.view.chosen_id()
        self._kept = self._kept if kept is None else kept
        blocked = self.view.blockSignals(True)  # noqa: FBT003 (Qt's own)
        self.view.order.set_filter(text)
        self.view.choose(self._kept)
        self.view.blockSignals(blocked)
        self._say_nothing()

    def _say_nothing(self) -> None:
        self.nothing.setVisible(self.view.order.rowCount() == 0 and self.view.rows.rowCount() > 0)

"""The roster: every appliance in one table, with a box above it that filters by words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLineEdit, QTableView, QVBoxLayout, QWidget

from hearthload.service.answers import RosterRow
from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.parts import label
from hearthload.window.readings.roster_cells import Column
from hearthload.window.readings.roster_delegate import RosterDelegate
from hearthload.window.readings.roster_model import RosterModel, RosterOrder
from hearthload.window.theme import GRID, theme_news

WIDTHS: Final[Mapping[Column, int]] = {
    Column.NAME: 144,
    Column.STATE: 112,
    Column.DAILY: 120,
    Column.KNOWN: 76,
    Column.SHARE: 60,
    Column.DAYS: 76,
    Column.TO_GO: 76,
}
"""What each column needs [px]."""

GROWS: Final = ((Column.NAME, 24), (Column.KNOWN, 28), (Column.NAME, 10_000))
"""The columns that take what is left, one after another, and how much each takes at most [px]."""

GIVEN_UP: Final = (Column.DAYS, Column.SHARE, Column.TO_GO)
"""The columns that a narrow roster goes without, first to last; their figures stand at the right too."""


class RosterView(QTableView):
    """The table of the roster; fits its columns to its width."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = RosterModel(self)
        self.order = RosterOrder(self)
        self.order.setSourceModel(self.rows)
        self.setModel(self.order)
        self.setItemDelegate(RosterDelegate(self))
        self.setObjectName("roster")
        self.setAccessibleName("Appliances")
        self._settle()
        self.selectionModel().currentRowChanged.connect(self._tell_chosen)
        theme_news().changed.connect(self._repaint)

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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter and Esc to the page."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit the columns."""
        super().resizeEvent(event)
        self.fit_columns()

    def fit_columns(self) -> None:
        """Hide what a narrow roster goes without and share out what is left."""
        room, needed = self.viewport().width(), sum(WIDTHS.values())
        hidden = set()
        for column in GIVEN_UP:
            if needed <= room:
                break
            hidden.add(column)
            needed -= WIDTHS[column]
        left, grown = max(0, room - needed), dict(WIDTHS)
        for column, most in GROWS:
            grown[column] += min(left, most)
            left -= min(left, most)
        for column, width in grown.items():
            self.setColumnHidden(column, column in hidden)
            self.setColumnWidth(column, width)

    def _settle(self) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setMinimumWidth(sum(WIDTHS[column] for column in Column if column not in GIVEN_UP) + 2 * GRID)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setSortingEnabled(True)
        self.sortByColumn(Column.NAME, Qt.SortOrder.AscendingOrder)
        down = self.verticalHeader()
        down.hide()
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(ROW_PX)
        across = self.horizontalHeader()
        across.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        across.setFixedHeight(ROW_PX)
        across.setHighlightSections(False)

    def _tell_chosen(self, index: QModelIndex) -> None:
        found = self._id_at(index)
        if found is not None:
            self.chosen.emit(found)

    def _id_at(self, index: QModelIndex) -> int | None:
        if not index.isValid():
            return None
        return self.rows.rows[self.order.mapToSource(index).row()].appliance.id

    def _repaint(self, _theme: object) -> None:
        self.viewport().update()


class RosterPanel(QWidget):
    """The filter box and the roster under it; `chosen` carries the appliance's number."""

    chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
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
        self._say_nothing()

    def set_row(self, row: RosterRow) -> None:
        """Show one appliance's row anew."""
        self.view.rows.set_row(row)

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
        self.view.order.set_filter(text)
        self._say_nothing()

    def _say_nothing(self) -> None:
        self.nothing.setVisible(self.view.order.rowCount() == 0 and self.view.rows.rowCount() > 0)

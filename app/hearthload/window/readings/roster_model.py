"""The roster as a Qt item model: row-wise news of changes, sorting by number, filtering by words."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSortFilterProxyModel,
    Qt,
)

from hearthload.service.roster_answers import RosterRow
from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE
from hearthload.window.readings.roster_cells import (
    HEADER_HELP,
    RIGHT_ALIGNED,
    Column,
    Folded,
    cell_text,
    header,
    matches,
    second_line,
    sort_key,
)
from hearthload.window.readings.roster_spoken import spoken

ROW_ROLE = Qt.ItemDataRole.UserRole + 1
"""The whole `RosterRow`, for painting."""
SORT_ROLE = Qt.ItemDataRole.UserRole + 2
"""What a cell is sorted by: a number, a casefolded text, or None."""

Index = QModelIndex | QPersistentModelIndex
_NOWHERE = QModelIndex()


class RosterModel(QAbstractTableModel):
    """Roster rows in the logbook's order; tells only of the rows that differ."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rows: list[RosterRow] = []
        self.folded: Folded = frozenset()

    def fold(self, columns: Folded) -> None:
        """Put some columns' figures under those of others, as a narrow roster needs it."""
        if columns != self.folded:
            self.folded = columns
            last = len(Column) - 1
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, last)
            if self._rows:
                self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, last))

    @property
    def rows(self) -> tuple[RosterRow, ...]:
        """Give the rows as they stand."""
        return tuple(self._rows)

    def row_of(self, appliance_id: int) -> int | None:
        """Give the place of an appliance, None when it is not here."""
        return next((at for at, row in enumerate(self._rows) if row.appliance.id == appliance_id), None)

    def set_rows(self, rows: Sequence[RosterRow]) -> None:
        """Take another roster: rows are removed, moved, added and changed so that a selection stays."""
        wanted = {row.appliance.id for row in rows}
        for at in range(len(self._rows) - 1, -1, -1):
            if self._rows[at].appliance.id not in wanted:
                self.beginRemoveRows(_NOWHERE, at, at)
                del self._rows[at]
                self.endRemoveRows()
        for at, row in enumerate(rows):
            self._place(row, at)

    def set_row(self, row: RosterRow) -> None:
        """Take one appliance's row anew; one that is not here is added at the end."""
        at = self.row_of(row.appliance.id)
        self._place(row, len(self._rows) if at is None else at)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the appliances."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Count the columns."""
        return 0 if parent.isValid() else len(Column)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Answer for one cell."""
        if not index.isValid():
            return None
        row, column = self._rows[index.row()], Column(index.column())
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return cell_text(row, column)
            case _ if role == ROW_ROLE:
                return row
            case _ if role == SORT_ROLE:
                return sort_key(row, column)
            case _ if role == SECOND_ROLE:
                return second_line(row, column, self.folded)
            case Qt.ItemDataRole.AccessibleTextRole | Qt.ItemDataRole.ToolTipRole:
                return spoken(row, column, self.folded)
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Answer for a column's header."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        column = Column(section)
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return header(column, self.folded)
            case Qt.ItemDataRole.ToolTipRole:
                return HEADER_HELP[column]
            case Qt.ItemDataRole.AccessibleTextRole:
                return header(column, self.folded).replace("\n", " ")
            case Qt.ItemDataRole.TextAlignmentRole:
                return _alignment(column)
        return None

    def _place(self, row: RosterRow, at: int) -> None:
        here = self.row_of(row.appliance.id)
        if here is None:
            self.beginInsertRows(_NOWHERE, at, at)
            self._rows.insert(at, row)
            self.endInsertRows()
            return
        if here != at:
            self.beginMoveRows(_NOWHERE, here, here, _NOWHERE, at)
            self._rows.insert(at, self._rows.pop(here))
            self.endMoveRows()
        if not _same(self._rows[at], row):
            self._rows[at] = row
            self.dataChanged.emit(self.index(at, 0), self.index(at, len(Column) - 1))


class RosterOrder(QSortFilterProxyModel):
    """The roster sorted by what cells mean, not by their text, and filtered by words."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._words: tuple[str, ...] = ()
        self.setSortRole(SORT_ROLE)

    def set_filter(self, text: str) -> None:
        """Keep the rows in which every word of the text is found."""
        self.beginFilterChange()
        self._words = tuple(text.casefold().split())
        self.endFilterChange(QSortFilterProxyModel.Direction.Rows)

    def filterAcceptsRow(self, source_row: int, source_parent: Index) -> bool:  # noqa: ARG002
        """Tell whether a row is kept."""
        if not self._words:
            return True
        row = self.sourceModel().index(source_row, 0).data(ROW_ROLE)
        return isinstance(row, RosterRow) and matches(row, self._words)

    def lessThan(self, left: Index, right: Index) -> bool:
        """Order by number or name; cells without a figure come last in either order."""
        first, second = left.data(SORT_ROLE), right.data(SORT_ROLE)
        if first is None or second is None:
            ascending = self.sortOrder() is Qt.SortOrder.AscendingOrder
            one, other = (first, second) if ascending else (second, first)
            return one is not None and other is None
        return bool(first < second)


def _alignment(column: Column) -> Qt.AlignmentFlag:
    return RIGHT if column in RIGHT_ALIGNED else LEFT


def _same(one: RosterRow, other: RosterRow) -> bool:
    """Tell whether two rows show the same; estimates are kept by the service, so identity is enough."""
    return (
        one.estimate is other.estimate
        and one.appliance == other.appliance
        and one.measurement == other.measurement
        and one.meter == other.meter
        and (one.state, one.last_reading_at, one.read_today, one.doubts)
        == (other.state, other.last_reading_at, other.read_today, other.doubts)
    )

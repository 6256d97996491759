"""A table of named figures to walk through; the chosen one's arithmetic stands beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRect,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QPainter, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hearthload.outage.steps import Step
from hearthload.window.colours import Theme
from hearthload.window.fonts import small_font, text_font
from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE, LinesDelegate
from hearthload.window.lines_table import LinesTable
from hearthload.window.theme import GRID

Index = QModelIndex | QPersistentModelIndex
HEADING_ROLE = Qt.ItemDataRole.UserRole + 5
"""Whether a row is a heading over those below it."""
_NOWHERE = QModelIndex()
FIRST_SHARE: Final = 0.4
"""The first column keeps so much of the width, however long the values are."""
_HEADING_FLAGS: Final = Qt.ItemFlag.NoItemFlags


@dataclass(frozen=True, slots=True)
class FigureRow:
    """One line: its key, what it is, a muted line below, the values, their unit, the steps behind them.

    A heading has no values. `lead` stands above the arithmetic, and the step that gives `result` comes first.
    `exact` are the values with all their digits, for the tool tip.
    """

    key: str
    what: str
    values: tuple[str, ...] = ()
    unit: str = ""
    below: str = ""
    steps: tuple[Step, ...] = ()
    lead: str = ""
    result: float | None = None
    belows: tuple[str, ...] = ()
    exact: tuple[str, ...] = ()

    def exact_at(self, column: int) -> str:
        """Give the exact value of a column of the table, nothing where what is shown is all there is."""
        return self.exact[column - 1] if 0 < column <= len(self.exact) else ""

    def below_at(self, column: int) -> str:
        """Give the muted line of a column of the table; `belows` are those under the values."""
        if column == 0:
            return self.below
        return self.belows[column - 1] if column <= len(self.belows) else ""

    @property
    def is_heading(self) -> bool:
        """Tell whether this is a heading."""
        return not self.values


@dataclass(slots=True)
class Headers:
    """The headers: what the lines are, the columns of values, and the unit."""

    what: str
    values: tuple[str, ...]
    unit: str = "Unit"
    texts: frozenset[int] = field(default_factory=frozenset)
    """Columns of values, counted from 0, that hold words and stand left."""


class FigureModel(QAbstractTableModel):
    """Rows of figures; the same keys again are told as changes, so that the chosen row stays chosen."""

    def __init__(self, headers: Headers, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.headers = headers
        self.rows: tuple[FigureRow, ...] = ()

    def set_rows(self, rows: Sequence[FigureRow]) -> None:
        """Show these rows."""
        fresh = tuple(rows)
        if [row.key for row in fresh] != [row.key for row in self.rows]:
            self.beginResetModel()
            self.rows = fresh
            self.endResetModel()
            return
        changed = [at for at, row in enumerate(fresh) if row != self.rows[at]]
        self.rows = fresh
        if changed:
            self.dataChanged.emit(self.index(changed[0], 0), self.index(changed[-1], self.columnCount() - 1))

    def set_value_headers(self, values: tuple[str, ...]) -> None:
        """Put other words over the columns of values."""
        if values != self.headers.values:
            self.headers.values = values
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, 1, len(values))

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Count the rows."""
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Count the columns."""
        return 0 if parent.isValid() else len(self.headers.values) + 2

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Leave headings out of what can be chosen."""
        if index.isValid() and self.rows[index.row()].is_heading:
            return _HEADING_FLAGS
        return super().flags(index)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """Answer for one cell."""
        if not index.isValid():
            return None
        row, column = self.rows[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(row, column)
        if role == SECOND_ROLE:
            return row.below_at(column)
        if role == HEADING_ROLE:
            return row.is_heading
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._exact(row, column) or self._spoken(row, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self._spoken(row, column)
        return self._side(column) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        """Answer for a column's header."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < self.columnCount():
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._header(section)
        return self._side(section) if role == Qt.ItemDataRole.TextAlignmentRole else None

    def _header(self, column: int) -> str:
        return (self.headers.what, *self.headers.values, self.headers.unit)[column]

    def _text(self, row: FigureRow, column: int) -> str:
        if column == 0:
            return row.what
        if row.is_heading:
            return ""
        return row.unit if column == self.columnCount() - 1 else row.values[column - 1]

    def _spoken(self, row: FigureRow, column: int) -> str:
        below = row.below_at(column)
        return f"{self._header(column)}: {self._text(row, column)}" + (f", {below}" if below else "")

    def _exact(self, row: FigureRow, column: int) -> str:
        exact = row.exact_at(column)
        return f"{self._header(column)}: {exact} {row.unit}".rstrip() if exact else ""

    def _side(self, column: int) -> Qt.AlignmentFlag:
        is_figure = 0 < column < self.columnCount() - 1 and (column - 1) not in self.headers.texts
        return RIGHT if is_figure else LEFT


class FigureDelegate(LinesDelegate):
    """Paints headings in bold over the hairline that begins their rows."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._bold = text_font(bold=True)
        self._metrics[id(self._bold)] = QFontMetrics(self._bold)

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint a heading, or what the cell says."""
        if not index.data(HEADING_ROLE):
            self.paint_lines(painter, box, index, theme)
        elif index.column() == 0:
            self._line(painter, box, str(index.data()), (self._bold, theme.colour("ink"), LEFT))


def held(wanted: Sequence[int], room: int) -> list[int]:
    """Give each column what it wants [px]; where the room does not do, the widest are held to one width."""
    most = max(wanted, default=0)
    while sum(min(width, most) for width in wanted) > max(room, 0) and most > 0:
        most -= 1
    return [min(width, most) for width in wanted]


class FigureTable(LinesTable):
    """Shows a `FigureModel`; `chosen` carries the chosen `FigureRow`, None when there is none."""

    chosen = Signal(object)

    def __init__(self, headers: Headers, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.figures = FigureModel(headers, self)
        self.setModel(self.figures)
        self.setItemDelegate(FigureDelegate(self))
        self.setAccessibleName(name)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.horizontalHeader().setMinimumSectionSize(1)  # Qt's own would make narrow columns wider again
        self.selectionModel().currentRowChanged.connect(self._tell)
        self.figures.dataChanged.connect(self._tell_again)
        self.figures.modelReset.connect(self._span_headings)
        for news in (self.figures.modelReset, self.figures.dataChanged, self.figures.headerDataChanged):
            news.connect(self._fit)

    @property
    def row(self) -> FigureRow | None:
        """Give the chosen row."""
        index = self.currentIndex()
        return self.figures.rows[index.row()] if index.isValid() else None

    def show_rows(self, rows: Sequence[FigureRow]) -> None:
        """Show rows and keep the chosen one chosen, else choose the first that can be."""
        before = self.row
        self.figures.set_rows(rows)
        if self.row is None:
            self.choose("" if before is None else before.key)

    def choose(self, key: str) -> None:
        """Choose a row by its key, the first that can be chosen where there is no such row."""
        places = {row.key: at for at, row in enumerate(self.figures.rows) if not row.is_heading}
        at = places.get(key, next(iter(places.values()), None))
        index = QModelIndex() if at is None else self.figures.index(at, 0)
        flags = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.selectionModel().setCurrentIndex(index, flags)
        if at is None:
            self.chosen.emit(None)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share out the width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self, *_which: object) -> None:
        """Give values and unit what they need, and the first column what they leave."""
        room = self.viewport().width()
        wanted = [self._needed(column) for column in range(1, self.figures.columnCount())]
        widths = held(wanted, room - int(FIRST_SHARE * room))
        self.setColumnWidth(0, max(room - sum(widths), 0))
        for column, width in enumerate(widths, start=1):
            self.setColumnWidth(column, width)

    def _needed(self, column: int) -> int:
        """Give what the longest text of a column needs [px]."""
        text, small = QFontMetrics(text_font()), QFontMetrics(small_font())
        model = self.figures
        header = model.headerData(column, Qt.Orientation.Horizontal)
        found = [small.horizontalAdvance(str(header))]
        for at, row in enumerate(model.rows):
            found.append(text.horizontalAdvance(str(model.index(at, column).data())))
            found.append(small.horizontalAdvance(row.below_at(column)))
        return max(found) + 2 * GRID + 1

    def _span_headings(self) -> None:
        """Let headings run over all columns."""
        self.clearSpans()
        for at, row in enumerate(self.figures.rows):
            if row.is_heading:
                self.setSpan(at, 0, 1, self.figures.columnCount())

    def _tell(self, index: QModelIndex) -> None:
        self.chosen.emit(self.figures.rows[index.row()] if index.isValid() else None)

    def _tell_again(self, *_which: object) -> None:
        if self.row is not None:
            self.chosen.emit(self.row)

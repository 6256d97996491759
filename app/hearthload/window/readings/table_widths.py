"""How the reading table shares its width: each column what its words need, the note all that is left."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QTableView

from hearthload.window.fonts import small_font
from hearthload.window.readings.table_columns import COLUMNS, SPAN_COLUMNS
from hearthload.window.readings.table_model import RUN_START_ROLE
from hearthload.window.theme import GRID

GIVEN_UP: Final = (4, 5, 3)
"""Columns that a narrow table goes without, first to last: hours and kWh of each span, which its watts and
kWh a day say too, then the watts of the moment."""

FOCUS_PX: Final = 8
"""What the ring around the current cell takes of its width [px]."""

NOTE_PX: Final = 64
"""The least that is left for the notes [px]."""


def fit_columns(view: QTableView) -> None:
    """Give every column what its words need, leave out what has no room; the last one stretches."""
    room, note = view.viewport().width(), len(COLUMNS) - 1
    needed = {column: _needed(view, column) for column in range(note)}
    hidden: set[int] = set()
    for column in GIVEN_UP:
        if sum(needed[each] for each in needed if each not in hidden) + NOTE_PX <= room:
            break
        hidden.add(column)
    for column, width in needed.items():
        view.setColumnHidden(column, column in hidden)
        view.setColumnWidth(column, width)


def _needed(view: QTableView, column: int) -> int:
    """Give what the widest of a header and its cells needs [px]; words at a run's start have more columns."""
    header = QFontMetrics(small_font()).horizontalAdvance(COLUMNS[column].header)
    model, metrics, widest = view.model(), view.fontMetrics(), 0
    of_span = range(SPAN_COLUMNS[0], sum(SPAN_COLUMNS))
    for row in range(model.rowCount()):
        index = model.index(row, column)
        if column not in of_span or not index.data(RUN_START_ROLE):
            text = str(index.data(Qt.ItemDataRole.DisplayRole) or "")
            widest = max(widest, metrics.horizontalAdvance(text))
    return max(header, widest) + 2 * GRID + FOCUS_PX

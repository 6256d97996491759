"""The table of figures: Qt's rules, headings that the cursor leaps over, a choice that stays."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QFontMetrics
from pytestqt.modeltest import ModelTester

from hearthload.window.fonts import small_font, text_font
from hearthload.window.lines_delegate import LEFT, RIGHT, SECOND_ROLE
from hearthload.window.outage.figure_table import FigureModel, FigureRow, FigureTable, Headers, held
from hearthload.window.theme import GRID
from tests.window import hands
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

ROWS = (
    FigureRow("head one", "Stored"),
    FigureRow("a", "Iron", ("1.5",), "kWh", "full in 3 h"),
    FigureRow("b", "Lead", ("3.4",), "kWh"),
    FigureRow("head two", "Inverter"),
    FigureRow("c", "Power", ("900",), "W"),
)


def headers() -> Headers:
    return Headers("What", ("Figure",))


@pytest.fixture
def table(dressed: QApplication, qtbot: QtBot) -> Iterator[FigureTable]:  # noqa: ARG001
    made = FigureTable(headers(), "Figures")
    show(qtbot, made, 400, 300)
    yield made
    clear_away()


def key(table: FigureTable) -> str:
    return "" if table.row is None else table.row.key


def test_the_model_keeps_qts_rules(qtmodeltester: ModelTester) -> None:
    model = FigureModel(headers())
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_rows(ROWS)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_rows([*ROWS[:1], FigureRow("a", "Iron", ("1.6",), "kWh"), *ROWS[2:]])
    model.set_rows(())


def test_cells_and_their_sides() -> None:
    model = FigureModel(headers())
    model.set_rows(ROWS)
    assert [model.index(1, column).data() for column in range(3)] == ["Iron", "1.5", "kWh"]
    assert model.index(1, 0).data(SECOND_ROLE) == "full in 3 h"
    assert [model.index(0, column).data() for column in range(3)] == ["Stored", "", ""]
    aligned = Qt.ItemDataRole.TextAlignmentRole
    assert [model.index(1, column).data(aligned) for column in range(3)] == [LEFT, RIGHT, LEFT]
    assert model.index(1, 0).data(Qt.ItemDataRole.AccessibleTextRole) == "What: Iron, full in 3 h"
    assert model.data(QModelIndex()) is None


def test_the_cursor_leaps_over_headings(table: FigureTable) -> None:
    table.show_rows(ROWS)
    table.setFocus()
    went = [key(table)]
    for _ in range(3):
        hands.press(Qt.Key.Key_Down)
        went.append(key(table))
    assert went == ["a", "b", "c", "c"]
    hands.press(Qt.Key.Key_Up)
    assert key(table) == "b"


def test_the_choice_stays_with_its_key(table: FigureTable) -> None:
    told: list[FigureRow | None] = []
    table.show_rows(ROWS)
    table.choose("b")
    table.chosen.connect(told.append)
    changed = FigureRow("b", "Lead", ("3.9",), "kWh")
    table.show_rows([*ROWS[:2], changed, *ROWS[3:]])
    assert told == [changed]
    assert key(table) == "b"
    table.show_rows([ROWS[0], changed])
    assert key(table) == "b"
    table.show_rows(ROWS[3:])
    assert key(table) == "c"
    table.show_rows(())
    assert table.row is None
    assert told[-1] is None


def test_the_columns_fill_the_table(table: FigureTable) -> None:
    table.show_rows(ROWS)
    assert sum(table.columnWidth(column) for column in range(3)) == table.viewport().width()
    assert table.columnSpan(0, 0) == 3
    assert table.columnSpan(1, 0) == 1


def test_columns_have_room_for_what_they_say(table: FigureTable) -> None:
    table.resize(480, 300)
    table.show_rows(ROWS)
    before = table.columnWidth(1)
    long = FigureRow("a", "Iron", ("1280 (1130 to 1450)",), "kWh a day")
    table.show_rows([ROWS[0], long, *ROWS[2:]])
    metrics = QFontMetrics(text_font())
    assert table.columnWidth(1) >= metrics.horizontalAdvance(long.values[0]) + 2 * GRID > before
    assert table.columnWidth(2) >= metrics.horizontalAdvance(long.unit) + 2 * GRID
    assert sum(table.columnWidth(column) for column in range(3)) == table.viewport().width()
    below = FigureRow("a", "Iron", ("1",), "kWh", belows=("what is said under a value, in small letters",))
    table.show_rows([ROWS[0], below, *ROWS[2:]])
    assert table.columnWidth(0) >= int(0.4 * table.viewport().width())
    table.resize(900, 300)
    assert table.columnWidth(1) >= QFontMetrics(small_font()).horizontalAdvance(below.belows[0]) + 2 * GRID


def test_the_widest_columns_are_held() -> None:
    assert held([100, 40], 200) == [100, 40]
    assert held([200, 180, 30], 230) == [100, 100, 30]
    assert held([], 100) == []


def test_the_exact_value_is_in_the_tool_tip() -> None:
    model = FigureModel(headers())
    model.set_rows([FigureRow("a", "Iron", ("1.5",), "kWh", exact=("1.4999871",)), ROWS[2]])
    tip = Qt.ItemDataRole.ToolTipRole
    assert model.index(0, 1).data(tip) == "Figure: 1.4999871 kWh"
    assert model.index(0, 0).data(tip) == "What: Iron"
    assert model.index(1, 1).data(tip) == "Figure: 3.4"
    assert model.index(0, 1).data(Qt.ItemDataRole.AccessibleTextRole) == "Figure: 1.5"

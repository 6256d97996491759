"""The roster with its filter box: words that filter, keys that go on, columns that fit their width."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.domain.appliance import Kind
from hearthload.service import queries
from hearthload.window.lines_delegate import SECOND_ROLE
from hearthload.window.readings.roster import RosterPanel
from hearthload.window.readings.roster_cells import Column
from hearthload.window.readings.roster_widths import FOLDS, WIDTHS, shared_out
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ESCAPE, DOWN, ENTER = Qt.Key.Key_Escape, Qt.Key.Key_Down, Qt.Key.Key_Return


@pytest.fixture
def roster(house: House, qtbot: QtBot) -> Iterator[RosterPanel]:
    house.measured("Deep chest", room="barn", kind=Kind.FREEZER)
    house.appliance("Lamp", Kind.LAMP_TIMER, room="barn")
    house.appliance("Cooker", Kind.KITCHEN, hard_wired=True)
    page = QWidget()
    made = RosterPanel(page)
    QVBoxLayout(page).addWidget(made)
    show(qtbot, page, 760, 400)
    made.set_rows(queries.roster(house.session.logbook, house.clock()))
    yield made
    clear_away()


def names(roster: RosterPanel) -> list[str]:
    order = roster.view.order
    return [str(order.index(row, Column.NAME).data()) for row in range(order.rowCount())]


@pytest.mark.parametrize(
    ("typed", "left"),
    [
        ("barn", ["Deep chest", "Lamp"]),
        ("BARN run", ["Deep chest"]),
        ("hard", ["Cooker"]),
        ("kitchen", ["Cooker"]),
        ("nothing like it", []),
    ],
)
def test_the_filter_leaves_what_has_every_word(roster: RosterPanel, typed: str, left: list[str]) -> None:
    hands.fill(roster.filter_box, typed)
    assert names(roster) == left
    assert roster.nothing.isVisible() == (not left)
    hands.press(ESCAPE)
    assert roster.filter_box.text() == ""
    assert names(roster) == ["Cooker", "Deep chest", "Lamp"]
    assert not roster.nothing.isVisible()


@pytest.mark.parametrize("key", [DOWN, ENTER])
def test_from_the_box_into_the_rows(roster: RosterPanel, qtbot: QtBot, key: Qt.Key) -> None:
    hands.fill(roster.filter_box, "barn")
    with qtbot.waitSignal(roster.chosen) as told:
        hands.press(key)
    assert focused() is roster.view
    assert told.args == [roster.view.chosen_id()]
    assert roster.view.currentIndex().data() == "Deep chest"
    hands.press(DOWN)
    assert roster.view.currentIndex().data() == "Lamp"


def test_choosing_what_the_filter_hides_clears_the_filter(house: House, roster: RosterPanel) -> None:
    hands.fill(roster.filter_box, "barn")
    cooker = next(row.appliance.id for row in roster.view.rows.rows if row.appliance.name == "Cooker")
    roster.choose(cooker)
    assert roster.filter_box.text() == ""
    assert roster.view.chosen_id() == cooker
    assert house.row(cooker).appliance.hard_wired


def test_a_narrow_roster_puts_figures_under_others(roster: RosterPanel, qtbot: QtBot) -> None:
    window = roster.window()
    hidden = []
    for width in (760, 600, 500):
        window.resize(width, 400)
        qtbot.waitUntil(lambda width=width: window.width() == width)  # type: ignore[misc]
        hidden.append({column for column in Column if roster.view.isColumnHidden(column)})
        shown = sum(roster.view.columnWidth(column) for column in Column)
        needed = sum(WIDTHS[column] for column in Column if column not in hidden[-1])
        assert needed <= shown <= roster.view.viewport().width()
    assert hidden == [set(FOLDS[:many]) for many in range(3)]
    chest = next(at for at, row in enumerate(roster.view.rows.rows) if row.appliance.name == "Deep chest")
    name, share = (roster.view.rows.index(chest, column) for column in (Column.NAME, Column.SHARE))
    assert name.data(SECOND_ROLE) == "unread today, barn"
    assert share.data(SECOND_ROLE) == "of 5.0 d"
    assert "measured for" in share.data(Qt.ItemDataRole.ToolTipRole)
    assert roster.view.rows.headerData(Column.NAME, Qt.Orientation.Horizontal) == "Appliance,\nstate"


@pytest.mark.parametrize("room", [430, 600, 900, 1600])
def test_the_width_is_shared_out_to_the_last_pixel(room: int) -> None:
    widths = shared_out(room, frozenset(), 200)
    assert sum(widths.values()) == max(room, sum(WIDTHS.values()))
    assert widths[Column.NAME] <= 200


def test_the_order_turns_round(roster: RosterPanel) -> None:
    roster.view.sort_by(Column.NAME)
    assert names(roster) == ["Lamp", "Deep chest", "Cooker"]
    roster.view.sort_by(Column.DAILY)
    assert names(roster)[0] == "Deep chest"
    roster.view.sort_by(Column.NAME)
    assert names(roster) == ["Cooker", "Deep chest", "Lamp"]


def test_the_rows_are_drawn(roster: RosterPanel) -> None:
    empty = RosterPanel()
    empty.resize(roster.size())
    roster.view.clearSelection()
    assert roster.view.grab().toImage() != empty.view.grab().toImage()


def test_a_filter_chooses_nothing_else_and_gives_the_chosen_back(house: House, qtbot: QtBot) -> None:
    for name in ("Attic lamp", "Barn freezer", "Cooker"):
        house.appliance(name)
    panel = RosterPanel()
    show(qtbot, panel)
    panel.set_rows(queries.roster(house.session.logbook, house.clock()))
    chosen: list[int] = []
    panel.chosen.connect(chosen.append)
    barn = next(row.appliance.id for row in panel.view.rows.rows if row.appliance.name == "Barn freezer")
    panel.choose(barn)
    panel.filter_box.setText("cook")
    assert panel.view.chosen_id() is None
    panel.filter_box.setText("zzz")
    panel.filter_box.clear()
    assert panel.view.chosen_id() == barn
    assert chosen == [barn]

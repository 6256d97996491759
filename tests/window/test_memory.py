"""What the window remembers: its place, the line between its sides, the order of its tables, the theme."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMainWindow, QWidget

from hearthload.service.preferences import preferences_path, window_state
from hearthload.window.appearance import Choice
from hearthload.window.memory import FIRST_SIZE, Memory
from hearthload.window.readings.roster_cells import Column
from hearthload.window.readings.sides import Sides
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

ASCENDING, DESCENDING = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder


def page_with_sides() -> tuple[QWidget, Sides]:
    page = QWidget()
    return page, Sides(QWidget(page), page)


def sorted_by(sides: Sides) -> tuple[int, Qt.SortOrder]:
    order = sides.roster.view.order
    return order.sortColumn(), order.sortOrder()


def test_everything_comes_back_in_the_next_session(qtbot: QtBot) -> None:
    window, (page, sides) = QMainWindow(), page_with_sides()
    window.setCentralWidget(page)
    show(qtbot, window, 777, 555)
    sides.splitter.setSizes([640, 137])
    sides.splitter.moved = True
    sides.roster.view.sortByColumn(Column.DAILY, DESCENDING)
    Memory().keep(window, {"readings": page}, Choice.DARK)

    later, other, (page_again, again) = Memory(), QMainWindow(), page_with_sides()
    qtbot.addWidget(other)
    later.restore_window(other)
    assert other.size() == window.size()
    assert later.theme() is Choice.DARK
    later.restore_page("readings", page_again)
    show(qtbot, page_again, 777, 555)
    assert sorted_by(again) == (Column.DAILY, DESCENDING)
    assert again.splitter.sizes() == sides.splitter.sizes()
    assert again.splitter.sizes()[1] < 150


def test_a_line_that_nobody_moved_is_not_noted(qtbot: QtBot) -> None:
    window, (page, _) = QMainWindow(), page_with_sides()
    qtbot.addWidget(window)
    qtbot.addWidget(page)
    Memory().keep(window, {"readings": page}, Choice.LIGHT)
    assert set(window_state()) == {"theme", "geometry", "readings.roster"}


def test_the_first_time_the_window_fits_the_screen(qtbot: QtBot) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    memory = Memory()
    memory.restore_window(window)
    assert window.size() == FIRST_SIZE.boundedTo(window.screen().availableSize())
    assert memory.theme() is Choice.SYSTEM


@pytest.mark.parametrize(
    "notes",
    [
        {"theme": "mauve", "geometry": "not base64 ±", "readings.across": "@@", "readings.roster": "down 3"},
        {"theme": "", "geometry": "AAAA", "readings.across": "", "readings.roster": "99 down"},
        {"theme": "DARK", "readings.roster": "² down", "readings.unheard-of": "AAAA"},
    ],
)
def test_notes_that_make_no_sense_do_no_harm(qtbot: QtBot, notes: dict[str, str]) -> None:
    memory, window, (page, sides) = Memory(notes), QMainWindow(), page_with_sides()
    qtbot.addWidget(window)
    memory.restore_window(window)
    assert window.size() == FIRST_SIZE.boundedTo(window.screen().availableSize())
    memory.restore_page("readings", page)
    show(qtbot, page, 1000, 400)
    assert memory.theme() is Choice.SYSTEM
    assert sorted_by(sides) == (Column.NAME, ASCENDING)
    assert not sides.splitter.moved


def test_notes_of_pages_that_were_not_opened_are_kept(qtbot: QtBot) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    Memory({"meters.across": "AAAA", "theme": "light"}).keep(window, {}, Choice.DARK)
    assert window_state()["meters.across"] == "AAAA"
    assert window_state()["theme"] == "dark"


def test_a_folder_that_cannot_be_written_costs_only_the_notes(qtbot: QtBot, home: Path) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    folder = preferences_path().parent
    folder.parent.mkdir(parents=True, exist_ok=True)
    folder.write_text("a file where the folder should be", encoding="utf-8")
    Memory().keep(window, {}, Choice.DARK)
    assert Memory().theme() is Choice.SYSTEM
    assert home.is_dir()

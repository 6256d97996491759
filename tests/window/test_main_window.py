"""The window: pages by key, sentences in place of boxes, read-only in words, changes by another program."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QWidget

from hearthload.domain.household import Household
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import KnownError
from hearthload.service import queries
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import open_logbook
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.meters.page import MetersPage
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House, reopen_read_only
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

CTRL, ESCAPE, ENTER = Qt.KeyboardModifier.ControlModifier, Qt.Key.Key_Escape, Qt.Key.Key_Return


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def window(session: Session, house: House, qtbot: QtBot) -> Iterator[MainWindow]:
    """Give the window with its menus, before a page is shown."""
    made = MainWindow(session, Memory({}))
    made.furnish()
    show(qtbot, made, 1280, 860)
    assert house.session is session
    yield made
    clear_away()


def readings(window: MainWindow) -> ReadingsPage:
    return cast("ReadingsPage", window.show_page("readings"))


# --- pages ---


def test_pages_are_chosen_by_key_and_by_the_bar(window: MainWindow, house: House) -> None:
    house.measured()
    window.setFocus()
    hands.press(Qt.Key.Key_2, CTRL)
    assert isinstance(window.shown, MetersPage)
    assert window.bar.tabs["meters"].isChecked()
    hands.press(Qt.Key.Key_1, CTRL)
    assert isinstance(window.shown, ReadingsPage)
    assert [key for key, tab in window.bar.tabs.items() if tab.isChecked()] == ["readings"]
    hands.click(window.bar.tabs["meters"])
    assert isinstance(window.shown, MetersPage)
    window.bar.tabs["readings"].setFocus()
    hands.press(ENTER)
    assert isinstance(window.shown, ReadingsPage)


def test_a_hidden_page_catches_up_when_it_is_shown(window: MainWindow, house: House) -> None:
    house.meter("Amber meter")
    page = cast("MetersPage", window.show_page("meters"))
    assert page.table.meters.rowCount() == 1
    shown = readings(window)
    stay = house.measured()
    assert page.table.meters.rowCount() == 1
    window.show_page("meters")
    assert [row.meter.name for row in page.table.meters.rows] == ["Amber meter", "Meter of Larder box"]
    house.read(stay.id, 0.0, 6.0)
    assert not shown.roster.view.rows.rows[0].read_today
    window.show_page("readings")
    assert shown.roster.view.rows.rows[0].read_today
    assert shown.head.standing.text().endswith("all read today")


def test_help_opens_in_place_and_leads_back(window: MainWindow) -> None:
    readings(window)
    hands.press(Qt.Key.Key_F1)
    assert window.shown is window.help
    assert not any(tab.isChecked() for tab in window.bar.tabs.values())
    hands.press(ESCAPE)
    assert isinstance(window.shown, ReadingsPage)


# --- the household ---


def test_the_household_is_changed_in_place(window: MainWindow, house: House) -> None:
    readings(window)
    hands.press(Qt.Key.Key_Comma, CTRL)
    sheet = window.household
    assert window.shown is sheet
    assert window.windowTitle() == "Hillside — Hearthload"
    assert focused() is sheet.form.rows["name"].editor
    for name, text in (("name", "Mill lane"), ("mains_voltage_v", "120"), ("price_per_kwh", "0,31")):
        hands.fill(sheet.form.rows[name].editor, text)
    sheet.frequency.choose(60.0)
    sheet.plug.choose("nema_5_15")
    hands.press(ENTER)
    assert queries.household(house.session.logbook) == Household(
        name="Mill lane", mains_voltage_v=120.0, mains_frequency_hz=60.0, default_plug="nema_5_15",
        price_per_kwh=0.31,
    )  # fmt: skip
    assert window.windowTitle() == "Mill lane — Hearthload"
    assert isinstance(window.shown, ReadingsPage)
    house.session.undo()
    assert window.windowTitle() == "Hillside — Hearthload"


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("mains_voltage_v", "12", "The mains voltage must be between 50 and 500 V"),
        ("mains_voltage_v", "0", "must be more than zero"),
        ("price_per_kwh", "1.000,50", "more than one decimal mark"),
        ("currency", "x" * 121, "too long"),
    ],
)
def test_the_household_refuses_by_field(
    window: MainWindow, house: House, *, field: str, typed: str, sentence: str
) -> None:
    window.show_household()
    row = window.household.form.rows[field]
    hands.fill(row.editor, typed)
    hands.press(ENTER)
    assert sentence in row.complaints.text
    assert row.complaints.isVisible()
    assert focused() is row.editor
    assert queries.household(house.session.logbook) == Household(name="Hillside")
    hands.press(ESCAPE)
    assert isinstance(window.shown, ReadingsPage)


def test_an_empty_voltage_is_the_usual_mains(window: MainWindow, house: House) -> None:
    window.show_household()
    hands.fill(window.household.form.rows["mains_voltage_v"].editor, "")
    hands.press(ENTER)
    assert queries.household(house.session.logbook).mains_voltage_v == 230.0


# --- sentences in place ---


def strip_button(window: MainWindow) -> QPushButton:
    (button,) = window.strip.findChildren(QPushButton)
    return button


def test_what_stands_in_the_way_is_said_above_the_page(window: MainWindow, house: House) -> None:
    readings(window)
    before = house.session.logbook.path
    assert not house.session.create(before, Household())
    assert window.strip.isVisible()
    assert window.strip.sentence == "“home.hearthload” exists already. Open it, or choose another name."
    assert window.strip.accessibleName() == window.strip.sentence
    assert house.session.logbook.path == before
    page = window.shown
    assert page is not None
    assert window.strip.mapToGlobal(window.strip.rect().bottomLeft()).y() <= page.mapToGlobal(page.pos()).y()


@pytest.mark.parametrize("how", ["button", "escape", "next edit"])
def test_a_sentence_can_be_taken_away(window: MainWindow, house: House, how: str) -> None:
    readings(window)
    house.session.troubled.emit(KnownError("The disk is full."))
    assert window.strip.sentence == "The disk is full."
    if how == "button":
        hands.click(strip_button(window))
    elif how == "escape":
        window.bar.tabs["readings"].setFocus()
        hands.press(ESCAPE)
    else:
        house.meter()
    assert not window.strip.isVisible()
    assert window.strip.sentence == ""


def test_the_next_sentence_takes_the_place_of_the_last(window: MainWindow, house: House) -> None:
    readings(window)
    house.session.troubled.emit(KnownError("The disk is full."))
    house.session.troubled.emit(KnownError("The disk is gone."))
    assert window.strip.sentence == "The disk is gone."


def test_a_bug_is_told_in_the_window_with_its_report(window: MainWindow, house: House) -> None:
    from hearthload.commands import faults

    readings(window)
    house.session.troubled.emit(KnownError(faults.apology(ZeroDivisionError("made up"))))
    assert "Traceback" not in window.strip.sentence
    assert window.strip.isVisible()


def test_what_was_saved_is_said_in_the_status_line(window: MainWindow, house: House) -> None:
    readings(window)
    house.meter("Amber meter")
    assert window.said.text() == "Saved (add meter: Amber meter). Ctrl+Z takes it back."
    house.session.undo()
    assert window.said.text() == "Taken back (add meter: Amber meter). Ctrl+Shift+Z brings it again."


# --- read-only ---


def test_a_read_only_logbook_says_so_and_refuses_in_words(window: MainWindow, house: House) -> None:
    stay = house.measured()
    reopen_read_only(house.session)
    assert window.windowTitle() == "Hillside (read-only) — Hearthload"
    assert window.where.text() == "home.hearthload (read-only)"
    page = readings(window)
    hands.click(page.work.head.remove_button)
    assert "it is read-only where it is" in window.strip.sentence
    assert page.roster.view.rows.rowCount() == 1
    hands.fill(page.work.entry.form.energy, "6.0")
    hands.press(ENTER, times=2)
    assert house.energies(stay.id)[-1] == 5.0
    assert page.work.entry.form.energy.text() == "6.0"


@pytest.mark.parametrize("sheet", ["household", "meter"])
def test_read_only_sheets_refuse_in_words(window: MainWindow, house: House, sheet: str) -> None:
    reopen_read_only(house.session)
    if sheet == "household":
        window.show_household()
        form = window.household.form
    else:
        window.actions_made.tasks.add_meter()
        form = cast("MetersPage", window.shown).sheet.form
    hands.fill(form.rows["name"].editor, "Amber")
    hands.press(ENTER)
    assert form.rows["name"].complaints.isVisible()
    assert "it is read-only where it is" in form.rows["name"].complaints.text
    assert queries.household(house.session.logbook).name == "Hillside"
    assert queries.meters(house.session.logbook) == ()


# --- another program ---


def test_coming_to_the_front_shows_what_another_program_saved(
    window: MainWindow, house: House, qtbot: QtBot
) -> None:
    stay = house.measured()
    page = readings(window)
    qtbot.waitUntil(lambda: page.work.charts.plots is not None)
    window._look_timer.stop()
    elsewhere = QWidget()
    show(qtbot, elsewhere, 100, 100)
    with open_logbook(house.session.logbook.path, clock=house.clock) as other:
        add_reading(other, stay.id, ReadingDraft(house.clock(), 6.0, 144.0))
    assert not page.roster.view.rows.rows[0].read_today
    with qtbot.waitSignal(house.session.changed):
        window.activateWindow()
    assert page.roster.view.rows.rows[0].read_today
    assert "7 readings" in page.work.measure.standing.text()
    assert "last 6.00, today 07:30" in page.work.entry.form.form.rows["energy_kwh"].beside.text()


def test_a_window_left_open_looks_by_itself(window: MainWindow, house: House, qtbot: QtBot) -> None:
    stay = house.measured()
    page = readings(window)
    window._look_timer.setInterval(10)
    with (
        qtbot.waitSignal(house.session.changed),
        open_logbook(house.session.logbook.path, clock=house.clock) as other,
    ):
        add_reading(other, stay.id, ReadingDraft(house.clock(), 6.0, 144.0))
    assert page.roster.view.rows.rows[0].read_today


def test_coming_to_the_front_without_news_asks_for_nothing(
    window: MainWindow, house: House, qtbot: QtBot
) -> None:
    house.measured()
    page = readings(window)
    qtbot.waitUntil(lambda: page.work.charts.plots is not None)
    elsewhere = QWidget()
    show(qtbot, elsewhere, 100, 100)
    with qtbot.assertNotEmitted(house.session.changed):
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)


# --- files ---


def test_opening_another_logbook_shows_that_one(window: MainWindow, house: House, tmp_path: Path) -> None:
    house.measured()
    page = readings(window)
    first = house.session.logbook.path
    assert house.session.create(tmp_path / "mill.hearthload", Household(name="Mill lane"))
    assert window.windowTitle() == "Mill lane — Hearthload"
    assert page.roster.view.rows.rowCount() == 0
    assert house.session.open(first)
    assert page.roster.view.rows.rowCount() == 1
    assert [path.name for path in window.files.recent()] == ["mill.hearthload"]


def test_a_file_that_is_no_logbook_leaves_the_one_that_is_open(
    window: MainWindow, house: House, tmp_path: Path
) -> None:
    readings(window)
    other = tmp_path / "list.hearthload"
    other.write_text("milk, bread", encoding="utf-8")
    assert not house.session.open(other)
    assert "list.hearthload" in window.strip.sentence
    assert window.windowTitle() == "Hillside — Hearthload"
    assert isinstance(window.shown, ReadingsPage)


def test_closing_the_logbook_leads_to_the_start(window: MainWindow, house: House) -> None:
    readings(window)
    house.session.close()
    assert window.shown is window.start
    assert window.start.new_button.isVisible()
    assert window.show_page("readings") is None
    assert not window.actions_made.undo.isEnabled()

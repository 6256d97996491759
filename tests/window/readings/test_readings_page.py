"""The Readings page: one appliance shown everywhere, and every change followed without loading anew."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QWidget

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.service.edits.appliances import change_appliance
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.lower import READINGS
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.readings.roster_cells import Column, cell_text, second_line
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from tests.window.conftest import Clock

Opened = Callable[[], ReadingsPage]


def cells(page: ReadingsPage, appliance_id: int) -> dict[Column, str]:
    """Give what the roster's lines say of an appliance."""
    place = page.roster.view.rows.row_of(appliance_id)
    assert place is not None
    model = page.roster.view.rows
    return {column: str(model.index(place, column).data()) for column in Column}


def points_drawn(page: ReadingsPage) -> int:
    plots = page.work.charts.plots
    return 0 if plots is None else len(plots._points.getData()[0])


# --- opening ---


def test_it_opens_at_the_first_meter_that_waits(house: House, opened: Opened) -> None:
    house.read(house.measured("Box", room="attic").id, 0.0, 6.0)
    waiting = house.measured("Chest", room="barn")
    house.measured("Deep chest", room="cellar")
    page = opened()
    assert page.roster.view.chosen_id() == waiting.appliance_id
    assert page.work.head.name.text() == "Chest"
    assert page.work.entry.name.text() == "Meter of Chest"
    assert page.work.entry.round_words.text() == "Morning round: 2 of 3, next: Deep chest"
    assert page.head.standing.text() == "3 appliances, 3 on a meter, 2 to read today"
    assert focused() is page.work.entry.form.energy


def test_with_everything_read_it_opens_at_the_first_row(house: House, opened: Opened) -> None:
    house.read(house.measured("Chest").id, 0.0, 6.0)
    lamp = house.appliance("A lamp", Kind.LAMP_TIMER)
    page = opened()
    assert page.roster.view.chosen_id() == lamp
    assert page.head.standing.text() == "2 appliances, 1 on a meter, all read today"
    assert not page.work.entry.isVisible()


def test_the_round_takes_the_roster_along(house: House, opened: Opened) -> None:
    first, second = house.measured("Box", room="a"), house.measured("Chest", room="b")
    page = opened()
    for stay, energy in ((first, "6.1"), (second, "6.2")):
        assert page.roster.view.chosen_id() == stay.appliance_id
        hands.write(energy)
        hands.press(Qt.Key.Key_Return, times=2)
        assert cells(page, stay.appliance_id)[Column.STATE] == "running"
        assert house.row(stay.appliance_id).read_today
    assert page.head.standing.text() == "2 appliances, 2 on a meter, all read today"


# --- following changes ---


def test_a_reading_made_elsewhere_changes_row_and_chart(house: House, opened: Opened, qtbot: QtBot) -> None:
    house.measured("Box")
    stay = house.measured("Chest", room="a")
    page = opened()
    qtbot.waitUntil(lambda: points_drawn(page) == 6)
    told: list[tuple[int, int]] = []
    rows = page.roster.view.rows

    def note(first: QModelIndex, last: QModelIndex) -> None:
        told.append((first.row(), last.row()))

    rows.dataChanged.connect(note)
    before = cells(page, stay.appliance_id)
    with qtbot.assertNotEmitted(rows.modelReset), qtbot.assertNotEmitted(rows.rowsInserted):
        house.read(stay.id, 0.0, 7.5)
    place = rows.row_of(stay.appliance_id)
    assert told == [(place, place)]
    row = house.row(stay.appliance_id)
    assert cells(page, stay.appliance_id) == {column: cell_text(row, column) for column in Column}
    assert cells(page, stay.appliance_id)[Column.DAILY] != before[Column.DAILY]
    assert second_line(row, Column.STATE) == "read today"
    qtbot.waitUntil(lambda: points_drawn(page) == 7)
    assert "7 readings" in page.work.measure.standing.text()


def test_undo_is_followed_too(house: House, opened: Opened, qtbot: QtBot) -> None:
    stay = house.measured("Chest")
    page = opened()
    before = cells(page, stay.appliance_id)
    house.read(stay.id, 0.0, 7.5)
    assert cells(page, stay.appliance_id) != before
    house.session.undo()
    assert cells(page, stay.appliance_id) == before
    qtbot.waitUntil(lambda: points_drawn(page) == 6)


def test_the_page_goes_where_something_changed(house: House, opened: Opened) -> None:
    box, chest = house.measured("Box"), house.measured("Chest")
    page = opened()
    assert page.roster.view.chosen_id() == box.appliance_id
    house.session.do(finish_measurement, chest.id, house.clock())
    assert page.roster.view.chosen_id() == chest.appliance_id
    assert page.work.measure.standing.text().startswith("Finished today")


def test_a_new_name_stands_everywhere(house: House, opened: Opened, qtbot: QtBot) -> None:
    stay = house.measured("Chest")
    page = opened()
    qtbot.waitUntil(lambda: points_drawn(page) == 6)
    house.session.do(change_appliance, stay.appliance_id, ApplianceDraft("Deep chest", Kind.FREEZER, "barn"))
    assert cells(page, stay.appliance_id)[Column.NAME] == "Deep chest"
    assert page.work.head.name.text() == "Deep chest"
    assert page.work.head.about.text().startswith("barn  ·  freezer")
    assert page.work.charts.accessibleName() == "Charts of Deep chest"


def test_a_measurement_taken_back_leaves_nothing_of_it(house: House, opened: Opened, qtbot: QtBot) -> None:
    appliance_id = house.appliance("Chest")
    house.started(appliance_id, house.meter())
    page = opened()
    assert page.work.entry.isVisible()
    house.session.undo()
    assert not page.work.entry.isVisible()
    assert page.work.measure.standing.text() == "Not yet measured"
    page.work.details.choose(READINGS)
    assert page.work.table.model.rowCount() == 0
    house.session.redo()
    qtbot.waitUntil(page.work.entry.isVisible)
    assert page.work.table.model.rowCount() == 1


def test_a_filter_stays_while_readings_come_in(house: House, opened: Opened) -> None:
    stay = house.measured("Chest", room="barn")
    house.appliance("Lamp", Kind.LAMP_TIMER, room="attic")
    page = opened()
    page.focus_filter()
    hands.write("barn")
    house.read(stay.id, 0.0, 6.0)
    assert page.roster.filter_box.text() == "barn"
    assert page.roster.view.order.rowCount() == 1


# --- what is chosen is shown everywhere ---


def test_choosing_a_row_shows_it_everywhere(house: House, opened: Opened, qtbot: QtBot) -> None:
    box = house.measured("Box", days=2)
    chest = house.measured("Chest", days=4)
    page = opened()
    assert page.work.head.name.text() == "Box"
    hands.write("3.")
    page.roster.view.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert page.roster.view.chosen_id() == chest.appliance_id
    assert page.work.head.name.text() == "Chest"
    assert page.work.entry.name.text() == "Meter of Chest"
    assert page.work.entry.form.texts() == {}
    qtbot.waitUntil(lambda: points_drawn(page) == 5)
    page.work.details.choose(READINGS)
    assert page.work.table.model.rowCount() == 5
    hands.press(Qt.Key.Key_Up)
    assert page.work.entry.form.texts() == {"energy_kwh": "3."}
    assert page.work.table.model.rowCount() == 3
    assert house.energies(box.id)[-1] == 2.0


def test_an_older_measurement_can_be_looked_at_and_stays_shown(house: House, opened: Opened) -> None:
    first = house.measured("Chest", days=3, until=20)
    house.session.do(finish_measurement, first.id, house.ago(20))
    second = house.started(first.appliance_id, first.meter_id, days_ago=2.0)
    page = opened()
    page.work.details.choose(READINGS)
    assert page.work.table.model.rowCount() == 1
    page.work.measure.choice.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert page.work.table.model.rowCount() == 4
    assert not page.work.entry.isVisible()
    house.read(second, 1.0, 1.0)
    assert page.work.measure.standing.text().startswith("Finished")
    assert page.work.table.model.rowCount() == 4


def test_another_logbook_shows_nothing_of_the_one_before(house: House, opened: Opened, qtbot: QtBot) -> None:
    from hearthload.service.logbook import create_logbook

    house.measured("Chest")
    page = opened()
    hands.write("6.0")
    path = house.session.logbook.path.with_name("other.hearthload")
    house.session.attach(create_logbook(path))
    assert page.roster.view.rows.rows == ()
    assert page.steps.isVisible()
    assert page.work.entry.form.texts() == {}
    lamp = house.measured("Lamp")
    qtbot.waitUntil(page.work.isVisible)
    assert page.roster.view.chosen_id() == lamp.appliance_id


# --- another day ---


def test_the_roster_begins_a_new_day_when_the_window_comes_to_the_front(
    house: House, opened: Opened, qtbot: QtBot, clock: Clock
) -> None:
    stay = house.measured("Chest")
    house.read(stay.id, 0.0, 6.0)
    page = opened()
    assert page.head.standing.text().endswith("all read today")
    other = QWidget()
    show(qtbot, other, 100, 100)
    clock.advance(days=1)
    page.activateWindow()
    qtbot.waitUntil(lambda: page.head.standing.text().endswith("1 to read today"))
    place = page.roster.view.rows.row_of(stay.appliance_id)
    assert place is not None
    assert not page.roster.view.rows.rows[place].read_today

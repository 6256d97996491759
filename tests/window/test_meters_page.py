"""The Meters page: add, change, remove; a meter that has measured stays, and the page says why."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QLineEdit

from hearthload.domain.meter import DisplayRounding, Meter, PowerLoss
from hearthload.service import queries
from hearthload.window.meters.meter_cells import Column
from hearthload.window.meters.meter_form import HOURS_STEPS
from hearthload.window.meters.page import MetersPage
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[MetersPage]:
    made = MetersPage(session)
    show(qtbot, made, 1200, 800)
    yield made
    clear_away()


def line(page: MetersPage, name: str) -> QLineEdit:
    editor = page.sheet.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def said(page: MetersPage, name: str) -> str:
    lines = page.sheet.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def kept(house: House) -> list[Meter]:
    return [row.meter for row in queries.meters(house.session.logbook)]


def names(page: MetersPage) -> list[str]:
    model = page.table.meters
    return [str(model.index(row, Column.NAME).data()) for row in range(model.rowCount())]


def facts(page: MetersPage) -> list[str]:
    return [found.text() for found in page.detail.findChildren(QLabel) if found.isVisible()]


def test_an_empty_page_says_what_a_meter_is_for(page: MetersPage, house: House) -> None:
    (words,) = (
        found for found in page.findChildren(QLabel) if found.text().startswith("Add the plug-in meter")
    )
    assert words.isVisible()
    assert not page.table.isVisible()
    house.meter()
    assert page.table.isVisible()
    assert not words.isVisible()


def test_a_meter_is_added(page: MetersPage, house: House, qtbot: QtBot) -> None:
    hands.click(page.add_button)
    assert focused() is line(page, "name")
    typed = {"name": "Amber meter", "voltage_v": "230", "current_a": "13,5", "gain_percent": "1.0"}
    typed |= {"energy_step_kwh": "0,001", "note": "borrowed"}
    for name, text in typed.items():
        hands.fill(line(page, name), text)
    page.sheet.plug.choose("cee_7")
    page.sheet.elapsed_step.choose(HOURS_STEPS[2][0])
    page.sheet.rounding.choose(DisplayRounding.TRUNCATES)
    page.sheet.power_loss.choose(PowerLoss.KEEPS)
    hands.press(ENTER)
    (added,) = kept(house)
    assert (added.name, added.plug, added.voltage_v, added.current_a) == ("Amber meter", "cee_7", 230.0, 13.5)
    assert (added.energy_step_kwh, added.elapsed_step_h, added.gain_percent) == (0.001, 0.1, 1.0)
    assert (added.rounding, added.power_loss) == (DisplayRounding.TRUNCATES, PowerLoss.KEEPS)
    assert names(page) == ["Amber meter"]
    assert page.detail.isVisible()
    assert focused() is page.table
    qtbot.waitUntil(lambda: any("rated 13.5 A" in fact for fact in facts(page)))


def test_the_name_alone_is_enough(page: MetersPage, house: House) -> None:
    hands.click(page.add_button)
    hands.write("Grey meter")
    hands.click(page.sheet.save_button)
    (added,) = kept(house)
    assert (added.energy_step_kwh, round(added.elapsed_step_h * 60.0, 9)) == (0.01, 1.0)
    assert (added.voltage_v, added.current_a, added.gain_percent) == (None, None, None)


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Give the meter a name"),
        ("name", "grey METER", "There is a meter called “Grey meter” already"),
        ("voltage_v", "so so", "is not a number"),
        ("voltage_v", "9", "The voltage must be between"),
        ("current_a", "-10", "is negative"),
        ("current_a", "500", "The current must be between"),
        ("energy_step_kwh", "0", "must be more than zero"),
        ("energy_step_kwh", "100", "The kWh step must be between"),
        ("gain_percent", "99", "The accuracy must be between"),
    ],
)
def test_what_cannot_be_taken_is_said_under_its_field(
    page: MetersPage, house: House, *, field: str, typed: str, sentence: str
) -> None:
    house.meter("Grey meter")
    hands.click(page.add_button)
    hands.fill(line(page, "name"), "Amber meter")
    hands.fill(line(page, field), typed)
    hands.press(ENTER)
    assert sentence in said(page, field)
    assert line(page, field).text() == typed
    assert focused() is line(page, field)
    assert len(kept(house)) == 1
    hands.press(ESCAPE)
    assert page.detail.isVisible()


def test_a_meter_is_changed(page: MetersPage, house: House) -> None:
    house.meter("Amber meter", elapsed_step_h=0.5)
    house.meter("Grey meter")
    page.table.selectRow(0)
    hands.click(page.detail.change_button)
    assert page.sheet.title.text() == "Change Amber meter"
    # A step that is not among the usual ones is kept as it was noted.
    assert page.sheet.elapsed_step.value == 0.5
    hands.fill(line(page, "name"), "Zinc meter")
    hands.press(ENTER)
    assert [(meter.name, meter.elapsed_step_h) for meter in kept(house)] == [
        ("Grey meter", pytest.approx(1 / 60)),
        ("Zinc meter", 0.5),
    ]
    assert names(page) == ["Grey meter", "Zinc meter"]
    chosen = page.chosen()
    assert chosen is not None
    assert chosen.meter.name == "Zinc meter"


def test_a_meter_that_measured_nothing_is_removed(page: MetersPage, house: House) -> None:
    house.meter("Amber meter")
    house.meter("Grey meter")
    page.table.selectRow(0)
    hands.click(page.detail.remove_button)
    assert names(page) == ["Grey meter"]
    assert page.detail.name.text() == "Grey meter"
    house.session.undo()
    assert names(page) == ["Amber meter", "Grey meter"]


def test_a_meter_that_has_measured_stays(page: MetersPage, house: House) -> None:
    house.measured(days=2)
    page.table.selectRow(0)
    hands.click(page.detail.remove_button)
    assert len(kept(house)) == 1
    assert page.detail.complaints.isVisible()
    assert "has measured “Larder box”: the readings need it, so it stays." in page.detail.complaints.text
    house.meter("Amber meter")
    assert not page.detail.complaints.isVisible()


def test_the_page_says_where_each_meter_is(page: MetersPage, house: House, qtbot: QtBot) -> None:
    house.measured(days=3)
    house.meter("Spare meter")
    page.table.selectRow(0)
    qtbot.waitUntil(lambda: "on Larder box, since Fri 20 Nov, 4 days" in facts(page))
    page.table.selectRow(1)
    qtbot.waitUntil(lambda: "free" in facts(page))
    assert page.detail.name.text() == "Spare meter"
    assert any(found.text() == "2 meters, 1 free" for found in page.findChildren(QLabel))


def test_keys_go_through_the_table(page: MetersPage, house: House) -> None:
    house.meter("Amber meter")
    house.meter("Grey meter")
    page.table.selectRow(0)
    page.table.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert page.detail.name.text() == "Grey meter"


def test_a_narrow_table_fits(page: MetersPage, house: House, qtbot: QtBot) -> None:
    house.measured()
    for width in (1200, 800):
        page.resize(width, 700)
        qtbot.waitUntil(lambda width=width: page.width() == width)  # type: ignore[misc]
        shown = sum(page.table.columnWidth(column) for column in Column)
        assert shown <= page.table.viewport().width()
        assert not page.table.isColumnHidden(Column.NAME)

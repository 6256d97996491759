"""What takes typing or a press has a name for those who do not see it, and Tab goes in reading order."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import combinations
from typing import TYPE_CHECKING, cast

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QWidget,
)

from hearthload.domain.appliance import Kind
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.form import Form
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.meters.page import MetersPage
from hearthload.window.readings.charts import ChartPanel
from hearthload.window.readings.lower import READINGS
from hearthload.window.readings.measure_forms import FORM_WORDS
from hearthload.window.readings.measure_words import Action
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TAKES_INPUT = (QAbstractButton, QLineEdit, QComboBox, QAbstractItemView, ChartPanel)
TAB = Qt.Key.Key_Tab
SAME_LINE_PX = 12
SHEETS = ("appliance", "meter", "household")


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    made = House(session, clock)
    made.measured("Box", days=3)
    chest = made.measured("Chest", days=3, until=20, kind=Kind.KITCHEN)
    session.do(finish_measurement, chest.id, made.ago(20))
    made.started(chest.appliance_id, chest.meter_id, days_ago=2.0)
    made.meter("Spare meter")
    made.appliance("Lamp", Kind.LAMP_TIMER)
    return made


@pytest.fixture
def window(house: House, qtbot: QtBot) -> Iterator[MainWindow]:
    made = MainWindow(house.session, Memory({}))
    made.furnish()
    show(qtbot, made, 1280, 1100)
    yield made
    clear_away()


@pytest.fixture
def page(window: MainWindow, qtbot: QtBot) -> ReadingsPage:
    """Give the Readings page once its charts are drawn."""
    made = cast("ReadingsPage", window.show_page("readings"))
    qtbot.waitUntil(lambda: made.work.charts.plots is not None)
    return made


def named(widget: QWidget) -> bool:
    """Tell whether a screen reader has a name for a widget: its own, its text, or its caption's."""
    if widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text()):
        return True
    captions = (caption for caption in widget.window().findChildren(QLabel) if caption.buddy() is widget)
    return any(caption.text() for caption in captions)


def reachable(window: QWidget) -> list[QWidget]:
    """Give what can be seen, take the cursor and be used."""
    return [
        widget
        for widget in window.findChildren(QWidget)
        if widget.isVisible()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and isinstance(widget, TAKES_INPUT)
    ]


def check(window: MainWindow, least: int) -> None:
    found = reachable(window)
    assert len(found) >= least
    assert [widget for widget in found if not named(widget)] == []


# --- names ---


def test_the_readings_page(window: MainWindow, page: ReadingsPage) -> None:
    check(window, 20)
    hands.click(page.work.entry.form.spots.more_button)
    check(window, 26)
    page.work.details.choose(READINGS)
    check(window, 26)


def test_what_follows_from_a_doubt(window: MainWindow, page: ReadingsPage, qtbot: QtBot) -> None:
    hands.write("40")
    page.work.entry.form.focus_field("elapsed_h")
    below = page.work.entry.form.form.rows["energy_kwh"].complaints
    qtbot.waitUntil(lambda: any(fix.isVisible() for fix in below.findChildren(QPushButton)))
    check(window, 21)
    hands.press(Qt.Key.Key_1, Qt.KeyboardModifier.AltModifier)
    hands.write("0.2")
    page.work.entry.form.focus_field("elapsed_h")
    hands.press(Qt.Key.Key_1, Qt.KeyboardModifier.AltModifier)
    assert page.work.entry.run_form is not None
    check(window, 15)


def test_the_forms_of_the_measurement_bar(window: MainWindow, page: ReadingsPage) -> None:
    rows = {row.appliance.name: row.appliance.id for row in page.roster.view.rows.rows}
    for action in FORM_WORDS:
        page.roster.choose(rows["Lamp" if action in {Action.START, Action.PLAN} else "Chest"])
        page.measure(action)
        form = page.work.measure.open_form
        assert form is not None
        assert form.isVisible()
        check(window, 10)


def test_the_sheets(window: MainWindow) -> None:
    for sheet in SHEETS:
        form = open_sheet(window, sheet)
        check(window, 10)
        # The caption leads to its field, so that a screen reader reads them as one.
        assert all(row.caption.buddy() is row.editor for row in form.rows.values())


def test_the_other_pages(window: MainWindow, house: House) -> None:
    window.show_page("meters")
    check(window, 5)
    window.show_help("cautions")
    check(window, 3)
    house.session.close()
    assert window.start.isVisible()
    check(window, 5)


def test_the_first_steps(window: MainWindow, page: ReadingsPage, house: House) -> None:
    page.roster.view.setFocus()
    while house.session.undo_name is not None:
        hands.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert page.steps.isVisible()
    check(window, 5)


def test_fields_tell_their_units_and_hints(page: ReadingsPage) -> None:
    form = page.work.entry.form
    assert form.energy.accessibleName() == "Counter (kWh)"
    assert "expected" in form.energy.accessibleDescription()
    assert form.spots.lines["power_w"].accessibleDescription().startswith("watts on the display")
    assert page.work.charts.accessibleDescription().startswith("Box: 4 readings")


# --- order ---


def open_sheet(window: MainWindow, sheet: str) -> Form:
    if sheet == "appliance":
        page = cast("ReadingsPage", window.show_page("readings"))
        page.add_appliance()
        return page.sheet.form
    if sheet == "meter":
        window.actions_made.tasks.add_meter()
        return cast("MetersPage", window.shown).sheet.form
    window.show_household()
    return window.household.form


def tabbed(first: QWidget, inside: QWidget) -> list[QWidget]:
    """Press Tab once round the window; give what had the cursor on the way and lies inside a part."""
    first.setFocus(Qt.FocusReason.TabFocusReason)
    found = [first]
    for _ in range(100):
        hands.press(TAB)
        if focused() is first:
            return [widget for widget in found if inside.isAncestorOf(widget)]
        found.append(focused())
    raise AssertionError("Tab never came back")


def in_reading_order(widgets: list[QWidget], inside: QWidget) -> list[QWidget]:
    """Sort by lines from the top, then from the left; what stands a little higher is still on its line."""
    middles = {widget: widget.mapTo(inside, widget.rect().center()) for widget in widgets}
    lines: list[list[QWidget]] = []
    for widget in sorted(widgets, key=lambda each: middles[each].y()):
        if not lines or middles[widget].y() - middles[lines[-1][0]].y() > SAME_LINE_PX:
            lines.append([])
        lines[-1].append(widget)
    return [widget for line in lines for widget in sorted(line, key=lambda each: middles[each].x())]


def overlapping(one: QWidget, other: QWidget, inside: QWidget) -> bool:
    boxes = [QRect(each.mapTo(inside, QPoint(0, 0)), each.size()) for each in (one, other)]
    return boxes[0].intersects(boxes[1])


@pytest.mark.parametrize("more", [False, True])
def test_tab_goes_through_the_entry_fields_as_they_are_read(
    page: ReadingsPage, qtbot: QtBot, more: bool
) -> None:
    form = page.work.entry.form
    if more:
        hands.click(form.spots.more_button)
    lines = [
        line for line in (form.energy, form.hours, form.when, *form.spots.lines.values()) if line.isVisible()
    ]
    # Fields that have just come into sight stand upon one another until they are laid out.
    qtbot.waitUntil(lambda: not any(overlapping(one, other, form) for one, other in combinations(lines, 2)))
    fields = tabbed(form.energy, form)
    assert fields == in_reading_order(fields, form)
    assert fields[:3] == [form.energy, form.hours, form.when]
    assert set(fields) == {*lines, form.spots.state}


def test_tab_goes_from_the_fields_to_the_button_that_saves(page: ReadingsPage) -> None:
    entry = page.work.entry
    stops = tabbed(entry.form.energy, entry)
    buttons = [stop for stop in stops if isinstance(stop, QPushButton)]
    assert buttons == [entry.form.spots.more_button, entry.save_button, entry.skip_button]
    assert stops.index(entry.save_button) > max(
        stops.index(line) for line in stops if isinstance(line, QLineEdit)
    )


def test_tab_goes_through_the_sheets_as_they_are_read(window: MainWindow) -> None:
    for sheet in SHEETS:
        form = open_sheet(window, sheet)
        first = next(iter(form.rows.values())).editor
        stops = tabbed(first, form)
        assert stops == [row.editor for row in form.rows.values()]
        assert stops == in_reading_order(stops, form)


def test_back_tab_goes_the_other_way(page: ReadingsPage) -> None:
    form = page.work.entry.form
    form.focus_field("elapsed_h")
    hands.press(Qt.Key.Key_Backtab)
    assert focused() is form.energy

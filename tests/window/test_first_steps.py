"""A fresh logbook: what to do first, each step with its button, ticked off as it is done."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING, cast

import pytest
from PySide6.QtCore import Qt

from hearthload.domain.measurement import MeasurementState
from hearthload.service import queries
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.meters.page import MetersPage
from hearthload.window.readings.first_steps import FirstSteps, Progress, Step
from hearthload.window.readings.measure_forms import ActionForm
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import clear_away, focused, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, CTRL = Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[ReadingsPage]:
    window = MainWindow(session, Memory({}))
    show(qtbot, window, 1280, 860)
    yield cast("ReadingsPage", window.show_page("readings"))
    clear_away()


def standing(steps: FirstSteps) -> list[str]:
    """Give how each step stands: done, now, or later."""
    return [how(step) for step in (steps.meter, steps.appliance, steps.start)]


def how(step: Step) -> str:
    assert step.mark.done == step.accessibleName().endswith(": done")
    if step.mark.done:
        return "done"
    return "now" if step.button.property("look") == "primary" else "later"


def test_an_empty_logbook_says_what_to_do_first(page: ReadingsPage) -> None:
    assert page.steps.isVisible()
    assert not page.left.isVisible()
    assert standing(page.steps) == ["now", "later", "later"]
    assert not page.steps.start.button.isEnabled()


def test_the_steps_lead_to_the_first_reading(page: ReadingsPage, house: House, qtbot: QtBot) -> None:
    window = cast("MainWindow", page.window())
    hands.click(page.steps.meter.button)
    assert isinstance(window.shown, MetersPage)
    hands.write("Grey meter")
    hands.press(ENTER)
    hands.press(Qt.Key.Key_1, CTRL)
    assert page.steps.isVisible()
    assert standing(page.steps) == ["done", "now", "later"]
    hands.click(page.steps.appliance.button)
    hands.write("Deep chest")
    hands.press(ENTER)
    assert page.steps.isVisible()
    assert page.left.isVisible()
    assert standing(page.steps) == ["done", "done", "now"]
    hands.click(page.steps.start.button)
    form = page.work.measure.open_form
    assert isinstance(form, ActionForm)
    assert focused() is form.meter
    hands.click(form.accept_button)
    (row,) = queries.roster(house.session.logbook, house.clock())
    assert row.state is MeasurementState.RUNNING
    assert page.work.isVisible()
    assert not page.steps.isVisible()
    qtbot.waitUntil(page.work.entry.isVisible)


def test_a_done_step_offers_another(page: ReadingsPage, house: House) -> None:
    house.meter()
    assert page.steps.meter.button.text() == "Add another"
    assert page.steps.appliance.button.text() == "Add an appliance"
    house.appliance()
    assert page.steps.appliance.button.text() == "Add another"
    assert page.steps.start.button.isEnabled()


def test_undo_unticks_a_step(page: ReadingsPage, house: House) -> None:
    house.meter()
    assert standing(page.steps)[0] == "done"
    house.session.undo()
    assert standing(page.steps) == ["now", "later", "later"]


def test_the_demo_is_one_click_away(page: ReadingsPage, house: House) -> None:
    before = house.session.logbook.path
    hands.click(page.steps.demo)
    assert house.session.logbook.path != before
    assert house.session.logbook.path.name == f"demo-{house.clock():%Y-%m-%d}.hearthload"
    assert page.roster.view.rows.rowCount() > 10
    assert page.work.isVisible()
    assert page.left.isVisible()


@pytest.mark.usefixtures("dressed")
@pytest.mark.parametrize(
    ("progress", "stands"),
    [
        (Progress(0, 0, measured=False), ["now", "later", "later"]),
        (Progress(0, 2, measured=False), ["now", "done", "later"]),
        (Progress(1, 0, measured=False), ["done", "now", "later"]),
        (Progress(1, 2, measured=False), ["done", "done", "now"]),
        (Progress(1, 2, measured=True), ["done", "done", "done"]),
    ],
)
def test_one_step_is_put_forward_at_a_time(qtbot: QtBot, progress: Progress, stands: list[str]) -> None:
    steps = FirstSteps()
    qtbot.addWidget(steps)
    steps.show_progress(progress)
    assert standing(steps) == stands


def test_a_step_is_drawn_with_its_tick(page: ReadingsPage, house: House) -> None:
    undone = page.steps.meter.mark.grab().toImage()
    house.meter()
    assert page.steps.meter.mark.grab().toImage() != undone

"""How an estimate came about, in the window: words first, the equations behind one press."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from hearthload.window.readings.page import ReadingsPage
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import focused

if TYPE_CHECKING:
    from hearthload.window.readings.explanation import ExplanationPage

Opened = Callable[[], ReadingsPage]


def explained(page: ReadingsPage) -> ExplanationPage:
    hands.click(page.work.measure.explain_button)
    return page.explanation


def test_the_words_stand_alone_until_the_equations_are_asked_for(house: House, opened: Opened) -> None:
    house.measured("Larder box", days=5)
    page = explained(opened())
    assert page.isVisible()
    words = page.text.toPlainText()
    assert "Over a longer time an average day probably takes about" in words
    assert "The equations" not in words
    assert "Cov(" not in words
    assert focused() is page.back
    hands.click(page.fold)
    assert page.text.toPlainText().startswith(words)
    assert "The equations" in page.text.toPlainText()
    assert "Cov(" in page.text.toPlainText()
    assert page.fold.text().replace("&", "") == "Hide the equations"
    assert focused() is page.fold
    hands.press(Qt.Key.Key_Space)
    assert page.text.toPlainText() == words
    assert page.fold.text().replace("&", "") == "Show the equations"


def test_in_a_low_window_the_equations_come_into_view(house: House, opened: Opened) -> None:
    house.measured("Larder box", days=5)
    readings = opened()
    page = explained(readings)
    page.text.setFixedHeight(120)
    hands.click(page.fold)
    bar = page.text.verticalScrollBar()
    assert 0 < bar.value() <= bar.maximum()
    hands.click(page.fold)
    assert bar.value() == 0


def test_it_is_folded_again_the_next_time(house: House, opened: Opened) -> None:
    house.measured("Larder box", days=5)
    readings = opened()
    page = explained(readings)
    hands.click(page.fold)
    hands.press(Qt.Key.Key_Escape)
    assert focused() is readings.work.measure.explain_button
    page = explained(readings)
    assert not page.fold.isChecked()
    assert "The equations" not in page.text.toPlainText()
    assert focused() is page.back


def test_where_there_is_no_equation_nothing_unfolds(house: House, opened: Opened) -> None:
    started = house.started(house.appliance("Larder box"), house.meter())
    readings = opened()
    readings.work.explanation_wanted.emit(started)
    assert readings.explanation.isVisible()
    assert "Two readings" in readings.explanation.text.toPlainText()
    assert not readings.explanation.fold.isVisible()

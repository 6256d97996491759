"""A list to choose from: it opens wide and high enough, and shortens its words only while closed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from hearthload.window.choice import MOST_ROWS, Choice
from hearthload.window.form import Form
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = [
    pytest.mark.usefixtures("dressed"),
    # What a list opened without a display cannot do, and says so.
    pytest.mark.qt_log_ignore("This plugin does not support"),
]

LONG = "refrigerator: larder, medicine, with or without freezer"


@pytest.mark.parametrize("many", [1, 2, 4, MOST_ROWS])
def test_the_open_list_shows_every_item_whole(qtbot: QtBot, many: int) -> None:
    made = Choice([(number, f"{number} {LONG}") for number in range(many)])
    show(qtbot, made, 100, 40)
    made.showPopup()
    rows = made.view()
    qtbot.waitUntil(rows.isVisible)
    inside = rows.viewport().rect()
    boxes = [rows.visualRect(made.model().index(row, 0)) for row in range(many)]
    assert all(inside.contains(box) for box in boxes)
    assert inside.width() >= rows.sizeHintForColumn(0)
    made.hidePopup()


def test_a_closed_list_says_what_it_had_to_shorten(qtbot: QtBot) -> None:
    made = Choice([(1, LONG), (2, "pump")])
    show(qtbot, made, 160, 40)
    made.grab()
    assert made.toolTip() == LONG
    made.choose(2)
    made.grab()
    assert made.toolTip() == ""
    assert made.value == 2


def test_a_form_gives_a_choice_the_width_of_its_words(qtbot: QtBot) -> None:
    form = Form(field_width=200)
    words = form.add_choice("display", "Its display", [(1, "was just set to zero")])
    form.add_line("when", "When").setText("now")
    show(qtbot, form, 330, 200)
    assert words.width() >= words.sizeHint().width()

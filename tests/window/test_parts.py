"""The smallest parts: a title shortened where it must be, plain labels, buttons that Enter presses."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from hearthload.window.parts import TitleLabel, button, label
from tests.window import hands
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

LONG = "Deep freezer in the barn behind the old hay loft"


def inked_columns(picture: QImage) -> list[int]:
    """Give the columns of a picture in which anything differs from its corner."""
    ground = picture.pixel(0, 0)
    height = range(picture.height())
    return [x for x in range(picture.width()) if any(picture.pixel(x, y) != ground for y in height)]


def test_a_title_is_shortened_where_there_is_no_room(qtbot: QtBot) -> None:
    title = TitleLabel()
    title.setText(LONG)
    show(qtbot, title, 900, 60)
    title.grab()
    whole = title.fontMetrics().horizontalAdvance(LONG)
    assert whole < 900
    assert title.toolTip() == ""
    window = title.window()
    window.resize(whole // 2, 60)
    qtbot.waitUntil(lambda: title.width() == whole // 2)
    narrow = title.grab().toImage()
    assert title.toolTip() == title.text() == LONG
    inked = inked_columns(narrow)
    assert inked
    dots = title.fontMetrics().elidedText(LONG, Qt.TextElideMode.ElideRight, title.width())
    assert dots.endswith("…")
    assert max(inked) <= title.fontMetrics().horizontalAdvance(dots) + 2


def test_a_title_never_makes_its_page_wide(qtbot: QtBot) -> None:
    title = TitleLabel()
    title.setText(LONG * 20)
    show(qtbot, title)
    assert title.minimumSizeHint().width() < 120
    assert title.minimumSizeHint().height() > title.fontMetrics().ascent()


def test_names_stay_as_typed(qtbot: QtBot) -> None:
    made = label("<b>barn</b> & loft")
    show(qtbot, made)
    assert made.textFormat() is Qt.TextFormat.PlainText
    plain, marked = label("barn"), label("<b>barn</b>")
    assert marked.sizeHint().width() > plain.sizeHint().width() + 20


def test_enter_presses_the_button_that_has_the_cursor(qtbot: QtBot) -> None:
    page = QWidget()
    made = button("Do it", "primary", page)
    show(qtbot, page)
    made.setFocus()
    with qtbot.waitSignal(made.clicked):
        hands.press(Qt.Key.Key_Return)

"""Two sides of a page: shared as asked for until the line is moved, now or in an earlier session."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget

from hearthload.window.split import SideBySide
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

SHARES = (52, 48)


def sides() -> tuple[QWidget, SideBySide]:
    page = QWidget()
    return page, SideBySide(page, (QWidget(page), QWidget(page)), SHARES)


def left_share(splitter: SideBySide) -> float:
    left, right = splitter.sizes()
    return left / (left + right)


def drag(splitter: SideBySide, by_px: int) -> None:
    """Move the line between the sides with the mouse."""
    handle = splitter.handle(1)
    start = handle.rect().center()
    QTest.mousePress(handle, Qt.MouseButton.LeftButton, pos=start)
    QTest.mouseMove(handle, start + QPoint(by_px, 0))
    QTest.mouseRelease(handle, Qt.MouseButton.LeftButton, pos=start + QPoint(by_px, 0))


def test_the_shares_are_kept_at_any_width(qtbot: QtBot) -> None:
    page, splitter = sides()
    show(qtbot, page, 1000, 300)
    for width in (1000, 640, 2400, 801):
        page.resize(width, 300)
        qtbot.waitUntil(lambda width=width: splitter.width() == width)  # type: ignore[misc]
        assert left_share(splitter) == pytest.approx(0.52, abs=0.01)
    assert not splitter.moved


def test_a_line_that_was_moved_stays_where_it_was_put(qtbot: QtBot) -> None:
    page, splitter = sides()
    show(qtbot, page, 1000, 300)
    before = left_share(splitter)
    drag(splitter, -200)
    assert splitter.moved
    moved = left_share(splitter)
    assert moved == pytest.approx(before - 0.2, abs=0.02)
    page.resize(1400, 300)
    qtbot.waitUntil(lambda: splitter.width() == 1400)
    assert abs(left_share(splitter) - 0.52) > 0.1


def test_the_line_of_an_earlier_session_comes_back(qtbot: QtBot) -> None:
    page, splitter = sides()
    show(qtbot, page, 1000, 300)
    drag(splitter, -200)
    state, put = splitter.saveState(), splitter.sizes()
    later, again = sides()
    assert again.restoreState(state)
    assert again.moved
    show(qtbot, later, 1000, 300)
    assert again.sizes() == put


def test_a_state_that_is_none_leaves_the_shares(qtbot: QtBot) -> None:
    page, splitter = sides()
    assert not splitter.restoreState(b"not a splitter's state")
    assert not splitter.moved
    show(qtbot, page, 900, 300)
    assert left_share(splitter) == pytest.approx(0.52, abs=0.01)


def test_no_side_can_be_folded_away(qtbot: QtBot) -> None:
    page, splitter = sides()
    for side in page.findChildren(QWidget):
        if side.parentWidget() is splitter and side is not splitter.handle(1):
            side.setMinimumWidth(150)
    show(qtbot, page, 1000, 300)
    drag(splitter, -900)
    assert splitter.sizes()[0] == 150
    drag(splitter, 900)
    assert splitter.sizes()[1] == 150

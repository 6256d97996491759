"""The flowing layout: lines that wrap, a height that follows from the width, no room for what is hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from hearthload.window.flow import FlowLayout
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

WIDE, HIGH, GAP = 100, 30, 8


def flowing(count: int) -> tuple[QWidget, FlowLayout, list[QWidget]]:
    """Give a box with so many things of one size in it, flowing."""
    box = QWidget()
    flow = FlowLayout(box, spacing=GAP)
    things = [QWidget(box) for _ in range(count)]
    for thing in things:
        thing.setFixedSize(WIDE, HIGH)
        flow.addWidget(thing)
    return box, flow, things


def lines_of(things: list[QWidget]) -> list[list[int]]:
    """Give the left edges of the things that are shown, line by line."""
    shown = [thing.geometry() for thing in things if not thing.isHidden()]
    tops = sorted({box.top() for box in shown})
    return [[box.left() for box in shown if box.top() == top] for top in tops]


def test_lines_wrap_where_the_width_ends(qtbot: QtBot) -> None:
    box, _, things = flowing(5)
    show(qtbot, box, 3 * WIDE + 2 * GAP, 200)
    assert lines_of(things) == [[0, 108, 216], [0, 108]]
    assert {thing.geometry().top() for thing in things} == {0, HIGH + GAP}
    box.resize(3 * WIDE + 2 * GAP - 1, 200)
    qtbot.waitUntil(lambda: lines_of(things) == [[0, 108], [0, 108], [0]])


@pytest.mark.parametrize(
    ("width", "lines"), [(5 * WIDE + 4 * GAP, 1), (5 * WIDE + 4 * GAP - 1, 2), (WIDE, 5), (WIDE - 40, 5)]
)
def test_the_height_follows_from_the_width(qtbot: QtBot, width: int, lines: int) -> None:
    box, flow, _ = flowing(5)
    show(qtbot, box)
    assert flow.hasHeightForWidth()
    assert flow.heightForWidth(width) == lines * HIGH + (lines - 1) * GAP


def test_a_narrower_box_is_never_lower(qtbot: QtBot) -> None:
    box, flow, _ = flowing(7)
    show(qtbot, box)
    heights = [flow.heightForWidth(width) for width in range(900, 90, -7)]
    assert heights == sorted(heights)
    assert heights[0] == HIGH
    assert heights[-1] == 7 * HIGH + 6 * GAP


def test_what_is_hidden_takes_no_room(qtbot: QtBot) -> None:
    box, flow, things = flowing(4)
    show(qtbot, box, 2 * WIDE + GAP, 200)
    assert flow.sizeHint() == QSize(4 * WIDE + 3 * GAP, HIGH)
    things[0].hide()
    things[2].hide()
    assert flow.heightForWidth(2 * WIDE + GAP) == HIGH
    assert flow.sizeHint() == QSize(2 * WIDE + GAP, HIGH)
    qtbot.waitUntil(lambda: lines_of(things) == [[0, 108]])
    for thing in things:
        thing.hide()
    assert flow.sizeHint() == flow.minimumSize() == QSize(0, 0)


def test_asking_for_the_height_moves_nothing(qtbot: QtBot) -> None:
    box, flow, things = flowing(3)
    show(qtbot, box, 500, 200)
    before = [thing.geometry() for thing in things]
    flow.heightForWidth(WIDE)
    assert [thing.geometry() for thing in things] == before
    flow.setGeometry(QRect(10, 20, WIDE, 300))
    assert [thing.geometry().topLeft().toTuple() for thing in things] == [(10, 20), (10, 58), (10, 96)]


def test_items_are_counted_and_taken(qtbot: QtBot) -> None:
    box, flow, things = flowing(2)
    show(qtbot, box)
    assert flow.minimumSize() == QSize(WIDE, HIGH)
    taken = flow.takeAt(0)
    assert taken is not None
    assert taken.widget() is things[0]
    assert flow.count() == 1
    assert flow.takeAt(5) is None
    assert flow.itemAt(-1) is None

"""The marks of an outcome: three shapes that differ without their colours, each with a name to be spoken."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtGui import QImage

from hearthload.outage.answers import Outcome
from hearthload.service.outage_words import OUTCOME_WORDS
from hearthload.window.equipment.marks import OutcomeMark
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

DARKER_BY = 40
"""What is so much darker than the paper was drawn upon it, whatever the colour."""


def drawn(mark: OutcomeMark) -> set[tuple[int, int]]:
    """Give the places that are not paper."""
    picture = mark.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    paper = picture.pixelColor(0, 0).lightness()
    return {
        (x, y)
        for x in range(picture.width())
        for y in range(picture.height())
        if paper - picture.pixelColor(x, y).lightness() > DARKER_BY
    }


def test_shapes_differ_without_their_colours(qtbot: QtBot) -> None:
    mark = OutcomeMark()
    show(qtbot, mark, 40, 40)
    shapes = {}
    for outcome in Outcome:
        mark.show_outcome(outcome)
        shapes[outcome] = drawn(mark)
        assert mark.accessibleName() == OUTCOME_WORDS[outcome]
    for one in Outcome:
        for other in Outcome:
            if one is not other:
                assert len(shapes[one] ^ shapes[other]) > 0.3 * len(shapes[one] | shapes[other])
    mark.show_outcome(None)
    assert drawn(mark) == set()

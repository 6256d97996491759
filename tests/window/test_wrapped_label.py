"""A label of several lines: no line begins or ends in a dot, the whole text stays what it was."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel

from hearthload.window.parts import label
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

PARTS = "Tue 24 Nov 07:27   ·   38 W on average   ·   daily average 0.77 kWh"


def lines_of(made: QLabel) -> list[str]:
    """Give the lines as Qt has them, beneath what the label gives as its text."""
    return QLabel.text(made).split("\n")


def test_in_one_line_the_dots_stand_between(qtbot: QtBot) -> None:
    made = label(PARTS, "small", wrap=True)
    show(qtbot, made, 900, 60)
    assert lines_of(made) == [PARTS]


@pytest.mark.parametrize("width", [120, 200, 280, 340])
def test_no_line_begins_or_ends_in_a_dot(qtbot: QtBot, width: int) -> None:
    made = label("", "small", wrap=True)
    made.setText(PARTS)
    show(qtbot, made, width, 200)
    lines = lines_of(made)
    assert len(lines) > 1
    assert not any(
        line.strip("\u00a0 ").startswith("·") or line.strip("\u00a0 ").endswith("·") for line in lines
    )
    assert made.text() == made.accessibleName() == PARTS
    assert made.heightForWidth(width) >= len(lines) * made.fontMetrics().height()


def test_a_text_without_dots_is_left_alone(qtbot: QtBot) -> None:
    made = label("A sentence that goes on for a while, and then some more.", wrap=True)
    show(qtbot, made, 150, 200)
    assert lines_of(made) == [made.text()]
    assert made.heightForWidth(150) > 2 * made.fontMetrics().height()

"""Charts and readings: tabs on a low page, one above the other on a high one."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from hearthload.window.readings.lower import BOTH_PX, CHARTS, DAYS, READINGS, TOGETHER, LowerHalf
from tests.window import hands
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")


def halves(qtbot: QtBot) -> tuple[LowerHalf, QLabel, QLabel, QLabel]:
    charts, table, days = QLabel("charts"), QLabel("table"), QLabel("days")
    for part in (charts, table, days):
        part.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    lower = LowerHalf(charts, table, days)
    show(qtbot, lower)
    return lower, charts, table, days


def seen(*parts: QLabel) -> list[bool]:
    return [part.isVisible() for part in parts]


def test_a_low_page_shows_one_at_a_time(qtbot: QtBot) -> None:
    lower, *parts = halves(qtbot)
    lower.fit(BOTH_PX - 1)
    assert seen(*parts) == [True, False, False]
    for at, name in enumerate((CHARTS, READINGS, DAYS)):
        hands.click(lower.tabs[name])
        assert seen(*parts) == [place == at for place in range(3)]
        assert [tab.isChecked() for tab in lower.tabs.values()] == [place == at for place in range(3)]
        assert lower.chosen == name


def test_a_high_page_shows_charts_above_readings(qtbot: QtBot) -> None:
    lower, charts, table, days = halves(qtbot)
    lower.choose(READINGS)
    lower.fit(BOTH_PX)
    assert seen(charts, table, days) == [True, True, False]
    assert (
        charts.mapTo(lower, charts.rect().bottomLeft()).y() < table.mapTo(lower, table.rect().topLeft()).y()
    )
    assert [tab.text() for tab in lower.tabs.values() if tab.isVisible()] == [TOGETHER, DAYS]
    hands.click(lower.tabs[DAYS])
    assert seen(charts, table, days) == [False, False, True]
    hands.click(lower.tabs[CHARTS])
    lower.choose(READINGS)
    lower.fit(BOTH_PX - 1)
    assert seen(charts, table, days) == [False, True, False]
    assert [tab.text() for tab in lower.tabs.values() if tab.isVisible()] == [CHARTS, READINGS, DAYS]


def test_turning_goes_round_and_takes_the_cursor_along(qtbot: QtBot) -> None:
    lower, charts, table, days = halves(qtbot)
    for part in (table, days, charts):
        lower.turn()
        assert part.hasFocus()
    lower.fit(BOTH_PX)
    lower.turn()
    assert days.hasFocus()
    lower.turn()
    assert seen(charts, table, days) == [True, True, False]
    assert charts.hasFocus()

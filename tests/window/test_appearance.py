"""Light, dark, or as the system: in force at once, and following the system only when that is chosen."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from hearthload.window.appearance import Appearance, Choice
from hearthload.window.theme import DARK, LIGHT, Theme, apply_theme, current_theme, theme_news

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def system_turns(scheme: Qt.ColorScheme) -> None:
    """Tell of another scheme as a desktop does; the display in memory has no scheme of its own."""
    QGuiApplication.styleHints().colorSchemeChanged.emit(scheme)


def test_what_is_chosen_is_in_force_at_once(dressed: QApplication) -> None:
    appearance = Appearance()
    for choice, theme in ((Choice.DARK, DARK), (Choice.LIGHT, LIGHT), (Choice.DARK, DARK)):
        appearance.choose(choice)
        assert current_theme() is theme
        assert dressed.palette().color(QPalette.ColorRole.Window).name().upper() == theme.paper.upper()
        assert theme.accent in dressed.styleSheet()
    appearance.choose(Choice.SYSTEM)
    assert current_theme() is LIGHT
    assert appearance.choice is Choice.SYSTEM


def test_the_same_theme_again_is_no_news(dressed: QApplication, qtbot: QtBot) -> None:
    appearance = Appearance()
    appearance.choose(Choice.LIGHT)
    with qtbot.assertNotEmitted(theme_news().changed):
        appearance.choose(Choice.SYSTEM)
        appearance.choose(Choice.LIGHT)
    assert dressed.styleSheet()


@pytest.mark.parametrize(
    ("choice", "left"), [(Choice.SYSTEM, LIGHT), (Choice.DARK, DARK)], ids=["as the system", "dark"]
)
def test_the_system_is_followed_only_when_that_is_chosen(
    dressed: QApplication, choice: Choice, left: Theme
) -> None:
    appearance = Appearance()
    appearance.choose(choice)
    apply_theme(dressed, dark=True)
    system_turns(Qt.ColorScheme.Light)
    assert current_theme() is left
    apply_theme(dressed, dark=False)

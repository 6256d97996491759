"""Light, dark, or as the system: the person's choice, kept between sessions and followed while it lasts."""

from __future__ import annotations

from enum import StrEnum

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from hearthload.window.theme import apply_theme, current_theme, system_is_dark


class Choice(StrEnum):
    """Which theme is wanted."""

    LIGHT = "light"
    DARK = "dark"
    SYSTEM = "system"


class Appearance(QObject):
    """Dresses the application as chosen and follows the system when that is the choice."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.choice = Choice.SYSTEM
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow)

    def choose(self, choice: Choice) -> None:
        """Dress the application as chosen; nothing is done when it is dressed so already."""
        self.choice = choice
        dark = system_is_dark() if choice is Choice.SYSTEM else choice is Choice.DARK
        app = QApplication.instance()
        if isinstance(app, QApplication) and (dark != current_theme().dark or not app.styleSheet()):
            apply_theme(app, dark)

    def _follow(self, _scheme: Qt.ColorScheme) -> None:
        if self.choice is Choice.SYSTEM:
            self.choose(Choice.SYSTEM)

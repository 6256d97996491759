"""The look of a well-printed notebook: which theme is in force, and dressing the application in it."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from hearthload.window.colours import DARK, LIGHT, Theme, palette_of
from hearthload.window.fonts import load_fonts, text_font
from hearthload.window.stylesheet import CLOSE_PX, stylesheet

__all__ = [
    "CLOSE_PX",
    "DARK",
    "FUSION",
    "GRID",
    "LIGHT",
    "STYLE",
    "Theme",
    "ThemeNews",
    "apply_theme",
    "current_theme",
    "system_is_dark",
    "theme_news",
]

GRID = 8
"""Everything stands on a grid of so many pixels."""


STYLE, FUSION = "hearthload_style", "fusion"
"""The application's own property says which style it has: asking Qt for it takes longer than setting it."""


class ThemeNews(QObject):
    """Tells painters that the theme is another one; `changed` carries the `Theme`."""

    changed = Signal(object)


class _Current:
    """The theme in force; there is one application, so there is one."""

    theme: Theme = LIGHT
    news: ThemeNews | None = None


def current_theme() -> Theme:
    """Give the theme in force."""
    return _Current.theme


def theme_news() -> ThemeNews:
    """Give the object that tells when the theme changes."""
    if _Current.news is None:
        _Current.news = ThemeNews()
    return _Current.news


def system_is_dark() -> bool:
    """Tell whether the system asks for a dark window."""
    return QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark


def apply_theme(app: QApplication, dark: bool) -> None:
    """Dress the application: Fusion with our palette, fonts and one stylesheet."""
    theme = DARK if dark else LIGHT
    _Current.theme = theme
    load_fonts()
    if app.property(STYLE) != FUSION:
        app.setStyle(FUSION)
        app.setProperty(STYLE, FUSION)
    app.setFont(text_font())
    app.setPalette(palette_of(theme))
    app.setStyleSheet(stylesheet(theme))
    theme_news().changed.emit(theme)

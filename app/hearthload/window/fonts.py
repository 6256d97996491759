"""The two typefaces and the three text sizes of the window."""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QFont, QFontDatabase

from hearthload.resources import asset

SMALL_PX = 12
TEXT_PX = 14
TITLE_PX = 26

TEXT_FAMILY = "Inter"
TITLE_FAMILY = "EB Garamond 12"

_FILES = ("Inter-Regular.otf", "Inter-SemiBold.otf", "EBGaramond12-Regular.otf")


@cache
def load_fonts() -> None:
    """Bring the packaged typefaces into the application, once."""
    for name in _FILES:
        if QFontDatabase.addApplicationFont(str(asset(f"fonts/{name}"))) < 0:
            raise RuntimeError(f"the packaged typeface {name} cannot be read")


def text_font(*, bold: bool = False) -> QFont:
    """Give the typeface of running text, figures all of one width."""
    return _inter(TEXT_PX, bold=bold)


def small_font(*, bold: bool = False) -> QFont:
    """Give the typeface of notes, headers and chart labels."""
    return _inter(SMALL_PX, bold=bold)


def title_font() -> QFont:
    """Give the typeface of page titles and the wordmark."""
    font = QFont(TITLE_FAMILY)
    font.setPixelSize(TITLE_PX)
    return font


def _inter(size_px: int, *, bold: bool) -> QFont:
    font = QFont(TEXT_FAMILY)
    font.setPixelSize(size_px)
    if bold:
        font.setWeight(QFont.Weight.DemiBold)
    font.setFeature(QFont.Tag("tnum"), 1)
    return font

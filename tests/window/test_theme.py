"""The look: contrast of text and of data in both themes, the typefaces, three text sizes."""

from __future__ import annotations

import re

import pytest
from PySide6.QtGui import QFontMetrics, QPalette
from PySide6.QtWidgets import QApplication, QLabel

from hearthload.window import colours
from hearthload.window.colours import DARK, LIGHT, Theme, contrast
from hearthload.window.fonts import SMALL_PX, TEXT_PX, TITLE_PX, small_font, text_font, title_font
from hearthload.window.stylesheet import stylesheet
from hearthload.window.theme import apply_theme, current_theme, theme_news
from hearthload.window.words import (
    CAUTION_HARD_WIRED,
    CAUTION_MEDICAL,
    CAUTION_METER_LIMIT,
    KIND_CHOICES,
    STATE_WORDS,
)

pytestmark = pytest.mark.usefixtures("dressed")
THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
OKABE_ITO = {"#000000", "#E69F00", "#56B4E9", "#009E73", "#F0E442", "#0072B2", "#D55E00", "#CC79A7"}


def test_contrast_of_black_and_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.01)


@THEMES
@pytest.mark.parametrize("text", ["ink", "muted", "accent"])
@pytest.mark.parametrize("surface", ["paper", "sheet", "chosen", "hover"])
def test_text_can_be_read(theme: Theme, text: str, surface: str) -> None:
    assert contrast(getattr(theme, text), getattr(theme, surface)) >= 4.5


@THEMES
def test_text_on_the_accent_can_be_read(theme: Theme) -> None:
    assert contrast(theme.on_accent, theme.accent) >= 4.5


@THEMES
@pytest.mark.parametrize("drawn", ["trend", "watts", "doubt", "rule", "target_edge", "accent", "muted"])
@pytest.mark.parametrize("surface", ["paper", "sheet"])
def test_what_is_drawn_can_be_seen(theme: Theme, drawn: str, surface: str) -> None:
    assert contrast(getattr(theme, drawn), getattr(theme, surface)) >= 3.0


@THEMES
def test_the_whisker_can_be_seen_on_the_target_band(theme: Theme) -> None:
    assert contrast(theme.ink, theme.target) >= 4.5
    assert contrast(theme.accent, theme.target) >= 3.0


@THEMES
def test_data_colours_are_of_the_published_set(theme: Theme) -> None:
    assert {theme.trend, theme.watts, theme.doubt} <= OKABE_ITO
    assert len({theme.trend, theme.watts, theme.doubt}) == 3


@THEMES
def test_the_stylesheet_knows_only_three_text_sizes(theme: Theme) -> None:
    sizes = {int(found) for found in re.findall(r"font-size: (\d+)px", stylesheet(theme))}
    assert sizes == {SMALL_PX, TEXT_PX, TITLE_PX}
    assert "gradient" not in stylesheet(theme)


@THEMES
def test_the_palette_is_the_themes(qapp: QApplication, theme: Theme) -> None:
    apply_theme(qapp, theme.dark)
    assert current_theme() is theme
    assert qapp.style().name() in ("fusion", "")
    assert qapp.palette().color(QPalette.ColorRole.Window).name().upper() == theme.paper.upper()
    assert colours.palette_of(theme).color(QPalette.ColorRole.Text).name().upper() == theme.ink.upper()


def test_painters_are_told_of_another_theme(qapp: QApplication) -> None:
    apply_theme(qapp, dark=False)
    told: list[Theme] = []
    theme_news().changed.connect(told.append)
    apply_theme(qapp, dark=True)
    theme_news().changed.disconnect(told.append)
    assert told == [DARK]
    apply_theme(qapp, dark=False)


def test_the_typefaces_have_every_letter_that_is_shown() -> None:
    said = "".join((*KIND_CHOICES.values(), *STATE_WORDS.values(), CAUTION_HARD_WIRED, CAUTION_MEDICAL))
    wanted = set(said + CAUTION_METER_LIMIT + "±×–−—·…°“”’≤≥µäöüßéñçåøłšžABCxyz0123456789")
    for font in (text_font(), text_font(bold=True), small_font(), title_font()):
        metrics = QFontMetrics(font)
        assert [letter for letter in sorted(wanted) if not metrics.inFontUcs4(ord(letter))] == []


def test_the_typefaces_are_the_packaged_ones() -> None:
    from PySide6.QtGui import QFontInfo

    assert QFontInfo(text_font()).family() == "Inter"
    assert QFontInfo(title_font()).family().startswith("EB Garamond")


def test_all_figures_are_of_one_width() -> None:
    label = QLabel("0123456789")
    label.ensurePolished()
    for font in (label.font(), text_font(bold=True), small_font()):
        metrics = QFontMetrics(font)
        assert len({metrics.horizontalAdvance(figure) for figure in "0123456789"}) == 1

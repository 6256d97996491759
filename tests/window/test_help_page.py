"""Help in place: every page loads, and is dressed like the rest of the window in both themes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QTextBlock, QTextDocument, QTextTable
from PySide6.QtWidgets import QApplication, QMenu

from hearthload import __version__
from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import DoubtCode
from hearthload.estimate.kinds import DEFAULTS
from hearthload.resources import asset
from hearthload.window import menu_bar
from hearthload.window.fonts import TEXT_FAMILY, TITLE_FAMILY
from hearthload.window.help_page import TITLES, WIDEST_PX, HelpPage
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.session import Session
from hearthload.window.theme import DARK, LIGHT, Theme, apply_theme
from hearthload.window.words import KIND_WORDS
from tests.window import hands
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

NAMES = sorted(path.stem for path in asset("help").glob("*.md"))
SOURCES = {name: asset(f"help/{name}.md").read_text(encoding="utf-8") for name in NAMES}


def blocks(document: QTextDocument) -> list[QTextBlock]:
    found, block = [], document.begin()
    while block.isValid():
        found.append(block)
        block = block.next()
    return found


def tables(document: QTextDocument) -> list[QTextTable]:
    return [frame for frame in document.rootFrame().childFrames() if isinstance(frame, QTextTable)]


def test_every_page_has_a_title_and_every_title_a_page() -> None:
    assert NAMES
    assert sorted(TITLES) == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_every_page_loads(dressed: QApplication, qtbot: QtBot, name: str) -> None:
    page = HelpPage()
    show(qtbot, page)
    page.show_help(name)
    text = page.text.toPlainText()
    assert page.title.text() == TITLES[name]
    assert page.back.hasFocus()
    assert "{version}" not in text
    assert ("{version}" in SOURCES[name]) == (__version__ in text)
    # Every word of the page is there, whatever marks it up.
    for word in re.findall(r"[A-Za-z]{4,}", SOURCES[name].replace("{version}", "")):
        assert word in text
    assert dressed.focusWidget() is page.back


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_tables_have_hairlines_of_the_theme(dressed: QApplication, qtbot: QtBot, theme: Theme) -> None:
    page = HelpPage()
    show(qtbot, page)
    page.show_help("keyboard")
    apply_theme(dressed, dark=theme.dark)
    found = tables(page.text.document())
    assert len(found) == SOURCES["keyboard"].count("|---|---|")
    for table in found:
        cells = [
            table.cellAt(row, column) for row in range(table.rows()) for column in range(table.columns())
        ]
        looks = [cell.format().toTableCellFormat() for cell in cells]
        assert {look.bottomBorderBrush().color().name() for look in looks} == {theme.hairline.lower()}
        assert {look.bottomBorder() for look in looks} == {1.0}
        assert {(look.topBorder(), look.leftBorder(), look.rightBorder()) for look in looks} == {
            (0.0, 0.0, 0.0)
        }
    apply_theme(dressed, dark=False)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_headings_are_set_in_the_titles_typeface(dressed: QApplication, qtbot: QtBot, theme: Theme) -> None:
    apply_theme(dressed, dark=theme.dark)
    page = HelpPage()
    show(qtbot, page)
    page.show_help("keyboard")
    headings = [block for block in blocks(page.text.document()) if block.blockFormat().headingLevel()]
    assert [block.text() for block in headings] == re.findall(r"^#+ (.+)$", SOURCES["keyboard"], re.MULTILINE)
    for block in headings:
        families = {part.format.font().families()[0] for part in block.textFormats()}
        assert families == {TITLE_FAMILY}
    assert page.text.document().defaultFont().family() == TEXT_FAMILY
    apply_theme(dressed, dark=False)


@pytest.mark.usefixtures("dressed")
def test_escape_and_the_button_go_back(qtbot: QtBot) -> None:
    page = HelpPage()
    show(qtbot, page)
    page.show_help("about")
    with qtbot.waitSignal(page.left):
        hands.press(Qt.Key.Key_Escape)
    with qtbot.waitSignal(page.left):
        hands.click(page.back)


@pytest.mark.usefixtures("dressed")
def test_a_page_begins_at_its_top_again(qtbot: QtBot) -> None:
    page = HelpPage()
    show(qtbot, page, 500, 220)
    page.show_help("keyboard")
    bar = page.text.verticalScrollBar()
    qtbot.waitUntil(lambda: bar.maximum() > 0)
    bar.setValue(bar.maximum())
    page.show_help("cautions")
    page.show_help("keyboard")
    qtbot.waitUntil(lambda: bar.value() == 0)


@pytest.fixture
def window(session: Session, qtbot: QtBot) -> Iterator[MainWindow]:
    made = MainWindow(session, Memory({}))
    made.furnish()
    show(qtbot, made, 1024, 700)
    yield made
    clear_away()


def help_entries(window: MainWindow) -> dict[str, QAction]:
    """Give the entries of the Help menu by what they say."""
    menus = {action.text(): action.menu() for action in window.menuBar().actions()}
    menu = menus[menu_bar.HELP]
    assert isinstance(menu, QMenu)
    return {action.text().replace("&", ""): action for action in menu.actions()}


@pytest.mark.parametrize("name", NAMES)
def test_every_page_opens_from_the_help_menu(window: MainWindow, name: str) -> None:
    help_entries(window)[TITLES[name]].trigger()
    assert window.shown is window.help
    assert window.help.title.text() == TITLES[name]
    shown = window.help.text
    assert shown.toPlainText()
    # Nothing is cut off in the smallest window.
    assert shown.horizontalScrollBar().maximum() == 0


def test_the_numbers_page_names_every_doubt_and_every_kind() -> None:
    page = SOURCES["numbers"]
    assert [code for code in DoubtCode if f"`{code.value}`" not in page] == []
    assert [kind for kind in Kind if f"| {KIND_WORDS[kind]} |" not in page] == []


def test_the_numbers_page_tells_what_the_estimator_expects_of_each_kind() -> None:
    rows = [line.split(" | ") for line in SOURCES["numbers"].replace("\u00a0", " ").splitlines()]
    first = {row[0].removeprefix("| "): row[1:] for row in reversed(rows) if len(row) == 5}
    for kind, words in KIND_WORDS.items():
        known = DEFAULTS[kind]
        scatter, usual, wanted, season = (cell.removesuffix(" |") for cell in first[words])
        assert scatter == f"{100.0 * known.c0:g} %"
        assert float(usual) == known.m0_kwh
        assert wanted == f"± {100.0 * known.target:g} %"
        assert season == f"± {196.0 * known.u_season:.0f} %"


@pytest.mark.usefixtures("dressed")
def test_the_page_takes_the_width_it_is_made_for(qtbot: QtBot) -> None:
    page = HelpPage()
    show(qtbot, page, 1400, 700)
    page.show_help("numbers")
    inside = page.text.parentWidget()
    assert inside is not None
    assert inside.width() == WIDEST_PX


@pytest.mark.usefixtures("dressed")
def test_a_heading_leaves_the_block_before_it_alone(qtbot: QtBot) -> None:
    page = HelpPage()
    show(qtbot, page)
    page.show_text("Two", "one\n\ntwo\n\n## Heading\n\nthree\n")
    one, two, heading, three = blocks(page.text.document())
    tops = [block.blockFormat().topMargin() for block in (one, two, heading, three)]
    assert tops[0] == tops[1] == tops[3] < tops[2]

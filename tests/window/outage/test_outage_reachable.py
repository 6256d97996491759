"""What takes typing or a press on the Outage page has a name, and Tab goes in reading order."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QPushButton,
    QTextBrowser,
    QWidget,
)

from hearthload.domain.plan import Use
from hearthload.window.form import Form
from hearthload.window.outage.load_detail import ARITHMETIC, SETTINGS
from hearthload.window.outage.page import COMPARE, LOADS, SECTIONS, OutagePage
from hearthload.window.theme import current_theme
from tests.window import hands
from tests.window.hands import focused
from tests.window.outage.conftest import Planned

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

TAKES_INPUT = (QAbstractButton, QLineEdit, QComboBox, QAbstractItemView, QTextBrowser)


def named(widget: QWidget) -> bool:
    if widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text()):
        return True
    return any(caption.buddy() is widget for caption in widget.window().findChildren(QLabel))


def reachable(page: OutagePage) -> list[QWidget]:
    return [
        widget
        for widget in page.findChildren(QWidget)
        if widget.isVisible()
        and widget.isEnabled()
        and widget.focusPolicy() != Qt.FocusPolicy.NoFocus
        and isinstance(widget, TAKES_INPUT)
    ]


def tabbed(page: OutagePage) -> list[QWidget]:
    """Press Tab once round the page; give what had the cursor on the way."""
    first = page.bar.choice
    first.setFocus(Qt.FocusReason.TabFocusReason)
    found: list[QWidget] = [first]
    for _ in range(80):
        hands.press(Qt.Key.Key_Tab)
        if focused() is first:
            return found
        found.append(focused())
    raise AssertionError("Tab never came back")


@pytest.mark.parametrize("section", [*SECTIONS, COMPARE])
def test_everything_has_a_name_and_is_reached_by_tab(
    page: OutagePage, planned: Planned, storm: int, section: str
) -> None:
    planned.plan("Another")
    page.choose_plan(storm)
    page.choose_section(section)
    found = reachable(page)
    assert len(found) >= 12
    assert [widget for widget in found if not named(widget)] == []
    # A tab that is not chosen is reached by the arrow keys from the one that is.
    tabs = {*page.tabs.tabs.values(), *page.loads.detail.tabs.tabs.values()}
    unchosen = {tab for tab in tabs if not tab.isChecked()}
    assert set(found) - set(tabbed(page)) <= unchosen


def test_tab_goes_through_loads_as_they_are_read(page: OutagePage, storm: int) -> None:
    assert storm
    page.choose_section(LOADS)
    bar, detail = page.bar, page.loads.detail
    fields = [row.editor for row in detail.form.rows.values() if row.editor.isVisible()]
    assert tabbed(page) == [
        bar.choice,
        bar.change_button, bar.copy_button, bar.remove_button, bar.compare_button, bar.add_button,
        *(link for link in page.totals_line.links.values() if link.isVisible()),
        page.tabs.tabs[LOADS],
        page.loads.table,
        detail.tabs.tabs[SETTINGS],
        *fields,
        detail.save_button, detail.undo_button,
        page.foot.more_button,
    ]  # fmt: skip


def test_the_arithmetic_of_a_load_is_reached_from_its_tab(page: OutagePage, storm: int) -> None:
    assert storm
    detail = page.loads.detail
    detail.tabs.choose(ARITHMETIC)
    detail.tabs.tabs[ARITHMETIC].setFocus(Qt.FocusReason.TabFocusReason)
    hands.press(Qt.Key.Key_Tab)
    assert focused() is detail.arithmetic.panel.lines


@pytest.mark.parametrize("section", [*SECTIONS, COMPARE])
def test_every_stop_shows_that_it_has_the_cursor(
    page: OutagePage, planned: Planned, storm: int, section: str
) -> None:
    planned.plan("Another")
    page.choose_plan(storm)
    page.choose_section(section)
    for stop in [each for each in tabbed(page) if isinstance(each, QPushButton)]:
        stop.clearFocus()
        plain = stop.grab().toImage()
        stop.setFocus(Qt.FocusReason.TabFocusReason)
        with_cursor = stop.grab().toImage()
        accent = current_theme().colour("accent")
        middle = stop.height() // 2
        edges = [
            image.pixelColor(at, middle) for image in (plain, with_cursor) for at in (0, stop.width() - 1)
        ]
        assert edges[:2] != edges[2:], stop.text()
        assert accent in edges[2:] or stop.property("look") == "primary", stop.text()


def test_tab_goes_through_the_settings_as_they_are_read(page: OutagePage, storm: int, qtbot: QtBot) -> None:
    assert storm
    page.choose_section(LOADS)
    form = page.loads.detail.form
    page.loads.detail.begin()
    form.use.choose(Use.ASSUMED)
    in_order(form, qtbot)


def test_tab_goes_through_the_sheet_as_it_is_read(page: OutagePage, storm: int, qtbot: QtBot) -> None:
    assert storm
    page.change_plan()
    in_order(page.sheet.form, qtbot)


def in_order(form: Form, qtbot: QtBot) -> None:
    editors = [row.editor for row in form.rows.values() if row.editor.isVisible()]
    editors[0].setFocus(Qt.FocusReason.TabFocusReason)
    stops = [editors[0]]
    for _ in editors[1:]:
        hands.press(Qt.Key.Key_Tab)
        stops.append(focused())
    assert stops == editors
    qtbot.waitUntil(lambda: len({editor.y() for editor in editors}) == len(editors))
    tops = [editor.mapTo(form, editor.rect().topLeft()).y() for editor in editors]
    assert tops == sorted(tops)

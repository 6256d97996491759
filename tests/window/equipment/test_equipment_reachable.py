"""The Equipment page for those who do not see it or do not use a mouse: names, and Tab in reading order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, cast

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QTextBrowser, QWidget

from hearthload.domain.supply import SupplyKind
from hearthload.window.equipment.cautions import Cautions
from hearthload.window.equipment.detail_tabs import ARITHMETIC, LEAVE_OFF, LIMITS
from hearthload.window.equipment.leave_off import LeaveOffPanel
from hearthload.window.equipment.page import EquipmentPage
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from tests.window import hands
from tests.window.equipment.gear import ENGINE, STRONG, WEAK, owned, planned
from tests.window.filling import House
from tests.window.hands import clear_away, show
from tests.window.test_reachable import in_reading_order, named, reachable, tabbed

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ALSO_FOCUSED = (QTextBrowser, Cautions, LeaveOffPanel)


@pytest.fixture
def window(house: House, qtbot: QtBot) -> Iterator[MainWindow]:
    planned(house)
    owned(house, STRONG, WEAK, ENGINE)
    made = MainWindow(house.session, Memory({}))
    made.furnish()
    show(qtbot, made, 1280, 800)
    yield made
    clear_away()


@pytest.fixture
def opened(window: MainWindow, qtbot: QtBot) -> EquipmentPage:
    page = cast("EquipmentPage", window.show_page("equipment"))
    qtbot.waitUntil(lambda: page.detail.tabs.isVisible())  # noqa: PLW0108 (asked anew each time)
    return page


def unnamed(window: MainWindow) -> list[QWidget]:
    also = [
        each for each in window.findChildren(QWidget) if isinstance(each, ALSO_FOCUSED) and each.isVisible()
    ]
    return [widget for widget in (*reachable(window), *also) if not named(widget)]


def test_everything_has_a_name(window: MainWindow, opened: EquipmentPage) -> None:
    for tab in (LIMITS, ARITHMETIC, LEAVE_OFF):
        opened.detail.tabs.choose(tab)
        assert unnamed(window) == []
    for kind in SupplyKind:
        opened.add_supply()
        opened.sheet.kind.choose(kind)
        assert unnamed(window) == []


@pytest.mark.parametrize("tab", [LIMITS, ARITHMETIC, LEAVE_OFF])
def test_tab_goes_through_the_page_as_it_is_read(opened: EquipmentPage, tab: str) -> None:
    detail = opened.detail
    detail.tabs.choose(tab)
    side = opened.head.parentWidget()
    assert side is not None
    left = tabbed(opened.head.add_button, side)
    assert left == [opened.head.add_button, opened.head.choice, opened.table, opened.cautions]
    right = tabbed(detail.change_button, detail)
    shown = {LIMITS: detail.limits, ARITHMETIC: detail.arithmetic.lines, LEAVE_OFF: detail.leave_off}[tab]
    assert right[:2] == [detail.change_button, detail.remove_button]
    assert right[-1] is shown
    assert right == in_reading_order(right, detail)


@pytest.mark.parametrize("kind", [SupplyKind.BATTERY, SupplyKind.GENERATOR, SupplyKind.ARRAY])
def test_tab_goes_through_the_sheet_as_it_is_read(
    window: MainWindow, opened: EquipmentPage, kind: SupplyKind
) -> None:
    window.resize(1280, 1600)
    opened.add_supply()
    form = opened.sheet.form
    opened.sheet.kind.choose(kind)
    stops = tabbed(form.rows["name"].editor, form)
    assert stops == [row.editor for row in form.rows.values() if row.editor.isVisible()]


def test_boxes_of_a_combination_are_ticked_by_keys_alone(opened: EquipmentPage) -> None:
    opened.add_supply()
    opened.sheet.kind.choose(SupplyKind.COMBINATION)
    boxes = list(opened.sheet.members.boxes.values())
    stops = tabbed(opened.sheet.form.rows["name"].editor, opened.sheet.form)
    assert stops[3:-1] == boxes


def test_the_page_is_reached_by_its_key(window: MainWindow) -> None:
    window.setFocus()
    number = list(window.bar.tabs).index("equipment") + 1
    key = Qt.Key(Qt.Key.Key_0 + number)
    hands.press(key, Qt.KeyboardModifier.ControlModifier)
    assert isinstance(window.shown, EquipmentPage)

"""Fixtures of the Readings page's tests: a house to fill, hands to type with, the entry panel in a page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from tests.window.filling import House
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> Iterator[EntryPanel]:
    """Give the entry panel as it stands in a page that is in sight."""
    page = QWidget()
    column = QVBoxLayout(page)
    made = EntryPanel(session, page)
    column.addWidget(made)
    column.addStretch(1)
    show(qtbot, page)
    yield made
    clear_away()


@pytest.fixture
def bar(session: Session, qtbot: QtBot) -> Iterator[MeasureBar]:
    """Give the measurement bar as it stands in a page that is in sight."""
    page = QWidget()
    column = QVBoxLayout(page)
    made = MeasureBar(session, page)
    column.addWidget(made)
    column.addStretch(1)
    show(qtbot, page)
    yield made
    clear_away()


@pytest.fixture
def opened(session: Session, qtbot: QtBot) -> Iterator[Callable[[], ReadingsPage]]:
    """Give a function that opens the Readings page, once the house is filled."""
    kept: list[ReadingsPage] = []

    def open_page() -> ReadingsPage:
        page = ReadingsPage(session)
        kept.append(page)
        show(qtbot, page, 1280, 900)
        return page

    yield open_page
    clear_away()

"""Fixtures of the Equipment page's tests: a house to fill and the page in sight."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

import pytest

from hearthload.window.equipment.page import EquipmentPage
from hearthload.window.session import Session
from tests.window.filling import House
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[EquipmentPage]:
    made = EquipmentPage(session)
    show(qtbot, made, 1200, 760)
    yield made
    clear_away()

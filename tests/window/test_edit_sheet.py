"""Sheets: a complaint goes while its field is put right, long texts are shown from their beginning."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.window.meters.meter_form import MeterSheet
from hearthload.window.session import Session
from tests.window import hands
from tests.window.filling import House
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def sheet(session: Session, qtbot: QtBot) -> MeterSheet:
    made = MeterSheet(session)
    show(qtbot, made)
    return made


def test_a_complaint_goes_once_its_field_is_typed_in(sheet: MeterSheet) -> None:
    sheet.begin_add()
    hands.press(Qt.Key.Key_Return)
    row = sheet.form.rows["name"]
    assert row.complaints.complaints
    hands.write("G")
    assert row.complaints.complaints == ()
    sheet.begin_add()
    hands.press(Qt.Key.Key_Return)
    assert row.complaints.complaints


def test_a_long_note_is_shown_from_its_beginning(session: Session, clock: object, sheet: MeterSheet) -> None:
    house = House(session, session.now)
    assert clock is not None
    number = house.meter("Grey meter", note="a long note " * 20)
    sheet.begin_change(session.logbook.held().meter(number))
    assert sheet.form.rows["note"].editor.cursorPosition() == 0  # type: ignore[attr-defined]

"""The days panel: each local day's energy, newest first, and the week's pattern once it is known."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from hearthload.window.readings.days import EMPTY, HOW, DaysPanel
from hearthload.window.session import Session
from tests.window.filling import House
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


@pytest.fixture
def days(session: Session, qtbot: QtBot) -> Iterator[DaysPanel]:
    made = DaysPanel(session)
    show(qtbot, made)
    yield made
    clear_away()


def test_days_add_up_to_the_counters(house: House, days: DaysPanel) -> None:
    stay = house.measured(days=4, daily_kwh=1.0)
    days.show_measurement(stay.id)
    rows = days.days.texts.rows
    assert len(rows) == 5
    assert sum(float(row[1]) for row in rows) == pytest.approx(4.0, abs=0.03)
    # Read at half past seven: the first day has 16.5 hours, the last 7.5.
    assert [row[2] for row in rows] == ["8 h", "24 h", "24 h", "24 h", "16 h"]
    assert rows[0][0] == "Mon 23 Nov"
    assert rows[0][1] == "0.31"
    assert days.how.text() == HOW


def test_a_fortnight_shows_the_week(house: House, days: DaysPanel) -> None:
    stay = house.measured(days=15, daily_kwh=0.7)
    days.show_measurement(stay.id)
    rows = days.weekdays.texts.rows
    assert [row[0] for row in rows][:2] == ["Monday", "Tuesday"]
    assert len(rows) == 7
    assert {row[1] for row in rows} == {"0.70"}
    assert not days.weekdays.isHidden()
    assert days.no_week.isHidden()


def test_a_few_days_say_nothing_of_the_week(house: House, days: DaysPanel) -> None:
    stay = house.measured(days=5)
    days.show_measurement(stay.id)
    assert days.weekdays.isHidden()
    assert not days.no_week.isHidden()


def test_without_a_second_reading_it_says_what_is_needed(house: House, days: DaysPanel) -> None:
    started = house.started(house.appliance(), house.meter())
    days.show_measurement(started)
    assert days.days.texts.rows == ()
    assert days.how.text() == EMPTY


def test_a_new_reading_comes_in_and_undo_takes_it_out(house: House, days: DaysPanel) -> None:
    stay = house.measured(days=3)
    days.show_measurement(stay.id)
    before = days.days.texts.rows
    house.read(stay.id, 0.0, 4.0)
    assert len(days.days.texts.rows) == len(before) + 1
    house.session.undo()
    assert days.days.texts.rows == before
    house.session.close()
    assert days.days.texts.rows == ()

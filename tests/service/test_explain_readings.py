"""The readings of an explanation: interruptions, whose hours count, which reading is in doubt."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.service.doubts import open_doubts
from hearthload.service.edits.measurements import reset_meter, swap_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.edits.settling import answer_doubt
from hearthload.service.explain import explain
from hearthload.service.explain_words import said_when
from tests.service.building import House, a_house, on_day, read_on
from tests.service.explaining import STEPS, measured, told


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def with_hours(house: House, kind: Kind, lost_h: float = 0.0) -> int:
    """Give four days of readings with the meter's hours, so many of them lost on the third day."""
    stay = house.started(house.appliance(f"{kind} {lost_h:g}", kind), house.meter(f"{kind} {lost_h:g}"))
    for day in range(1, 5):
        add_reading(house.logbook, stay, read_on(day, float(day), 24.0 * day - (lost_h if day > 2 else 0.0)))
    return stay


def test_hours_are_told_with_what_decides(house: House) -> None:
    stay = measured(house, steps=STEPS[:2])
    assert "The meter's hours were not typed, so the clock is used." in told(house, stay)[0]["Readings"]
    add_reading(house.logbook, stay, read_on(3, 23.1, 72.0))
    said = told(house, stay)[0]["Readings"]
    assert "1 of them came with the meter's hours. " in said
    assert "Where meter hours and clock disagree, the clock is used." in said
    said = told(house, with_hours(house, Kind.ALWAYS_ON))[0]["Readings"]
    assert "the meter's are used, unless more than half are missing" in said
    assert "the clock is used" not in said


@pytest.mark.parametrize(("kind", "days"), [(Kind.REFRIGERATOR, 4.0), (Kind.ALWAYS_ON, 4.0 - 6.0 / 24.0)])
def test_what_is_said_to_decide_does(house: House, kind: Kind, days: float) -> None:
    stay = with_hours(house, kind, lost_h=6.0)
    assert house.logbook.estimates.estimate(stay).days == pytest.approx(days)


def test_interruptions_are_told(house: House) -> None:
    stay = measured(house, steps=STEPS[:3])
    reset_meter(house.logbook, stay, read_on(4, 0.0), exact_zero=True)
    swap_meter(house.logbook, stay, house.meter("Blue meter"), read_on(5, 7.0), exact_zero=False)
    said = told(house, stay)[0]["Readings"]
    gone = "what was used between the last reading before and"
    assert f"The meter was reset on 7 Mar 2025 07:30: {gone} the reset is not counted." in said
    assert f"Another meter took over on 8 Mar 2025 07:30: {gone} the swap is not counted." in said


def test_a_reading_in_doubt_is_named_until_it_is_answered(house: House) -> None:
    sure = with_hours(house, Kind.REFRIGERATOR)
    assert "Every reading counts." in told(house, sure)[0]["Readings"]
    stay = with_hours(house, Kind.REFRIGERATOR, lost_h=6.0)
    (doubt,) = open_doubts(house.logbook, stay)
    assert doubt.reading is not None
    said = told(house, stay)[0]["Readings"]
    assert "Every reading counts" not in said
    assert "There is a doubt about the reading of 6 Mar 2025 07:30: 24 h went by on the clock" in said
    assert "It counts until you correct or remove it." in said
    answer_doubt(house.logbook, stay, doubt.doubt.code, doubt.reading.id)
    assert "Every reading counts." in told(house, stay)[0]["Readings"]


def test_the_present_year_is_not_said(house: House) -> None:
    stay = measured(house, steps=STEPS[:2])
    text = explain(house.logbook, stay, on_day(30)).steps[0].text
    assert text.startswith("3 readings, from 3 Mar 07:30 to 5 Mar 07:30.")
    moment = datetime(2026, 11, 7, 9, 5, tzinfo=UTC)
    assert said_when(moment, None) == "7 Nov 2026 09:05"
    assert said_when(moment, moment.replace(year=2027)) == "7 Nov 2026 09:05"
    assert said_when(moment, moment.replace(month=12)) == "7 Nov 09:05"

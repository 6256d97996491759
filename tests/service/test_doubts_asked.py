"""Doubts that are open: asked until she says that it is right, and again when what was doubted changes."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import DoubtCode, Likely
from hearthload.service import queries
from hearthload.service.doubts import OpenDoubt, about, doubted_at, open_doubts
from hearthload.service.edits.appliances import take_as_kind
from hearthload.service.edits.readings import change_reading, remove_reading
from hearthload.service.edits.settling import answer_doubt
from tests.service.building import House, a_house, furnished, on_day, read_on

LARDER, WILD = 1, 2
"""The measurements: a refrigerator with one slip, and a washing machine that was entered as always on."""

SLIP = 6
"""The number of the reading that is 0.7 kWh too high, taken on the fifth day."""

ODD = DoubtCode.ODD_READING
VARIES = DoubtCode.VARIES_MUCH
LOADS = (0.0, 2.6, 0.0, 0.01, 1.4, 0.0, 3.9, 0.0)


def furnish(house: House) -> None:
    house.started(house.appliance("Larder", Kind.REFRIGERATOR), house.meter("Grey meter"), energy_kwh=20.0)
    for day in range(1, 12):
        house.read(LARDER, day, 25.7 if day == 5 else 20.0 + day, 24.0 * day)
    house.started(house.appliance("Washer", Kind.ALWAYS_ON), house.meter("Blue meter"), energy_kwh=20.0)
    for day in range(1, len(LOADS) + 1):
        house.read(WILD, day, round(20.0 + sum(LOADS[:day]), 2))


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    with a_house(tmp_path, file) as made:
        yield made


def asked(house: House, measurement_id: int = LARDER) -> list[tuple[DoubtCode, int | None]]:
    """Give what is asked: the code and the number of the reading."""
    return [
        (found.doubt.code, None if found.reading is None else found.reading.id)
        for found in open_doubts(house.logbook, measurement_id)
    ]


def the(house: House, code: DoubtCode, measurement_id: int = LARDER) -> OpenDoubt:
    (found,) = (found for found in open_doubts(house.logbook, measurement_id) if found.doubt.code is code)
    return found


def doubts_in_roster(house: House, appliance_id: int) -> int:
    return queries.roster_row(house.logbook, appliance_id, house.clock.now).doubts


def test_a_doubt_is_asked_with_its_reading_and_what_was_meant(house: House) -> None:
    found = the(house, ODD)
    assert found.reading is not None
    assert (found.reading.id, found.reading.energy_kwh) == (SLIP, 25.7)
    assert found.sentence.startswith("8 Mar 07:30: about 25 kWh would fit")
    assert found.doubt.likely is Likely.WRONG_DIGIT
    assert found.suggested_kwh == pytest.approx(25.0, abs=0.11)
    assert not found.asks_for_kind
    assert doubted_at(house.logbook, LARDER) == (on_day(5),)


def test_answered_it_is_not_asked_again_until_that_is_taken_back(house: House) -> None:
    before = asked(house)
    assert (ODD, SLIP) in before
    assert doubts_in_roster(house, 1) == len(before)
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    assert asked(house) == [each for each in before if each != (ODD, SLIP)]
    assert doubts_in_roster(house, 1) == len(before) - 1
    assert doubted_at(house.logbook, LARDER) == ()
    house.logbook.history.undo()
    assert asked(house) == before
    assert doubted_at(house.logbook, LARDER) == (on_day(5),)
    house.logbook.history.redo()
    assert (ODD, SLIP) not in asked(house)


def test_an_answer_outlives_closing_the_logbook(house: House, tmp_path: Path) -> None:
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    left = asked(house)
    house.logbook.close()
    with a_house(tmp_path, house.path.read_bytes()) as again:
        assert asked(again) == left


def test_an_answer_is_about_this_doubt_and_this_reading_only(house: House) -> None:
    before = asked(house)
    answer_doubt(house.logbook, LARDER, DoubtCode.HOURS_AGAINST_CLOCK, SLIP)
    answer_doubt(house.logbook, LARDER, ODD, SLIP - 1)
    answer_doubt(house.logbook, LARDER, ODD, None)
    answer_doubt(house.logbook, WILD, VARIES, None)
    assert asked(house) == before


def test_another_value_is_asked_about_again(house: House) -> None:
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    change_reading(house.logbook, SLIP, read_on(5, 25.6, 120.0))
    assert (ODD, SLIP) in asked(house)
    change_reading(house.logbook, SLIP, read_on(5, 25.7, 120.0, note="looked twice"))
    assert (ODD, SLIP) not in asked(house)


def test_a_corrected_reading_is_not_doubted(house: House) -> None:
    change_reading(house.logbook, SLIP, read_on(5, 25.0, 120.0))
    assert asked(house) == []
    assert doubts_in_roster(house, 1) == 0
    house.logbook.history.undo()
    assert (ODD, SLIP) in asked(house)
    remove_reading(house.logbook, SLIP)
    assert asked(house) == []


def test_hours_are_part_of_what_is_doubted_about_them_and_of_nothing_else(house: House) -> None:
    against = DoubtCode.HOURS_AGAINST_CLOCK
    change_reading(house.logbook, SLIP, read_on(5, 25.7, 117.0))
    # The span that it closes is 3 h short, and the one after it 3 h long: one slip, asked once.
    assert [each for each in asked(house) if each[0] is against] == [(against, SLIP)]
    answer_doubt(house.logbook, LARDER, against, SLIP)
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    assert (against, SLIP) not in asked(house)
    change_reading(house.logbook, SLIP, read_on(5, 25.7, 116.0))
    assert (against, SLIP) in asked(house)
    assert (ODD, SLIP) not in asked(house)


def test_what_an_answer_is_about(house: House) -> None:
    reading = house.record(LARDER).readings[5]
    assert about(ODD, None) == ""
    assert about(ODD, reading) != about(DoubtCode.HOURS_AGAINST_CLOCK, reading)
    assert "25.7" in about(ODD, reading)


def test_a_kind_that_suits_better_is_offered_and_taken(house: House) -> None:
    found = the(house, VARIES, WILD)
    assert found.reading is None
    assert found.asks_for_kind
    assert queries.offered_kind(house.logbook, WILD) is Kind.BY_THE_LOAD
    take_as_kind(house.logbook, 2, Kind.BY_THE_LOAD)
    assert VARIES not in {code for code, _ in asked(house, WILD)}
    house.logbook.history.undo()
    assert the(house, VARIES, WILD) == found


def test_a_doubt_about_all_is_answered_once_and_for_all(house: House) -> None:
    answer_doubt(house.logbook, WILD, VARIES, None)
    assert VARIES not in {code for code, _ in asked(house, WILD)}
    house.read(WILD, 12, 33.3)
    assert VARIES not in {code for code, _ in asked(house, WILD)}
    house.logbook.history.undo()
    house.logbook.history.undo()
    assert the(house, VARIES, WILD).sentence.startswith("it varies more")


def test_the_reading_table_says_it_beside_the_reading(house: House) -> None:
    rows = {row.reading.id: row.doubts for row in queries.reading_rows(house.logbook, LARDER)}
    assert rows[SLIP] == (the(house, ODD).sentence,)
    assert all(not said for number, said in rows.items() if number != SLIP)
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    assert not any(row.doubts for row in queries.reading_rows(house.logbook, LARDER))


def test_the_chart_marks_it(house: House) -> None:
    assert queries.chart(house.logbook, LARDER).doubts_s == (on_day(5).timestamp(),)
    answer_doubt(house.logbook, LARDER, ODD, SLIP)
    assert queries.chart(house.logbook, LARDER).doubts_s == ()


def test_power_is_held_against_what_the_way_carries_and_the_highest_watts_seen(house: House) -> None:
    heater = house.appliance("Heater", Kind.NOT_SURE)
    stay = house.started(heater, house.meter("Red meter", current_a=2.0), energy_kwh=1.0)
    house.read(stay, 1, 1.0 + 24 * 0.230 * 2 + 0.5)
    assert asked(house, stay) == [(DoubtCode.IMPOSSIBLE_POWER, stay_reading(house, stay, 1))]
    change_reading(house.logbook, stay_reading(house, stay, 1), read_on(1, 5.0, highest_power_w=100.0))
    assert asked(house, stay) == [(DoubtCode.ABOVE_HIGHEST, stay_reading(house, stay, 1))]


def stay_reading(house: House, measurement_id: int, place: int) -> int:
    return house.record(measurement_id).readings[place].id


def test_that_a_reading_is_right_settles_every_way_in_which_it_is_odd(house: House) -> None:
    change_reading(house.logbook, SLIP, read_on(5, 25.0, 120.0))
    # The latest reading, 32.9 for 32.0, is an odd span; once another follows it is an odd reading.
    latest = house.read(LARDER, 12, 32.9, 288.0)
    assert (DoubtCode.ODD_SPAN, latest) in asked(house)
    answer_doubt(house.logbook, LARDER, DoubtCode.ODD_SPAN, latest)
    house.read(LARDER, 13, 33.0, 312.0)
    assert (ODD, latest) in [
        (each.code, house.record(LARDER).readings[each.reading].id)
        for each in house.logbook.estimates.doubts(LARDER)
        if each.reading is not None
    ]
    assert latest not in {number for _, number in asked(house)}
    change_reading(house.logbook, latest, read_on(12, 32.8, 288.0))
    assert (ODD, latest) in asked(house)


def test_the_latest_doubt_offers_what_was_meant(house: House) -> None:
    latest = house.read(LARDER, 12, 32.0, 28800.0)
    found = the(house, DoubtCode.HOURS_AGAINST_CLOCK)
    assert found.reading is not None
    assert (found.reading.id, found.suggested_h) == (latest, 288.0)

"""Her word about doubts, measurements that count together, and an appliance taken as another kind."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import DoubtCode
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import remove_appliance, take_as_kind
from hearthload.service.edits.measurements import (
    finish_measurement,
    remove_measurement,
    set_aside_measurement,
)
from hearthload.service.edits.readings import change_reading, remove_reading
from hearthload.service.edits.settling import answer_doubt, join_measurement
from tests.service.building import House, a_house, furnished, number_of, on_day, read_on

SPRING, AUTUMN = 1, 2
ODD = DoubtCode.ODD_READING


def furnish(house: House) -> None:
    house.measured()
    finish_measurement(house.logbook, SPRING, on_day(2))
    house.read(house.started(1, 1, day=10), 11, 0.4)


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) measured twice on a grey meter (1): readings 1 and 2, then 3 and 4."""
    with a_house(tmp_path, file) as made:
        yield made


def told(name: str, topic: Topic, measurement_id: int, *, created_id: int | None = None) -> Changes:
    meters = frozenset({1}) if topic is Topic.MEASUREMENTS else frozenset[int]()
    numbers = frozenset({measurement_id})
    return Changes(f"{name}: Router", frozenset({topic}), frozenset({1}), meters, numbers, created_id)


@pytest.mark.parametrize("reading_id", [2, None])
def test_answering(house: House, reading_id: int | None) -> None:
    changes, lines = house.journaled(lambda: answer_doubt(house.logbook, SPRING, ODD, reading_id))
    number = number_of(changes)
    assert changes == told("answer a doubt", Topic.DOUBTS, SPRING, created_id=number)
    assert lines == [("answer a doubt: Router", "answers", number, "added")]
    (answer,) = house.held.answers_about(SPRING)
    assert (answer.id, answer.reading_id, answer.code) == (number, reading_id, "odd_reading")
    assert answer.answered_at == house.clock.now
    assert house.held.answers_about(AUTUMN) == ()
    house.logbook.history.undo()
    assert house.held.answers == {}


def test_an_answer_is_about_the_value_that_was_doubted(house: House) -> None:
    answer_doubt(house.logbook, SPRING, ODD, 2)
    change_reading(house.logbook, 2, read_on(1, 0.5))
    answer_doubt(house.logbook, SPRING, ODD, 2)
    first, second = house.held.answers_about(SPRING)
    assert first.about != second.about


def test_answering_about_what_is_not_there(house: House) -> None:
    with house.refuses("unknown_measurement", "measurement_id"):
        answer_doubt(house.logbook, 99, ODD, None)
    for reading_id in (99, 3):
        with house.refuses("unknown_reading", "reading_id"):
            answer_doubt(house.logbook, SPRING, ODD, reading_id)


def test_answers_go_with_what_they_are_about(house: House) -> None:
    for measurement_id, reading_id in ((SPRING, 1), (SPRING, 2), (SPRING, None), (AUTUMN, 4)):
        answer_doubt(house.logbook, measurement_id, ODD, reading_id)
    _, lines = house.journaled(lambda: remove_reading(house.logbook, 2))
    assert [line[1:] for line in lines] == [("answers", 2, "removed"), ("readings", 2, "removed")]
    remove_measurement(house.logbook, SPRING)
    assert [answer.id for answer in house.held.answers.values()] == [4]
    remove_appliance(house.logbook, 1)
    assert house.held.answers == {}
    for _ in range(3):
        house.logbook.history.undo()
    assert sorted(house.held.answers) == [1, 2, 3, 4]


def test_joining_and_keeping_apart(house: House) -> None:
    changes, lines = house.journaled(lambda: join_measurement(house.logbook, AUTUMN, joined=True))
    assert changes == told("join measurements", Topic.MEASUREMENTS, AUTUMN)
    assert lines == [("join measurements: Router", "measurements", AUTUMN, "changed")]
    assert house.held.measurement(AUTUMN).joined
    changes = join_measurement(house.logbook, AUTUMN, joined=False)
    assert changes.name == "keep measurements apart: Router"
    assert not house.held.measurement(AUTUMN).joined


def test_only_to_an_earlier_measurement_that_counts(house: House) -> None:
    with house.refuses("no_earlier", "measurement_id"):
        join_measurement(house.logbook, SPRING, joined=True)
    plan = house.planned(1)
    with house.refuses("no_earlier", "measurement_id"):
        join_measurement(house.logbook, plan, joined=True)
    set_aside_measurement(house.logbook, SPRING)
    with house.refuses("no_earlier", "measurement_id"):
        join_measurement(house.logbook, AUTUMN, joined=True)
    with house.refuses("unknown_measurement", "measurement_id"):
        join_measurement(house.logbook, 99, joined=True)


def test_another_appliance_s_measurement_is_not_an_earlier_one(house: House) -> None:
    other = house.started(house.appliance("Lamp"), house.meter("Blue meter"), day=20)
    with house.refuses("no_earlier", "measurement_id"):
        join_measurement(house.logbook, other, joined=True)


def test_taking_as_another_kind(house: House) -> None:
    before = house.held.appliance(1)
    changes, lines = house.journaled(lambda: take_as_kind(house.logbook, 1, Kind.FREEZER))
    assert changes == Changes("change kind: Router", frozenset({Topic.APPLIANCES}), frozenset({1}))
    assert lines == [("change kind: Router", "appliances", 1, "changed")]
    after = house.held.appliance(1)
    assert (after.kind, after.name, after.note) == (Kind.FREEZER, before.name, before.note)
    with house.refuses("unknown_appliance", "appliance_id"):
        take_as_kind(house.logbook, 99, Kind.FREEZER)

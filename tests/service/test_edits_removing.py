"""Removing readings: what rests on a run's first or only reading is kept true, and undo brings all back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.measurement import MeasurementState, Run, RunCause
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.measurements import (
    finish_measurement,
    remove_measurement,
    reset_meter,
    set_aside_measurement,
    start_measurement,
    swap_meter,
)
from hearthload.service.edits.readings import add_reading, remove_reading
from tests.service.building import House, a_house, contents, furnished, on_day, read_on
from tests.store.files import kept_rows

GREY, BLUE = 1, 2


def furnish(house: House) -> None:
    house.started(house.appliance(), house.meter("Grey meter"))
    house.meter("Blue meter")
    house.read(1, 1, 0.3)
    house.read(1, 2, 0.6)
    reset_meter(house.logbook, 1, read_on(4, 0.0), exact_zero=True)
    house.read(1, 5, 0.3)
    swap_meter(house.logbook, 1, BLUE, read_on(8, 50.0), exact_zero=False)
    house.read(1, 9, 50.3)


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) with three runs: grey meter from day 0, reset on day 4, blue meter from day 8.

    Readings 1 to 3 are of days 0, 1, 2; 4 and 5 of days 4 and 5; 6 and 7 of days 8 and 9.
    """
    with a_house(tmp_path, file) as made:
        yield made


def remove(house: House, *numbers: int) -> list[Changes]:
    """Remove readings one by one, then check that undoing all of it brings everything back."""
    before, cached = kept_rows(house.path), contents(house.held)
    told = [remove_reading(house.logbook, number) for number in numbers]
    after, held = kept_rows(house.path), contents(house.held)
    for _ in numbers:
        house.logbook.history.undo()
    assert kept_rows(house.path) == before
    assert contents(house.held) == cached
    for _ in numbers:
        house.logbook.history.redo()
    assert kept_rows(house.path) == after
    assert contents(house.held) == held
    return told


def runs(house: House, measurement_id: int = 1) -> list[tuple[int, RunCause, int, float, bool]]:
    """Give number, cause, meter, day of beginning and exact start of a measurement's runs."""
    return [
        (run.number, run.cause, run.meter_id, (run.began_at - on_day(0)).days, run.exact_start)
        for run in house.record(measurement_id).runs
    ]


FIRST = (1, RunCause.START, GREY, 0, True)
SECOND = (2, RunCause.RESET, GREY, 4, True)
THIRD = (3, RunCause.SWAP, BLUE, 8, False)


def readings(house: House) -> list[int]:
    return [reading.id for reading in house.record(1).readings]


def test_the_house_of_these_tests(house: House) -> None:
    assert runs(house) == [FIRST, SECOND, THIRD]
    assert readings(house) == [1, 2, 3, 4, 5, 6, 7]


@pytest.mark.parametrize("number", [2, 3, 5, 7])
def test_one_of_many(house: House, number: int) -> None:
    (changes,) = remove(house, number)
    assert changes == Changes(
        "remove reading: Router",
        frozenset({Topic.READINGS}),
        appliance_ids=frozenset({1}),
        measurement_ids=frozenset({1}),
    )
    assert runs(house) == [FIRST, SECOND, THIRD]
    assert readings(house) == [other for other in range(1, 8) if other != number]


def test_the_journal_tells_of_the_reading_and_what_rested_on_it(house: House) -> None:
    name = "remove reading: Router"
    _, lines = house.journaled(lambda: remove_reading(house.logbook, 1))
    assert lines == [
        (name, "readings", 1, "removed"),
        (name, "runs", 1, "changed"),
        (name, "measurements", 1, "changed"),
    ]


def test_the_first_of_the_first_run(house: House) -> None:
    (changes,) = remove(house, 1)
    assert changes.topics == {Topic.READINGS, Topic.MEASUREMENTS}
    assert changes.meter_ids == {GREY, BLUE}
    # The next reading is now the run's first, and it was no exact zero.
    assert runs(house) == [(1, RunCause.START, GREY, 1, False), SECOND, THIRD]
    assert house.held.measurement(1).started_at == on_day(1)


def test_the_first_of_a_later_run(house: House) -> None:
    remove(house, 4)
    assert runs(house) == [FIRST, (2, RunCause.RESET, GREY, 5, False), THIRD]
    assert house.held.measurement(1).started_at == on_day(0)


def test_all_of_the_first_run(house: House) -> None:
    """The later runs move up; the second, a reset, is the start now and keeps its exact zero."""
    changes = remove(house, 1, 2, 3)[-1]
    assert changes.topics == {Topic.READINGS, Topic.MEASUREMENTS}
    assert runs(house) == [(1, RunCause.START, GREY, 4, True), (2, RunCause.SWAP, BLUE, 8, False)]
    assert house.held.measurement(1).started_at == on_day(4)
    assert readings(house) == [4, 5, 6, 7]


def test_all_of_a_run_in_the_middle(house: House) -> None:
    remove(house, 4, 5)
    assert runs(house) == [FIRST, (2, RunCause.SWAP, BLUE, 8, False)]
    assert house.held.measurement(1).meter_id == BLUE


def test_all_of_the_last_run(house: House) -> None:
    """It is back on the meter of the run before, which is free."""
    changes = remove(house, 7, 6)[-1]
    assert changes.meter_ids == {GREY, BLUE}
    assert runs(house) == [FIRST, SECOND]
    assert house.held.measurement(1).meter_id == GREY
    house.read(1, 10, 1.8)
    assert house.record(1).readings[-1].run_id == house.record(1).runs[-1].id


def test_the_meter_of_the_run_before_may_be_busy(house: House) -> None:
    house.started(house.appliance("Lamp"), GREY, day=9)
    remove(house, 7)
    with house.refuses("meter_in_use", "meter_id"):
        remove_reading(house.logbook, 6)
    finish_measurement(house.logbook, 1, on_day(9))
    # Finished, it is on no meter any more, and may say again which it was on last.
    remove(house, 6)
    assert house.held.measurement(1).meter_id == GREY


@pytest.mark.parametrize("end", ["running", "finished", "set_aside"])
def test_all_of_a_measurement(house: House, end: str) -> None:
    """Without a reading nothing was measured: it is planned again, its meter free."""
    if end != "running":
        finish_measurement(house.logbook, 1, on_day(10))
    if end == "set_aside":
        set_aside_measurement(house.logbook, 1)
    changes = remove(house, 7, 6, 5, 4, 3, 2, 1)[-1]
    assert changes.topics == {Topic.READINGS, Topic.MEASUREMENTS}
    record = house.record(1)
    assert (record.runs, record.readings) == ((), ())
    measurement = record.measurement
    assert (measurement.state, measurement.meter_id) == (MeasurementState.PLANNED, GREY)
    assert (measurement.started_at, measurement.finished_at) == (None, None)
    house.started(house.appliance("Lamp"), GREY)
    start_measurement(house.logbook, 1, BLUE, read_on(11, 0.0), exact_zero=True, measurement_id=1)


def test_a_reading_of_a_run_s_minute_goes_alone(house: House) -> None:
    """Old counter and zero were read in the same minute; taking away the zero leaves the old one."""
    reset_meter(house.logbook, 1, read_on(9, 0.0), exact_zero=True)
    remove(house, 8)
    assert runs(house) == [FIRST, SECOND, THIRD]
    assert readings(house)[-1] == 7


def test_the_measurement_with_all_its_runs(house: House) -> None:
    before = kept_rows(house.path)
    changes, lines = house.journaled(lambda: remove_measurement(house.logbook, 1))
    assert changes.meter_ids == {GREY, BLUE}
    assert [line[1] for line in lines] == ["readings"] * 7 + ["runs"] * 3 + ["measurements"]
    assert house.held.runs == {}
    house.logbook.history.undo()
    assert kept_rows(house.path) == before


@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_reading_that_is_not_there(house: House, number: int) -> None:
    with house.refuses("unknown_reading", "reading_id"):
        remove_reading(house.logbook, number)


def test_a_removed_reading_s_number_is_not_given_again(house: House) -> None:
    remove_reading(house.logbook, 7)
    assert add_reading(house.logbook, 1, read_on(9, 50.4)).created_id == 8


def test_undone_runs_are_the_same_values_as_before(house: House) -> None:
    before = house.record(1).runs
    remove_reading(house.logbook, 1)
    house.logbook.history.undo()
    assert house.record(1).runs == before
    assert before[0] == Run(1, 1, 1, GREY, RunCause.START, on_day(0), exact_start=True)

"""Resets and swaps: a new run of the same measurement, on the same meter or on another."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from hearthload.domain.measurement import MeasurementState, Run, RunCause
from hearthload.domain.reading import ReadingDraft
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.measurements import (
    finish_measurement,
    reset_meter,
    set_aside_measurement,
    swap_meter,
)
from hearthload.service.edits.readings import add_reading
from tests.service.building import House, a_house, furnished, number_of, on_day, read_on


def furnish(house: House) -> None:
    house.measured()
    house.meter("Blue meter")


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) measured on a grey meter (1) from day 0, read on day 1, and a blue meter (2)."""
    with a_house(tmp_path, file) as made:
        yield made


Again = Callable[[House, ReadingDraft], Changes]


def reset(house: House, first: ReadingDraft, exact_zero: bool = True) -> Changes:
    return reset_meter(house.logbook, 1, first, exact_zero=exact_zero)


def swap(house: House, first: ReadingDraft, exact_zero: bool = True) -> Changes:
    return swap_meter(house.logbook, 1, 2, first, exact_zero=exact_zero)


BOTH = pytest.mark.parametrize("again", [reset, swap])


@pytest.mark.parametrize("exact_zero", [True, False])
def test_a_reset(house: House, exact_zero: bool) -> None:
    first = read_on(2, 0.0, 0.0, power_w=9.0)
    changes, lines = house.journaled(lambda: reset(house, first, exact_zero=exact_zero))
    name, number = "reset meter: Router", number_of(changes)
    record = house.record(1)
    assert record.runs[1] == Run(2, 1, 2, 1, RunCause.RESET, on_day(2), exact_zero)
    assert (record.readings[-1].id, record.readings[-1].run_id) == (number, 2)
    assert record.readings[-1].power_w == 9.0
    assert (record.measurement.state, record.measurement.meter_id) == (MeasurementState.RUNNING, 1)
    assert changes == Changes(
        name,
        frozenset({Topic.MEASUREMENTS, Topic.READINGS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({1}),
        measurement_ids=frozenset({1}),
        created_id=number,
    )
    assert lines == [(name, "runs", 2, "added"), (name, "readings", number, "added")]


@pytest.mark.parametrize("exact_zero", [True, False])
def test_a_swap(house: House, exact_zero: bool) -> None:
    first = read_on(2, 0.0 if exact_zero else 88.0)
    changes, lines = house.journaled(lambda: swap(house, first, exact_zero=exact_zero))
    name, number = "swap meter: Router", number_of(changes)
    record = house.record(1)
    assert record.runs[1] == Run(2, 1, 2, 2, RunCause.SWAP, on_day(2), exact_zero)
    assert record.measurement.meter_id == 2
    assert record.measurement.started_at == on_day(0)
    assert changes == Changes(
        name,
        frozenset({Topic.MEASUREMENTS, Topic.READINGS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({1, 2}),
        measurement_ids=frozenset({1}),
        created_id=number,
    )
    assert lines == [
        (name, "runs", 2, "added"),
        (name, "readings", number, "added"),
        (name, "measurements", 1, "changed"),
    ]


def test_a_swapped_meter_is_free(house: House) -> None:
    swap(house, read_on(2, 0.0))
    other = house.started(house.appliance("Lamp"), 1, day=3)
    assert house.held.measurement(other).state is MeasurementState.RUNNING


def test_readings_go_into_the_run_of_their_time(house: House) -> None:
    swap(house, read_on(3, 88.0), exact_zero=False)
    late = house.read(1, 4, 88.3)
    early = house.read(1, 2, 0.6)
    record = house.record(1)
    assert {reading.id: reading.run_id for reading in record.readings} == {
        1: 1,
        2: 1,
        early: 1,
        3: 2,
        late: 2,
    }
    assert [reading.energy_kwh for reading in record.readings] == [0.0, 0.31, 0.6, 88.0, 88.3]


@BOTH
def test_several_runs_follow_each_other(house: House, again: Again) -> None:
    again(house, read_on(2, 0.0))
    reset(house, read_on(3, 0.0))
    reset(house, read_on(4, 0.0))
    record = house.record(1)
    assert [run.number for run in record.runs] == [1, 2, 3, 4]
    assert [run.meter_id for run in record.runs[1:]] == [record.measurement.meter_id] * 3


@BOTH
def test_a_run_may_begin_in_the_minute_of_the_last_reading(house: House, again: Again) -> None:
    """She reads the old counter, sets it to zero and reads the zero: within one minute, in this order."""
    again(house, read_on(1, 0.0))
    record = house.record(1)
    assert [(reading.run_id, reading.energy_kwh) for reading in record.readings] == [
        (1, 0.0),
        (1, 0.31),
        (2, 0.0),
    ]
    with house.refuses("same_minute", "taken_at"):
        add_reading(house.logbook, 1, read_on(1, 0.1))


@BOTH
@pytest.mark.parametrize(
    ("first", "field", "code"),
    [
        (read_on(0.5, 0.0), "taken_at", "before_last"),
        (replace(read_on(1, 0.0), taken_at=on_day(1, minutes=-1)), "taken_at", "before_last"),
        (read_on(31, 0.0), "taken_at", "future"),
        (replace(read_on(2, 0.0), taken_at=on_day(2).replace(tzinfo=None)), "taken_at", "naive_time"),
        (read_on(2, 0.1), "energy_kwh", "not_zero"),
        (read_on(2, -1.0), "energy_kwh", "negative"),
        (read_on(2, math.nan), "energy_kwh", "not_finite"),
        (read_on(2, 0.0, math.inf), "elapsed_h", "not_finite"),
        (read_on(2, 0.0, power_w=-1.0), "power_w", "negative"),
        (read_on(2, 0.0, note="a\0b"), "note", "bad_text"),
    ],
)
def test_a_first_reading_that_cannot_be(
    house: House, again: Again, first: ReadingDraft, field: str, code: str
) -> None:
    with house.refuses(code, field):
        again(house, first)


def test_more_than_can_have_flowed_since_a_reset_is_a_slip(house: House) -> None:
    """Hours and energy typed in each other's place, or a decimal mark lost."""
    with house.refuses("impossible_power", "energy_kwh"):
        reset(house, read_on(2, 48.0, 0.5), exact_zero=False)
    reset(house, read_on(2, 0.5, 48.0), exact_zero=False)


@BOTH
def test_only_what_is_under_way_has_a_next_run(house: House, again: Again) -> None:
    finish_measurement(house.logbook, 1, on_day(2))
    with house.refuses("not_running", "measurement_id"):
        again(house, read_on(3, 0.0))
    set_aside_measurement(house.logbook, 1)
    with house.refuses("not_running", "measurement_id"):
        again(house, read_on(3, 0.0))


def test_a_plan_has_no_next_run(house: House) -> None:
    plan = house.planned(house.appliance("Lamp"), 1)
    with house.refuses("not_running", "measurement_id"):
        reset_meter(house.logbook, plan, read_on(2, 0.0), exact_zero=True)
    with house.refuses("not_running", "measurement_id"):
        swap_meter(house.logbook, plan, 2, read_on(2, 0.0), exact_zero=True)


def test_what_is_not_there_is_not_reset_or_swapped(house: House) -> None:
    with house.refuses("unknown_measurement", "measurement_id"):
        reset_meter(house.logbook, 99, read_on(2, 0.0), exact_zero=True)
    with house.refuses("unknown_measurement", "measurement_id"):
        swap_meter(house.logbook, 99, 2, read_on(2, 0.0), exact_zero=True)
    with house.refuses("unknown_meter", "meter_id"):
        swap_meter(house.logbook, 1, 99, read_on(2, 0.0), exact_zero=True)


def test_the_same_meter_is_reset_and_not_swapped(house: House) -> None:
    with house.refuses("same_meter", "meter_id"):
        swap_meter(house.logbook, 1, 1, read_on(2, 0.0), exact_zero=True)


def test_a_busy_meter_is_not_swapped_in(house: House) -> None:
    house.started(house.appliance("Lamp"), 2)
    with house.refuses("meter_in_use", "meter_id"):
        swap(house, read_on(2, 0.0))


def test_a_meter_that_does_not_fit_is_not_swapped_in(house: House) -> None:
    heater = house.appliance("Heater", nameplate_w=2000.0)
    number = house.started(heater, 2)
    weak, far = house.meter("Weak meter", current_a=5.0), house.meter("Far meter", voltage_v=120.0)
    with house.refuses("over_rating", "meter_id"):
        swap_meter(house.logbook, number, weak, read_on(2, 0.0), exact_zero=True)
    with house.refuses("over_voltage", "meter_id"):
        swap_meter(house.logbook, number, far, read_on(2, 0.0), exact_zero=True)


def test_a_meter_that_was_elsewhere_then_is_not_swapped_in(house: House) -> None:
    other = house.started(house.appliance("Lamp"), 2)
    house.read(other, 4, 1.0)
    finish_measurement(house.logbook, other, on_day(4))
    with house.refuses("meter_elsewhere", "taken_at"):
        swap(house, read_on(3, 0.0))
    swap(house, read_on(4, 0.0))

"""Planning and starting measurements: what is saved and told, and what is refused without a trace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, timedelta
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.measurement import Measurement, MeasurementState, Run, RunCause
from hearthload.domain.reading import ReadingDraft
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.measurements import (
    finish_measurement,
    plan_measurement,
    set_aside_measurement,
    start_measurement,
)
from tests.service.building import House, a_house, furnished, number_of, on_day, read_on

ZERO = read_on(0, 0.0, 0.0)


def furnish(house: House) -> None:
    house.appliance("Router")
    house.appliance("Lamp")
    house.meter("Grey meter")
    house.meter("Blue meter")


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) and a lamp (2), a grey (1) and a blue meter (2)."""
    with a_house(tmp_path, file) as made:
        yield made


@pytest.mark.parametrize("meter_id", [None, 1])
def test_planning(house: House, meter_id: int | None) -> None:
    changes, lines = house.journaled(lambda: plan_measurement(house.logbook, 1, meter_id))
    number, name = number_of(changes), "plan measurement: Router"
    assert house.held.measurement(number) == Measurement(
        number, 1, meter_id, MeasurementState.PLANNED, None, None, None, ""
    )
    assert changes == Changes(
        name,
        frozenset({Topic.MEASUREMENTS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset() if meter_id is None else frozenset({meter_id}),
        measurement_ids=frozenset({number}),
        created_id=number,
    )
    assert lines == [(name, "measurements", number, "added")]
    assert house.record(number).readings == ()


def test_one_plan_at_a_time(house: House) -> None:
    house.planned(1)
    with house.refuses("already_planned", "appliance_id"):
        plan_measurement(house.logbook, 1, 2)
    house.planned(2)


def test_the_next_season_may_be_planned_while_this_one_is_measured(house: House) -> None:
    house.started(1, 1)
    assert house.held.measurement(house.planned(1, 1)).state is MeasurementState.PLANNED


def test_a_plan_that_cannot_be(house: House) -> None:
    wired = house.appliance("Oven", hard_wired=True)
    with house.refuses("hard_wired", "appliance_id"):
        plan_measurement(house.logbook, wired, None)
    with house.refuses("unknown_appliance", "appliance_id"):
        plan_measurement(house.logbook, 99, None)
    with house.refuses("unknown_meter", "meter_id"):
        plan_measurement(house.logbook, 1, 99)
    heater = house.appliance("Heater", nameplate_w=2001.0)
    weak = house.meter("Weak meter", current_a=2000 / 230)
    with house.refuses("over_rating", "meter_id"):
        plan_measurement(house.logbook, heater, weak)
    far = house.meter("Far meter", voltage_v=120.0)
    with house.refuses("over_voltage", "meter_id"):
        plan_measurement(house.logbook, 1, far)


@pytest.mark.parametrize("exact_zero", [True, False])
def test_starting(house: House, exact_zero: bool) -> None:
    first = replace(ZERO, power_w=9.0, note=" first \n")
    changes, lines = house.journaled(
        lambda: start_measurement(house.logbook, 1, 2, first, exact_zero=exact_zero)
    )
    number, name, began = number_of(changes), "start measurement: Router", on_day(0)
    record = house.record(number)
    assert record.measurement == Measurement(number, 1, 2, MeasurementState.RUNNING, began, None, None, "")
    assert record.runs == (Run(1, number, 1, 2, RunCause.START, began, exact_zero),)
    (reading,) = record.readings
    assert (reading.energy_kwh, reading.elapsed_h, reading.power_w) == (0.0, 0.0, 9.0)
    assert (reading.taken_at, reading.note, reading.run_id) == (began, "first", 1)
    assert changes == Changes(
        name,
        frozenset({Topic.MEASUREMENTS, Topic.READINGS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({2}),
        measurement_ids=frozenset({number}),
        created_id=number,
    )
    assert lines == [
        (name, "measurements", number, "added"),
        (name, "runs", 1, "added"),
        (name, "readings", 1, "added"),
    ]


def test_starting_what_was_planned(house: House) -> None:
    """The plan becomes the measurement; on the day another meter may be at hand than was planned."""
    plan = house.planned(1, 1)
    changes, lines = house.journaled(
        lambda: start_measurement(house.logbook, 1, 2, ZERO, exact_zero=True, measurement_id=plan)
    )
    assert changes.created_id == plan
    assert changes.meter_ids == {1, 2}
    measurement = house.held.measurement(plan)
    assert (measurement.state, measurement.meter_id) == (MeasurementState.RUNNING, 2)
    assert [line[1:] for line in lines] == [
        ("measurements", plan, "changed"),
        ("runs", 1, "added"),
        ("readings", 1, "added"),
    ]


def test_seconds_are_kept_and_smaller_parts_are_not(house: House) -> None:
    taken_at = on_day(0, seconds=41).replace(microsecond=999_999)
    number = number_of(
        start_measurement(house.logbook, 1, 1, replace(ZERO, taken_at=taken_at), exact_zero=True)
    )
    record = house.record(number)
    began = on_day(0, seconds=41)
    assert (record.measurement.started_at, record.runs[0].began_at) == (began, began)
    assert record.readings[0].taken_at == began


def test_a_moment_of_another_offset_is_kept_as_typed(house: House) -> None:
    abroad = replace(ZERO, taken_at=on_day(0).astimezone(UTC))
    record = house.record(number_of(start_measurement(house.logbook, 1, 1, abroad, exact_zero=True)))
    assert record.readings[0].taken_at.utcoffset() == timedelta(0)
    assert record.readings[0].taken_at == on_day(0)


def test_what_is_measured_or_busy_cannot_start(house: House) -> None:
    house.started(1, 1)
    with house.refuses("already_measured", "appliance_id"):
        start_measurement(house.logbook, 1, 2, read_on(2, 0.0), exact_zero=True)
    with house.refuses("meter_in_use", "meter_id"):
        start_measurement(house.logbook, 2, 1, read_on(2, 0.0), exact_zero=True)
    start_measurement(house.logbook, 2, 2, read_on(2, 0.0), exact_zero=True)


def test_what_is_not_for_the_meter_cannot_start(house: House) -> None:
    wired = house.appliance("Oven", hard_wired=True)
    with house.refuses("hard_wired", "appliance_id"):
        start_measurement(house.logbook, wired, 1, ZERO, exact_zero=True)
    heater = house.appliance("Heater", running_w=3000.0, plug="as_3112")
    with house.refuses("over_rating", "meter_id"):
        start_measurement(house.logbook, heater, 1, ZERO, exact_zero=True)
    far = house.meter("Far meter", voltage_v=120.0)
    with house.refuses("over_voltage", "meter_id"):
        start_measurement(house.logbook, 1, far, ZERO, exact_zero=True)


def test_what_is_not_there_cannot_start(house: House) -> None:
    for appliance_id, meter_id, code in ((99, 1, "unknown_appliance"), (1, 99, "unknown_meter")):
        with house.refuses(code, code.replace("unknown_", "") + "_id"):
            start_measurement(house.logbook, appliance_id, meter_id, ZERO, exact_zero=True)
    with house.refuses("unknown_measurement", "measurement_id"):
        start_measurement(house.logbook, 1, 1, ZERO, exact_zero=True, measurement_id=99)


def test_a_plan_is_started_once_and_for_its_own_appliance(house: House) -> None:
    plan = house.planned(1)
    with house.refuses("other_appliance", "measurement_id"):
        start_measurement(house.logbook, 2, 1, ZERO, exact_zero=True, measurement_id=plan)
    start_measurement(house.logbook, 1, 1, ZERO, exact_zero=True, measurement_id=plan)
    finish_measurement(house.logbook, plan, on_day(1))
    with house.refuses("not_planned", "measurement_id"):
        start_measurement(house.logbook, 1, 1, read_on(2, 0.0), exact_zero=True, measurement_id=plan)


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("taken_at", on_day(31), "future"),
        ("taken_at", on_day(30, minutes=3), "future"),
        ("taken_at", on_day(0).replace(tzinfo=None), "naive_time"),
        ("taken_at", on_day(0).replace(year=1999), "too_early"),
        ("taken_at", on_day(0).replace(year=1), "too_early"),
        ("energy_kwh", 0.01, "not_zero"),
        ("energy_kwh", -0.01, "negative"),
        ("energy_kwh", math.nan, "not_finite"),
        ("energy_kwh", math.inf, "not_finite"),
        ("energy_kwh", 1_000_001.0, "out_of_range"),
        ("elapsed_h", -1.0, "negative"),
        ("elapsed_h", math.nan, "not_finite"),
        ("power_w", 100_001.0, "out_of_range"),
        ("power_w", math.nan, "not_finite"),
        ("voltage_v", 1_001.0, "out_of_range"),
        ("current_a", -0.1, "negative"),
        ("power_factor", 1.01, "out_of_range"),
        ("highest_power_w", math.inf, "not_finite"),
        ("frequency_hz", 5.0, "out_of_range"),
        ("uses", -1, "negative"),
        ("uses", 1.5, "not_whole"),
        ("room_temperature_c", 61.0, "out_of_range"),
        ("room_temperature_c", -41.0, "out_of_range"),
        ("note", "x" * 10_001, "too_long"),
        ("note", "a\0b", "bad_text"),
    ],
)
def test_a_first_reading_that_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    first: ReadingDraft = replace(ZERO, **{field: value})
    with house.refuses(code, field):
        start_measurement(house.logbook, 1, 1, first, exact_zero=True)


def test_two_clocks_in_a_house_differ_by_minutes(house: House) -> None:
    number = house.started(1, 1, 30 + 1 / 1440)
    assert house.held.measurement(number).state is MeasurementState.RUNNING


def test_a_meter_was_not_on_two_appliances_at_once(house: House) -> None:
    """Typed in afterwards: the days on which the meter was read elsewhere are taken."""
    measurement_id = house.started(1, 1, day=5)
    house.read(measurement_id, 8, 1.0)
    finish_measurement(house.logbook, measurement_id, on_day(9))
    for day in (5.5, 7.9):
        with house.refuses("meter_elsewhere", "taken_at"):
            start_measurement(house.logbook, 2, 1, read_on(day, 0.0), exact_zero=True)
    number_of(start_measurement(house.logbook, 2, 1, read_on(8, 0.0), exact_zero=True))


def test_days_of_a_measurement_that_was_set_aside_are_free(house: House) -> None:
    measurement_id = house.started(1, 1, day=5)
    house.read(measurement_id, 8, 1.0)
    set_aside_measurement(house.logbook, measurement_id)
    assert house.held.measurement(house.started(2, 1, day=6)).meter_id == 1

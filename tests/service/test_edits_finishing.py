"""Finishing, reopening, setting aside, removing and describing measurements."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.meter import MeterDraft
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import change_appliance
from hearthload.service.edits.measurements import (
    describe_measurement,
    finish_measurement,
    remove_measurement,
    reopen_measurement,
    set_aside_measurement,
    swap_meter,
)
from hearthload.service.edits.meters import change_meter
from hearthload.service.logbook import Logbook
from tests.service.building import House, a_house, furnished, on_day, read_on

RUNNING, FINISHED = MeasurementState.RUNNING, MeasurementState.FINISHED
ASIDE, PLANNED = MeasurementState.SET_ASIDE, MeasurementState.PLANNED


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(House.measured)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) measured on a grey meter (1) from day 0, read on day 1."""
    with a_house(tmp_path, file) as made:
        yield made


def told(name: str, *topics: Topic, meters: frozenset[int] = frozenset({1})) -> Changes:
    """Give the news of an edit of the first measurement."""
    return Changes(name, frozenset(topics), frozenset({1}), meters, frozenset({1}))


def state_of(house: House, measurement_id: int = 1) -> MeasurementState:
    return house.held.measurement(measurement_id).state


def finish(house: House, measurement_id: int = 1, day: float = 2) -> None:
    finish_measurement(house.logbook, measurement_id, on_day(day))


def test_finishing(house: House) -> None:
    changes, lines = house.journaled(lambda: finish_measurement(house.logbook, 1, on_day(2)))
    name = "finish measurement: Router"
    assert changes == told(name, Topic.MEASUREMENTS)
    assert lines == [(name, "measurements", 1, "changed")]
    measurement = house.held.measurement(1)
    assert (measurement.state, measurement.finished_at) == (FINISHED, on_day(2))
    assert (measurement.started_at, measurement.meter_id) == (on_day(0), 1)


def test_a_finished_measurement_s_meter_is_free(house: House) -> None:
    finish(house)
    assert state_of(house, house.started(house.appliance("Lamp"), 1, day=2)) is RUNNING


@pytest.mark.parametrize("minutes", [0, 2])
def test_it_may_be_finished_as_soon_as_it_was_read(house: House, minutes: int) -> None:
    """And two minutes into the future: two clocks in a house differ by so much."""
    house.clock.now = on_day(1)
    finish_measurement(house.logbook, 1, on_day(1, minutes=minutes))
    assert state_of(house) is FINISHED


def test_it_cannot_be_finished_before_it_was_last_read(house: House) -> None:
    with house.refuses("before_last", "finished_at"):
        finish_measurement(house.logbook, 1, on_day(1, minutes=-1))


def test_it_cannot_be_finished_in_the_future_or_at_no_offset(house: House) -> None:
    house.clock.now = on_day(5)
    for at in (on_day(5, minutes=3), on_day(50), on_day(2).replace(tzinfo=None)):
        with house.refuses("future", "finished_at"):
            finish_measurement(house.logbook, 1, at)


def test_only_what_is_under_way_can_be_finished(house: House) -> None:
    plan = house.planned(house.appliance("Lamp"))
    with house.refuses("not_running", "measurement_id"):
        finish(house, plan)
    finish(house)
    with house.refuses("not_running", "measurement_id"):
        finish(house, day=3)
    set_aside_measurement(house.logbook, 1)
    with house.refuses("not_running", "measurement_id"):
        finish(house, day=3)


def test_reopening(house: House) -> None:
    finish(house)
    changes, lines = house.journaled(lambda: reopen_measurement(house.logbook, 1))
    name = "reopen measurement: Router"
    assert changes == told(name, Topic.MEASUREMENTS)
    assert lines == [(name, "measurements", 1, "changed")]
    measurement = house.held.measurement(1)
    assert (measurement.state, measurement.finished_at) == (RUNNING, None)
    house.read(1, 3, 0.9)


@pytest.mark.parametrize("finished", [True, False])
def test_reopening_what_was_set_aside(house: House, finished: bool) -> None:
    if finished:
        finish(house)
    set_aside_measurement(house.logbook, 1)
    reopen_measurement(house.logbook, 1)
    assert (state_of(house), house.held.measurement(1).finished_at) == (RUNNING, None)


def test_reopening_goes_on_with_the_meter_it_was_on_last(house: House) -> None:
    blue = house.meter("Blue meter")
    swap_meter(house.logbook, 1, blue, read_on(2, 7.0), exact_zero=False)
    finish(house, day=3)
    house.started(house.appliance("Lamp"), 1, day=4)
    reopen_measurement(house.logbook, 1)
    assert house.held.measurement(1).meter_id == blue


def test_only_what_has_ended_can_be_reopened(house: House) -> None:
    with house.refuses("not_ended", "measurement_id"):
        reopen_measurement(house.logbook, 1)
    plan = house.planned(1)
    with house.refuses("not_ended", "measurement_id"):
        reopen_measurement(house.logbook, plan)


def test_reopening_needs_its_meter(house: House) -> None:
    finish(house)
    lamp = house.started(house.appliance("Lamp"), 1, day=3)
    with house.refuses("meter_in_use", "meter_id"):
        reopen_measurement(house.logbook, 1)
    finish(house, lamp, day=4)
    reopen_measurement(house.logbook, 1)


def test_reopening_needs_its_appliance(house: House) -> None:
    finish(house)
    house.started(1, house.meter("Blue meter"), day=3)
    with house.refuses("already_measured", "appliance_id"):
        reopen_measurement(house.logbook, 1)


def test_reopening_what_is_no_longer_for_its_meter(house: House) -> None:
    finish(house)
    change_appliance(house.logbook, 1, ApplianceDraft("Router", Kind.ALWAYS_ON, hard_wired=True))
    with house.refuses("hard_wired", "appliance_id"):
        reopen_measurement(house.logbook, 1)
    change_appliance(house.logbook, 1, ApplianceDraft("Router", Kind.ALWAYS_ON, nameplate_w=2000.0))
    change_meter(house.logbook, 1, MeterDraft("Grey meter", current_a=5.0))
    with house.refuses("over_rating", "meter_id"):
        reopen_measurement(house.logbook, 1)


def test_setting_aside(house: House) -> None:
    changes, lines = house.journaled(lambda: set_aside_measurement(house.logbook, 1))
    name = "set aside measurement: Router"
    assert changes == told(name, Topic.MEASUREMENTS)
    assert lines == [(name, "measurements", 1, "changed")]
    assert (state_of(house), house.held.measurement(1).finished_at) == (ASIDE, None)
    assert len(house.record(1).readings) == 2
    assert state_of(house, house.started(house.appliance("Lamp"), 1, day=2)) is RUNNING


def test_setting_aside_remembers_when_it_was_finished(house: House) -> None:
    finish(house)
    set_aside_measurement(house.logbook, 1)
    assert (state_of(house), house.held.measurement(1).finished_at) == (ASIDE, on_day(2))


def test_a_plan_and_what_is_aside_already_cannot_be_set_aside(house: House) -> None:
    plan = house.planned(house.appliance("Lamp"))
    with house.refuses("not_started", "measurement_id"):
        set_aside_measurement(house.logbook, plan)
    set_aside_measurement(house.logbook, 1)
    with house.refuses("not_started", "measurement_id"):
        set_aside_measurement(house.logbook, 1)


def test_removing(house: House) -> None:
    changes, lines = house.journaled(lambda: remove_measurement(house.logbook, 1))
    name = "remove measurement: Router"
    assert changes == told(name, Topic.MEASUREMENTS, Topic.READINGS)
    assert lines == [
        (name, "readings", 1, "removed"),
        (name, "readings", 2, "removed"),
        (name, "runs", 1, "removed"),
        (name, "measurements", 1, "removed"),
    ]
    assert (house.held.measurements, house.held.runs) == ({}, {})
    assert list(house.held.appliances) == [1]
    house.started(1, 1)


def test_removing_a_plan(house: House) -> None:
    plan = house.planned(house.appliance("Lamp"), 1)
    changes, lines = house.journaled(lambda: remove_measurement(house.logbook, plan))
    assert changes.topics == {Topic.MEASUREMENTS}
    assert changes.measurement_ids == {plan}
    assert lines == [("remove measurement: Lamp", "measurements", plan, "removed")]


def test_describing(house: House) -> None:
    changes, lines = house.journaled(
        lambda: describe_measurement(house.logbook, 1, room_temperature_c=-3.5, note=" frosty \n")
    )
    name = "describe measurement: Router"
    assert changes == told(name, Topic.MEASUREMENTS)
    assert lines == [(name, "measurements", 1, "changed")]
    measurement = house.held.measurement(1)
    assert (measurement.room_temperature_c, measurement.note) == (-3.5, "frosty")
    describe_measurement(house.logbook, 1, room_temperature_c=None, note="")
    assert house.held.measurement(1).room_temperature_c is None


@pytest.mark.parametrize("temperature", [-40.1, 60.1, math.nan, math.inf])
def test_no_room_is_so_cold_or_warm(house: House, temperature: float) -> None:
    with house.refuses("out_of_range", "room_temperature_c"):
        describe_measurement(house.logbook, 1, room_temperature_c=temperature, note="")


def test_a_note_that_cannot_be_kept(house: House) -> None:
    for note, code in (("x" * 10_001, "too_long"), ("a\0b", "bad_text")):
        with house.refuses(code, "note"):
            describe_measurement(house.logbook, 1, room_temperature_c=None, note=note)


EVERY: tuple[Callable[[Logbook, int], Changes], ...] = (
    lambda logbook, number: finish_measurement(logbook, number, on_day(2)),
    reopen_measurement,
    set_aside_measurement,
    remove_measurement,
    lambda logbook, number: describe_measurement(logbook, number, room_temperature_c=None, note=""),
)


@pytest.mark.parametrize("edit", EVERY)
@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_measurement_that_is_not_there(
    house: House, edit: Callable[[Logbook, int], Changes], number: int
) -> None:
    with house.refuses("unknown_measurement", "measurement_id"):
        edit(house.logbook, number)


def test_seconds_within_the_minute_do_not_stand_in_the_way(house: House) -> None:
    house.read(1, 2 + 40 / 86_400, 0.62)
    finish_measurement(house.logbook, 1, on_day(2))
    assert house.held.measurement(1).finished_at == on_day(2)
    assert house.record(1).readings[-1].taken_at - on_day(2) == timedelta(seconds=40)

"""Adding and correcting readings: what is saved and told, and what is refused without a trace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.measurement import MeasurementState
from hearthload.domain.reading import ReadingDraft, RunState
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.measurements import finish_measurement, reset_meter, set_aside_measurement
from hearthload.service.edits.readings import add_reading, change_reading
from tests.service.building import House, a_house, furnished, number_of, on_day, read_on

BOTH_TOPICS = frozenset({Topic.MEASUREMENTS, Topic.READINGS})


def furnish(house: House) -> None:
    house.started(house.appliance(), house.meter())
    house.read(1, 2, 0.6, 48.0)
    house.read(1, 4, 1.2, 96.0)


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) on a grey meter (1): an exact zero on day 0, read with hours on days 2 and 4."""
    with a_house(tmp_path, file) as made:
        yield made


def told(name: str, topics: frozenset[Topic], created_id: int | None = None) -> Changes:
    """Give the news of an edit of the only measurement's readings."""
    return Changes(
        f"{name}: Router",
        topics,
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({1}) if Topic.MEASUREMENTS in topics else frozenset(),
        measurement_ids=frozenset({1}),
        created_id=created_id,
    )


def test_adding(house: House) -> None:
    draft = ReadingDraft(
        on_day(5, seconds=7).replace(microsecond=5),
        energy_kwh=1.5,
        elapsed_h=120.0,
        power_w=11.5,
        voltage_v=229.0,
        current_a=0.1,
        power_factor=0.5,
        highest_power_w=14.0,
        frequency_hz=49.98,
        state=RunState.RUNNING,
        uses=0,
        room_temperature_c=17.5,
        note=" warm\n",
    )
    changes, lines = house.journaled(lambda: add_reading(house.logbook, 1, draft))
    number = number_of(changes)
    assert changes == told("add reading", frozenset({Topic.READINGS}), number)
    assert lines == [("add reading: Router", "readings", number, "added")]
    kept = house.record(1).readings[-1]
    assert (kept.id, kept.run_id) == (number, 1)
    typed = replace(draft, taken_at=on_day(5, seconds=7), note="warm")
    assert all(getattr(kept, name) == getattr(typed, name) for name in ReadingDraft.__slots__)


def test_adding_in_between(house: House) -> None:
    changes, _ = house.journaled(lambda: add_reading(house.logbook, 1, read_on(3, 0.9, 72.0)))
    assert changes.topics == {Topic.READINGS}
    assert [reading.energy_kwh for reading in house.record(1).readings] == [0.0, 0.6, 0.9, 1.2]


def test_a_finished_measurement_takes_a_forgotten_reading(house: House) -> None:
    finish_measurement(house.logbook, 1, on_day(6))
    house.read(1, 5, 1.5)
    house.read(1, 6, 1.8)
    with house.refuses("after_finish", "taken_at"):
        add_reading(house.logbook, 1, read_on(6.01, 1.9))
    set_aside_measurement(house.logbook, 1)
    house.read(1, 5.5, 1.6)


@pytest.mark.parametrize(
    ("draft", "field", "code"),
    [
        (read_on(31, 2.0), "taken_at", "future"),
        (replace(read_on(5, 2.0), taken_at=on_day(5).replace(tzinfo=None)), "taken_at", "naive_time"),
        (replace(read_on(5, 2.0), taken_at=on_day(5).replace(year=25)), "taken_at", "too_early"),
        (read_on(2, 0.6), "taken_at", "same_minute"),
        (replace(read_on(2, 0.6), taken_at=on_day(2, seconds=59)), "taken_at", "same_minute"),
        (read_on(-1, 0.0), "taken_at", "before_zero"),
        (read_on(3, 0.5), "taken_at", "before_last"),
        (read_on(3, 1.3), "taken_at", "before_last"),
        (read_on(3, 0.9, 47.0), "taken_at", "before_last"),
        (read_on(3, 0.9, 97.0), "taken_at", "before_last"),
        (read_on(5, 1.1), "energy_kwh", "energy_fell"),
        (read_on(5, 1.3, 95.0), "elapsed_h", "hours_fell"),
        (read_on(5, 15_000.0), "energy_kwh", "impossible_power"),
        (read_on(5, -0.1), "energy_kwh", "negative"),
        (read_on(5, math.nan), "energy_kwh", "not_finite"),
        (read_on(5, 1.3, math.inf), "elapsed_h", "not_finite"),
        (read_on(5, 1e6 + 1), "energy_kwh", "out_of_range"),
        (read_on(5, 1.3, power_w=math.nan), "power_w", "not_finite"),
        (read_on(5, 1.3, voltage_v=-1.0), "voltage_v", "negative"),
        (read_on(5, 1.3, current_a=1_001.0), "current_a", "out_of_range"),
        (read_on(5, 1.3, power_factor=1.2), "power_factor", "out_of_range"),
        (read_on(5, 1.3, highest_power_w=-1.0), "highest_power_w", "negative"),
        (read_on(5, 1.3, frequency_hz=80.0), "frequency_hz", "out_of_range"),
        (read_on(5, 1.3, uses=0.5), "uses", "not_whole"),
        (read_on(5, 1.3, room_temperature_c=99.0), "room_temperature_c", "out_of_range"),
        (read_on(5, 1.3, note="x" * 10_001), "note", "too_long"),
    ],
)
def test_a_reading_that_cannot_be(house: House, draft: ReadingDraft, field: str, code: str) -> None:
    with house.refuses(code, field):
        add_reading(house.logbook, 1, draft)


def test_a_plan_has_no_readings(house: House) -> None:
    plan = house.planned(house.appliance("Lamp"), 1)
    with house.refuses("not_started", "measurement_id"):
        add_reading(house.logbook, plan, read_on(5, 1.0))


def test_what_is_not_there_has_no_readings(house: House) -> None:
    with house.refuses("unknown_measurement", "measurement_id"):
        add_reading(house.logbook, 99, read_on(5, 2.0))
    for number in (0, -1, 99):
        with house.refuses("unknown_reading", "reading_id"):
            change_reading(house.logbook, number, read_on(5, 2.0))


def test_correcting(house: House) -> None:
    draft = read_on(4.25, 1.3, 102.0, note="misread")
    changes, lines = house.journaled(lambda: change_reading(house.logbook, 3, draft))
    assert changes == told("change reading", frozenset({Topic.READINGS}))
    assert lines == [("change reading: Router", "readings", 3, "changed")]
    kept = house.record(1).readings[-1]
    assert (kept.id, kept.taken_at, kept.energy_kwh, kept.note) == (3, on_day(4.25), 1.3, "misread")


def test_correcting_nothing_is_no_edit(house: House) -> None:
    changes, lines = house.journaled(lambda: change_reading(house.logbook, 3, read_on(4, 1.2, 96.0)))
    assert (changes.topics, lines) == (frozenset(), [])
    assert house.logbook.history.undo_name is None


def test_a_correction_may_change_the_order_of_readings(house: House) -> None:
    """The day was mistyped: what stood last goes in between."""
    house.read(1, 10, 0.61 + 0.9)
    change_reading(house.logbook, 4, read_on(3, 0.9))
    assert [reading.id for reading in house.record(1).readings] == [1, 2, 4, 3]


@pytest.mark.parametrize(
    ("draft", "field", "code"),
    [
        (read_on(31, 0.6), "taken_at", "future"),
        (read_on(4, 0.6), "taken_at", "same_minute"),
        (read_on(0, 0.6), "taken_at", "same_minute"),
        (read_on(-1, 0.6), "taken_at", "before_zero"),
        (read_on(2, 1.3), "energy_kwh", "energy_above_next"),
        (read_on(2, 0.6, 97.0), "elapsed_h", "hours_above_next"),
        (read_on(5, 0.6), "energy_kwh", "energy_fell"),
        (read_on(2, math.inf), "energy_kwh", "not_finite"),
        (read_on(2, 0.6, uses=-1), "uses", "negative"),
    ],
)
def test_a_correction_that_cannot_be(house: House, draft: ReadingDraft, field: str, code: str) -> None:
    with house.refuses(code, field):
        change_reading(house.logbook, 2, draft)


def test_a_correction_stays_in_its_run(house: House) -> None:
    reset_meter(house.logbook, 1, read_on(6, 0.0), exact_zero=True)
    house.read(1, 8, 0.6)
    with house.refuses("after_run", "taken_at"):
        change_reading(house.logbook, 3, read_on(7, 1.2))
    with house.refuses("before_run", "taken_at"):
        change_reading(house.logbook, 5, read_on(3, 0.6))
    change_reading(house.logbook, 3, read_on(6, 1.2))
    assert [reading.run_id for reading in house.record(1).readings] == [1, 1, 1, 2, 2]


def test_a_correction_of_a_finished_measurement_stays_before_its_end(house: House) -> None:
    finish_measurement(house.logbook, 1, on_day(6))
    with house.refuses("after_finish", "taken_at"):
        change_reading(house.logbook, 3, read_on(7, 1.2))
    change_reading(house.logbook, 3, read_on(6, 1.2))


def test_moving_the_first_reading_moves_the_start(house: House) -> None:
    changes, lines = house.journaled(lambda: change_reading(house.logbook, 1, read_on(0.5, 0.0)))
    assert changes == told("change reading", BOTH_TOPICS)
    assert [line[1:] for line in lines] == [
        ("readings", 1, "changed"),
        ("runs", 1, "changed"),
        ("measurements", 1, "changed"),
    ]
    record = house.record(1)
    assert (record.measurement.started_at, record.runs[0].began_at) == (on_day(0.5), on_day(0.5))
    assert record.runs[0].exact_start


def test_a_first_reading_with_energy_is_no_exact_zero(house: House) -> None:
    changes, lines = house.journaled(lambda: change_reading(house.logbook, 1, read_on(0, 0.01)))
    assert changes.topics == BOTH_TOPICS
    assert [line[1:] for line in lines] == [("readings", 1, "changed"), ("runs", 1, "changed")]
    assert not house.record(1).runs[0].exact_start
    change_reading(house.logbook, 1, read_on(0, 0.0))
    assert not house.record(1).runs[0].exact_start
    house.logbook.history.undo()
    house.logbook.history.undo()
    assert house.record(1).runs[0].exact_start


def test_the_zero_is_no_zero_once_another_reading_is_first(house: House) -> None:
    """The zero's day was mistyped and is set behind the next reading, whose counter says zero too."""
    change_reading(house.logbook, 2, read_on(2, 0.0, 48.0))
    change_reading(house.logbook, 1, read_on(3, 0.0))
    run = house.record(1).runs[0]
    assert (run.began_at, run.exact_start) == (on_day(2), False)


def test_an_earlier_first_reading_moves_the_start(house: House) -> None:
    number = house.started(house.appliance("Lamp"), house.meter("Blue meter"), day=5, energy_kwh=40.0)
    added = house.read(number, 4, 39.0)
    record = house.record(number)
    assert record.readings[0].id == added
    assert (record.measurement.started_at, record.runs[0].began_at) == (on_day(4), on_day(4))
    assert record.measurement.state is MeasurementState.RUNNING


def test_a_second_run_s_start_is_not_the_measurement_s(house: House) -> None:
    reset_meter(house.logbook, 1, read_on(6, 0.0), exact_zero=True)
    changes, lines = house.journaled(lambda: change_reading(house.logbook, 4, read_on(7, 0.0)))
    assert changes.topics == BOTH_TOPICS
    assert [line[1:] for line in lines] == [("readings", 4, "changed"), ("runs", 2, "changed")]
    record = house.record(1)
    assert record.measurement.started_at == on_day(0)
    assert [run.began_at for run in record.runs] == [on_day(0), on_day(7)]


@pytest.mark.parametrize("field", ["power_w", "elapsed_h", "uses", "state", "room_temperature_c"])
def test_a_spot_value_may_be_taken_out_again(house: House, field: str) -> None:
    full: dict[str, Any] = {"power_w": 9.0, "elapsed_h": 120.0, "uses": 3, "state": RunState.IDLE}
    draft = ReadingDraft(on_day(5), 1.5, room_temperature_c=17.0, **full)
    number = number_of(add_reading(house.logbook, 1, draft))
    nothing: dict[str, Any] = {field: None}
    change_reading(house.logbook, number, replace(draft, **nothing))
    assert getattr(house.record(1).readings[-1], field) is None

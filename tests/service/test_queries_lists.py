"""The morning round, reading rows, measurements to choose from, and the meters."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.household import Household as Settings
from hearthload.domain.measurement import MeasurementState
from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.answers import MeterRow
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import (
    finish_measurement,
    plan_measurement,
    reset_meter,
    set_aside_measurement,
    swap_meter,
)
from tests.service.made_household import Household, created, opened
from tests.service.made_stays import NOW, at, draft


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Household]:
    with opened(tmp_path) as household:
        yield household


def test_an_empty_logbook_has_nothing_to_tell(house: Household) -> None:
    logbook = house.logbook
    assert queries.is_empty(logbook)
    assert queries.roster(logbook, NOW) == ()
    assert queries.morning_round(logbook, NOW) == ()
    assert queries.meters(logbook) == ()
    assert queries.free_meters(logbook) == ()
    assert queries.household(logbook) == Settings()


def test_a_meter_or_an_appliance_alone_ends_emptiness(tmp_path: Path) -> None:
    for name in ("meter", "appliance"):
        (tmp_path / name).mkdir()
        with opened(tmp_path / name) as house:
            house.meter("Grey meter") if name == "meter" else house.appliance("Router")
            assert not queries.is_empty(house.logbook)


def test_the_household_is_as_set(house: Household) -> None:
    settings = Settings("Hillside", 120.0, 60.0, "nema_5_15", 0.31, "EUR", "Two storeys")
    set_household(house.logbook, settings)
    assert queries.household(house.logbook) == settings


def test_the_round_goes_room_by_room_and_by_name_within(house: Household) -> None:
    rooms = {"Router": "Study", "washer": "cellar", "Freezer": "Cellar", "Lamp": "", "Desk": "study"}
    for name, room in rooms.items():
        appliance_id = house.appliance(name, room=room)
        house.start(appliance_id, house.meter(f"M {name}"), 0.0)
    stops = queries.morning_round(house.logbook, NOW)
    assert [stop.appliance_name for stop in stops] == ["Lamp", "Freezer", "washer", "Desk", "Router"]
    assert [stop.room for stop in stops] == ["", "Cellar", "cellar", "study", "Study"]
    assert [stop.meter_name for stop in stops] == ["M Lamp", "M Freezer", "M washer", "M Desk", "M Router"]
    rows = {row.appliance.id: row for row in queries.roster(house.logbook, NOW)}
    for stop in stops:
        running = rows[stop.appliance_id].measurement
        assert running is not None
        assert running.id == stop.measurement_id


def test_the_round_leaves_out_what_is_not_under_way(house: Household) -> None:
    over, aside, running = (house.measured(name, 0.0, 1.0) for name in ("Freezer", "Router", "Lamp"))
    finish_measurement(house.logbook, over, at(24.0))
    set_aside_measurement(house.logbook, aside)
    plan_measurement(house.logbook, house.appliance("Toaster"), None)
    assert [stop.measurement_id for stop in queries.morning_round(house.logbook, NOW)] == [running]


def test_the_round_knows_what_was_read_today(house: Household) -> None:
    house.measured("Freezer", 0.0, 1.0)
    house.measured("Router", 0.0)
    stops = queries.morning_round(house.logbook, at(24.0) + timedelta(hours=2))
    assert {stop.appliance_name: stop.read_today for stop in stops} == {"Freezer": True, "Router": False}


def reset_and_swapped(house: Household) -> int:
    """Measure a freezer in three runs: from the start, after a reset, on another meter."""
    stay = house.start(house.appliance("Freezer", Kind.FREEZER), house.meter("Grey meter"), 0.0, 12.0)
    house.read(stay, 24.0, 13.2)
    reset_meter(house.logbook, stay, draft(25.0, 0.0), exact_zero=True)
    house.read(stay, 37.0, 0.6)
    swap_meter(house.logbook, stay, house.meter("White meter"), draft(40.0, 7.5), exact_zero=False)
    house.read(stay, 64.0, 8.7)
    return stay


def test_readings_come_newest_first_each_with_the_span_it_closes(house: Household) -> None:
    rows = queries.reading_rows(house.logbook, reset_and_swapped(house))
    assert [row.reading.energy_kwh for row in rows] == [8.7, 7.5, 0.6, 0.0, 13.2, 12.0]
    assert [row.meter_name for row in rows] == ["White meter"] * 2 + ["Grey meter"] * 4
    assert [row.run.number for row in rows] == [3, 3, 2, 2, 1, 1]
    # 8.7 - 7.5 = 1.2 kWh in 24 h are 50 W; 0.6 kWh in 12 h are 50 W too; 13.2 - 12.0 = 1.2 kWh in 24 h.
    assert [row.span_h for row in rows] == [pytest.approx(24.0), None, pytest.approx(12.0), None, 24.0, None]
    closing = [row for row in rows if row.span_h is not None]
    assert [row.span_energy_kwh for row in closing] == [pytest.approx(kwh) for kwh in (1.2, 0.6, 1.2)]
    assert [row.span_power_w for row in closing] == [pytest.approx(50.0)] * 3
    assert [row.span_daily_kwh for row in closing] == [pytest.approx(1.2)] * 3


def test_the_first_reading_of_a_run_closes_no_span(house: Household) -> None:
    rows = queries.reading_rows(house.logbook, reset_and_swapped(house))
    starts = [row for row in rows if row.reading.taken_at == row.run.began_at]
    assert len(starts) == 3
    for row in starts:
        assert (row.span_h, row.span_energy_kwh, row.span_power_w, row.span_daily_kwh) == (None,) * 4


def test_a_reading_put_in_between_parts_the_span(house: Household) -> None:
    stay = house.measured("Freezer", 0.0, 1.2)
    house.read(stay, 6.0, 0.5)
    newest, between, first = queries.reading_rows(house.logbook, stay)
    assert (between.reading.energy_kwh, between.span_h, between.span_energy_kwh) == (0.5, 6.0, 0.5)
    assert newest.span_h == 18.0
    assert newest.span_energy_kwh == pytest.approx(0.7)
    assert first.span_h is None


def test_a_plan_has_no_readings(house: Household) -> None:
    plan = created(plan_measurement(house.logbook, house.appliance("Freezer"), None))
    assert queries.reading_rows(house.logbook, plan) == ()
    with pytest.raises(RefusedError, match="no measurement number 99"):
        queries.reading_rows(house.logbook, 99)


def test_an_appliance_s_measurements_latest_entry_first(house: Household) -> None:
    appliance_id, meter_id = house.appliance("Freezer"), house.meter("Grey meter")
    over = house.start(appliance_id, meter_id, 0.0)
    house.read(over, 24.0, 1.0)
    house.read(over, 48.0, 2.0)
    finish_measurement(house.logbook, over, at(50.0))
    running = house.start(appliance_id, meter_id, 100.0)
    plan = created(plan_measurement(house.logbook, appliance_id, None))
    house.measured("Router", 0.0)
    choices = queries.measurements_of(house.logbook, appliance_id)
    assert [choice.measurement.id for choice in choices] == [plan, running, over]
    assert [choice.meter_name for choice in choices] == ["", "Grey meter", "Grey meter"]
    assert [choice.readings for choice in choices] == [0, 1, 3]
    # 100 h after Monday 07:30 is Friday 11:30.
    assert [(choice.first_day, choice.last_day) for choice in choices] == [
        (None, None),
        (date(2026, 11, 27), date(2026, 11, 27)),
        (date(2026, 11, 23), date(2026, 11, 25)),
    ]


def test_measurements_of_nothing(house: Household) -> None:
    assert queries.measurements_of(house.logbook, house.appliance("Freezer")) == ()
    with pytest.raises(RefusedError, match="no appliance number 99"):
        queries.measurements_of(house.logbook, 99)


def row_of(house: Household, name: str) -> MeterRow:
    (row,) = (row for row in queries.meters(house.logbook) if row.meter.name == name)
    return row


def told(row: MeterRow) -> tuple[str | None, datetime | None, int]:
    """Give what a meter's row says it is doing."""
    assert (row.running is None) == (row.appliance_name is None)
    return row.appliance_name, row.since, row.measurements


def test_meters_come_by_name_whatever_the_case(house: Household) -> None:
    for name in ("white meter", "Grey meter", "old meter", "Black meter"):
        house.meter(name)
    by_name = ["Black meter", "Grey meter", "old meter", "white meter"]
    assert [row.meter.name for row in queries.meters(house.logbook)] == by_name
    assert [meter.name for meter in queries.free_meters(house.logbook)] == by_name


def test_a_meter_s_row_says_what_it_measures_and_since_when(house: Household) -> None:
    grey = house.meter("Grey meter")
    assert told(row_of(house, "Grey meter")) == (None, None, 0)
    stay = house.start(house.appliance("Freezer"), grey, 3.0, 5.0)
    house.read(stay, 27.0, 6.0)
    assert told(row_of(house, "Grey meter")) == ("Freezer", at(3.0), 1)
    # A reset does not move the meter: it has been there since the start.
    reset_meter(house.logbook, stay, draft(30.0, 0.0), exact_zero=True)
    assert told(row_of(house, "Grey meter")) == ("Freezer", at(3.0), 1)
    finish_measurement(house.logbook, stay, at(40.0))
    assert told(row_of(house, "Grey meter")) == (None, None, 1)
    second = house.start(house.appliance("Router"), grey, 50.0)
    assert told(row_of(house, "Grey meter")) == ("Router", at(50.0), 2)
    running = row_of(house, "Grey meter").running
    assert running is not None
    assert (running.id, running.state) == (second, MeasurementState.RUNNING)


def test_after_a_swap_the_one_is_free_and_the_other_there_since_then(house: Household) -> None:
    stay = house.start(house.appliance("Freezer"), house.meter("Grey meter"), 0.0)
    house.read(stay, 24.0, 1.0)
    swap_meter(house.logbook, stay, house.meter("White meter"), draft(25.0, 7.0), exact_zero=False)
    assert told(row_of(house, "Grey meter")) == (None, None, 1)
    assert told(row_of(house, "White meter")) == ("Freezer", at(25.0), 1)
    assert [meter.name for meter in queries.free_meters(house.logbook)] == ["Grey meter"]


def test_free_meters_are_those_on_nothing_that_runs(house: Household) -> None:
    over, aside, running = (house.measured(name, 0.0, 1.0) for name in ("Freezer", "Router", "Lamp"))
    planned_for = house.meter("Spare meter")
    plan_measurement(house.logbook, house.appliance("Toaster"), planned_for)

    def free() -> list[str]:
        return [meter.name for meter in queries.free_meters(house.logbook)]

    # A plan does not keep a meter busy.
    assert free() == ["Spare meter"]
    finish_measurement(house.logbook, over, at(24.0))
    set_aside_measurement(house.logbook, aside)
    assert free() == ["Meter of Freezer", "Meter of Router", "Spare meter"]
    assert running in {stop.measurement_id for stop in queries.morning_round(house.logbook, NOW)}


def test_complaints_about_a_meter_are_those_of_the_logbook_s_own_values(house: Household) -> None:
    heater = house.appliance("Heater", Kind.CLIMATE, nameplate_w=2000.0)
    small, large = house.meter("Small meter", current_a=8.0), house.meter("Large meter", current_a=16.0)
    # 230·8 = 1840 W are too few; 230·16 = 3680 W are enough, and 80 % of them, 2944 W, too.
    over = queries.complaints_about_meter(house.logbook, heater, small)
    assert [complaint.code for complaint in over] == ["over_rating"]
    assert queries.complaints_about_meter(house.logbook, heater, large) == ()
    # At 120 V the large one carries 1920 W.
    set_household(house.logbook, Settings(mains_voltage_v=120.0))
    over = queries.complaints_about_meter(house.logbook, heater, large)
    assert [complaint.code for complaint in over] == ["over_rating"]

"""A logbook that an earlier version saved, as it lies on people's disks, opens and holds what it held."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from hearthload.domain.appliance import Appliance, Cycling, Kind, Role
from hearthload.domain.doubt import Answer
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementState, RunCause
from hearthload.domain.meter import DisplayRounding, Meter, PowerLoss
from hearthload.domain.plan import PlanDraft, Use
from hearthload.domain.reading import Reading, ReadingDraft, RunState
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.service.edits.measurements import finish_measurement
from hearthload.service.edits.plans import add_plan
from hearthload.service.edits.readings import add_reading
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import Logbook, create_logbook, open_logbook
from hearthload.store.steps import all_steps
from tests.store.files import kept_rows, looking, rows_by_journal

RELEASED = sorted(Path(__file__).with_name("data").glob("schema_*.sql"))
ZONE = timezone(timedelta(hours=1))


def built(dump: Path, path: Path) -> Path:
    """Build the file that a dump tells of, without any code of ours."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(dump.read_text(encoding="utf-8"))
    return path


def at(day: int, clock: str = "07:30", zone: timezone = ZONE) -> datetime:
    return datetime.fromisoformat(f"2025-03-{day:02} {clock}").replace(tzinfo=zone)


@pytest.fixture
def first(path: Path) -> Iterator[Logbook]:
    """Open the logbook of the first version."""
    with open_logbook(built(RELEASED[0], path)) as logbook:
        yield logbook


@pytest.fixture
def second(path: Path) -> Iterator[Logbook]:
    """Open the logbook of the second version."""
    with open_logbook(built(RELEASED[1], path)) as logbook:
        yield logbook


def test_a_version_of_every_number_is_stored() -> None:
    """All but the present one, which is stored when a step leads away from it."""
    assert [dump.stem for dump in RELEASED] == [f"schema_{number}" for number in range(1, len(all_steps()))]
    assert RELEASED


@pytest.mark.parametrize("dump", RELEASED, ids=lambda dump: dump.stem)
def test_it_is_brought_to_the_schema_of_a_new_file(dump: Path, path: Path) -> None:
    open_logbook(built(dump, path)).close()
    new = path.with_name("new.hearthload")
    create_logbook(new).close()
    ours = "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name"
    with looking(path) as old_file, looking(new) as new_file:
        for question in (ours, "PRAGMA user_version", "PRAGMA application_id"):
            answers = [file.execute(question).fetchall() for file in (old_file, new_file)]
            assert [tuple(row) for row in answers[0]] == [tuple(row) for row in answers[1]]


@pytest.mark.parametrize("dump", RELEASED, ids=lambda dump: dump.stem)
def test_its_journal_still_tells_how_it_came_about(dump: Path, path: Path) -> None:
    """What a step adds to a row has no part in the images of before."""
    open_logbook(built(dump, path)).close()
    told, kept = rows_by_journal(path), kept_rows(path)
    assert {table: list(rows) for table, rows in told.items()} == {
        table: list(rows) for table, rows in kept.items()
    }
    for table, rows in told.items():
        assert all(kept[table][key].items() >= row.items() for key, row in rows.items())


def test_household_appliances_and_meters(first: Logbook) -> None:
    held = first.held()
    assert held.household == Household("Mill lane", 230.0, 50.0, "cee_7", 0.31, "EUR", "Key under the pot.")
    names = ["Larder refrigerator", "Router", "Oven", "Breathing aid", "Lamp"]
    assert [appliance.name for appliance in held.appliances.values()] == names
    assert held.appliance(1) == Appliance(
        id=1,
        name=names[0],
        kind=Kind.REFRIGERATOR,
        room="Larder",
        role=Role.ESSENTIAL,
        plug="cee_7",
        voltage_v=230.0,
        nameplate_w=120.0,
        running_w=85.0,
        target=0.15,
        hard_wired=False,
        medical=False,
        note="hums",
    )
    assert [appliance.id for appliance in held.appliances.values() if appliance.hard_wired] == [3]
    assert [appliance.id for appliance in held.appliances.values() if appliance.medical] == [4]
    keeps, truncates = PowerLoss.KEEPS, DisplayRounding.TRUNCATES
    assert held.meter(1) == Meter(
        1, "Grey meter", "cee_7", 230.0, 16.0, 0.01, 1 / 60, 1.0, keeps, truncates, "borrowed"
    )
    blue = held.meter(2)
    assert (blue.name, blue.current_a, blue.gain_percent) == ("Blue meter", None, None)


def test_measurements_and_runs(first: Logbook) -> None:
    held = first.held()
    done, running, aside, planned = held.measurements.values()
    state = MeasurementState.FINISHED
    assert done == Measurement(1, 1, 2, state, at(3), at(7, "07:36"), 17.5, "door shut")
    assert (running.state, running.appliance_id, running.meter_id) == (MeasurementState.RUNNING, 2, 2)
    assert running.started_at == at(8)
    assert running.started_at.utcoffset() == timedelta(hours=2)
    assert (aside.state, aside.finished_at) == (MeasurementState.SET_ASIDE, None)
    assert (planned.state, planned.meter_id, planned.started_at) == (MeasurementState.PLANNED, 1, None)
    runs = held.record(1).runs
    assert [run.cause for run in runs] == [RunCause.START, RunCause.RESET, RunCause.SWAP]
    assert [(run.number, run.meter_id, run.exact_start) for run in runs] == [
        (1, 1, True),
        (2, 1, True),
        (3, 2, False),
    ]
    assert [run.began_at for run in runs] == [at(3), at(5, "08:30"), at(6, "08:00")]


def test_readings(first: Logbook) -> None:
    readings = first.held().record(1).readings
    assert [reading.energy_kwh for reading in readings] == [0.0, 0.98, 2.01, 0.0, 0.95, 14.2, 15.2]
    running = RunState.RUNNING
    assert readings[1] == Reading(
        2, 1, at(4), 0.98, 24.0, 84.0, 229.5, 0.4, 0.92, 610.0, 49.98, running, None, 17.0, "first morning"
    )
    assert [(found.energy_kwh, found.uses) for found in first.held().record(2).readings] == [
        (15.2, 0),
        (15.5, 3),
        (15.81, None),
    ]
    estimate = first.estimates.estimate(1)
    assert (estimate.readings, estimate.spans) == (7, 4)


def test_it_is_gone_on_with(first: Logbook) -> None:
    before = kept_rows(first.path)
    changes = add_reading(first, 2, ReadingDraft(at(12), 16.4))
    # Number 13 was given to a reading that was removed: it is not given again.
    assert changes.created_id == 14
    finish_measurement(first, 2, at(12))
    first.history.undo()
    first.history.undo()
    assert kept_rows(first.path) == before


def test_answers_joined_measurements_and_how_machines_run(second: Logbook) -> None:
    held = second.held()
    on_and_off, unknown, variable = Cycling.ON_AND_OFF, Cycling.NOT_KNOWN, Cycling.VARIABLE_SPEED
    assert [found.cycling for found in held.appliances.values()] == [on_and_off, unknown, variable, unknown]
    assert [found.joined for found in held.measurements.values()] == [False, True, False]
    april = datetime(2025, 4, 5, 7, 30, tzinfo=ZONE)
    assert held.answers[1] == Answer(1, 1, 4, "odd_reading", "2025-04-04T07:30:00+01:00 4.76", april)
    assert [(found.measurement_id, found.reading_id) for found in held.answers.values()] == [
        (1, 4),
        (2, None),
    ]
    joined = second.estimates.joined(2)
    assert joined is not None
    assert joined.readings == 8


def test_plans_and_supplies_come_into_an_old_logbook(second: Logbook) -> None:
    before = kept_rows(second.path)
    assert all(before[table] == {} for table in ("plans", "plan_loads", "plan_figures", "supplies"))
    add_plan(second, PlanDraft("Storm"))
    add_supply(second, SupplyDraft("Battery", SupplyKind.BATTERY, stored_wh=1000.0))
    loads = second.held().loads_of(1)
    assert [load.use for load in loads] == [Use.AS_MEASURED, Use.ASSUMED, Use.ASSUMED, Use.ASSUMED]
    second.history.undo()
    second.history.undo()
    assert kept_rows(second.path) == before

"""Every value of the domain into a real file and back."""

from __future__ import annotations

import dataclasses
import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.doubt import Answer
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementState, Run, RunCause
from hearthload.domain.meter import DisplayRounding, MeterDraft, PowerLoss
from hearthload.domain.plugs import PLUGS
from hearthload.domain.reading import ReadingDraft, RunState
from hearthload.store import rows
from hearthload.store.database import Database
from hearthload.store.loading import Contents
from hearthload.store.moments import moment_columns
from tests.store.files import NOW
from tests.store.good_rows import GOOD

EXAMPLES = settings(max_examples=30)

lines = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=40)
names = lines.filter(bool)
plugs = st.sampled_from(sorted(PLUGS))


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False)


def optional(low: float, high: float) -> st.SearchStrategy[float | None]:
    return st.none() | numbers(low, high)


@st.composite
def moments(draw: st.DrawFn) -> datetime:
    zone = timezone(timedelta(minutes=draw(st.integers(-1439, 1439))))
    naive = draw(st.datetimes(datetime(2000, 1, 2), datetime(2999, 12, 30)))  # noqa: DTZ001 (zone follows)
    return naive.replace(microsecond=0, tzinfo=zone)


appliances = st.builds(
    ApplianceDraft,
    name=names,
    kind=st.sampled_from(Kind),
    room=lines,
    role=st.sampled_from(Role),
    plug=plugs,
    voltage_v=optional(50, 500),
    nameplate_w=optional(0, 1e5),
    running_w=optional(0, 1e5),
    target=optional(0.01, 1),
    hard_wired=st.booleans(),
    medical=st.booleans(),
    note=lines,
)
meters = st.builds(
    MeterDraft,
    name=names,
    plug=plugs,
    voltage_v=optional(50, 500),
    current_a=optional(0.1, 200),
    energy_step_kwh=numbers(1e-6, 10),
    elapsed_step_h=numbers(1e-5, 24),
    gain_percent=optional(0.01, 50),
    power_loss=st.sampled_from(PowerLoss),
    rounding=st.sampled_from(DisplayRounding),
    note=lines,
)
households = st.builds(
    Household,
    name=lines,
    mains_voltage_v=numbers(50, 500),
    mains_frequency_hz=numbers(40, 70),
    default_plug=plugs,
    price_per_kwh=optional(0, 1e6),
    currency=lines,
    note=lines,
)
readings = st.builds(
    ReadingDraft,
    taken_at=moments(),
    energy_kwh=numbers(0, 1e6),
    elapsed_h=optional(0, 1e6),
    power_w=optional(0, 1e5),
    voltage_v=optional(0, 1000),
    current_a=optional(0, 1000),
    power_factor=optional(0, 1),
    highest_power_w=optional(0, 1e5),
    frequency_hz=optional(40, 70),
    state=st.none() | st.sampled_from(RunState),
    uses=st.none() | st.integers(0, 100_000),
    room_temperature_c=optional(-40, 60),
    note=lines,
)
runs = st.builds(
    Run,
    id=st.just(0),
    measurement_id=st.just(1),
    number=st.integers(2, 10_000),
    meter_id=st.just(1),
    cause=st.sampled_from((RunCause.RESET, RunCause.SWAP)),
    began_at=moments(),
    exact_start=st.booleans(),
)


answers = st.builds(
    Answer,
    id=st.just(0),
    measurement_id=st.just(1),
    reading_id=st.sampled_from((None, 1)),
    code=names,
    about=lines,
    answered_at=moments(),
)


@st.composite
def measurements(draw: st.DrawFn) -> Measurement:
    """Draw measurements with the times that their states allow."""
    state = draw(st.sampled_from(MeasurementState))
    planned, running = state is MeasurementState.PLANNED, state is MeasurementState.RUNNING
    finished = draw(moments())
    if state is MeasurementState.SET_ASIDE and draw(st.booleans()):
        running = True  # one that was set aside while under way never finished
    return Measurement(
        id=0,
        appliance_id=1,
        meter_id=draw(st.sampled_from((None, 2))) if planned else 2,
        state=state,
        started_at=None if planned else draw(moments()),
        finished_at=None if planned or running else finished,
        room_temperature_c=draw(optional(-40, 60)),
        note=draw(lines),
        joined=draw(st.booleans()),
    )


@pytest.fixture
def peopled(database: Database) -> Database:
    """Give a file in which an appliance, a finished measurement, its run and reading are number 1."""
    finished = {"finished_at": "2025-03-04T06:30:00Z", "finished_offset_min": 60, "state": "finished"}
    with database.unit("fill", NOW) as unit:
        unit.insert("appliances", GOOD["appliances"])
        unit.insert("meters", GOOD["meters"])
        unit.insert("meters", {**GOOD["meters"], "name": "Blue meter"})
        unit.insert("measurements", {**GOOD["measurements"], "appliance_id": 1, "meter_id": 1, **finished})
        unit.insert("runs", {**GOOD["runs"], "number": 1, "cause": "start"})
        unit.insert("readings", {**GOOD["readings"], "taken_at": "1999-01-01T00:00:00Z"})
    return database


@contextmanager
def kept(database: Database, table: str, row: dict[str, Any]) -> Iterator[int]:
    """Keep a row in the file for a while, checking that the journal can tell of it as it stands."""
    with database.unit("add", NOW) as unit:
        key = unit.insert(table, row)
        after = unit.images[-1].after
        assert json.loads(json.dumps(after)) == after
    yield key
    with database.unit("remove", NOW) as unit:
        unit.delete(table, [key])


def same(value: Any, draft: Any) -> None:  # noqa: ANN401 (any two values of the domain)
    """Check every field that both have, the kind of number included."""
    for field in dataclasses.fields(draft):
        found, given_ = getattr(value, field.name), getattr(draft, field.name)
        assert found == given_, field.name
        assert type(found) is type(given_), field.name


def test_appliances(database: Database) -> None:
    @EXAMPLES
    @given(appliances)
    def comes_back(draft: ApplianceDraft) -> None:
        with kept(database, "appliances", rows.appliance_row(draft)) as key:
            (appliance,) = Contents(database).appliances()
            assert appliance.id == key
            same(appliance, draft)

    comes_back()


def test_meters(database: Database) -> None:
    @EXAMPLES
    @given(meters)
    def comes_back(draft: MeterDraft) -> None:
        with kept(database, "meters", rows.meter_row(draft)) as key:
            (meter,) = Contents(database).meters()
            assert meter.id == key
            same(meter, draft)

    comes_back()


def test_the_household(database: Database) -> None:
    @EXAMPLES
    @given(households)
    def comes_back(household: Household) -> None:
        with database.unit("change", NOW) as unit:
            unit.update("household", rows.HOUSEHOLD_KEY, rows.household_row(household))
        same(Contents(database).household(), household)

    comes_back()


def test_readings(peopled: Database) -> None:
    @EXAMPLES
    @given(readings)
    def comes_back(draft: ReadingDraft) -> None:
        with kept(peopled, "readings", {"run_id": 1, **rows.reading_row(draft)}) as key:
            (reading,) = (found for found in Contents(peopled).readings(1) if found.id == key)
            assert (reading.id, reading.run_id) == (key, 1)
            same(reading, draft)
            assert reading.taken_at.utcoffset() == draft.taken_at.utcoffset()
            assert Contents(peopled).run_of_reading(key) == 1

    comes_back()


def test_measurements(peopled: Database) -> None:
    @EXAMPLES
    @given(measurements())
    def comes_back(measurement: Measurement) -> None:
        row = {
            "appliance_id": measurement.appliance_id,
            "meter_id": measurement.meter_id,
            "state": measurement.state.value,
            "room_temperature_c": measurement.room_temperature_c,
            "note": measurement.note,
            "joined": int(measurement.joined),
            **moment_columns("started", measurement.started_at),
            **moment_columns("finished", measurement.finished_at),
        }
        with kept(peopled, "measurements", row) as key:
            same(Contents(peopled).measurements()[-1], dataclasses.replace(measurement, id=key))

    comes_back()


def test_runs(peopled: Database) -> None:
    @EXAMPLES
    @given(runs)
    def comes_back(run: Run) -> None:
        row = {
            "measurement_id": run.measurement_id,
            "number": run.number,
            "meter_id": run.meter_id,
            "cause": run.cause.value,
            "exact_start": int(run.exact_start),
            **moment_columns("began", run.began_at),
        }
        with kept(peopled, "runs", row) as key:
            same(Contents(peopled).runs()[-1], dataclasses.replace(run, id=key))

    comes_back()


def test_answers(peopled: Database) -> None:
    @EXAMPLES
    @given(answers)
    def comes_back(answer: Answer) -> None:
        row = {
            "measurement_id": answer.measurement_id,
            "reading_id": answer.reading_id,
            "code": answer.code,
            "about": answer.about,
            **moment_columns("answered", answer.answered_at),
        }
        with kept(peopled, "answers", row) as key:
            same(Contents(peopled).answers()[-1], dataclasses.replace(answer, id=key))

    comes_back()


def test_a_reading_that_is_not_there_has_no_run(peopled: Database) -> None:
    assert Contents(peopled).run_of_reading(99) is None

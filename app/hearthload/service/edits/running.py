"""Keeping a measurement's runs true to their readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.measurement import MeasurementRecord, MeasurementState, Run, RunCause
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.service.edits.refusing import refuse_busy_meter
from hearthload.service.logbook import Edit
from hearthload.store.moments import moment_columns
from hearthload.store.rows import reading_row

Start = tuple[datetime, float, int]
"""What may be the start of a run: when it was read, the energy [kWh], the reading's number."""


def start_of(reading: Reading) -> Start:
    """Give what a run's start takes from a reading."""
    return reading.taken_at, reading.energy_kwh, reading.id


@dataclass(frozen=True, slots=True)
class NewRun:
    """A run about to begin: of which measurement, on which meter, why, and from an exact zero or not."""

    measurement_id: int
    number: int
    meter_id: int
    cause: RunCause
    exact_start: bool


def begin_run(edit: Edit, new: NewRun, first: ReadingDraft) -> int:
    """Add a run with its first reading; give the reading's number."""
    run_id = edit.unit.insert(
        "runs",
        {
            "measurement_id": new.measurement_id,
            "number": new.number,
            "meter_id": new.meter_id,
            "cause": new.cause.value,
            "exact_start": int(new.exact_start),
            **moment_columns("began", first.taken_at),
        },
    )
    return edit.unit.insert("readings", {"run_id": run_id, **reading_row(first)})


def settle_start(edit: Edit, run: Run, starts: Sequence[Start]) -> None:
    """Let a run begin at its first reading; its exact zero goes when another reading, or energy, is first."""
    taken_at, energy_kwh, reading_id = min(starts)
    columns = moment_columns("began", taken_at)
    exact = run.exact_start and energy_kwh == 0.0 and reading_id == _first_id(edit, run)
    if columns != moment_columns("began", run.began_at) or exact != run.exact_start:
        edit.unit.update("runs", run.id, {**columns, "exact_start": int(exact)})
    if run.number == 1:
        _settle_measurement(edit, run.measurement_id, taken_at)


def drop_run(edit: Edit, record: MeasurementRecord, gone: Run) -> None:
    """Remove a run that has no reading left, and move the later ones up; without runs it is planned again."""
    left = [run for run in record.runs if run.id != gone.id]
    edit.unit.delete("runs", [gone.id])
    if not left:
        edit.unit.update(
            "measurements",
            record.measurement.id,
            {
                "state": MeasurementState.PLANNED.value,
                **moment_columns("started", None),
                **moment_columns("finished", None),
            },
        )
        return
    for number, run in enumerate(left, start=1):
        cause = RunCause.START if number == 1 else run.cause
        if (number, cause) != (run.number, run.cause):
            edit.unit.update("runs", run.id, {"number": number, "cause": cause.value})
    _settle_measurement(edit, record.measurement.id, left[0].began_at)
    _settle_meter(edit, record, left[-1].meter_id)


def _first_id(edit: Edit, run: Run) -> int:
    record = edit.held.record(run.measurement_id)
    return next(reading.id for reading in record.readings if reading.run_id == run.id)


def _settle_measurement(edit: Edit, measurement_id: int, began_at: datetime) -> None:
    columns = moment_columns("started", began_at)
    if columns != moment_columns("started", edit.held.measurement(measurement_id).started_at):
        edit.unit.update("measurements", measurement_id, columns)


def _settle_meter(edit: Edit, record: MeasurementRecord, meter_id: int) -> None:
    """Go back to the meter of the run before, which must be free when the measurement is under way."""
    measurement = record.measurement
    if measurement.meter_id == meter_id:
        return
    if measurement.state is MeasurementState.RUNNING:
        refuse_busy_meter(edit.held, edit.held.meters[meter_id], ignoring=measurement.id)
    edit.unit.update("measurements", measurement.id, {"meter_id": meter_id})

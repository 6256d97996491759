"""Edits of measurements: planning, starting, resetting, swapping, and what becomes of them."""

from __future__ import annotations

from datetime import datetime, timedelta

from hearthload.domain.measurement import Measurement, MeasurementState, RunCause
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.checks import check_first_reading
from hearthload.service.checks_moment import CLOCK_TOLERANCE
from hearthload.service.edits.readings import tidied
from hearthload.service.edits.refusing import (
    refuse_busy_meter,
    refuse_hard_wired,
    refuse_measured_appliance,
    refuse_stops,
    refuse_unfit_meter,
    refuse_unless,
)
from hearthload.service.edits.removing import remove_measurements
from hearthload.service.edits.running import NewRun, begin_run
from hearthload.service.edits.starting import insert_measurement, next_run, refuse_elsewhere
from hearthload.service.logbook import Edit, Logbook
from hearthload.service.placing import minute_of
from hearthload.service.sentences import said_when
from hearthload.service.tidy import refuse_outside, tidy_note
from hearthload.store.moments import moment_columns

A_MINUTE = timedelta(minutes=1)


def plan_measurement(logbook: Logbook, appliance_id: int, meter_id: int | None) -> Changes:
    """Note that an appliance is to be measured, with which meter if that is known."""
    with logbook.edit("plan measurement") as edit:
        appliance = edit.held.appliance(appliance_id)
        edit.about(appliance.name)
        refuse_hard_wired(appliance)
        if meter_id is not None:
            refuse_unfit_meter(edit.held, edit.held.meter(meter_id), appliance)
        states = {found.state for found in edit.held.measurements_of(appliance_id)}
        if MeasurementState.PLANNED in states:
            raise RefusedError(
                f"A measurement of “{appliance.name}” is planned already.",
                field="appliance_id",
                code="already_planned",
            )
        edit.created_id = insert_measurement(edit, appliance_id, meter_id, None)
    return edit.changes


def start_measurement(
    logbook: Logbook,
    appliance_id: int,
    meter_id: int,
    first: ReadingDraft,
    *,
    exact_zero: bool,
    measurement_id: int | None = None,
) -> Changes:
    """Start measuring an appliance with its first reading; `measurement_id` is a planned one to start."""
    kept = tidied(first)
    with logbook.edit("start measurement") as edit:
        edit.about(edit.held.appliance(appliance_id).name)
        _refuse_to_measure(edit, appliance_id, meter_id)
        if measurement_id is not None:
            _refuse_unless_planned_for(edit.held.measurement(measurement_id), appliance_id)
        refuse_stops(check_first_reading(kept, edit.now, exact_zero=exact_zero))
        refuse_elsewhere(edit.held, meter_id, kept.taken_at, edit.now)
        if measurement_id is None:
            number = insert_measurement(edit, appliance_id, meter_id, kept.taken_at)
        else:
            number = measurement_id
            started = moment_columns("started", kept.taken_at)
            _set_state(edit, number, MeasurementState.RUNNING, {"meter_id": meter_id, **started})
        begin_run(edit, NewRun(number, 1, meter_id, RunCause.START, exact_zero), kept)
        edit.created_id = number
    return edit.changes


def reset_meter(logbook: Logbook, measurement_id: int, first: ReadingDraft, *, exact_zero: bool) -> Changes:
    """Go on after the meter was reset: a new run on the same meter, beginning with its first reading."""
    kept = tidied(first)
    with logbook.edit("reset meter") as edit:
        measurement = _about(edit, measurement_id)
        edit.created_id = next_run(edit, measurement, None, kept, exact_zero=exact_zero)
    return edit.changes


def swap_meter(
    logbook: Logbook, measurement_id: int, meter_id: int, first: ReadingDraft, *, exact_zero: bool
) -> Changes:
    """Go on with another meter: a new run, beginning with that meter's first reading."""
    kept = tidied(first)
    with logbook.edit("swap meter") as edit:
        measurement = _about(edit, measurement_id)
        meter = edit.held.meter(meter_id)
        if meter_id == measurement.meter_id:
            raise RefusedError(
                f"It is on the meter “{meter.name}” already. Take another one, or say that it was reset.",
                field="meter_id",
                code="same_meter",
            )
        refuse_busy_meter(edit.held, meter)
        refuse_unfit_meter(edit.held, meter, edit.held.appliance(measurement.appliance_id))
        edit.created_id = next_run(edit, measurement, meter_id, kept, exact_zero=exact_zero)
        edit.unit.update("measurements", measurement_id, {"meter_id": meter_id})
    return edit.changes


def finish_measurement(logbook: Logbook, measurement_id: int, at: datetime) -> Changes:
    """Finish a measurement under way, its meter free from then on."""
    with logbook.edit("finish measurement") as edit:
        measurement = _about(edit, measurement_id)
        sentence = "Only a measurement under way can be finished."
        refuse_unless(measurement, MeasurementState.RUNNING, sentence, "not_running")
        last = edit.held.record(measurement_id).readings[-1]
        if at.utcoffset() is None or at > edit.now + CLOCK_TOLERANCE:
            raise RefusedError("It cannot be finished in the future.", field="finished_at", code="future")
        if at < last.taken_at - A_MINUTE or minute_of(at) < minute_of(last.taken_at):
            when = said_when(last.taken_at, edit.now)
            raise RefusedError(
                f"There is a reading of {when}: it was not finished before that.",
                field="finished_at",
                code="before_last",
            )
        _set_state(edit, measurement_id, MeasurementState.FINISHED, moment_columns("finished", at))
    return edit.changes


def reopen_measurement(logbook: Logbook, measurement_id: int) -> Changes:
    """Take up again a measurement that was finished or set aside, when its meter is free."""
    with logbook.edit("reopen measurement") as edit:
        measurement = _about(edit, measurement_id)
        if measurement.state in {MeasurementState.RUNNING, MeasurementState.PLANNED}:
            raise RefusedError(
                "Only a measurement that was finished or set aside can be reopened.",
                field="measurement_id",
                code="not_ended",
            )
        meter_id = edit.held.record(measurement_id).runs[-1].meter_id
        _refuse_to_measure(edit, measurement.appliance_id, meter_id)
        _set_state(edit, measurement_id, MeasurementState.RUNNING, moment_columns("finished", None))
    return edit.changes


def set_aside_measurement(logbook: Logbook, measurement_id: int) -> Changes:
    """Keep a measurement without using it; its meter is free from then on."""
    with logbook.edit("set aside measurement") as edit:
        measurement = _about(edit, measurement_id)
        if measurement.state not in {MeasurementState.RUNNING, MeasurementState.FINISHED}:
            raise RefusedError(
                "Only a measurement with readings can be set aside; one that is planned can be removed.",
                field="measurement_id",
                code="not_started",
            )
        _set_state(edit, measurement_id, MeasurementState.SET_ASIDE, {})
    return edit.changes


def remove_measurement(logbook: Logbook, measurement_id: int) -> Changes:
    """Remove a measurement with its readings."""
    with logbook.edit("remove measurement") as edit:
        remove_measurements(edit, [_about(edit, measurement_id)])
    return edit.changes


def describe_measurement(
    logbook: Logbook, measurement_id: int, *, room_temperature_c: float | None, note: str
) -> Changes:
    """Note the usual room temperature during a measurement, and anything worth remembering."""
    kept = tidy_note(note)
    temperature = room_temperature_c
    refuse_outside(temperature, "room_temperature_c", "The room temperature", low=-40, high=60, unit="°C")
    with logbook.edit("describe measurement") as edit:
        _about(edit, measurement_id)
        edit.unit.update("measurements", measurement_id, {"room_temperature_c": temperature, "note": kept})
    return edit.changes


def _about(edit: Edit, measurement_id: int) -> Measurement:
    measurement = edit.held.measurement(measurement_id)
    edit.about(edit.held.appliance(measurement.appliance_id).name)
    return measurement


def _refuse_to_measure(edit: Edit, appliance_id: int, meter_id: int) -> None:
    appliance, meter = edit.held.appliance(appliance_id), edit.held.meter(meter_id)
    refuse_hard_wired(appliance)
    refuse_measured_appliance(edit.held, appliance)
    refuse_busy_meter(edit.held, meter)
    refuse_unfit_meter(edit.held, meter, appliance)


def _set_state(
    edit: Edit, measurement_id: int, state: MeasurementState, columns: dict[str, str | int | None]
) -> None:
    edit.unit.update("measurements", measurement_id, {"state": state.value, **columns})


def _refuse_unless_planned_for(measurement: Measurement, appliance_id: int) -> None:
    refuse_unless(
        measurement, MeasurementState.PLANNED, "This measurement was started before.", "not_planned"
    )
    if measurement.appliance_id != appliance_id:
        raise RefusedError(
            "That measurement is planned for another appliance.",
            field="measurement_id",
            code="other_appliance",
        )

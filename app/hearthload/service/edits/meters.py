"""Edits of the meters."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.domain.meter import MeterDraft
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits.refusing import MAXIMUM_V, MINIMUM_V, refuse_taken_name, refuse_unknown_plug
from hearthload.service.logbook import Logbook
from hearthload.service.tidy import refuse_outside, tidy_name, tidy_note
from hearthload.store.rows import meter_row


def add_meter(logbook: Logbook, draft: MeterDraft) -> Changes:
    """Add a meter."""
    kept = _tidied(draft)
    with logbook.edit("add meter") as edit:
        edit.about(kept.name)
        refuse_taken_name(kept.name, edit.held.meters.values(), "a meter")
        edit.created_id = edit.unit.insert("meters", meter_row(kept))
    return edit.changes


def change_meter(logbook: Logbook, meter_id: int, draft: MeterDraft) -> Changes:
    """Change what is noted about a meter."""
    kept = _tidied(draft)
    with logbook.edit("change meter") as edit:
        edit.about(edit.held.meter(meter_id).name)
        others = [other for other in edit.held.meters.values() if other.id != meter_id]
        refuse_taken_name(kept.name, others, "a meter")
        edit.unit.update("meters", meter_id, meter_row(kept))
    return edit.changes


def remove_meter(logbook: Logbook, meter_id: int) -> Changes:
    """Remove a meter that has measured nothing; plans that named it go on without a meter."""
    with logbook.edit("remove meter") as edit:
        meter = edit.held.meter(meter_id)
        edit.about(meter.name)
        served = _served(edit.held, meter_id)
        if served is not None:
            name = edit.held.appliances[served.appliance_id].name
            raise RefusedError(
                f"The meter “{meter.name}” has measured “{name}”: the readings need it, so it stays.",
                field="meter_id",
                code="meter_has_measured",
            )
        for measurement in edit.held.measurements.values():
            if measurement.meter_id == meter_id:
                edit.unit.update("measurements", measurement.id, {"meter_id": None})
        edit.unit.delete("meters", [meter_id])
    return edit.changes


def _served(held: Caches, meter_id: int) -> Measurement | None:
    for run in held.runs.values():
        if run.meter_id == meter_id:
            return held.measurements[run.measurement_id]
    started = (found for found in held.measurements.values() if found.state is not MeasurementState.PLANNED)
    return next((found for found in started if found.meter_id == meter_id), None)


def _tidied(draft: MeterDraft) -> MeterDraft:
    refuse_unknown_plug(draft.plug)
    refuse_outside(draft.voltage_v, "voltage_v", "The voltage", low=MINIMUM_V, high=MAXIMUM_V, unit="V")
    refuse_outside(draft.current_a, "current_a", "The current", low=0.1, high=200, unit="A")
    refuse_outside(draft.energy_step_kwh, "energy_step_kwh", "The kWh step", low=1e-6, high=10, unit="kWh")
    refuse_outside(draft.elapsed_step_h, "elapsed_step_h", "The hours step", low=1e-5, high=24, unit="h")
    refuse_outside(draft.gain_percent, "gain_percent", "The accuracy", low=0.01, high=50, unit="%")
    return replace(draft, name=tidy_name(draft.name, "meter"), note=tidy_note(draft.note))

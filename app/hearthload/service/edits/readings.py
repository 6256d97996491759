"""Edits of the readings: each checked first, and what rests on a run's first reading kept true after."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.measurement import MeasurementRecord, MeasurementState, Run
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.checks import check_reading
from hearthload.service.edits.refusing import refuse_stops
from hearthload.service.edits.running import drop_run, settle_start, start_of
from hearthload.service.logbook import Edit, Logbook
from hearthload.service.placing import place_of, readings_of_run
from hearthload.service.tidy import tidy_note
from hearthload.store.rows import reading_row


def add_reading(logbook: Logbook, measurement_id: int, draft: ReadingDraft) -> Changes:
    """Add a reading to a measurement, in the run that its moment belongs to."""
    kept = tidied(draft)
    with logbook.edit("add reading") as edit:
        record = edit.held.record(measurement_id)
        _about(edit, record)
        if record.measurement.state is MeasurementState.PLANNED:
            raise RefusedError(
                "This measurement is only planned: start it with its first reading.",
                field="measurement_id",
                code="not_started",
            )
        run = _checked(edit, record, kept, None)
        edit.created_id = edit.unit.insert("readings", {"run_id": run.id, **reading_row(kept)})
        starts = [start_of(reading) for reading in readings_of_run(record, run)]
        settle_start(edit, run, [*starts, (kept.taken_at, kept.energy_kwh, edit.created_id)])
    return edit.changes


def change_reading(logbook: Logbook, reading_id: int, draft: ReadingDraft) -> Changes:
    """Correct a reading; it stays in its run and must fit between its neighbours."""
    kept = tidied(draft)
    with logbook.edit("change reading") as edit:
        record = edit.held.record(edit.held.measurement_of_reading(reading_id))
        _about(edit, record)
        run = _checked(edit, record, kept, reading_id)
        edit.unit.update("readings", reading_id, reading_row(kept))
        starts = [start_of(reading) for reading in readings_of_run(record, run, ignoring=reading_id)]
        settle_start(edit, run, [*starts, (kept.taken_at, kept.energy_kwh, reading_id)])
    return edit.changes


def remove_reading(logbook: Logbook, reading_id: int) -> Changes:
    """Remove a reading.

    When it was a run's first, the run starts at the next one, which is no exact zero. When it was a run's
    only one, the run goes with it and the later runs move up. When it was the measurement's only one, the
    measurement is planned again, its meter free.
    """
    with logbook.edit("remove reading") as edit:
        record = edit.held.record(edit.held.measurement_of_reading(reading_id))
        _about(edit, record)
        reading = next(found for found in record.readings if found.id == reading_id)
        run = next(found for found in record.runs if found.id == reading.run_id)
        left = readings_of_run(record, run, ignoring=reading_id)
        answers = edit.held.answers_about(record.measurement.id)
        edit.unit.delete("answers", [each.id for each in answers if each.reading_id == reading_id])
        edit.unit.delete("readings", [reading_id])
        if left:
            settle_start(edit, run, [start_of(found) for found in left])
        else:
            drop_run(edit, record, run)
    return edit.changes


def tidied(draft: ReadingDraft) -> ReadingDraft:
    """Give a draft as it is kept: whole seconds, a note in order."""
    return replace(draft, taken_at=draft.taken_at.replace(microsecond=0), note=tidy_note(draft.note))


def _about(edit: Edit, record: MeasurementRecord) -> None:
    edit.about(edit.held.appliance(record.measurement.appliance_id).name)


def _checked(edit: Edit, record: MeasurementRecord, draft: ReadingDraft, ignoring: int | None) -> Run:
    """Refuse what stops the reading and give the run it goes into."""
    appliance = edit.held.appliance(record.measurement.appliance_id)
    place = (
        place_of(record, draft.taken_at, ignoring=ignoring)
        if draft.taken_at.utcoffset() is not None
        else None
    )
    run = None if place is None else place.run
    meter = None if run is None else edit.held.meters[run.meter_id]
    complaints = check_reading(
        record, meter, appliance, draft, edit.now, ignoring=ignoring, household=edit.held.household
    )
    refuse_stops(complaints)
    if run is None:
        raise RuntimeError("a measurement that is not planned has a run")
    return run

"""Edits about doubts: her word that something is right, and what follows from a doubt about the kind."""

from __future__ import annotations

from hearthload.domain.doubt import DoubtCode
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.doubts import about
from hearthload.service.logbook import Logbook
from hearthload.store.moments import moment_columns


def answer_doubt(logbook: Logbook, measurement_id: int, code: DoubtCode, reading_id: int | None) -> Changes:
    """Note that what is doubted is right, so that it is not asked about again."""
    with logbook.edit("answer a doubt") as edit:
        record = edit.held.record(measurement_id)
        edit.about(edit.held.appliance(record.measurement.appliance_id).name)
        reading = next((found for found in record.readings if found.id == reading_id), None)
        if reading_id is not None and reading is None:
            raise RefusedError(
                "That reading is not there any more.", field="reading_id", code="unknown_reading"
            )
        edit.created_id = edit.unit.insert(
            "answers",
            {
                "measurement_id": measurement_id,
                "reading_id": reading_id,
                "code": code.value,
                "about": about(code, reading),
                **moment_columns("answered", edit.now),
            },
        )
    return edit.changes


def join_measurement(logbook: Logbook, measurement_id: int, *, joined: bool) -> Changes:
    """Let a measurement count together with the one before it, or by itself again."""
    with logbook.edit("join measurements" if joined else "keep measurements apart") as edit:
        measurement = edit.held.measurement(measurement_id)
        edit.about(edit.held.appliance(measurement.appliance_id).name)
        if joined and not edit.held.earlier_than(measurement_id):
            raise RefusedError(
                "There is no earlier measurement to join it to.", field="measurement_id", code="no_earlier"
            )
        edit.unit.update("measurements", measurement_id, {"joined": int(joined)})
    return edit.changes

"""Taking measurements away with all that hangs on them."""

from __future__ import annotations

from collections.abc import Iterable

from hearthload.domain.measurement import Measurement
from hearthload.service.logbook import Edit


def remove_measurements(edit: Edit, measurements: Iterable[Measurement]) -> None:
    """Remove measurements with their runs and readings, children before parents."""
    records = [edit.held.record(measurement.id) for measurement in measurements]
    for record in records:
        edit.unit.delete("answers", [each.id for each in edit.held.answers_about(record.measurement.id)])
    edit.unit.delete("readings", [reading.id for record in records for reading in record.readings])
    edit.unit.delete("runs", [run.id for record in records for run in record.runs])
    edit.unit.delete("measurements", [record.measurement.id for record in records])

"""Where a reading belongs among those of its measurement."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from hearthload.domain.measurement import MeasurementRecord, Run
from hearthload.domain.reading import Reading


@dataclass(frozen=True, slots=True)
class Place:
    """A reading's run and neighbours in it; `same` was taken in the very minute.

    `not_before` and `not_after` are where the runs before and after end and begin. `is_last`: nothing in the
    whole measurement comes later.
    """

    run: Run | None
    before: Reading | None = None
    same: Reading | None = None
    after: Reading | None = None
    not_before: datetime | None = None
    not_after: datetime | None = None
    is_last: bool = True


def minute_of(moment: datetime) -> datetime:
    """Give the minute of a moment, in UTC: readings are told apart by the minute."""
    return moment.astimezone(UTC).replace(second=0, microsecond=0)


def readings_of_run(record: MeasurementRecord, run: Run, *, ignoring: int | None = None) -> Sequence[Reading]:
    """Give a run's readings in order of time, leaving one out when asked to."""
    if ignoring is None and len(record.runs) == 1:
        return record.readings
    return [reading for reading in record.readings if reading.run_id == run.id and reading.id != ignoring]


def place_of(record: MeasurementRecord, moment: datetime, *, ignoring: int | None = None) -> Place:
    """Find the place of a reading taken at a moment.

    A new reading goes into the latest run that had begun by then. A reading that is corrected (`ignoring` is
    its number) stays in its run.
    """
    at = minute_of(moment)
    run = _run_for(record, at, ignoring)
    if run is None:
        return Place(None)
    mates = readings_of_run(record, run, ignoring=ignoring)
    first = bisect_left(mates, at, key=_minute)
    beyond = bisect_right(mates, at, key=_minute)
    others: Sequence[Reading] = record.readings
    if ignoring is not None:
        others = [reading for reading in others if reading.id != ignoring]
    earlier, later = _other_runs(record, others, run)
    return Place(
        run=run,
        before=mates[first - 1] if first > 0 else None,
        same=mates[first] if first < beyond else None,
        after=mates[beyond] if beyond < len(mates) else None,
        not_before=earlier[-1].taken_at if earlier else None,
        not_after=later[0].taken_at if later else None,
        is_last=all(minute_of(reading.taken_at) <= at for reading in others[-1:]),
    )


def _other_runs(
    record: MeasurementRecord, readings: Sequence[Reading], run: Run
) -> tuple[list[Reading], list[Reading]]:
    """Give the readings of the runs before and after one."""
    if len(record.runs) == 1:
        return [], []
    numbers = {each.id: each.number for each in record.runs}
    earlier = [reading for reading in readings if numbers[reading.run_id] < run.number]
    later = [reading for reading in readings if numbers[reading.run_id] > run.number]
    return earlier, later


def _run_for(record: MeasurementRecord, at: datetime, ignoring: int | None) -> Run | None:
    if not record.runs:
        return None
    if ignoring is not None:
        number = next(reading.run_id for reading in record.readings if reading.id == ignoring)
        return next(run for run in record.runs if run.id == number)
    begun = [run for run in record.runs if minute_of(run.began_at) <= at]
    return begun[-1] if begun else record.runs[0]


def _minute(reading: Reading) -> datetime:
    return minute_of(reading.taken_at)

"""What starting, resetting and swapping have in common: where a new run may begin."""

from __future__ import annotations

from datetime import datetime

from hearthload.domain.figures import format_watts
from hearthload.domain.measurement import Measurement, MeasurementState, RunCause
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.units import WATTS_PER_KILOWATT
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.checks import check_first_reading
from hearthload.service.checks_power import IMPOSSIBLE
from hearthload.service.edits.refusing import refuse_stops, refuse_unless
from hearthload.service.edits.running import NewRun, begin_run
from hearthload.service.logbook import Edit
from hearthload.service.placing import minute_of
from hearthload.service.ratings import lowest_rating
from hearthload.service.sentences import said_when
from hearthload.store.moments import moment_columns


def insert_measurement(edit: Edit, appliance_id: int, meter_id: int | None, started: datetime | None) -> int:
    """Add a measurement, planned when it has no start, else running; give its number."""
    state = MeasurementState.PLANNED if started is None else MeasurementState.RUNNING
    row = {"appliance_id": appliance_id, "meter_id": meter_id, "state": state.value, "note": "", "joined": 0}
    return edit.unit.insert("measurements", {**row, **moment_columns("started", started)})


def next_run(
    edit: Edit, measurement: Measurement, meter_id: int | None, first: ReadingDraft, *, exact_zero: bool
) -> int:
    """Begin a further run of a measurement under way, without `meter_id` on the meter it is on.

    Gives the number of the run's first reading.
    """
    refuse_unless(measurement, MeasurementState.RUNNING, "This measurement is not under way.", "not_running")
    refuse_stops(check_first_reading(first, edit.now, exact_zero=exact_zero))
    record = edit.held.record(measurement.id)
    _refuse_before(record.readings[-1], first, edit.now)
    present = record.runs[-1]
    wanted = present.meter_id if meter_id is None else meter_id
    refuse_elsewhere(edit.held, wanted, first.taken_at, edit.now)
    cause = RunCause.RESET if meter_id is None else RunCause.SWAP
    if cause is RunCause.RESET:
        _refuse_beyond_rating(edit, measurement, edit.held.meter(wanted), first)
    new = NewRun(measurement.id, present.number + 1, wanted, cause, exact_zero)
    return begin_run(edit, new, first)


def refuse_elsewhere(held: Caches, meter_id: int, at: datetime, now: datetime) -> None:
    """Refuse a start at a time at which the meter was on another appliance, by the readings there are."""
    for measurement in held.measurements.values():
        if measurement.state is MeasurementState.SET_ASIDE:
            continue
        record = held.record(measurement.id)
        runs = {run.id for run in record.runs if run.meter_id == meter_id}
        times = [reading.taken_at for reading in record.readings if reading.run_id in runs]
        if times and minute_of(times[0]) < minute_of(at) < minute_of(times[-1]):
            name = held.appliances[measurement.appliance_id].name
            stay = f"from {said_when(times[0], now)} to {said_when(times[-1], now)}"
            raise RefusedError(
                f"At that time the meter was on “{name}”: it was read there {stay}.",
                field="taken_at",
                code="meter_elsewhere",
            )


def _refuse_beyond_rating(edit: Edit, measurement: Measurement, meter: Meter, first: ReadingDraft) -> None:
    """Refuse what cannot have flowed since the counters began anew: it is a slip, not a reset."""
    if not first.elapsed_h:
        return
    appliance = edit.held.appliance(measurement.appliance_id)
    rating = lowest_rating(meter, appliance, edit.held.household)
    average_w = WATTS_PER_KILOWATT * (first.energy_kwh - meter.energy_step_kwh) / first.elapsed_h
    if average_w > IMPOSSIBLE * rating.power_w:
        raise RefusedError(
            f"That would be {format_watts(average_w)} on average since the reset, and {rating.part} carries "
            f"{format_watts(rating.power_w)}. Check the decimal mark, and which number is the hours.",
            field="energy_kwh",
            code="impossible_power",
        )


def _refuse_before(last: Reading, first: ReadingDraft, now: datetime) -> None:
    # The same minute is well: she reads the old counters, then sets them to zero.
    if minute_of(first.taken_at) < minute_of(last.taken_at):
        when = said_when(last.taken_at, now)
        raise RefusedError(
            f"There is a reading of {when} already: the new start must come after it.",
            field="taken_at",
            code="before_last",
        )

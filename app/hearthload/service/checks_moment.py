"""Checks of when a reading was taken."""

from __future__ import annotations

from datetime import datetime, timedelta

from hearthload.domain.measurement import MeasurementRecord, MeasurementState
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.service.placing import Place, minute_of
from hearthload.service.sentences import said_when

CLOCK_TOLERANCE = timedelta(minutes=2)
"""Two clocks in a house differ by so much without anybody's mistake."""

EARLIEST_YEAR = 2000
"""Before this there is no logbook to go on with; a year like 0026 is a slip."""


def moment_complaints(taken_at: datetime, now: datetime) -> list[Complaint]:
    """Say what is wrong with the moment in itself."""
    if taken_at.utcoffset() is None:
        return [_stops("naive_time", "The time needs its offset from UTC.")]
    if taken_at.year < EARLIEST_YEAR:
        return [_stops("too_early", f"{taken_at.year:04d} is too long ago: look at the year.")]
    if taken_at > now + CLOCK_TOLERANCE:
        sentence = f"That lies in the future, {said_when(taken_at, now)}: look at the day and the time."
        return [_stops("future", sentence, _day_before(taken_at, now))]
    return []


def _day_before(taken_at: datetime, now: datetime) -> tuple[Fix, ...]:
    """Offer the day before for a time that is still to come today."""
    if taken_at.date() != now.date():
        return ()
    moment = taken_at - timedelta(days=1)
    return (Fix(f"Read at {said_when(moment, now)}", FixAction.SET_TIME, moment=moment),)


def order_complaints(
    record: MeasurementRecord, place: Place, taken_at: datetime, now: datetime
) -> list[Complaint]:
    """Say where the moment does not fit among the readings there are."""
    if place.run is None:
        return []
    if place.same is not None:
        when = said_when(place.same.taken_at, now)
        return [_stops("same_minute", f"There is a reading of {when} already: correct that one instead.")]
    at = minute_of(taken_at)
    if place.not_before is not None and at < minute_of(place.not_before):
        when = said_when(place.not_before, now)
        return [_stops("before_run", f"Before {when} the meter's counters ran on from another start.")]
    if place.not_after is not None and at > minute_of(place.not_after):
        when = said_when(place.not_after, now)
        return [_stops("after_run", f"From {when} on the meter's counters ran from another start.")]
    return _edges(record, place, taken_at, now)


def _edges(record: MeasurementRecord, place: Place, taken_at: datetime, now: datetime) -> list[Complaint]:
    measurement, run = record.measurement, place.run
    ended = measurement.finished_at if measurement.state is MeasurementState.FINISHED else None
    if ended is not None and minute_of(taken_at) > minute_of(ended):
        sentence = f"The measurement was finished {said_when(ended, now)}: reopen it to go on reading."
        return [_stops("after_finish", sentence)]
    first = next(
        (reading for reading in record.readings if run is not None and reading.run_id == run.id), None
    )
    # Correcting the zero reading itself leaves the second one after it: that is no reading before the zero.
    if run is not None and run.exact_start and first is not None and place.after is first:
        when = said_when(first.taken_at, now)
        return [_stops("before_zero", f"The counters were set to zero {when}: nothing was read before that.")]
    return []


def between_complaints(place: Place, now: datetime, *, fits: bool) -> list[Complaint]:
    """Say that a reading is not the last one: a warning while the counters fit, a stop when not."""
    if place.is_last or place.run is None:
        return []
    following = place.after.taken_at if place.after is not None else place.not_after
    if following is None:
        return []
    when = said_when(following, now)
    if not fits:
        sentence = f"There is a reading of {when} already, and these counters do not fit in before it."
        return [_stops("before_last", sentence)]
    if place.before is None:
        sentence = f"This goes in before the first reading, of {when}."
    else:
        sentence = f"This goes in between the readings of {said_when(place.before.taken_at, now)} and {when}."
    return [Complaint("taken_at", "goes_between", Weight.WARNS, sentence)]


def _stops(code: str, sentence: str, fixes: tuple[Fix, ...] = ()) -> Complaint:
    return Complaint("taken_at", code, Weight.STOPS, sentence, fixes)

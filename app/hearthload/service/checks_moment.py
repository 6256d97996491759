"""Checks of when a reading was taken."""

from __future__ import annotations

from datetime import datetime, timedelta

from hearthload.domain.measurement import MeasurementRecord, MeasurementState
from hearthload.service.answers import Complaint, Weight
from hearthload.service.placing import Place, minute_of
from hearthload.service.sentences import said_moment

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
        return [
            _stops(
                "future", f"That lies in the future, {said_moment(taken_at)}: look at the day and the time."
            )
        ]
    return []


def order_complaints(record: MeasurementRecord, place: Place, taken_at: datetime) -> list[Complaint]:
    """Say where the moment does not fit among the readings there are."""
    if place.run is None:
        return []
    if place.same is not None:
        when = said_moment(place.same.taken_at)
        return [_stops("same_minute", f"There is a reading at {when} already: correct that one instead.")]
    at = minute_of(taken_at)
    if place.not_before is not None and at < minute_of(place.not_before):
        when = said_moment(place.not_before)
        return [_stops("before_run", f"Before {when} the meter's counters ran on from another start.")]
    if place.not_after is not None and at > minute_of(place.not_after):
        when = said_moment(place.not_after)
        return [_stops("after_run", f"From {when} on the meter's counters ran from another start.")]
    return _edges(record, place, taken_at)


def _edges(record: MeasurementRecord, place: Place, taken_at: datetime) -> list[Complaint]:
    measurement, run = record.measurement, place.run
    ended = measurement.finished_at if measurement.state is MeasurementState.FINISHED else None
    if ended is not None and minute_of(taken_at) > minute_of(ended):
        sentence = f"The measurement was finished on {said_moment(ended)}: reopen it to go on reading."
        return [_stops("after_finish", sentence)]
    first = next(
        (reading for reading in record.readings if run is not None and reading.run_id == run.id), None
    )
    # Correcting the zero reading itself leaves the second one after it: that is no reading before the zero.
    if run is not None and run.exact_start and first is not None and place.after is first:
        when = said_moment(first.taken_at)
        return [
            _stops("before_zero", f"The counters were set to zero at {when}: nothing was read before that.")
        ]
    return []


def between_complaints(place: Place, *, fits: bool) -> list[Complaint]:
    """Say that a reading is not the last one: a warning while the counters fit, a stop when not."""
    if place.is_last or place.run is None:
        return []
    following = place.after.taken_at if place.after is not None else place.not_after
    if following is None:
        return []
    when = said_moment(following)
    if not fits:
        sentence = f"There is a reading at {when} already, and these counters do not fit in before it."
        return [_stops("before_last", sentence)]
    if place.before is None:
        sentence = f"This goes in before the first reading, of {when}."
    else:
        sentence = f"This goes in between the readings of {said_moment(place.before.taken_at)} and {when}."
    return [Complaint("taken_at", "goes_between", Weight.WARNS, sentence)]


def _stops(code: str, sentence: str) -> Complaint:
    return Complaint("taken_at", code, Weight.STOPS, sentence)

"""Checks of the two counters against the readings around them: both only ever rise."""

from __future__ import annotations

from datetime import timedelta

from hearthload.domain.reading import Reading
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.service.checks_case import Case, clock_hours, hours_by_clock
from hearthload.service.placing import readings_of_run
from hearthload.service.sentences import said_energy, said_hours, said_when
from hearthload.service.slips import energy_fix, hours_fix

FAR = 3.0
"""So many 95 % half-widths from the expected value is far: about six standard deviations."""

_ASKS = "and cannot run backward. Was the meter reset, was it swapped, or is it a slip of the finger?"
_RAN_ON = (
    "and cannot run backward; its hours ran on, so it was not reset. Is a digit or the decimal mark wrong?"
)

_BEHIND = "Was the power off, or is the time or a digit wrong?"


def energy_complaints(case: Case) -> list[Complaint]:
    """Say where the energy counter does not fit between its neighbours, or is far from what was expected."""
    energy, meter = case.draft.energy_kwh, case.meter
    before, after = case.place.before, case.place.after
    if before is not None and energy < before.energy_kwh:
        stood = f"{said_energy(before.energy_kwh, meter)} ({said_when(before.taken_at, case.now)})"
        fixes = (*(energy_slip(case) or _slip_between(case)), *case.restarts)
        asks = _RAN_ON if case.hours_ran_on else _ASKS
        return [_stops("energy_kwh", "energy_fell", f"The counter stood at {stood} {asks}", fixes)]
    if after is not None and energy > after.energy_kwh:
        read = f"{said_energy(after.energy_kwh, meter)}, read {said_when(after.taken_at, case.now)}"
        sentence = f"The counter is higher than the next reading's {read}."
        return [_stops("energy_kwh", "energy_above_next", sentence, energy_slip(case) or _slip_between(case))]
    step = case.energy_step_kwh
    ranges = [found for found in (case.expected, case.or_expected) if found is not None]
    if case.expected is None or not all(is_far(energy, found, step) for found in ranges):
        return []
    low, high = said_range(case.expected, case)
    sentence = f"By now it should show {low} to {high}. A slip, or an unusual day?"
    return [Complaint("energy_kwh", "unexpected", Weight.WARNS, sentence, energy_slip(case))]


def said_range(expected: Interval, case: Case) -> tuple[str, str]:
    """Say both ends of an expected range, the unit after the second."""
    low, high = (said_energy(max(end, 0.0), case.meter) for end in (expected.low, expected.high))
    return low.removesuffix(" kWh"), high


def energy_slip(case: Case, most_kwh: float | None = None) -> tuple[Fix, ...]:
    """Offer the energy with its decimal mark moved, or two digits exchanged, when that is to be expected.

    `most_kwh` is what can have been gained since the reading before, where that is less.
    """
    expected, before = case.expected, case.place.before
    if expected is not None and before is not None and most_kwh is not None:
        high = max(min(expected.high, before.energy_kwh + most_kwh), before.energy_kwh)
        expected = Interval(min(expected.value, high), min(expected.low, high), high)
    return energy_fix(case.draft.energy_kwh, expected, case.energy_step_kwh)


def _slip_between(case: Case) -> tuple[Fix, ...]:
    """Offer the slip that lands between the readings before and after, where there are both."""
    before, after = case.place.before, case.place.after
    if before is None or after is None:
        return ()
    low, high = before.energy_kwh, after.energy_kwh
    return energy_fix(case.draft.energy_kwh, Interval(0.5 * (low + high), low, high), case.energy_step_kwh)


def elapsed_complaints(case: Case) -> list[Complaint]:
    """Say where the hours counter does not fit between its neighbours, or disagrees with the clock."""
    elapsed = case.draft.elapsed_h
    if elapsed is None:
        return []
    before, after = case.neighbours_with_hours()
    expected = hours_by_clock(before, case.draft, case.elapsed_step_h)
    slip = hours_fix(elapsed, expected)
    if before is not None and before.elapsed_h is not None and elapsed < before.elapsed_h:
        stood = f"{said_hours(before.elapsed_h)} ({said_when(before.taken_at, case.now)})"
        fixes = (*slip, *case.restarts)
        return [_stops("elapsed_h", "hours_fell", f"The hours stood at {stood} {_ASKS}", fixes)]
    if after is not None and after.elapsed_h is not None and elapsed > after.elapsed_h:
        read = f"{said_hours(after.elapsed_h)}, read {said_when(after.taken_at, case.now)}"
        return [
            _stops(
                "elapsed_h", "hours_above_next", f"The hours are more than the next reading's {read}.", slip
            )
        ]
    if expected is None or expected.low <= elapsed <= expected.high:
        return []
    apart = said_hours(abs(elapsed - expected.value))
    sentence = f"The meter's hours are {apart} ahead of the clock. Is the time of reading or a digit wrong?"
    if elapsed < expected.value:
        sentence = f"The meter's hours are {apart} behind the clock. {_BEHIND}"
    fixes = (*slip, *time_by_hours(case, before))
    return [Complaint("elapsed_h", "hours_against_clock", Weight.WARNS, sentence, fixes)]


def time_by_hours(case: Case, before: Reading | None) -> tuple[Fix, ...]:
    """Offer the time that the hours give since a reading before, where no other reading stands in its way."""
    elapsed = case.draft.elapsed_h
    if before is None or before.elapsed_h is None or elapsed is None or elapsed <= before.elapsed_h:
        return ()
    if elapsed - before.elapsed_h > clock_hours(before.taken_at, case.now):
        return ()
    after = case.place.after
    moment = before.taken_at + timedelta(hours=elapsed - before.elapsed_h)
    moment = moment.astimezone(case.draft.taken_at.tzinfo).replace(second=0, microsecond=0)
    if after is not None and before.taken_at < after.taken_at <= moment:
        return ()
    return (Fix(f"Read at {said_when(moment, case.now)}", FixAction.SET_TIME, moment=moment),)


def wrong_time_complaint(case: Case) -> Complaint | None:
    """Say that the time alone is wrong: it lies before the last reading, and the counters fit after that."""
    if case.place.run is None or case.place.after is None:
        return None
    last = readings_of_run(case.record, case.place.run)[-1]
    draft = case.draft
    fits_hours = draft.elapsed_h is None or last.elapsed_h is None or draft.elapsed_h >= last.elapsed_h
    if draft.energy_kwh < last.energy_kwh or not fits_hours:
        return None
    when = said_when(last.taken_at, case.now)
    sentence = f"There is a reading of {when} already, and these counters fit after it. Is the time wrong?"
    return Complaint("taken_at", "before_last", Weight.STOPS, sentence, time_by_hours(case, last))


def is_far(value: float, expected: Interval, step: float) -> bool:
    """Tell whether a counter lies so far from what was expected that it deserves a question."""
    above = FAR * (expected.high - expected.value) + 2.0 * step
    below = FAR * (expected.value - expected.low) + 2.0 * step
    return value > expected.value + above or value < expected.value - below


def _stops(field: str, code: str, sentence: str, fixes: tuple[Fix, ...] = ()) -> Complaint:
    return Complaint(field, code, Weight.STOPS, sentence, fixes)

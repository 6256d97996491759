"""Checks of the two counters against the readings around them: both only ever rise."""

from __future__ import annotations

from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.units import SECONDS_PER_HOUR
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Fix, Weight
from hearthload.service.checks_case import Case
from hearthload.service.sentences import said_energy, said_hours, said_moment
from hearthload.service.slips import energy_fix, hours_fix

_TYPED_TIME_H = 0.10
"""How far the clock time of a reading is typed from the moment it was taken [h]: six minutes."""

_CLOCK_DRIFT = 0.0005
"""How far a meter's clock may drift from the day [1]: 43 s a day."""

FAR = 3.0
"""So many 95 % half-widths from the expected value is far: about six standard deviations."""

_ASKS = "and cannot run backward. Was the meter reset, was it swapped, or is it a slip of the finger?"


def energy_complaints(case: Case) -> list[Complaint]:
    """Say where the energy counter does not fit between its neighbours, or is far from what was expected."""
    energy, meter = case.draft.energy_kwh, case.meter
    before, after = case.place.before, case.place.after
    if before is not None and energy < before.energy_kwh:
        stood = f"{said_energy(before.energy_kwh, meter)} on {said_moment(before.taken_at)}"
        fixes = (*energy_slip(case), *case.restarts)
        return [_stops("energy_kwh", "energy_fell", f"The counter stood at {stood} {_ASKS}", fixes)]
    if after is not None and energy > after.energy_kwh:
        read = f"{said_energy(after.energy_kwh, meter)} read afterwards, on {said_moment(after.taken_at)}"
        return [_stops("energy_kwh", "energy_above_next", f"That is more than the {read}.")]
    expected = case.expected
    if expected is None or not is_far(energy, expected, case.energy_step_kwh):
        return []
    low, high = said_energy(max(expected.low, 0.0), meter), said_energy(expected.high, meter)
    sentence = f"Between {low} and {high} was to be expected by now. Is it a slip, or an unusual day?"
    return [Complaint("energy_kwh", "unexpected", Weight.WARNS, sentence, energy_slip(case))]


def energy_slip(case: Case, most_kwh: float | None = None) -> tuple[Fix, ...]:
    """Offer the energy with its decimal mark moved, or two digits exchanged, when that is to be expected.

    `most_kwh` is what can have been gained since the reading before, where that is less.
    """
    expected, before = case.expected, case.place.before
    if expected is not None and before is not None and most_kwh is not None:
        high = max(min(expected.high, before.energy_kwh + most_kwh), before.energy_kwh)
        expected = Interval(min(expected.value, high), min(expected.low, high), high)
    return energy_fix(case.draft.energy_kwh, expected, case.energy_step_kwh)


def elapsed_complaints(case: Case) -> list[Complaint]:
    """Say where the hours counter does not fit between its neighbours, or disagrees with the clock."""
    elapsed = case.draft.elapsed_h
    if elapsed is None:
        return []
    before, after = case.neighbours_with_hours()
    expected = expected_elapsed_h(before, case.draft, case.elapsed_step_h)
    slip = hours_fix(elapsed, expected)
    if before is not None and before.elapsed_h is not None and elapsed < before.elapsed_h:
        stood = f"{said_hours(before.elapsed_h)} on {said_moment(before.taken_at)}"
        fixes = (*slip, *case.restarts)
        return [_stops("elapsed_h", "hours_fell", f"The hours stood at {stood} {_ASKS}", fixes)]
    if after is not None and after.elapsed_h is not None and elapsed > after.elapsed_h:
        read = f"{said_hours(after.elapsed_h)} read afterwards, on {said_moment(after.taken_at)}"
        return [_stops("elapsed_h", "hours_above_next", f"That is more than the {read}.")]
    return _against_clock(elapsed, expected, slip)


def expected_elapsed_h(
    before: Reading | None, reading: ReadingDraft | Reading, step_h: float
) -> Interval | None:
    """Give the hours that agree with the clock [h]: within the display step + 0.10 h + 0.0005·span."""
    if before is None or before.elapsed_h is None:
        return None
    span_h = clock_hours(before, reading)
    margin = step_h + _TYPED_TIME_H + _CLOCK_DRIFT * abs(span_h)
    value = before.elapsed_h + span_h
    return Interval(value, max(value - margin, before.elapsed_h), value + margin)


def clock_hours(before: Reading | ReadingDraft, after: Reading | ReadingDraft) -> float:
    """Give the time between two readings by the clock [h]."""
    return (after.taken_at - before.taken_at).total_seconds() / SECONDS_PER_HOUR


def _against_clock(elapsed_h: float, expected: Interval | None, slip: tuple[Fix, ...]) -> list[Complaint]:
    if expected is None or expected.low <= elapsed_h <= expected.high:
        return []
    apart = said_hours(abs(elapsed_h - expected.value))
    sentence = f"The meter counted {apart} more than the clock says. Is the time of reading or a digit wrong?"
    if elapsed_h < expected.value:
        sentence = f"The meter counted {apart} less than the clock says. A power cut, a wrong time or digit?"
    return [Complaint("elapsed_h", "hours_against_clock", Weight.WARNS, sentence, slip)]


def is_far(value: float, expected: Interval, step: float) -> bool:
    """Tell whether a counter lies so far from what was expected that it deserves a question."""
    above = FAR * (expected.high - expected.value) + 2.0 * step
    below = FAR * (expected.value - expected.low) + 2.0 * step
    return value > expected.value + above or value < expected.value - below


def _stops(field: str, code: str, sentence: str, fixes: tuple[Fix, ...] = ()) -> Complaint:
    return Complaint(field, code, Weight.STOPS, sentence, fixes)

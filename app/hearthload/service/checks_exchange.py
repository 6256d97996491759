"""Checks whether counter and hours were typed into each other's fields, or watts into the counter's."""

from __future__ import annotations

from dataclasses import replace

from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.service.checks_case import Case, hours_by_clock
from hearthload.service.checks_counters import energy_complaints, is_far
from hearthload.service.checks_power import power_complaints

EXCHANGE = Fix("Exchange the two", FixAction.EXCHANGE)
"""The one fix for numbers in each other's fields."""

TO_WATTS = Fix("Put it into Watts", FixAction.TO_WATTS)
"""The one fix for watts in the counter's field."""

_LEAST_W = 10.0
_NEAR = 0.2
"""Watts at one moment of the same part of an appliance are held alike within this share."""

TYPED_AS = "Were the kWh and the hours typed into each other's fields?"


def exchange_complaint(case: Case) -> Complaint | None:
    """Ask whether counter and hours were exchanged: they do not fit as they stand, and fit the other way.

    It stops the reading when the counters could not stand so, else it is a question.
    """
    energy, elapsed = case.draft.energy_kwh, case.draft.elapsed_h
    if elapsed is None or energy == elapsed:
        return None
    found = [*energy_complaints(case), *power_complaints(case)]
    before, _ = case.neighbours_with_hours()
    hours = hours_by_clock(before, case.draft, case.elapsed_step_h)
    odd_hours = hours is not None and not hours.low <= elapsed <= hours.high
    if not odd_hours or not _fits_exchanged(case, hours):
        return None
    stops = any(complaint.weight is Weight.STOPS for complaint in found) or _fell(case, elapsed)
    weight = Weight.STOPS if stops else Weight.WARNS
    return Complaint("energy_kwh", "exchanged", weight, TYPED_AS, (EXCHANGE, *case.restarts))


def watts_complaint(case: Case) -> Complaint | None:
    """Ask whether the display showed watts: the number is whole, far too much, and near the known watts."""
    energy = case.draft.energy_kwh
    if energy != int(energy) or energy < _LEAST_W or case.draft.power_w is not None:
        return None
    found = [*energy_complaints(case), *power_complaints(case)]
    if not found or any(complaint.fixes and complaint.fixes[0].value is not None for complaint in found):
        return None
    known = [spot.power_w for spot in case.record.readings if spot.power_w is not None]
    stated = (case.appliance.running_w, case.appliance.nameplate_w)
    known += [power_w for power_w in stated if power_w is not None]
    near = any(abs(energy - power_w) <= _NEAR * power_w for power_w in known)
    above = case.expected is not None and energy > case.expected.high
    if not (near and above):
        return None
    weight = Weight.STOPS if any(each.weight is Weight.STOPS for each in found) else Weight.WARNS
    sentence = (
        f"{energy:.0f} is near its watts and far above the kWh to be expected. Is the display on watts?"
    )
    return Complaint("energy_kwh", "watts_in_counter", weight, sentence, (TO_WATTS,))


def _fits_exchanged(case: Case, hours: Interval | None) -> bool:
    energy, elapsed = case.draft.energy_kwh, case.draft.elapsed_h
    if hours is None or elapsed is None or not hours.low <= energy <= hours.high:
        return False
    before = case.place.before
    if before is not None and elapsed < before.energy_kwh:
        return False
    other = replace(case, draft=replace(case.draft, energy_kwh=elapsed, elapsed_h=energy))
    if power_complaints(other):
        return False
    return case.expected is None or not is_far(elapsed, case.expected, case.energy_step_kwh)


def _fell(case: Case, elapsed_h: float) -> bool:
    before, _ = case.neighbours_with_hours()
    return before is not None and before.elapsed_h is not None and elapsed_h < before.elapsed_h

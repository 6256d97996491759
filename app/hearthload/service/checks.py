"""Checks of a typed reading before it is saved: what stops it, what deserves a second look."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from hearthload.domain.appliance import Appliance
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.meter import Meter
from hearthload.domain.reading import ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Weight
from hearthload.service.checks_case import Case
from hearthload.service.checks_counters import (
    elapsed_complaints,
    energy_complaints,
    wrong_time_complaint,
)
from hearthload.service.checks_exchange import exchange_complaint, watts_complaint
from hearthload.service.checks_moment import between_complaints, moment_complaints, order_complaints
from hearthload.service.checks_power import power_complaints
from hearthload.service.checks_values import value_complaints
from hearthload.service.placing import place_of

ZERO_HOURS = 0.25
"""A meter just set to zero has counted no more than this when it is read [h]."""


def check_reading(
    record: MeasurementRecord,
    meter: Meter | None,
    appliance: Appliance,
    draft: ReadingDraft,
    now: datetime,
    *,
    ignoring: int | None = None,
    expected: Interval | None = None,
    or_expected: Interval | None = None,
    household: Household | None = None,
) -> tuple[Complaint, ...]:
    """Say what speaks against a reading, what stops it first.

    `ignoring` is the number of the reading that the draft corrects. `expected` is the range in which the
    energy counter is expected at the draft's moment, `or_expected` that if a reading in doubt is right.
    """
    values = value_complaints(draft)
    moment = moment_complaints(draft.taken_at, now)
    if moment or any(complaint.field in {"energy_kwh", "elapsed_h"} for complaint in values):
        return _in_order([*moment, *values])
    place = place_of(record, draft.taken_at, ignoring=ignoring)
    order = order_complaints(record, place, draft.taken_at, now)
    if order:
        return _in_order([*order, *values])
    case = Case(
        record=record,
        place=place,
        draft=draft,
        meter=meter,
        appliance=appliance,
        household=household or Household(),
        expected=expected,
        correcting=ignoring is not None,
        now=now,
        or_expected=or_expected,
    )
    return _in_order([*_fitting(case), *values])


def check_first_reading(draft: ReadingDraft, now: datetime, *, exact_zero: bool) -> tuple[Complaint, ...]:
    """Say what speaks against the first reading of a run."""
    complaints = [*moment_complaints(draft.taken_at, now), *value_complaints(draft)]
    if exact_zero and draft.energy_kwh != 0.0:
        sentence = "After setting the meter to zero the first reading is 0 kWh."
        complaints.append(Complaint("energy_kwh", "not_zero", Weight.STOPS, sentence))
    if exact_zero and draft.elapsed_h is not None and draft.elapsed_h > ZERO_HOURS:
        sentence = "After setting the meter to zero its hours start at 0 too: is it reset in full?"
        complaints.append(Complaint("elapsed_h", "hours_not_zero", Weight.WARNS, sentence))
    return _in_order(complaints)


def _fitting(case: Case) -> list[Complaint]:
    """Say what speaks against a reading among its neighbours."""
    one = exchange_complaint(case) or watts_complaint(case)
    if one is not None:
        return [*between_complaints(case.place, case.now, fits=one.weight is not Weight.STOPS), one]
    counters = _said_once([*energy_complaints(case), *elapsed_complaints(case)])
    stopped = any(complaint.weight is Weight.STOPS for complaint in counters)
    if not stopped:
        between = between_complaints(case.place, case.now, fits=True)
        return [*between, *_without_echo([*counters, *power_complaints(case)])]
    if case.correcting:
        return counters
    wrong_time = wrong_time_complaint(case)
    if wrong_time is not None:
        return [wrong_time]
    return [*between_complaints(case.place, case.now, fits=False), *counters]


def _said_once(found: list[Complaint]) -> list[Complaint]:
    """Say a reset once: where both counters fell, and neither by a slip, the energy speaks for the hours."""
    codes = {complaint.code for complaint in found}
    if not {"energy_fell", "hours_fell"} <= codes:
        return found
    kept = []
    for complaint in found:
        slips = tuple(fix for fix in complaint.fixes if fix.value is not None)
        if complaint.code != "hours_fell":
            kept.append(complaint)
        elif slips:
            kept.append(replace(complaint, fixes=slips))
    return kept


def _without_echo(found: list[Complaint]) -> list[Complaint]:
    """Leave out "unexpected" where watts say so more plainly; it says more than the bounds of a kind do."""
    about_kwh = {complaint.code for complaint in found if complaint.field == "energy_kwh"}
    if len(about_kwh) < 2:
        return found
    echo = "much_for_kind" if about_kwh == {"unexpected", "much_for_kind"} else "unexpected"
    return [complaint for complaint in found if complaint.code != echo]


def _in_order(complaints: list[Complaint]) -> tuple[Complaint, ...]:
    return tuple(sorted(complaints, key=lambda complaint: complaint.weight is not Weight.STOPS))

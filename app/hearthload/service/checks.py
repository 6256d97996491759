"""Checks of a typed reading before it is saved: what stops it, what deserves a second look."""

from __future__ import annotations

from datetime import datetime

from hearthload.domain.appliance import Appliance
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.meter import Meter
from hearthload.domain.reading import ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Weight
from hearthload.service.checks_case import Case
from hearthload.service.checks_counters import elapsed_complaints, energy_complaints
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
    household: Household | None = None,
) -> tuple[Complaint, ...]:
    """Say what speaks against a reading, what stops it first.

    `ignoring` is the number of the reading that the draft corrects. `expected` is the range in which the
    energy counter is expected at the draft's moment.
    """
    values = value_complaints(draft)
    moment = moment_complaints(draft.taken_at, now)
    if moment or any(complaint.field in {"energy_kwh", "elapsed_h"} for complaint in values):
        return _in_order([*moment, *values])
    place = place_of(record, draft.taken_at, ignoring=ignoring)
    order = order_complaints(record, place, draft.taken_at)
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
    exchanged = exchange_complaint(case)
    if exchanged is not None:
        return [*between_complaints(case.place, fits=exchanged.weight is not Weight.STOPS), exchanged]
    watts = watts_complaint(case)
    if watts is not None:
        return [*between_complaints(case.place, fits=watts.weight is not Weight.STOPS), watts]
    counters = [*energy_complaints(case), *elapsed_complaints(case)]
    stopped = any(complaint.weight is Weight.STOPS for complaint in counters)
    between = between_complaints(case.place, fits=not stopped)
    if stopped:
        return [*between, *counters]
    return [*between, *_without_echo([*counters, *power_complaints(case)])]


def _without_echo(found: list[Complaint]) -> list[Complaint]:
    """Leave out "unexpected" where watts say so more plainly; it says more than the bounds of a kind do."""
    about_kwh = {complaint.code for complaint in found if complaint.field == "energy_kwh"}
    if len(about_kwh) < 2:
        return found
    echo = "much_for_kind" if about_kwh == {"unexpected", "much_for_kind"} else "unexpected"
    return [complaint for complaint in found if complaint.code != echo]


def _in_order(complaints: list[Complaint]) -> tuple[Complaint, ...]:
    return tuple(sorted(complaints, key=lambda complaint: complaint.weight is not Weight.STOPS))

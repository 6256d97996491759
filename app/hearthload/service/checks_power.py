"""Checks of watts: what flowed on average against what the way to the appliance carries."""

from __future__ import annotations

from hearthload.domain.figures import format_watts
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.plausible import (
    ABOVE_HIGHEST,
    ABOVE_NAMEPLATE,
    ABOVE_RUNNING,
    LEAST_H_FOR_RUNNING,
    most_of_kind_kwh,
)
from hearthload.service.answers import Complaint, Weight
from hearthload.service.checks_case import Case, clock_hours
from hearthload.service.checks_counters import energy_slip
from hearthload.service.ratings import Rating, lowest_rating

IMPOSSIBLE = 1.25
"""Beyond this share of a rating an average is not believed: a breaker holds 1.13 of its current and must
trip within the hour at 1.45 (IEC 60898-1)."""


def power_complaints(case: Case) -> list[Complaint]:
    """Say where average or spot watts pass what the weakest part carries, or the highest watts seen."""
    rating = lowest_rating(case.meter, case.appliance, case.household)
    average = max(
        _least_average_w(case.place.before, case.draft, case.energy_step_kwh),
        _least_average_w(case.draft, case.place.after, case.energy_step_kwh),
    )
    found = (
        _against_rating(average, rating, case) or _against_appliance(average, case),
        _spot(case.draft.power_w, rating),
    )
    return [complaint for complaint in found if complaint is not None]


def _least_average_w(
    before: Reading | ReadingDraft | None, after: Reading | ReadingDraft | None, step_kwh: float
) -> float:
    """Give the least average that two readings allow: P = 1000·(d - q)/T [W], d [kWh] known to a step q.

    T [h] is the longer of clock and meter hours: a wrong time is another complaint than a wrong energy.
    """
    if before is None or after is None:
        return 0.0
    hours = clock_hours(before.taken_at, after.taken_at)
    if before.elapsed_h is not None and after.elapsed_h is not None:
        hours = max(hours, after.elapsed_h - before.elapsed_h)
    gained = after.energy_kwh - before.energy_kwh - step_kwh
    return WATTS_PER_KILOWATT * gained / hours if hours > 0.0 else 0.0


def _against_rating(average_w: float, rating: Rating, case: Case) -> Complaint | None:
    if average_w <= rating.power_w:
        return None
    carries = f"{rating.part} carries {format_watts(rating.power_w)}"
    check = "Check the decimal mark and the time."
    sentence = f"That would be {format_watts(average_w)} on average, and {carries}. {check}"
    if average_w > IMPOSSIBLE * rating.power_w:
        return Complaint("energy_kwh", "impossible_power", Weight.STOPS, sentence, energy_slip(case))
    return Complaint("energy_kwh", "above_rating", Weight.WARNS, sentence, energy_slip(case))


def _against_appliance(average_w: float, case: Case) -> Complaint | None:
    """Say where the average passes what the appliance itself can take, as it is stated or was seen."""
    appliance = case.appliance
    peaks = [reading.highest_power_w for reading in case.record.readings]
    highest = max((peak for peak in (*peaks, case.draft.highest_power_w) if peak is not None), default=None)
    hours = _span_hours(case)
    running = appliance.running_w if hours >= LEAST_H_FOR_RUNNING else None
    most_w = WATTS_PER_KILOWATT * most_of_kind_kwh(appliance.kind, hours / HOURS_PER_DAY) / max(hours, 1e-9)
    bounds = (
        ("above_nameplate", appliance.nameplate_w, ABOVE_NAMEPLATE, "above its nameplate, "),
        ("above_highest", highest, ABOVE_HIGHEST, "above the highest watts seen, "),
        ("above_running", running, ABOVE_RUNNING, "above its watts while running, "),
        ("much_for_kind", most_w, 1.0, "far more than an appliance of its kind takes"),
    )
    for code, limit_w, margin, words in bounds:
        if limit_w is not None and average_w > margin * limit_w:
            seen = "" if code == "much_for_kind" else format_watts(limit_w)
            sentence = f"That would be {format_watts(average_w)} on average, {words}{seen}."
            slip = energy_slip(case, most_kwh=margin * limit_w * hours / WATTS_PER_KILOWATT)
            return Complaint("energy_kwh", code, Weight.WARNS, sentence, slip)
    return None


def _span_hours(case: Case) -> float:
    """Give the hours since the reading before [h], until the next one where there is none before."""
    before, after = case.place.before, case.place.after
    if before is not None:
        return clock_hours(before.taken_at, case.draft.taken_at)
    return 0.0 if after is None else clock_hours(case.draft.taken_at, after.taken_at)


def _spot(power_w: float | None, rating: Rating) -> Complaint | None:
    if power_w is None or power_w <= rating.power_w:
        return None
    sentence = (
        f"{format_watts(power_w)} is more than {rating.part} carries, {format_watts(rating.power_w)}. If it "
        "is true, unplug it: never load a meter or a plug beyond the rating marked on it."
    )
    return Complaint("power_w", "watts_above_rating", Weight.WARNS, sentence)

"""Checks of watts: what flowed on average against what the way to the appliance carries."""

from __future__ import annotations

from hearthload.domain.figures import format_watts
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.units import WATTS_PER_KILOWATT
from hearthload.service.answers import Complaint, Weight
from hearthload.service.checks_case import Case
from hearthload.service.checks_counters import clock_hours, energy_slip
from hearthload.service.ratings import Rating, lowest_rating

IMPOSSIBLE = 1.25
"""Beyond this share of a rating an average is not believed: a breaker holds 1.13 of its current and must
trip within the hour at 1.45 (IEC 60898-1)."""

ABOVE_HIGHEST = 1.15
"""An average does not pass the highest watts seen by more than the meter's errors of both."""


def power_complaints(case: Case) -> list[Complaint]:
    """Say where average or spot watts pass what the weakest part carries, or the highest watts seen."""
    rating = lowest_rating(case.meter, case.appliance, case.household)
    average = max(
        _least_average_w(case.place.before, case.draft, case.energy_step_kwh),
        _least_average_w(case.draft, case.place.after, case.energy_step_kwh),
    )
    found = (
        _against_rating(average, rating, case) or _against_highest(average, case),
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
    hours = clock_hours(before, after)
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


def _against_highest(average_w: float, case: Case) -> Complaint | None:
    peaks = [reading.highest_power_w for reading in case.record.readings]
    highest = max((peak for peak in (*peaks, case.draft.highest_power_w) if peak is not None), default=None)
    if highest is None or average_w <= ABOVE_HIGHEST * highest:
        return None
    seen = f"the highest watts seen, {format_watts(highest)}"
    sentence = f"That would be {format_watts(average_w)} on average, above {seen}."
    return Complaint("energy_kwh", "above_highest", Weight.WARNS, sentence, energy_slip(case))


def _spot(power_w: float | None, rating: Rating) -> Complaint | None:
    if power_w is None or power_w <= rating.power_w:
        return None
    sentence = (
        f"{format_watts(power_w)} is more than {rating.part} carries, {format_watts(rating.power_w)}. If it "
        "is true, unplug it: never load a meter or a plug beyond the rating marked on it."
    )
    return Complaint("power_w", "watts_above_rating", Weight.WARNS, sentence)

"""Was the reading before the slip? Then the one typed now is right, and that one is put right first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.estimate.slips import hours_slip, slip_into
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.service.checks_case import hours_by_clock
from hearthload.service.checks_counters import is_far
from hearthload.service.slips import energy_text, hours_text

Expecting = Callable[[datetime], Interval | None]

_ABOUT_KWH = frozenset(
    {
        "energy_fell",
        "unexpected",
        "impossible_power",
        "above_rating",
        "above_nameplate",
        "above_highest",
        "above_running",
        "much_for_kind",
    }
)
_ABOUT_HOURS = frozenset({"hours_fell", "hours_against_clock"})
_WAS_THE_SLIP = "The reading before was the slip: make it"


@dataclass(frozen=True, slots=True)
class Before:
    """The reading before a draft and the one before that; `expecting` foresees the counter without it."""

    reading: Reading
    earlier: Reading | None
    expecting: Expecting
    energy_step_kwh: float
    elapsed_step_h: float


def with_before(
    complaints: Sequence[Complaint], draft: ReadingDraft, before: Before
) -> tuple[Complaint, ...]:
    """Offer to put the reading before right, where with that the typed one fits as it stands.

    That goes before all other fixes, and slips of the typed reading are then none.
    """
    told = []
    for complaint in complaints:
        fix = None
        if complaint.code in _ABOUT_KWH and complaint.field == "energy_kwh":
            fix = _energy(draft, before)
        elif complaint.code in _ABOUT_HOURS:
            fix = _hours(draft, before)
        if fix is not None:
            others = [each for each in complaint.fixes if each.action is not FixAction.SET_VALUE]
            complaint = replace(complaint, fixes=(fix, *others))  # noqa: PLW2901 (the same one, with its fix)
        told.append(complaint)
    return tuple(told)


def may_concern_before(complaints: Sequence[Complaint]) -> bool:
    """Tell whether something is said that a slip in the reading before would explain."""
    return any(complaint.code in _ABOUT_KWH | _ABOUT_HOURS for complaint in complaints)


def _energy(draft: ReadingDraft, before: Before) -> Fix | None:
    reading, step = before.reading, before.energy_step_kwh
    there, here = before.expecting(reading.taken_at), before.expecting(draft.taken_at)
    if there is None or here is None or is_far(draft.energy_kwh, here, step):
        return None
    most = min(there.high, draft.energy_kwh)
    meant = slip_into(reading.energy_kwh, there.low, most, step, one_digit=True).energy_kwh
    if meant is None or (before.earlier is not None and meant < before.earlier.energy_kwh):
        return None
    label = f"{_WAS_THE_SLIP} {energy_text(meant, step)} kWh"
    return Fix(label, FixAction.SET_BEFORE, meant, reading_id=reading.id)


def _hours(draft: ReadingDraft, before: Before) -> Fix | None:
    """Find the hours before that agree with the clock both from the reading before them and to the draft."""
    reading, earlier = before.reading, before.earlier
    if reading.elapsed_h is None or draft.elapsed_h is None:
        return None
    gap_h = (draft.taken_at - reading.taken_at).total_seconds() / 3600.0
    back = hours_by_clock(replace(reading, elapsed_h=0.0), draft, before.elapsed_step_h)
    if back is None:
        return None
    low, high = draft.elapsed_h - back.high, draft.elapsed_h - max(gap_h - (back.high - back.value), 0.0)
    on = None if earlier is None else hours_by_clock(earlier, reading, before.elapsed_step_h)
    if on is not None:
        low, high = max(low, on.low), min(high, on.high)
    meant = hours_slip(reading.elapsed_h, max(low, 0.0), high) if low <= high else None
    if meant is None:
        return None
    label = f"{_WAS_THE_SLIP} {hours_text(meant)}"
    return Fix(label, FixAction.SET_BEFORE, meant, reading_id=reading.id)


def ran_on_complaint(before: Reading | None, draft: ReadingDraft, step_h: float) -> Complaint | None:
    """Ask back where somebody says that the meter was reset and its hours ran on by the clock."""
    agreeing = hours_by_clock(before, draft, step_h)
    if agreeing is None or draft.elapsed_h is None or not agreeing.low <= draft.elapsed_h <= agreeing.high:
        return None
    sentence = (
        "The hours ran on by the clock, so this meter was not reset. Is a digit or the decimal mark wrong?"
    )
    return Complaint("elapsed_h", "hours_ran_on", Weight.WARNS, sentence)

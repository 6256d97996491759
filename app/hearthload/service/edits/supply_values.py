"""What is typed about supplies made fit to keep, or refused in a clear sentence."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.edits.refusing import MAXIMUM_V, MAXIMUM_W, MINIMUM_V, refuse_unknown_plug
from hearthload.service.tidy import refuse_outside, refuse_unless_positive, tidy_name, tidy_note

# Field, what it is called in a sentence, the most that it may be, its unit: all more than nought.
_POSITIVE = (
    ("outlet_a", "The current of an outlet", 200.0, "A"),
    ("continuous_w", "The continuous power", MAXIMUM_W, "W"),
    ("continuous_va", "The continuous apparent power", MAXIMUM_W, "VA"),
    ("start_w", "The starting power", MAXIMUM_W, "W"),
    ("start_va", "The starting apparent power", MAXIMUM_W, "VA"),
    ("start_s", "The time that the starting power lasts", 3600.0, "s"),
    ("stored_wh", "The stored energy", 500_000.0, "Wh"),
    ("battery_v", "The battery's voltage", 1000.0, "V"),
    ("battery_limit_a", "The battery's highest current", 5000.0, "A"),
    ("tank_l", "The tank", 2000.0, "litres"),
    ("half_load_l_h", "The fuel at half load", 100.0, "litres an hour"),
    ("full_load_l_h", "The fuel at full load", 100.0, "litres an hour"),
    ("array_w", "The array's power", MAXIMUM_W, "W"),
)

# The same with the least that it may be: nought is "none at all", as with no charging from panels.
_BETWEEN = (
    ("voltage_v", "The voltage", MINIMUM_V, MAXIMUM_V, "V"),
    ("frequency_hz", "The frequency", 40.0, 70.0, "Hz"),
    ("outlets", "The number of outlets", 1.0, 100.0, ""),
    ("idle_w", "The draw with nothing on", 0.0, 1000.0, "W"),
    ("charge_w", "The charging power from the wall", 0.0, MAXIMUM_W, "W"),
    ("solar_w", "The charging power from panels", 0.0, MAXIMUM_W, "W"),
    ("tilt_deg", "The tilt", 0.0, 90.0, "° (0 lies flat)"),
    ("azimuth_deg", "The direction", 0.0, 360.0, "° (180 is south)"),
)

# What may not be below what, and why: none of these can be right the other way round.
_IN_ORDER = (
    ("continuous_w", "start_w", "The starting power must not be below the continuous power."),
    ("continuous_va", "start_va", "The starting apparent power must not be below the continuous one."),
    ("continuous_w", "continuous_va", "The volt-amperes must not be below the watts."),
    ("start_w", "start_va", "The volt-amperes must not be below the watts."),
    ("idle_w", "continuous_w", "The continuous power must not be below the draw with nothing on."),
    ("half_load_l_h", "full_load_l_h", "The fuel at full load must not be below that at half load."),
)


def tidied_supply(draft: SupplyDraft) -> SupplyDraft:
    """Give a supply's draft fit to keep; who its members are is not looked at."""
    refuse_unknown_plug(draft.plug)
    for field, what, most, unit in _POSITIVE:
        refuse_unless_positive(getattr(draft, field), field, what, most=most, unit=unit)
    for field, what, low, high, unit in _BETWEEN:
        refuse_outside(getattr(draft, field), field, what, low=low, high=high, unit=unit)
    for smaller, larger, sentence in _IN_ORDER:
        below, above = getattr(draft, smaller), getattr(draft, larger)
        if below is not None and above is not None and above < below:
            raise RefusedError(sentence, field=larger, code="turned_round")
    return replace(draft, name=tidy_name(draft.name, "supply"), note=tidy_note(draft.note))


def refuse_odd_count(draft: SupplyDraft) -> None:
    """Refuse members of what is no combination, and a combination of fewer than two or of one twice."""
    if draft.kind is not SupplyKind.COMBINATION:
        if draft.members:
            raise member_refusal("Only a combination is made of other supplies.", "not_a_combination")
        return
    if len(draft.members) < 2:
        raise member_refusal("Choose at least two supplies for the combination.", "too_few_members")
    if len(set(draft.members)) < len(draft.members):
        raise member_refusal("Choose each supply of the combination once only.", "member_twice")


def refuse_odd_members(draft: SupplyDraft, supplies: Mapping[int, Supply]) -> None:
    """Refuse members that are not there, or are combinations themselves."""
    for member_id in draft.members:
        member = supplies.get(member_id)
        if member is None:
            raise member_refusal(f"There is no supply number {member_id} in this logbook.", "unknown_supply")
        if member.kind is SupplyKind.COMBINATION:
            sentence = f"“{member.name}” is a combination itself. Choose what it is made of instead."
            raise member_refusal(sentence, "member_is_combination")


def member_refusal(sentence: str, code: str) -> RefusedError:
    """Make the refusal of a combination's members."""
    return RefusedError(sentence, field="members", code=code)

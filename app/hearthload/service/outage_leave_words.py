"""What to leave off, in words: what stays on, why the rest does not, and in which order to switch off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.outage.answers import Outcome
from hearthload.outage.shed import Breach, LeaveOff, LeftOff
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_limit_words import by_words, quantity_pair
from hearthload.service.outage_verdict_words import interval_words, missing_of, plan_hours
from hearthload.service.outage_words import LIMIT_WORDS

STAYS = "Stays on; as energy runs down, switch off in this order"
COULD = "It could carry; as energy runs down, switch off in this order"
NEAREST = "Nearest to what it can carry"
NOT_ALL = "It cannot carry all the essentials"
NONE_OF_THEM = "It could carry none of them."
BASIS = (
    "What loads take is said here as their own energy and power, before inverter losses and margins, unlike "
    "the figures of the limits."
)
NOT_PLACED = "its watts or its energy are not known, so it cannot be placed"
ROLE_WORDS = {Role.ESSENTIAL: "essential", Role.WANTED: "wanted", Role.OFF: "off"}


@dataclass(frozen=True, slots=True)
class LoadName:
    """A row of the plan as it is named here: its name with how many, its role."""

    name: str
    role: Role


@dataclass(frozen=True, slots=True)
class LeaveOffWords:
    """All that is said: sentences, pairs of load and reason, pairs of load and role in the order of shedding.

    `heading` says what those last are: loads that stay on, or that it could carry.
    """

    sentences: tuple[str, ...]
    left_off: tuple[tuple[str, str], ...] = ()
    shed_order: tuple[tuple[str, str], ...] = ()
    heading: str = STAYS

    @property
    def stays(self) -> bool:
        """Tell whether the last ones stay on; what it could carry is said before what is left off."""
        return self.heading == STAYS


def leave_off_words(answer: SupplyAnswer, plan: Plan, loads: Sequence[LoadName]) -> LeaveOffWords:
    """Say what to leave off so that it lasts; or that it cannot carry even the essential loads."""
    found = answer.leave_off
    if found is None:
        return LeaveOffWords((_nothing_to_say(answer),))
    order = tuple((loads[index].name, ROLE_WORDS[loads[index].role]) for index in found.shed_order)
    if found.essentials_break:
        left = tuple((loads[each.index].name, _beside(each, loads)) for each in found.left_off)
        return LeaveOffWords(tuple(_not_all(answer, found, plan)), left, order, _heading(answer, COULD))
    left = tuple((loads[each.index].name, _too_much(each)) for each in found.left_off)
    basis = [BASIS] if any(each.breaches for each in found.left_off) else []
    return LeaveOffWords((*_lead(answer, plan), *basis), left, order, _heading(answer, STAYS))


def _not_all(answer: SupplyAnswer, found: LeaveOff, plan: Plan) -> list[str]:
    """Say which limits the essential loads pass together, and what comes of the rest."""
    said = [f"{NOT_ALL}: {'; '.join(map(_needed, found.essentials_break))}.", BASIS]
    kept = answer.kept_verdict
    if not found.kept:
        return [*said, NONE_OF_THEM]
    if kept is None:
        return said
    if kept.outcome is Outcome.CARRIES:
        return [*said, f"What it could carry lasts all {plan_hours(plan)}."]
    if kept.outcome is Outcome.FALLS_SHORT:
        names = ", ".join(dict.fromkeys(_short_names(answer)))
        return [*said, f"Even the nearest to it falls short: {names}."]
    return [*said, f"Still to look up: {'; '.join(missing_of(kept.limits))}."]


def _heading(answer: SupplyAnswer, words: str) -> str:
    """Give these words only where the verdict on what is kept does not say that it falls short."""
    kept = answer.kept_verdict
    return NEAREST if kept is not None and kept.outcome is Outcome.FALLS_SHORT else words


def _beside(left: LeftOff, loads: Sequence[LoadName]) -> str:
    """Give the role of what is left off beside essential loads that do not fit; of an essential one, why."""
    role = loads[left.index].role
    if role is Role.ESSENTIAL and (left.breaches or left.not_known):
        return f"{ROLE_WORDS[role]}; {_too_much(left)}"
    return ROLE_WORDS[role]


def _too_much(left: LeftOff) -> str:
    return NOT_PLACED if left.not_known else f"too much: {_breaches(left.breaches)}"


def _nothing_to_say(answer: SupplyAnswer) -> str:
    match answer.verdict.outcome:
        case Outcome.CARRIES:
            return "It carries everything in the plan: nothing needs to be left off."
        case Outcome.FALLS_SHORT:
            return "Leaving loads off does not help here: what it falls short of stays as it is."
        case Outcome.NOT_KNOWN:
            wanted = "; ".join(missing_of(answer.verdict.limits))
            tail = f" Still to look up: {wanted}." if wanted else ""
            return f"What to leave off can be said once the verdict is known.{tail}"


def _lead(answer: SupplyAnswer, plan: Plan) -> list[str]:
    """Say what comes of leaving off what is named below."""
    kept, left = answer.kept_verdict, answer.leave_off
    if left is None or not left.kept:
        return []
    if not left.left_off:
        return ["Every load can stay on; below is the order in which to switch off as energy runs down."]
    start = "With the loads named below left off, "
    if kept is None:
        return [f"{start}the rest fits."]
    hours = interval_words(kept.hours)
    lasts = f"; its energy lasts {hours}" if hours else ""
    match kept.outcome:
        case Outcome.CARRIES:
            return [f"{start}it carries the rest for all {plan_hours(plan)}{lasts}."]
        case Outcome.FALLS_SHORT:
            names = ", ".join(dict.fromkeys(_short_names(answer)))
            return [f"{start}it still falls short of the rest: {names}{lasts}."]
        case Outcome.NOT_KNOWN:
            wanted = "; ".join(missing_of(kept.limits))
            return [f"{start}energy and power are enough{lasts}. Still to look up: {wanted}."]


def _short_names(answer: SupplyAnswer) -> list[str]:
    """Name the limits that what is kept still falls short of."""
    limits = () if answer.kept_verdict is None else answer.kept_verdict.limits
    return [LIMIT_WORDS[each.code] for each in limits if each.counts and each.outcome is Outcome.FALLS_SHORT]


def _needed(breach: Breach) -> str:
    wants, has = quantity_pair(breach.needed, breach.offered, breach.unit)
    return f"{LIMIT_WORDS[breach.code]}, {wants} needed, {has} can be carried"


def _breaches(breaches: Sequence[Breach]) -> str:
    return "; ".join(f"{LIMIT_WORDS[each.code]} by {by_words(each.over, each.unit)}" for each in breaches)

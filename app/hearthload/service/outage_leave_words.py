"""What to leave off, in words: what stays on, why the rest does not, and in which order to switch off."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.outage.answers import LimitCode, Outcome
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.window.equipment.limit_words import LIMIT_WORDS, by_words, quantity_pair
from hearthload.window.equipment.verdict_words import interval_words, missing_of, plan_hours

if TYPE_CHECKING:
    from collections.abc import Sequence

NOT_PLACED = "its watts or its energy are not known, so it cannot be placed"
_ROLES = {Role.ESSENTIAL: "essential", Role.WANTED: "wanted", Role.OFF: "off"}


class Broken(Protocol):
    """A limit that would be passed: what is needed, what there is, in `unit`."""

    @property
    def code(self) -> LimitCode: ...  # noqa: D102
    @property
    def needed(self) -> float: ...  # noqa: D102
    @property
    def offered(self) -> float: ...  # noqa: D102
    @property
    def unit(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class LoadName:
    """A row of the plan as it is named here: its name with how many, its role."""

    name: str
    role: Role


@dataclass(frozen=True, slots=True)
class LeaveOffWords:
    """All that is said: sentences first, pairs of load and reason, pairs of load and role in shed order."""

    sentences: tuple[str, ...]
    left_off: tuple[tuple[str, str], ...]
    shed_order: tuple[tuple[str, str], ...]


def leave_off_words(answer: SupplyAnswer, plan: Plan, loads: Sequence[LoadName]) -> LeaveOffWords:
    """Say what to leave off so that it lasts."""
    found = answer.leave_off
    if found is None:
        return LeaveOffWords((_nothing_to_say(answer),), (), ())
    essentials = _essentials(found.essentials_break)
    sentences = [*([essentials] if essentials else []), *_lead(answer, plan)]
    left = tuple(
        (loads[each.index].name, NOT_PLACED if each.not_known else f"too much: {_breaches(each.breaches)}")
        for each in found.left_off
    )
    order = tuple((loads[index].name, _ROLES[loads[index].role]) for index in found.shed_order)
    return LeaveOffWords(tuple(sentences), left, order)


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
    if left is None or not left.kept or left.essentials_break:
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
            short = [limit for limit in kept.limits if limit.counts and limit.outcome is Outcome.FALLS_SHORT]
            names = ", ".join(dict.fromkeys(LIMIT_WORDS[limit.code] for limit in short))
            return [f"{start}it still falls short of the rest: {names}{lasts}."]
        case Outcome.NOT_KNOWN:
            wanted = "; ".join(missing_of(kept.limits))
            return [f"{start}energy and power are enough{lasts}. Still to look up: {wanted}."]


def _essentials(breaches: Sequence[Broken]) -> str:
    if not breaches:
        return ""
    return f"The essential loads alone are too much for it: {'; '.join(map(_needed, breaches))}."


def _needed(breach: Broken) -> str:
    wants, has = quantity_pair(breach.needed, breach.offered, breach.unit)
    return f"{LIMIT_WORDS[breach.code]}, {wants} needed, {has} offered"


def _breaches(breaches: Sequence[Broken]) -> str:
    return "; ".join(
        f"{LIMIT_WORDS[each.code]} by {by_words(each.needed - each.offered, each.unit)}" for each in breaches
    )

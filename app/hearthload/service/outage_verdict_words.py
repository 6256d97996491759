"""A verdict in words: whether a supply carries the plan, for how long, and what fails first."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.domain.figures import DASH, format_days, format_decimals, format_percent, format_range
from hearthload.domain.plan import Plan
from hearthload.domain.supply import SupplyKind
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.outage.answers import Limit, LimitCode, Outcome, Verdict
from hearthload.outage.steps import Figure
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_limit_words import DOES_NOTHING, short_words
from hearthload.service.outage_words import LIMIT_WORDS

CANNOT_RUN, CANNOT_START = "cannot run it", "cannot start it"
_POWER = frozenset(
    {
        LimitCode.RUNNING_W,
        LimitCode.RUNNING_VA,
        LimitCode.START_VA,
        LimitCode.BATTERY_CURRENT,
        LimitCode.OUTLET_CURRENT,
        LimitCode.VOLTAGE,
        LimitCode.FREQUENCY,
    }
)
"""Limits that stop a supply at once, however much energy there is."""


def plan_words(plan: Plan) -> str:
    """Name a plan with its length, "Winter storm, 3 days"."""
    return f"{plan.name}, {format_days(plan.days)}"


def plan_hours(plan: Plan) -> str:
    """Say a plan's length in hours, "72 h"."""
    hours = _plan_h(plan)
    return f"{format_decimals(hours, 0 if hours >= 9.95 else 1).removesuffix('.0')} h"


def verdict_sentence(answer: SupplyAnswer, plan: Plan) -> str:
    """Say the verdict in a sentence."""
    verdict = answer.verdict
    match verdict.outcome:
        case Outcome.CARRIES:
            fuel = ", as long as there is fuel" if has_generator(answer) else ""
            return f"Carries the plan's loads for all {plan_hours(plan)}{fuel}."
        case Outcome.FALLS_SHORT:
            return _short_sentence(verdict)
        case Outcome.NOT_KNOWN:
            wanted = missing_of(verdict.limits)
            return f"Not known. Still to look up: {'; '.join(wanted)}." if wanted else "Not known."


def trips_words(verdict: Verdict) -> str:
    """Say that a supply cannot run the loads, or start them, at all; empty where its power is enough."""
    short = {limit.code for limit in _short(verdict)} & _POWER
    if not short:
        return ""
    return CANNOT_START if short == {LimitCode.START_VA} else CANNOT_RUN


def hours_sentence(answer: SupplyAnswer, plan: Plan) -> str:
    """Say how long the energy lasts, empty where that is not known or not limited."""
    hours = answer.verdict.hours
    if hours is None:
        return ""
    least = "" if hours.low is None or hours.high is not None else f", at least {_whole(hours.low)} h"
    ends = ""
    if hours.low is not None and hours.high is not None:
        ends = f" ({format_range(hours.low, hours.high)} h)"
    verb = "would last" if trips_words(answer.verdict) else "lasts"
    lasts = f"{verb} {_whole(hours.value)} h{ends}{least} with the plan's loads."
    alone = "Its battery alone, with nothing charging it," if len(answer.members) > 1 else "Its energy"
    return f"{alone} {lasts}{_why_short(answer.verdict, hours, plan)}"


def _why_short(verdict: Verdict, hours: Figure, plan: Plan) -> str:
    """Say why energy falls short that is expected to last longer than the plan; else nothing."""
    if hours.value < _plan_h(plan) or all(limit.code is not LimitCode.ENERGY for limit in _short(verdict)):
        return ""
    return (
        f" That is expected, and longer than the plan's {plan_hours(plan)}; but the verdict asks for energy "
        f"that is enough in {format_percent(plan.confidence)} of such outages."
    )


def hours_words(answer: SupplyAnswer) -> str:
    """Say how long the energy lasts for a cell of the list; no hours where power fails at once."""
    if trips := trips_words(answer.verdict):
        return trips
    hours = answer.verdict.hours
    if hours is not None:
        return f"{_whole(hours.value)} h"
    if any(
        limit.code is LimitCode.ENERGY and limit.outcome is Outcome.NOT_KNOWN for limit in _counting(answer)
    ):
        return "not known"
    fuelled = answer.verdict.outcome is Outcome.CARRIES and has_generator(answer)
    return "with fuel" if fuelled else DASH


def below_hours_words(answer: SupplyAnswer) -> str:
    """Say what stands under the hours: their 95 % ends, of a combination what they are of."""
    if trips_words(answer.verdict):
        return ""
    if answer.verdict.hours is not None and len(answer.members) > 1:
        return "battery alone"
    return interval_words(answer.verdict.hours)


def interval_words(hours: Figure | None) -> str:
    """Say the 95 % ends of hours carried, "26 to 37 h"; the higher may be open."""
    if hours is None or hours.low is None:
        return ""
    if hours.high is None:
        return f"{_whole(hours.low)} h or more"
    return format_range(hours.low, hours.high, "h")


def fails_first_words(verdict: Verdict) -> str:
    """Say what fails first, "starting power"; of what carries, what ends in time."""
    if verdict.fails_first is None:
        return ""
    if verdict.outcome is Outcome.FALLS_SHORT:
        if verdict.fails_first is LimitCode.SUN:
            return "needs a battery"
        return LIMIT_WORDS[verdict.fails_first]
    return f"in time: {LIMIT_WORDS[verdict.fails_first]}"


def missing_of(limits: Sequence[Limit]) -> list[str]:
    """Give what is to be looked up for the limits that count, each once."""
    wanted = (limit for limit in limits if limit.counts and limit.outcome is Outcome.NOT_KNOWN)
    return list(dict.fromkeys(limit.missing for limit in wanted if limit.missing))


def has_generator(answer: SupplyAnswer) -> bool:
    """Tell whether there is an engine in it, which runs as long as it has fuel."""
    return any(member.kind is SupplyKind.GENERATOR for member in answer.members)


def _short_sentence(verdict: Verdict) -> str:
    """Say the limit that falls short by most with its figures, and name the others."""
    short = _short(verdict)
    first = min(short, key=lambda limit: (limit.code is not verdict.fails_first, _margin(limit)))
    if first.code is LimitCode.SUN:
        return f"It {DOES_NOTHING}: it takes {first.missing}."
    others = [LIMIT_WORDS[limit.code] for limit in short if limit is not first]
    also = f"; also {_listed(list(dict.fromkeys(others)))}" if others else ""
    return f"Falls short: {short_words(first)}{also}."


def _short(verdict: Verdict) -> list[Limit]:
    return [limit for limit in verdict.limits if limit.counts and limit.outcome is Outcome.FALLS_SHORT]


def _plan_h(plan: Plan) -> float:
    return HOURS_PER_DAY * plan.days


def _margin(limit: Limit) -> float:
    return -1.0 if limit.margin is None else limit.margin


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _counting(answer: SupplyAnswer) -> list[Limit]:
    return [limit for limit in answer.verdict.limits if limit.counts]


def _whole(hours: float) -> str:
    """Print hours: one decimal below ten, whole above, never more than three digits that count."""
    if hours >= 999.5:
        return format_decimals(hours, -1)
    return format_decimals(hours, 0 if hours >= 9.95 else 1)

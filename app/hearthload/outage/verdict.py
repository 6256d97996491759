"""A supply against a plan, limit by limit; the whole is the worst of the limits that count."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.domain.plan import Plan
from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.outage.answers import Limit, LimitCode, LoadLine, Outcome, Totals, Verdict
from hearthload.outage.facts import Facts
from hearthload.outage.verdict_case import case_of
from hearthload.outage.verdict_energy import energy_limits
from hearthload.outage.verdict_fuel import fuel_limits, sun_limits
from hearthload.outage.verdict_outlets import outlet_limits
from hearthload.outage.verdict_power import power_limits

_WORST_FIRST = (Outcome.FALLS_SHORT, Outcome.NOT_KNOWN, Outcome.CARRIES)


def verdict(
    supplies: Sequence[Supply | SupplyDraft],
    name: str,
    totals: Totals,
    lines: Sequence[LoadLine],
    plan: Plan,
    *,
    facts: Facts,
    mains_v: float,
    mains_hz: float,
) -> Verdict:
    """Judge one supply, or the members of a combination.

    The battery's inverter feeds the loads where there is one, else the generator. Energy of several batteries
    adds up, ratings do not: the greatest counts. With an array the energy is judged by the cautious run,
    cloudy days first and then the month's sun at the low end of what is known; the expected run is told
    beside it. A generator charges a battery for a plan's most hours a day. Nothing kept on, or no member: not
    known.
    """
    members = [each for each in supplies if each.kind is not SupplyKind.COMBINATION]
    if totals.demand is None or plan.days <= 0.0 or not members:
        missing = (
            "a member of the combination" if not members else "a load that is kept on, measured or typed in"
        )
        nothing = Limit(LimitCode.ENERGY, None, None, "kWh", None, Outcome.NOT_KNOWN, missing, "", ())
        return Verdict(name, Outcome.NOT_KNOWN, (nothing,), None, None)
    case = case_of(
        members, totals, totals.demand, lines, plan, facts=facts, mains_v=mains_v, mains_hz=mains_hz
    )
    energy = energy_limits(case)
    limits = (
        *energy.limits,
        *power_limits(case),
        *outlet_limits(case),
        *sun_limits(case),
        *fuel_limits(case, energy.inflow),
    )
    return Verdict(name, worst(limits), limits, energy.hours, _fails_first(limits, energy.hours is not None))


def worst(limits: Sequence[Limit]) -> Outcome:
    """Give the worst outcome of the limits that count; not known where none does."""
    found = {limit.outcome for limit in limits if limit.counts}
    return next((outcome for outcome in _WORST_FIRST if outcome in found), Outcome.NOT_KNOWN)


def _fails_first(limits: Sequence[Limit], runs_out: bool) -> LimitCode | None:
    """Name the limit that falls short by most; where none does, the energy if it runs out at some time."""
    short = [limit for limit in limits if limit.counts and limit.outcome is Outcome.FALLS_SHORT]
    if short:
        return min(short, key=lambda limit: -1.0 if limit.margin is None else limit.margin).code
    return LimitCode.ENERGY if runs_out else None

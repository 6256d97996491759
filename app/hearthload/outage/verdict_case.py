"""The case of a verdict: members of the supply sorted by kind, the loads, and how a limit is judged."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.outage.answers import Demand, Limit, LimitCode, LoadLine, Outcome, Totals
from hearthload.outage.facts import Facts
from hearthload.outage.fuel import power_left
from hearthload.outage.inverter import Loss, heat_step, loss_of
from hearthload.outage.steps import Figure, Input, Step
from hearthload.outage.working import of_steps, worked


@dataclass(frozen=True, slots=True)
class Case:
    """A supply's members against a plan.

    `feeding` is the member whose outlets feed the loads: the battery with the greatest rating, else the
    generator with it, else none. `loss` is that battery's inverter's, None where its rating is not known.
    """

    batteries: tuple[SupplyDraft, ...]
    generators: tuple[SupplyDraft, ...]
    arrays: tuple[SupplyDraft, ...]
    feeding: SupplyDraft | None
    loss: Loss | None
    totals: Totals
    demand: Demand
    lines: tuple[LoadLine, ...]
    plan: Plan
    facts: Facts
    mains_v: float
    mains_hz: float

    @property
    def from_battery(self) -> bool:
        """Tell whether a battery's inverter feeds the loads."""
        return self.feeding is not None and self.feeding.kind is SupplyKind.BATTERY


def case_of(
    supplies: Sequence[Supply | SupplyDraft],
    totals: Totals,
    demand: Demand,
    lines: Sequence[LoadLine],
    plan: Plan,
    *,
    facts: Facts,
    mains_v: float,
    mains_hz: float,
) -> Case:
    """Sort a supply's members by kind; figures beyond all bounds count as not known."""
    drafts = [_sound(each.draft if isinstance(each, Supply) else each) for each in supplies]
    by_rating = sorted(drafts, key=lambda draft: -(rating_va(draft) or 0.0))
    batteries = tuple(each for each in by_rating if each.kind is SupplyKind.BATTERY)
    generators = tuple(each for each in by_rating if each.kind is SupplyKind.GENERATOR)
    feeding = next(iter((*batteries, *generators)), None)
    loss = None
    if batteries and (rated := rating_va(batteries[0])) is not None:
        loss = loss_of(rated, facts, batteries[0].idle_w, batteries[0].waveform)
    return Case(
        batteries=batteries,
        generators=generators,
        arrays=tuple(each for each in by_rating if each.kind is SupplyKind.ARRAY),
        feeding=feeding,
        loss=loss,
        totals=totals,
        demand=demand,
        lines=tuple(line for line in lines if line.load.role is not Role.OFF),
        plan=plan,
        facts=facts,
        mains_v=mains_v,
        mains_hz=mains_hz,
    )


_BEYOND = "a figure within bounds: one that is stated is too large to reckon with"
_LEAST, _MOST = 1e-6, 1e9
"""No watts, volts, amps, litres or seconds of a household's supply lie outside; what does is a slip."""
_MAY_BE_NOTHING = {"idle_w", "tilt_deg", "azimuth_deg"}


def _sound(draft: SupplyDraft) -> SupplyDraft:
    """Take figures that cannot be for not known: beyond all bounds, or nothing of what must be."""
    odd: dict[str, Any] = {}
    for field in fields(draft):
        value = getattr(draft, field.name)
        if not isinstance(value, (int, float)) or isinstance(value, bool):
            continue
        within = _LEAST <= value <= _MOST or (value == 0.0 and field.name in _MAY_BE_NOTHING)
        if not within:
            odd[field.name] = None
    return replace(draft, **odd) if odd else draft


def rating_va(draft: SupplyDraft) -> float | None:
    """Give the continuous rating that a loss rests on: the watts, else the volt-amperes."""
    return draft.continuous_w if draft.continuous_w is not None else draft.continuous_va


def rating_left(case: Case, draft: SupplyDraft) -> Figure:
    """Give the share of a member's rating left where it stands: by heat, and by height for an engine."""
    if draft.kind is SupplyKind.GENERATOR:
        return power_left(case.plan.altitude_m, case.plan.outdoor_c, draft.fuel, case.facts)
    return of_steps(heat_step(case.plan.battery_c, case.facts))


def judged(
    case: Case,
    code: LimitCode,
    needed: Figure,
    offered: float | None,
    *,
    missing: str = "",
    about: str = "",
    steps: tuple[Step, ...] = (),
    counts: bool = True,
) -> Limit:
    """Judge a limit: offered against needed, both in `needed.unit`.

    What falls short of the loads that are known falls short of all. Where some load's watts or energy are not
    known, or nothing is offered, the rest stays not known.
    """
    outcome = Outcome.NOT_KNOWN
    if offered is not None and math.isfinite(needed.value):
        outcome = Outcome.CARRIES if offered >= needed.value else Outcome.FALLS_SHORT
    elif offered is not None and needed.value == math.inf:
        outcome = Outcome.FALLS_SHORT
    if outcome is Outcome.CARRIES and case.totals.not_known:
        outcome, missing = Outcome.NOT_KNOWN, f"watts or energy of {', '.join(case.totals.not_known)}"
    margin = None
    if offered is not None and needed.value > 0.0 and math.isfinite(needed.value):
        margin = offered / needed.value - 1.0
    said = (missing or _BEYOND) if outcome is Outcome.NOT_KNOWN else ""
    return Limit(code, needed, offered, needed.unit, margin, outcome, said, about, steps, counts)


def at_most(limit: Limit, missing: str) -> Limit:
    """Take falling short that rests on a lower bound for not known, for there may be more."""
    if limit.outcome is not Outcome.FALLS_SHORT:
        return limit
    return replace(limit, outcome=Outcome.NOT_KNOWN, offered=None, margin=None, missing=missing)


def plain(case: Case, quantity: str, value: float, unit: str, symbol: str, *, source: str = "") -> Figure:
    """Give a figure that is simply stated, with its one step."""
    stated = Input(quantity, symbol, value, unit)
    return of_steps(worked(case.facts, quantity, symbol, value, unit, stated, source=source or "stated"))

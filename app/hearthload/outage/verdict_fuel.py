"""What is told of sun and fuel beside the limits that decide: litres, mean load, arrays that give nothing."""

from __future__ import annotations

from hearthload.domain.supply import Chemistry, SupplyDraft
from hearthload.outage.answers import Limit, LimitCode, Outcome
from hearthload.outage.fuel import Running, charging, fuel_line, mean_load_band, round_the_clock
from hearthload.outage.sizing_generator import mean_load_w
from hearthload.outage.steps import Figure, Step, chained
from hearthload.outage.verdict_case import Case, judged, rating_left
from hearthload.outage.verdict_inflow import Inflow
from hearthload.outage.working import Term, worked

_ROUNDING = 1e-9
"""A set that charges with the top of its band is not above it for what floating point added."""


def sun_limits(case: Case) -> list[Limit]:
    """Say that an array alone carries nothing, and that a grid-tied one gives nothing in an outage."""
    if not case.arrays:
        return []
    if not case.batteries:
        alone = not case.generators
        about = ", ".join(each.name for each in case.arrays)
        missing = "a battery with an inverter that the array charges"
        return [_gives_nothing(about, missing, counts=alone)]
    tied = [each.name for each in case.arrays if each.grid_tied]
    missing = "an inverter that runs without the grid: a grid-tied one shuts off in an outage"
    return [_gives_nothing(", ".join(tied), missing, counts=False)] if tied else []


def _gives_nothing(about: str, missing: str, *, counts: bool) -> Limit:
    return Limit(LimitCode.SUN, None, 0.0, "W", None, Outcome.FALLS_SHORT, missing, about, (), counts)


def fuel_limits(case: Case, inflow: Inflow | None) -> list[Limit]:
    """Tell litres and mean load of the generator; fuel can be fetched, so neither counts."""
    if not case.generators:
        return []
    draft = case.generators[0]
    if draft.continuous_w is None:
        return [
            Limit(
                LimitCode.FUEL, None, draft.tank_l, "L", None, Outcome.NOT_KNOWN, "its rated watts", "", (),
                counts=False,
            )
        ]  # fmt: skip
    running = _running(case, draft, draft.continuous_w, inflow)
    if running is None:
        return []
    missing = "the litres of its tank, and how much fuel is kept beside it"
    fuel = judged(case, LimitCode.FUEL, running.litres, draft.tank_l, missing=missing, counts=False)
    return [fuel, _mean_load(case, draft, running)]


def _running(case: Case, draft: SupplyDraft, rated_w: float, inflow: Inflow | None) -> Running | None:
    line = fuel_line(
        rated_w,
        draft.fuel,
        draft.control,
        case.facts,
        half_l_h=draft.half_load_l_h,
        full_l_h=draft.full_load_l_h,
    )
    days, tank = case.plan.days, draft.tank_l
    left = rating_left(case, draft).value
    if not case.batteries:
        mean = mean_load_w(case.totals, case.plan)
        return round_the_clock(line, mean, days, case.facts, left=left, fuel=draft.fuel, tank_l=tank)
    if inflow is None or inflow.charge_w is None or inflow.charge_h is None:
        return None
    daily = inflow.charge_h.steps[-1].inputs[0].value
    chemistry: Chemistry = case.batteries[0].chemistry
    return charging(
        line,
        daily,
        inflow.charge_w,
        chemistry,
        case.facts,
        days=days,
        left=left,
        fuel=draft.fuel,
        tank_l=tank,
    )


def _mean_load(case: Case, draft: SupplyDraft, running: Running) -> Limit:
    """Tell whether the mean load lies in its band: too little fouls an engine, too much wears it."""
    low, high = mean_load_band(draft.fuel, case.facts)
    share = running.load_share
    within = low <= share.value * (1.0 + _ROUNDING) and share.value <= high * (1.0 + _ROUNDING)
    outcome = Outcome.CARRIES if within else Outcome.FALLS_SHORT
    steps = chained(share.steps, _band(case, draft, low))
    needed = Figure(low, low, high, "", steps)
    margin = None
    return Limit(
        LimitCode.MEAN_LOAD, needed, share.value, "", margin, outcome, "", draft.name, steps, counts=False
    )


def _band(case: Case, draft: SupplyDraft, low: float) -> tuple[Step, ...]:
    key = "generator_diesel_load_low" if draft.fuel.value == "diesel" else "generator_load_low"
    terms = (Term(key, "b_1"), Term("generator_load_high", "b_2"))
    return (
        worked(
            case.facts,
            "Band of mean load over the rating that is left",
            "b_1 ≤ P/(f·P_r) ≤ b_2",
            low,
            "",
            *terms,
        ),
    )

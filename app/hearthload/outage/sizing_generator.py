"""The generator that a plan asks for, and its fuel in both ways to run it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hearthload.domain.plan import Plan
from hearthload.domain.supply import Chemistry, EngineControl, Fuel
from hearthload.outage.answers import Totals
from hearthload.outage.battery import may_charge
from hearthload.outage.facts import Facts
from hearthload.outage.fuel import (
    FuelLine,
    Running,
    charging,
    charging_power,
    fuel_line,
    mean_load_band,
    not_charged,
    power_left,
    round_the_clock,
)
from hearthload.outage.fuel_keeping import FuelNote, keeping_cautions
from hearthload.outage.steps import Figure, Input, chained
from hearthload.outage.working import Term, worked

SORTS = (
    (Fuel.PETROL, EngineControl.INVERTER),
    (Fuel.PETROL, EngineControl.FIXED_SPEED),
    (Fuel.DIESEL, EngineControl.FIXED_SPEED),
    (Fuel.PROPANE, EngineControl.FIXED_SPEED),
)
"""The sorts of generator that are sized."""
_SMALLEST = {
    (Fuel.PETROL, EngineControl.INVERTER): "generator_smallest_petrol_inverter_w",
    (Fuel.PETROL, EngineControl.FIXED_SPEED): "generator_smallest_petrol_w",
    (Fuel.DIESEL, EngineControl.FIXED_SPEED): "generator_smallest_diesel_w",
    (Fuel.PROPANE, EngineControl.FIXED_SPEED): "generator_smallest_propane_w",
}


@dataclass(frozen=True, slots=True)
class GeneratorSize:
    """A sort of generator.

    `rating_w` to look for, never below the smallest set that is sold; `start_va` the greatest power for
    starts; its fuel run `steady`, round the clock, and `charging` a battery some hours a day, both with a
    set of that rating, charging not `possible` where the battery may not be charged at the plan's
    temperature; the band of mean load [1]; cautions about keeping the fuel.
    """

    fuel: Fuel
    control: EngineControl
    rating_w: Figure
    start_va: Figure
    steady: Running
    charging: Running | None
    load_low: float
    load_high: float
    cautions: tuple[FuelNote, ...]


def mean_load_w(totals: Totals, plan: Plan) -> float:
    """Give the loads' mean power over the outage at the plan's confidence [W]."""
    most = totals.plan_kwh.value if totals.plan_kwh.high is None else totals.plan_kwh.high
    return 1000.0 * most / (24.0 * plan.days)


def generators_for(
    totals: Totals,
    plan: Plan,
    facts: Facts,
    *,
    daily_kwh: float,
    charge_w: float,
    chemistry: Chemistry,
) -> tuple[GeneratorSize, ...]:
    """Size every sort of generator; charging, it has `charge_w` to put back `daily_kwh` drawn a day."""
    found = []
    for fuel, control in SORTS:
        left = power_left(plan.altitude_m, plan.outdoor_c, fuel, facts)
        rating = rating_sold(rating_needed(totals, left, facts), fuel, control, facts)
        line = fuel_line(rating.value, fuel, control, facts)
        low, high = mean_load_band(fuel, facts)
        mean_w = mean_load_w(totals, plan)
        steady = round_the_clock(line, mean_w, plan.days, facts, left=left.value, fuel=fuel)
        some = _charging(line, (daily_kwh, charge_w), left, chemistry, plan, facts=facts, fuel=fuel)
        rate = steady.litres_per_hour.value if some is None else some.litres_per_hour.value
        found.append(
            GeneratorSize(
                fuel=fuel,
                control=control,
                rating_w=rating,
                start_va=_start(totals, left, facts),
                steady=steady,
                charging=some,
                load_low=low,
                load_high=high,
                cautions=keeping_cautions(fuel, steady.litres.value, rate, plan.outdoor_c),
            )
        )
    return tuple(found)


def _charging(
    line: FuelLine,
    asked: tuple[float, float],
    left: Figure,
    chemistry: Chemistry,
    plan: Plan,
    *,
    facts: Facts,
    fuel: Fuel,
) -> Running | None:
    """Run it to charge: energy a day and the charger's most watts are `asked` [kWh, W]."""
    daily_kwh, takes_w = asked
    gives = charging_power(line.rated_w, left, facts)
    power_w = min(gives.value, takes_w)
    some = charging(line, daily_kwh, power_w, chemistry, facts, days=plan.days, left=left.value, fuel=fuel)
    if some is None:
        return None
    hours = replace(some.hours_a_day, steps=(*left.steps, gives, *some.hours_a_day.steps))
    some = replace(some, hours_a_day=hours)
    may = may_charge(chemistry, plan.battery_c, facts)
    return some if may else not_charged(some, plan.battery_c, facts)


def rating_needed(totals: Totals, left: Figure, facts: Facts) -> Figure:
    """Give the rating that the loads need [W]: m·S_max/f; small sets are of power factor 1, VA count as W."""
    most = max(totals.running_w.value, totals.running_va.value)
    step = worked(
        facts,
        "Generator rating that the loads need",
        "P_n = m·S_max/f",
        facts["generator_margin"] * most / left.value,
        "W",
        Term("generator_margin", "m"),
        Input("highest running power, in volt-amperes", "S_max", most, "VA"),
        Input("share of the rating left", "f", left.value, ""),
    )
    return Figure(step.value, None, None, "W", chained(totals.running_va.steps, left.steps, (step,)))


def rating_sold(needed: Figure, fuel: Fuel, control: EngineControl, facts: Facts) -> Figure:
    """Give the rating to look for [W]: what is needed, but no less than the smallest set sold of its sort.

    P_r = max(P_n, P_s). Fuel and mean load follow from the set that can be bought, whose engine has its idle
    fuel whatever it feeds.
    """
    key = _SMALLEST[fuel, control]
    too_small = needed.value < facts[key]
    step = worked(
        facts,
        "Generator rating to look for" + (", the smallest set that is sold" if too_small else ""),
        "P_r = max(P_n, P_s)",
        max(needed.value, facts[key]),
        "W",
        Input("rating that the loads need", "P_n", needed.value, "W"),
        Term(key, "P_s"),
    )
    return Figure(step.value, None, None, "W", (*needed.steps, step))


def _start(totals: Totals, left: Figure, facts: Facts) -> Figure:
    step = worked(
        facts,
        "Greatest power of the generator, for the hardest start",
        "S_r = S_start/f",
        totals.start_va.value / left.value,
        "VA",
        Input("hardest start while the others run", "S_start", totals.start_va.value, "VA"),
        Input("share of the rating left", "f", left.value, ""),
    )
    return Figure(step.value, None, None, "VA", chained(totals.start_va.steps, left.steps, (step,)))

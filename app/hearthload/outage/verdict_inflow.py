"""What comes into the batteries during an outage: sun through the panels, a generator through the charger."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hearthload.domain.supply import Chemistry, SupplyDraft
from hearthload.outage.answers import Limit, LimitCode, Outcome
from hearthload.outage.battery import charge_terms, may_charge
from hearthload.outage.drawing import Drawn
from hearthload.outage.fuel import charging_power
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.sun import daily_yield, peak_sun_hours, performance_ratio, recharge_days
from hearthload.outage.verdict_case import Case, judged, plain, rating_left
from hearthload.outage.working import Term, of_steps, worked


@dataclass(frozen=True, slots=True)
class Inflow:
    """Energy brought into the batteries, as it comes out of them again [kWh/d].

    By the sun on a cloudy day, on another day at its low end, on a day of mean sun; `engine_kwh` by a
    generator in its most hours. `missing` says what is not known of it. `charge_w` at the charger, `charge_h`
    hours a day that a generator must run to put back a day's draw, None without one.
    """

    has_sun: bool
    has_generator: bool
    cloudy_kwh: float
    cautious_kwh: float
    sun_kwh: float
    engine_kwh: float
    missing: str
    steps: tuple[Step, ...]
    charge_w: float | None
    charge_h: Figure | None


@dataclass(frozen=True, slots=True)
class _Sun:
    low: Figure
    mean: Figure
    missing: str


def inflow_of(case: Case, drawn: Drawn) -> Inflow:
    """Work out what sun and generator bring; nothing where it is too cold or hot to charge the cells."""
    first = case.batteries[0].chemistry
    allowed = all(may_charge(each.chemistry, case.plan.battery_c, case.facts) for each in case.batteries)
    sun = _sun(case, first) if allowed else None
    missing = [sun] if isinstance(sun, str) else []
    known = sun if isinstance(sun, _Sun) else None
    power = charge_power(case) if allowed else None
    charge = None if power is None else power.value
    if allowed and case.generators and charge is None:
        missing.append("most watts that the battery takes from the wall, and the generator's rating")
    hours = None if power is None else _charge_hours(case, drawn, power, first)
    engine = None if power is None else _engine(case, power, first)
    low, mean = (known.low.value, known.mean.value) if known else (0.0, 0.0)
    share = case.facts["sun_cloudy_share"]
    return Inflow(
        has_sun=known is not None,
        has_generator=engine is not None,
        cloudy_kwh=share * low,
        cautious_kwh=low,
        sun_kwh=mean,
        engine_kwh=0.0 if engine is None else engine.value,
        missing="; ".join(missing),
        steps=chained(known.low.steps if known else (), engine.steps if engine else ()),
        charge_w=charge,
        charge_h=hours,
    )


def _sun(case: Case, chemistry: Chemistry) -> _Sun | str | None:
    """Give what the arrays bring at the low end of the sun and on average; or what is missing; or None."""
    arrays = [each for each in case.arrays if not each.grid_tied]
    if not arrays:
        return None
    inputs = [each.solar_w for each in case.batteries if each.solar_w is not None]
    if not inputs:
        return "most watts that the battery takes from panels"
    watts = [each.array_w for each in arrays if each.array_w is not None]
    hours = peak_sun_hours(case.plan, case.facts, arrays[0].tilt_deg, arrays[0].azimuth_deg)
    if not watts:
        return "the array's watts"
    if hours is None:
        return "peak sun hours of the month, or the latitude"
    ratio = performance_ratio(chemistry, case.plan.outdoor_c, case.facts)
    total, most = sum(watts), sum(inputs)
    least = hours.value if hours.low is None else hours.low
    low = daily_yield(total, least, ratio, case.facts, most_w=most)
    mean = daily_yield(total, hours.value, ratio, case.facts, most_w=most)
    return _Sun(Figure(low.value, None, None, low.unit, chained(hours.steps, low.steps)), mean, "")


def charge_power(case: Case) -> Figure | None:
    """Give the watts with which the generator charges: what the charger takes, and the generator gives."""
    takes = [each.charge_w for each in case.batteries if each.charge_w is not None]
    gives = [_gives(case, each, each.continuous_w) for each in case.generators if each.continuous_w]
    if not takes or not gives:
        return None
    most = max(gives, key=lambda each: each.value)
    step = worked(
        case.facts,
        "Charging power at the wall",
        "P = min(P_g, P_b)",
        min(sum(takes), most.value),
        "W",
        Input("what the generator gives a charger", "P_g", most.value, "W"),
        Input("most that the battery takes from the wall", "P_b", sum(takes), "W"),
    )
    return Figure(step.value, None, None, "W", (*most.steps, step))


def _gives(case: Case, draft: SupplyDraft, rated_w: float) -> Figure:
    left = rating_left(case, draft)
    step = charging_power(rated_w, left, case.facts)
    return Figure(step.value, None, None, "W", (*left.steps, step))


def _charge_hours(case: Case, drawn: Drawn, power: Figure, chemistry: Chemistry) -> Figure:
    charge_w = power.value
    charger, trip = charge_terms(chemistry)
    daily = drawn.plan_kwh.value / case.plan.days
    value = 1000.0 * daily / (case.facts[charger.key] * case.facts[trip.key] * charge_w)
    step = worked(
        case.facts,
        "Hours a day that the generator runs to charge the battery",
        "t = 1000·E_dc/(η_c·η_b·P)",
        value,
        "h/d",
        Input("energy from the battery a day, at the plan's confidence", "E_dc", daily, "kWh/d"),
        charger,
        trip,
        Input("charging power at the wall", "P", charge_w, "W"),
    )
    return Figure(value, None, None, "h/d", chained(drawn.plan_kwh.steps, power.steps, (step,)))


def _engine(case: Case, power: Figure, chemistry: Chemistry) -> Figure:
    charge_w = power.value
    charger, trip = charge_terms(chemistry)
    most = case.facts["generator_most_hours"]
    step = worked(
        case.facts,
        "Most that the generator charges on a day",
        "E = t·η_c·η_b·P/1000",
        most * case.facts[charger.key] * case.facts[trip.key] * charge_w / 1000.0,
        "kWh/d",
        Term("generator_most_hours", "t"),
        charger,
        trip,
        Input("charging power at the wall", "P", charge_w, "W"),
    )
    return of_steps(*power.steps, step)


def recharge_limits(case: Case, drawn: Drawn, usable: Figure, inflow: Inflow) -> list[Limit]:
    """Tell how charging goes: hours a day by the generator, days of mean sun. The energy's limit decides."""
    limits = []
    cold = not all(may_charge(each.chemistry, case.plan.battery_c, case.facts) for each in case.batteries)
    if cold and (case.arrays or case.generators):
        at = plain(
            case, "Temperature where the battery is charged", case.plan.battery_c, "°C", "T", source="plan"
        )
        outcome = Outcome.FALLS_SHORT
        limits.append(
            Limit(LimitCode.RECHARGE, at, None, "°C", None, outcome, "", "", at.steps, counts=False)
        )
    if inflow.charge_h is not None:
        most = case.facts["generator_most_hours"]
        limits.append(judged(case, LimitCode.RECHARGE, inflow.charge_h, most, counts=False))
    if inflow.has_sun:
        limits.append(_by_sun(case, drawn, usable, inflow))
    return limits


def _by_sun(case: Case, drawn: Drawn, usable: Figure, inflow: Inflow) -> Limit:
    """Tell whether the sun fills the battery again in the days wanted.

    `needed` are the days wanted R, `offered` those it takes n, None where it never gets full; falls short
    where n > R. The margin R/n − 1 is positive where there are days to spare, as with every other limit.
    """
    taken_kwh = min(usable.value, drawn.plan_kwh.value)
    taken = plain(case, "Energy taken from the battery", taken_kwh, "kWh", "E", source="this verdict")
    days = recharge_days(inflow.sun_kwh, drawn.daily_kwh.value, taken, case.facts)
    most = case.facts["sun_recharge_days"]
    wanted = of_steps(
        worked(
            case.facts, "Days in which it is to be full again", "R", most, "d", Term("sun_recharge_days", "R")
        )
    )
    if days is not None and math.isfinite(days.value):
        # Fewer days are better: the days wanted must reach those that it takes.
        told = judged(case, LimitCode.RECHARGE, days, most, about="by the sun", counts=False)
        return replace(told, needed=wanted, offered=days.value, steps=chained(wanted.steps, days.steps))
    loads = Input("energy from the battery a day", "E_dc", drawn.daily_kwh.value, "kWh/d")
    words = "What the sun brings on a day is no more than the loads take: it is never full again"
    short = worked(case.facts, words, "E_sun ≤ E_dc", inflow.sun_kwh, "kWh/d", loads)
    steps, outcome = chained(wanted.steps, inflow.steps, (short,)), Outcome.FALLS_SHORT
    return Limit(LimitCode.RECHARGE, wanted, None, "d", None, outcome, "", "by the sun", steps, counts=False)

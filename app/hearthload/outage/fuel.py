"""A generator's fuel: litres over load, what height and heat leave of its power, two ways to run it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hearthload.domain.supply import Chemistry, EngineControl, Fuel
from hearthload.outage.battery import charge_terms
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.working import Term, of_steps, worked

_ALTITUDE_STEP_M = 305.0
_LEAST_DERATED = 0.1
"""However high or hot, a tenth is left: the straight lines are not meant for more."""


@dataclass(frozen=True, slots=True)
class FuelLine:
    """Fuel over load: F = F0·P_r + F1·P [L/h], `f0` in L/h for each kW of rating, `f1` in L/kWh.

    Straight line after Willans. `steps` say where F0 and F1 come from.
    """

    rated_w: float
    f0: float
    f1: float
    steps: tuple[Step, ...]

    def litres_per_hour(self, load_w: float) -> float:
        """Give the fuel at a load [W -> L/h]."""
        return (self.f0 * self.rated_w + self.f1 * load_w) / 1000.0


def _typical(fuel: Fuel, control: EngineControl, facts: Facts) -> tuple[Term, Term, tuple[Term, ...], float]:
    """Give the facts of the usual line, and the litres of this fuel for one litre of the facts'."""
    if fuel is Fuel.DIESEL:
        kind = "diesel"
    else:
        kind = "petrol_inverter" if control is EngineControl.INVERTER else "petrol"
    extra = (Term("generator_propane_litres", "r"),) if fuel is Fuel.PROPANE else ()
    times = facts["generator_propane_litres"] if extra else 1.0
    return Term(f"generator_f0_{kind}", "F0"), Term(f"generator_f1_{kind}", "F1"), extra, times


def fuel_line(
    rated_w: float,
    fuel: Fuel,
    control: EngineControl,
    facts: Facts,
    *,
    half_l_h: float | None = None,
    full_l_h: float | None = None,
) -> FuelLine:
    """Give a set's fuel line from the litres stated at half and full load [L/h], or from the usual figures.

    Two stated: F1 = 2·(F_full − F_half)/P_r and F0 = (2·F_half − F_full)/P_r, where both come out as no less
    than nothing. One stated, or two that no line fits: the usual line, scaled to meet the stated one.
    """
    rated_kw = max(rated_w, 1.0) / 1000.0
    if half_l_h is not None and full_l_h is not None:
        slope, idle = 2.0 * (full_l_h - half_l_h) / rated_kw, (2.0 * half_l_h - full_l_h) / rated_kw
        if slope > 0.0 and idle >= 0.0:
            return _stated(rated_kw, idle, slope, (half_l_h, full_l_h), facts)
    f0, f1, extra, times = _typical(fuel, control, facts)
    at_full = full_l_h is not None
    stated, load = (full_l_h, 1.0) if at_full else (half_l_h, 0.5)
    usual = times * rated_kw * (facts[f0.key] + load * facts[f1.key])
    scale = stated / usual if stated is not None and stated > 0.0 else 1.0
    inputs: list[Input | Term] = [f0, f1, *extra]
    if scale != 1.0 and stated is not None:
        words = "fuel stated at full load" if at_full else "fuel stated at half load"
        inputs += [
            Input(words, "F", stated, "L/h"),
            Input("the usual line at that load", "F_u", usual, "L/h"),
        ]
    factors = "".join([*(["·r"] if extra else []), *(["·F/F_u"] if scale != 1.0 else [])])
    idle, slope = facts[f0.key] * times * scale, facts[f1.key] * times * scale
    steps = (
        worked(facts, "Fuel unloaded, for each kW of rating", f"F0{factors}", idle, "L/h/kW", *inputs),
        worked(facts, "Further fuel for each kWh", f"F1{factors}", slope, "L/kWh", *inputs),
    )
    return FuelLine(1000.0 * rated_kw, idle, slope, steps)


def _stated(
    rated_kw: float, idle: float, slope: float, litres: tuple[float, float], facts: Facts
) -> FuelLine:
    inputs = (
        Input("fuel stated at half load", "F_half", litres[0], "L/h"),
        Input("fuel stated at full load", "F_full", litres[1], "L/h"),
        Input("rating", "P_r", rated_kw, "kW"),
    )
    words = "Fuel unloaded, for each kW of rating"
    steps = (
        worked(facts, words, "F0 = (2·F_half − F_full)/P_r", idle, "L/h/kW", *inputs, source="stated"),
        worked(
            facts,
            "Further fuel for each kWh",
            "F1 = 2·(F_full − F_half)/P_r",
            slope,
            "L/kWh",
            *inputs,
            source="stated",
        ),
    )
    return FuelLine(1000.0 * rated_kw, idle, slope, steps)


def power_left(altitude_m: float, outdoor_c: float, fuel: Fuel, facts: Facts) -> Figure:
    """Give the share of a generator's rating left by height, heat and fuel: f_h·f_T·f_fuel [1]."""
    above_m = max(altitude_m - facts["generator_altitude_from_m"], 0.0)
    height = worked(
        facts,
        "What the height leaves of the engine's power",
        "f_h = 1 − a·(h − h0)/305 m above h0",
        max(1.0 - facts["generator_altitude_per_305_m"] * above_m / _ALTITUDE_STEP_M, _LEAST_DERATED),
        "",
        Input("height above the sea", "h", altitude_m, "m"),
        Term("generator_altitude_from_m", "h0"),
        Term("generator_altitude_per_305_m", "a"),
    )
    above_k = max(outdoor_c - facts["generator_heat_from_c"], 0.0)
    heat = worked(
        facts,
        "What the heat leaves of the engine's power",
        "f_T = 1 − r·(T − T0) above T0",
        max(1.0 - facts["generator_heat_per_k"] * above_k, _LEAST_DERATED),
        "",
        Input("air outdoors", "T", outdoor_c, "°C"),
        Term("generator_heat_from_c", "T0"),
        Term("generator_heat_per_k", "r"),
    )
    gas = facts["generator_propane_power"] if fuel is Fuel.PROPANE else 1.0
    inputs: tuple[Input | Term, ...] = (
        Input("left by the height", "f_h", height.value, ""),
        Input("left by the heat", "f_T", heat.value, ""),
    )
    equation = "f = f_h·f_T"
    if fuel is Fuel.PROPANE:
        inputs, equation = (*inputs, Term("generator_propane_power", "f_p")), "f = f_h·f_T·f_p"
    product = height.value * heat.value * gas
    return of_steps(
        height, heat, worked(facts, "Share of the generator's rating left", equation, product, "", *inputs)
    )


@dataclass(frozen=True, slots=True)
class Running:
    """One way to run a generator through an outage.

    `hours_a_day` [h], `load_share` mean load over the rating that is left while it runs [1], `litres` for the
    whole outage, `litres_per_hour` while it runs, `containers` to hold them, `refuel_h` hours on one filling
    of the tank (None, tank not known), `oil_changes`. `possible` is False where a day has too few hours for
    it, or the battery may not be charged; `why_not` says which, and is empty where it is possible.
    """

    hours_a_day: Figure
    load_share: Figure
    litres_per_hour: Figure
    litres: Figure
    containers: int
    refuel_h: Figure | None
    oil_changes: int
    possible: bool
    why_not: str = ""


def round_the_clock(
    line: FuelLine,
    mean_w: float,
    days: float,
    facts: Facts,
    *,
    left: float = 1.0,
    fuel: Fuel = Fuel.PETROL,
    tank_l: float | None = None,
) -> Running:
    """Run it all the time at the loads' mean [W] for so many days [d], with a share `left` of its rating [1].

    The line being straight, the fuel at the mean load is the mean of the fuel.
    """
    hours = of_steps(worked(facts, "Hours a day it runs", "24", 24.0, "h/d", source="runs round the clock"))
    return _running(line, hours, mean_w, facts, days=days, left=left, fuel=fuel, tank_l=tank_l)


def charging(
    line: FuelLine,
    daily_kwh: float,
    charge_w: float,
    chemistry: Chemistry,
    facts: Facts,
    *,
    days: float,
    left: float = 1.0,
    fuel: Fuel = Fuel.PETROL,
    tank_l: float | None = None,
) -> Running | None:
    """Run it some hours a day to charge a battery that feeds the loads; None without charging power.

    t = E_day/(η_c·η_b·P) [h/d] with the battery's energy of a day [kWh] and watts at the charger [W]; `left`
    is the share of the engine's rating left [1].
    """
    if charge_w <= 0.0:
        return None
    charger, trip = charge_terms(chemistry)
    value = 1000.0 * daily_kwh / (facts[charger.key] * facts[trip.key] * charge_w)
    step = worked(
        facts,
        "Hours a day it runs to charge the battery",
        "t = 1000·E_dc/(η_c·η_b·P)",
        value,
        "h/d",
        Input("energy from the battery a day", "E_dc", daily_kwh, "kWh/d"),
        charger,
        trip,
        Input("charging power at the wall", "P", charge_w, "W"),
    )
    return _running(line, of_steps(step), charge_w, facts, days=days, left=left, fuel=fuel, tank_l=tank_l)


def charging_power(rated_w: float, left: Figure, facts: Facts) -> Step:
    """Give the most that a generator charges with for hours [W]: P_g = b·f·P_r, the top of its load band."""
    return worked(
        facts,
        "What the generator gives a charger for hours",
        "P_g = b·f·P_r",
        facts["generator_load_high"] * left.value * rated_w,
        "W",
        Term("generator_load_high", "b"),
        Input("share of the rating left", "f", left.value, ""),
        Input("rating", "P_r", rated_w, "W"),
    )


def not_charged(found: Running, celsius: float, facts: Facts) -> Running:
    """Say that a way to run it cannot be had: lithium cells may not be charged at a temperature [°C]."""
    outside = worked(
        facts,
        "Temperature at which lithium cells may not be charged",
        "T below T_1 or above T_2",
        celsius,
        "°C",
        Input("temperature of the battery", "T", celsius, "°C"),
        Term("battery_charge_coldest_c", "T_1"),
        Term("battery_charge_warmest_c", "T_2"),
    )
    hours = replace(found.hours_a_day, steps=(outside, *found.hours_a_day.steps))
    at = f"{celsius:g} °C".replace("-", "−")
    why = f"the battery, lithium, may not be charged at {at}"
    return replace(found, hours_a_day=hours, possible=False, why_not=why)


def _running(
    line: FuelLine,
    hours: Figure,
    load_w: float,
    facts: Facts,
    *,
    days: float,
    left: float,
    fuel: Fuel,
    tank_l: float | None,
) -> Running:
    share = _share_step(line, load_w, left, facts)
    rate = _rate_step(line, load_w, facts)
    run_h = min(hours.value, 24.0) * days
    litres = worked(
        facts,
        "Fuel for the outage",
        "V = F·t·d",
        rate.value * run_h,
        "L",
        Input("fuel an hour", "F", rate.value, "L/h"),
        Input("hours a day", "t", min(hours.value, 24.0), "h/d"),
        Input("days", "d", days, "d"),
    )
    can = facts["generator_cylinder_l" if fuel is Fuel.PROPANE else "generator_container_l"]
    return Running(
        hours_a_day=hours,
        load_share=of_steps(share),
        litres_per_hour=Figure(rate.value, None, None, "L/h", (*line.steps, rate)),
        litres=Figure(litres.value, None, None, "L", chained(hours.steps, line.steps, (rate, litres))),
        containers=_ceiling(litres.value / can),
        refuel_h=_refuel(rate, tank_l, facts),
        oil_changes=oil_changes(run_h, facts),
        possible=hours.value <= 24.0,
        why_not="" if hours.value <= 24.0 else "a day has too few hours for it",
    )


def _share_step(line: FuelLine, load_w: float, left: float, facts: Facts) -> Step:
    return worked(
        facts,
        "Mean load while it runs, share of the rating that is left",
        "P/(f·P_r)",
        load_w / (left * line.rated_w),
        "",
        Input("load", "P", load_w, "W"),
        Input("share of the rating left", "f", left, ""),
        Input("rating", "P_r", line.rated_w, "W"),
    )


def _rate_step(line: FuelLine, load_w: float, facts: Facts) -> Step:
    return worked(
        facts,
        "Fuel an hour",
        "F = F0·P_r + F1·P",
        line.litres_per_hour(load_w),
        "L/h",
        Input("fuel unloaded, for each kW", "F0", line.f0, "L/h/kW"),
        Input("rating", "P_r", line.rated_w / 1000.0, "kW"),
        Input("further fuel", "F1", line.f1, "L/kWh"),
        Input("load", "P", load_w / 1000.0, "kW"),
        source="straight fuel line after Willans",
    )


def _refuel(rate: Step, tank_l: float | None, facts: Facts) -> Figure | None:
    if tank_l is None or rate.value <= 0.0:
        return None
    return of_steps(
        worked(
            facts,
            "Hours on one filling of the tank",
            "t = V_tank/F",
            tank_l / rate.value,
            "h",
            Input("tank", "V_tank", tank_l, "L"),
            Input("fuel an hour", "F", rate.value, "L/h"),
        )
    )


def _ceiling(value: float) -> int:
    """Round up, but for what floating point added."""
    return math.ceil(value - 1e-9) if math.isfinite(value) else 0


def oil_changes(run_h: float, facts: Facts) -> int:
    """Count oil changes in so many hours: the first at 20 h of a new engine, then every 75 h."""
    first, between = facts["generator_first_oil_h"], facts["generator_oil_h"]
    if not math.isfinite(run_h) or run_h < first:
        return 0
    return 1 + math.floor((run_h - first) / between)


def mean_load_band(fuel: Fuel, facts: Facts) -> tuple[float, float]:
    """Give least and highest mean load over rating [1]: 0.5 to 0.8, a diesel from 0.3."""
    low = facts["generator_diesel_load_low" if fuel is Fuel.DIESEL else "generator_load_low"]
    return low, facts["generator_load_high"]

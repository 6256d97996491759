"""What to look for when buying: battery, inverter, direct current, sun and fuel for a plan."""

from __future__ import annotations

from dataclasses import dataclass

from hearthload.domain.plan import Plan
from hearthload.domain.supply import Chemistry
from hearthload.outage.answers import Totals
from hearthload.outage.battery import (
    CHEMISTRIES,
    charge_hours,
    known_at,
    may_charge,
    may_discharge,
    may_freeze,
    most_charge_w,
    nominal_kwh,
    not_known_words,
)
from hearthload.outage.drawing import Drawn, drawn_from_battery
from hearthload.outage.facts import Facts
from hearthload.outage.inverter import Loss, dc_current, fuse, loss_of, rating_needed, suggested_v
from hearthload.outage.sizing_generator import GeneratorSize, generators_for
from hearthload.outage.steps import Figure, Input, chained
from hearthload.outage.sun import (
    array_watts,
    best_hours,
    controller_current,
    daily_yield,
    peak_sun_hours,
    performance_ratio,
    recharge_days,
    recharging_watts,
)
from hearthload.outage.working import worked

BATTERY_VOLTS = (12.0, 24.0, 48.0)
REFERENCE = Chemistry.LFP
"""The chemistry that sun and generator are sized for; the others charge with more loss."""
_LEAD = Chemistry.AGM
"""Lead-acid's chemistries give back as much of what is charged, so that one array is all theirs."""


@dataclass(frozen=True, slots=True)
class StoredSize:
    """The battery of one chemistry.

    `stored_kwh` as stated; `charge_w` the most that it should be charged with from the wall, by its cells and
    by one wall circuit, with which it is full again `recharge_h` after the outage; whether it may be charged
    and discharged at the plan's temperature. `not_known` says what must be asked before `stored_kwh` may be
    trusted, or is empty; `may_freeze`: discharged, it freezes at the plan's temperature.
    """

    chemistry: Chemistry
    stored_kwh: Figure
    charge_w: Figure
    recharge_h: Figure | None
    may_charge: bool
    may_discharge: bool
    not_known: str = ""
    may_freeze: bool = False


@dataclass(frozen=True, slots=True)
class DirectSize:
    """Current from a battery of so many volts at the recommended inverter's rating, and its fuse [A].

    The inverter may draw as much as that, so cable and fuse must carry it; the loads alone draw less.
    """

    battery_v: float
    current_a: Figure
    fuse_a: Figure


@dataclass(frozen=True, slots=True)
class SunSize:
    """The array for the plan's month.

    `array_w` carries a day of the outage at the plan's confidence with its reserve, through a lithium
    battery, at the low end of sun hours that were estimated; `lead_array_w` the same through a lead-acid one,
    which gives less back. `array_w` fills the battery again in `recharge_days` of mean sun; `recharging_w`
    fills it in the days wanted; `controller_a` and `lead_controller_a` are the controllers' currents. None
    where there is no sun. Half of a clear day's sun falls on the plane between `best_from_h` and `best_to_h`,
    local solar hours, None where no latitude is known or the sun does not rise.
    """

    sun_hours: Figure
    ratio: Figure
    array_w: Figure | None
    recharging_w: Figure | None
    recharge_days: Figure | None
    controller_a: Figure | None
    lead_array_w: Figure | None = None
    lead_controller_a: Figure | None = None
    best_from_h: float | None = None
    best_to_h: float | None = None


@dataclass(frozen=True, slots=True)
class Sizing:
    """All that a plan asks of a supply; `not_known` and `assumed` name loads as in `Totals`.

    `inverter_w` and `inverter_va` are continuous ratings to look for; `start_va` for `start_s` seconds;
    `restart_va` when power returns. `sun` is None where neither sun hours nor latitude are known.
    """

    drawn: Drawn
    stored: tuple[StoredSize, ...]
    inverter_w: Figure
    inverter_va: Figure
    start_va: Figure
    start_s: float
    restart_va: Figure
    direct: tuple[DirectSize, ...]
    suggested_v: float
    sun: SunSize | None
    generators: tuple[GeneratorSize, ...]
    not_known: tuple[str, ...]
    assumed: tuple[str, ...]


def size(totals: Totals, plan: Plan, facts: Facts, *, mains_v: float = 230.0) -> Sizing | None:
    """Size every kind of supply for a plan; None where nothing is kept on, for there is nothing to size.

    `mains_v` is the voltage of the wall circuit that charges [V]; a generator charges with as much.
    """
    if totals.demand is None or plan.days <= 0.0:
        return None
    inverter_w = rating_needed(totals.running_w, plan.battery_c, facts)
    inverter_va = rating_needed(totals.running_va, plan.battery_c, facts)
    # The watts to look for, as in the verdict on the inverter that is bought: volt-amperes lose nothing.
    loss = loss_of(inverter_w.value, facts)
    drawn = drawn_from_battery(totals, totals.demand, plan, loss, facts)
    stored = tuple(_stored(each, drawn, plan, facts, mains_v) for each in CHEMISTRIES)
    reference = next(each for each in stored if each.chemistry is REFERENCE)
    volts = suggested_v(max(inverter_w.value, inverter_va.value), facts)
    return Sizing(
        drawn=drawn,
        stored=stored,
        inverter_w=inverter_w,
        inverter_va=inverter_va,
        start_va=totals.start_va,
        start_s=totals.start_s,
        restart_va=totals.restart_va,
        direct=tuple(_direct(volts_each, loss, facts) for volts_each in BATTERY_VOLTS),
        suggested_v=volts,
        sun=_sun(drawn, plan, volts, facts),
        generators=generators_for(
            totals,
            plan,
            facts,
            daily_kwh=drawn.plan_kwh.value / plan.days,
            charge_w=reference.charge_w.value,
            chemistry=REFERENCE,
        ),
        not_known=totals.not_known,
        assumed=totals.assumed,
    )


def _stored(chemistry: Chemistry, drawn: Drawn, plan: Plan, facts: Facts, mains_v: float) -> StoredSize:
    hours = 24.0 * plan.days
    stored = nominal_kwh(drawn.plan_kwh, hours, chemistry, plan.battery_c, facts, draws=drawn.draws)
    charge = most_charge_w(1000.0 * stored.value, chemistry, facts, mains_v)
    return StoredSize(
        chemistry=chemistry,
        stored_kwh=stored,
        charge_w=charge,
        recharge_h=charge_hours(drawn.plan_kwh.value, charge.value, chemistry, facts),
        may_charge=may_charge(chemistry, plan.battery_c, facts),
        may_discharge=may_discharge(chemistry, plan.battery_c, facts),
        not_known="" if known_at(chemistry, plan.battery_c, facts) else not_known_words(plan.battery_c),
        may_freeze=may_freeze(chemistry, plan.battery_c),
    )


def _direct(battery_v: float, loss: Loss, facts: Facts) -> DirectSize:
    rated_w = loss.rated_w
    at = "recommended inverter's rating"
    current = dc_current(rated_w, loss.draw_w(rated_w), battery_v, facts, at=at)
    return DirectSize(battery_v, current, fuse(current, facts))


def _sun(drawn: Drawn, plan: Plan, battery_v: float, facts: Facts) -> SunSize | None:
    hours = peak_sun_hours(plan, facts)
    if hours is None:
        return None
    daily = _outage_day(drawn, plan, facts)
    ratio = performance_ratio(REFERENCE, plan.outdoor_c, facts)
    array = array_watts(daily, hours, ratio, facts)
    lead = array_watts(daily, hours, performance_ratio(_LEAD, plan.outdoor_c, facts), facts)
    if array is None:
        return SunSize(hours, ratio, None, None, None, None)
    best = best_hours(plan, facts)
    brought = daily_yield(array.value, hours.value, ratio, facts, most_w=array.value)
    return SunSize(
        sun_hours=hours,
        ratio=ratio,
        array_w=array,
        recharging_w=recharging_watts(daily, drawn.plan_kwh, hours, ratio, facts),
        recharge_days=recharge_days(brought.value, drawn.daily_kwh.value, drawn.plan_kwh, facts),
        controller_a=controller_current(array.value, battery_v, facts),
        lead_array_w=lead,
        lead_controller_a=None if lead is None else controller_current(lead.value, battery_v, facts),
        best_from_h=None if best is None else best[0],
        best_to_h=None if best is None else best[1],
    )


def _outage_day(drawn: Drawn, plan: Plan, facts: Facts) -> Figure:
    """Give a day's draw as the verdict reckons it: the outage's at the plan's confidence, over its days."""
    step = worked(
        facts,
        "Energy from the battery on a day of the outage, at the plan's confidence",
        "E_d = E_dc/d",
        drawn.plan_kwh.value / plan.days,
        "kWh/d",
        Input("energy from the battery over the outage", "E_dc", drawn.plan_kwh.value, "kWh"),
        Input("days", "d", plan.days, "d"),
    )
    return Figure(step.value, None, None, "kWh/d", chained(drawn.plan_kwh.steps, (step,)))

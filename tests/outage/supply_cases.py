"""Totals and facts that the tests of the supply side share, built by hand."""

from __future__ import annotations

import math
from collections.abc import Mapping

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Plan
from hearthload.outage.answers import Demand, LoadInput, LoadLine, Totals
from hearthload.outage.catalogue import CATALOGUE
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Step

Z90 = 1.2815515655446004


def facts(own: Mapping[str, float] | None = None) -> Facts:
    return Facts(CATALOGUE, own)


def figure(value: float, unit: str, low: float | None = None, high: float | None = None) -> Figure:
    return Figure(
        value, low, high, unit, (Step(f"given {unit}", "given", (), value, unit, "test", typical=False),)
    )


def plan(**given: object) -> Plan:
    fields: dict[str, object] = {
        "id": 1,
        "name": "winter storm",
        "days": 2.0,
        "month": 1,
        "room_c": None,
        "battery_c": 25.0,
        "outdoor_c": 15.0,
        "altitude_m": 0.0,
        "confidence": 0.90,
        "waking_from_h": 7.0,
        "waking_to_h": 23.0,
        "latitude_deg": None,
        "peak_sun_hours": None,
        "note": "",
    }
    return Plan(**(fields | given))  # type: ignore[arg-type]


def demand_of(*pairs: tuple[float, float]) -> Demand:
    return Demand(tuple(watts for watts, _ in pairs), tuple(share for _, share in pairs))


def totals(
    demand: Demand | None,
    days: float = 2.0,
    *,
    u_kwh: float = 0.0,
    sd_kwh: float = 0.0,
    start_va: float | None = None,
    not_known: tuple[str, ...] = (),
    running_va: float | None = None,
) -> Totals:
    """Totals of a demand; the highest running power is its highest watts, at a power factor of 0.8."""
    pairs = [] if demand is None else list(zip(demand.watts, demand.share, strict=True))
    mean = math.fsum(watts * share for watts, share in pairs)
    most = max((watts for watts, _ in pairs), default=0.0)
    daily = 24.0 * mean / 1000.0
    margin = Z90 * math.sqrt((days * u_kwh) ** 2 + days * sd_kwh**2)
    va = most / 0.8 if running_va is None else running_va
    start = va * 3.0 if start_va is None else start_va
    return Totals(
        daily=figure(daily, "kWh/d", daily - 1.959964 * u_kwh, daily + 1.959964 * u_kwh),
        plan_kwh=figure(days * daily, "kWh", days * daily - margin, days * daily + margin),
        average_w=mean,
        running_w=figure(most, "W"),
        running_va=figure(va, "VA"),
        likely_w=figure(most, "W"),
        start_va=figure(start, "VA"),
        start_s=0.5,
        restart_va=figure(start * 1.5, "VA"),
        largest_start="Chest freezer",
        demand=demand,
        not_known=not_known,
        assumed=(),
    )


FREEZER_AND_ROUTER = demand_of((10.0, 0.6), (110.0, 0.4))
"""A router of 10 W all the time and a freezer of 100 W for 40 % of it: 50 W on average, 1.2 kWh/d."""


def line(
    name: str = "Chest freezer",
    *,
    volts: float | None = None,
    watts: float = 100.0,
    va: float | None = 125.0,
    medical: bool = False,
    thermostatic: bool = True,
    hard_wired: bool = False,
    run_h: float = 0.5,
    start_multiple: float = 4.0,
    kind: Kind = Kind.FREEZER,
) -> LoadLine:
    load = LoadInput(
        name, kind, Role.ESSENTIAL, medical=medical, hard_wired=hard_wired, voltage_v=volts, running_w=watts
    )
    daily = figure(0.96, "kWh/d", 0.9, 1.02)
    return LoadLine(
        load=load,
        one_daily=daily,
        daily=daily,
        own_u_kwh=0.03,
        gain_u_kwh=0.01,
        day_sd_kwh=0.05,
        running_w=figure(watts, "W"),
        running_va=None if va is None else figure(va, "VA"),
        idle_w=0.0,
        duty=0.4,
        start_va=None if va is None else figure(va * start_multiple, "VA"),
        each_running_va=va,
        each_start_va=None if va is None else va * start_multiple,
        start_s=0.5,
        thermostatic=thermostatic,
        run_h=run_h,
        assumed=False,
        notes=(),
    )

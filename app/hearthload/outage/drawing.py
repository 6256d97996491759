"""What loads draw from a battery through its inverter: on average, over the outage, and for how long."""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

from hearthload.domain.plan import Plan
from hearthload.outage.answers import Demand, Totals
from hearthload.outage.facts import Facts
from hearthload.outage.inverter import Loss, mean_draw
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.working import worked

_Z95 = NormalDist().inv_cdf(0.975)


@dataclass(frozen=True, slots=True)
class Drawn:
    """Energy from the battery.

    `mean_w` mean direct power [W]; `daily_kwh` on an average day with 95 % ends; `plan_kwh` over the outage
    at the plan's confidence. `u_kwh` standard uncertainty of the average day and `sd_kwh` scatter of one
    day [kWh], both as drawn from the battery. `draws` are the direct watts over the demand's time.
    """

    mean_w: Figure
    daily_kwh: Figure
    plan_kwh: Figure
    u_kwh: float
    sd_kwh: float
    draws: Demand


def drawn_from_battery(
    totals: Totals, demand: Demand, plan: Plan, loss: Loss, facts: Facts, *, others_idle_w: float = 0.0
) -> Drawn:
    """Give what the loads draw from a battery; `others_idle_w` is the idle draw of further inverters [W].

    On a day that takes more, loads run for longer at the same watts: what is above the idle draw grows with
    the energy, E_dc = P_idle·t + s·E with s = (mean P_dc − P_idle)/mean P, and idling does not.
    """
    own = mean_draw(demand, loss, facts)
    mean_ac = math.fsum(w * share for w, share in zip(demand.watts, demand.share, strict=True))
    slope = (own.value - loss.idle_w) / mean_ac if mean_ac > 0.0 else 1.0 + loss.k1
    mean = _with_others(own, others_idle_w, facts)
    idle_w = loss.idle_w + others_idle_w
    daily_high = None if totals.daily.high is None else totals.daily.high - totals.daily.value
    daily_low = None if totals.daily.low is None else totals.daily.value - totals.daily.low
    day = worked(
        facts,
        "Energy from the battery on an average day",
        "E_dc = 24·P_dc/1000",
        0.024 * mean.value,
        "kWh/d",
        Input("mean draw from the battery", "P_dc", mean.value, "W"),
    )
    ends = (
        None if daily_low is None else max(day.value - slope * daily_low, 0.0),
        None if daily_high is None else day.value + slope * daily_high,
    )
    u_kwh = (
        (daily_high + daily_low) / (2.0 * _Z95) if daily_high is not None and daily_low is not None else 0.0
    )
    u_kwh = max(u_kwh, 0.0)
    whole = _over_plan(totals, plan, idle_w, slope, facts)
    return Drawn(
        mean_w=mean,
        daily_kwh=Figure(day.value, ends[0], ends[1], "kWh/d", (*mean.steps, day)),
        plan_kwh=Figure(whole.value, None, None, "kWh", chained(totals.plan_kwh.steps, mean.steps, (whole,))),
        u_kwh=slope * u_kwh,
        sd_kwh=slope * _day_scatter(totals, plan, u_kwh),
        draws=Demand(tuple(loss.draw_w(watts) + others_idle_w for watts in demand.watts), demand.share),
    )


def _with_others(own: Figure, others_idle_w: float, facts: Facts) -> Figure:
    if others_idle_w <= 0.0:
        return own
    step = worked(
        facts,
        "Mean draw with the other inverters idling",
        "P_dc + P_others",
        own.value + others_idle_w,
        "W",
        Input("mean draw from the battery", "P_dc", own.value, "W"),
        Input("idle draw of the other inverters", "P_others", others_idle_w, "W"),
    )
    return Figure(step.value, None, None, "W", (*own.steps, step))


def _over_plan(totals: Totals, plan: Plan, idle_w: float, slope: float, facts: Facts) -> Step:
    most = totals.plan_kwh.value if totals.plan_kwh.high is None else totals.plan_kwh.high
    return worked(
        facts,
        "Energy from the battery over the outage, at the plan's confidence",
        "E_dc = P_idle·24·d/1000 + s·E",
        0.024 * idle_w * plan.days + slope * most,
        "kWh",
        Input("idle draw", "P_idle", idle_w, "W"),
        Input("days", "d", plan.days, "d"),
        Input("draw above idling for each unit of load", "s", slope, ""),
        Input("energy of the loads at the plan's confidence", "E", most, "kWh"),
    )


def _day_scatter(totals: Totals, plan: Plan, u_kwh: float) -> float:
    """Give one day's scatter [kWh] back out of the plan's margin k·√((d·u)² + d·σ²), k the normal's."""
    margin = 0.0 if totals.plan_kwh.high is None else totals.plan_kwh.high - totals.plan_kwh.value
    k = NormalDist().inv_cdf(plan.confidence) if 0.5 < plan.confidence < 1.0 else 0.0
    if margin <= 0.0 or k < 0.01 or plan.days <= 0.0:
        return 0.0
    spread, mean_part = margin / k, plan.days * u_kwh
    return math.sqrt(max(spread * spread - mean_part * mean_part, 0.0) / plan.days)


def hours_carried(usable: Figure, drawn: Drawn, facts: Facts) -> Figure | None:
    """Give the hours that a usable energy [kWh] lasts, with 95 % ends; None where nothing is drawn.

    t = E_u/m days with m the average day. What is drawn in t days is m·t with variance (t·u)² + t·σ²; the
    ends are where E_u lies 1.96 of its standard deviations off: (E_u − m·t)² = z²·(t²·u² + t·σ²), two roots
    in t. The higher is left open where the average day itself is too little known.
    """
    m, u, sd = drawn.daily_kwh.value, drawn.u_kwh, drawn.sd_kwh
    if not m > 0.0 or not math.isfinite(m):
        return None
    low, high = _ends(usable.value, m, u, sd)
    step = worked(
        facts,
        "Hours that the usable energy lasts",
        "t = 24·E_u/m, ends from (E_u − m·t)² = 1.96²·(t²·u² + t·σ²)",
        24.0 * usable.value / m,
        "h",
        Input("usable energy", "E_u", usable.value, "kWh"),
        Input("energy from the battery on an average day", "m", m, "kWh/d"),
        Input("standard uncertainty of that", "u", u, "kWh/d"),
        Input("scatter from day to day", "σ", sd, "kWh"),
    )
    steps = chained(drawn.daily_kwh.steps, usable.steps, (step,))
    return Figure(step.value, 24.0 * low, None if high is None else 24.0 * high, "h", steps)


def _ends(energy: float, m: float, u: float, sd: float) -> tuple[float, float | None]:
    """Solve (m² − z²u²)·t² − (2·E·m + z²σ²)·t + E² = 0 for t [d], in the form that loses no digits.

    b² − 4aE² is written out as z²·(4·E·m·σ² + z²·σ⁴ + 4·u²·E²): nothing is taken off.
    """
    z2 = _Z95 * _Z95
    a, b = m * m - z2 * u * u, 2.0 * energy * m + z2 * sd * sd
    spread = 4.0 * energy * m * sd * sd + z2 * sd**4 + 4.0 * u * u * energy * energy
    root = math.sqrt(z2 * spread)
    low = 2.0 * energy * energy / (b + root) if b + root > 0.0 else 0.0
    return low, (b + root) / (2.0 * a) if a > 0.0 else None


def peak_draw(loss: Loss, totals: Totals) -> float:
    """Give the direct power while all run together [W]."""
    return loss.draw_w(totals.running_w.value)

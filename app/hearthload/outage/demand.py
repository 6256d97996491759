"""What the loads kept on take together: energy, running and likely watts, starts, with their arithmetic."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hearthload.domain.appliance import Role, UsePattern
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.outage.answers import Demand, LoadLine, Totals
from hearthload.outage.facts import Facts
from hearthload.outage.load_energy import GUM, ends
from hearthload.outage.load_watts import heater_step
from hearthload.outage.needs import (
    Margin,
    daily_u_kwh,
    margin_of,
    standing_va,
    standing_w,
    start_excess_va,
)
from hearthload.outage.spread import demand_of, quantile_w
from hearthload.outage.steps import Figure, Input, Step, chained

_SUM = "sum of all loads meant to run together, NEC 702.4"
_ONE_START = "sum, where starts do not coincide"
_ALL_START = "when power returns all that starts by itself does at once; common practice"
_BY_THEMSELVES = frozenset({UsePattern.THERMOSTATIC, UsePattern.WEATHER_DRIVEN})


def totals(
    lines: Sequence[LoadLine], days: float, confidence: float, facts: Facts, *, waking: float = 1.0
) -> Totals:
    """Add up the lines whose role is not off, for an outage of d days at a one-sided confidence.

    `waking` is the share of the day in which what is used by the use runs, as in `spread.demand_of`.

    Lines without watts or energy count as nothing in what they lack and are named in `not_known`.
    """
    kept = [line for line in lines if line.load.role is not Role.OFF]
    daily = _daily(kept)
    demand = demand_of(kept, facts, waking)
    largest = max(kept, key=start_excess_va, default=None)
    starts = largest is not None and start_excess_va(largest) > 0.0
    start = _start(kept, largest if starts else None)
    return Totals(
        daily=daily,
        plan_kwh=_plan(kept, daily, days, confidence),
        average_w=daily.value * WATTS_PER_KILOWATT / HOURS_PER_DAY,
        running_w=_running_w(kept, facts),
        running_va=_running_va(kept, facts),
        likely_w=_likely(kept, demand, facts),
        start_va=start,
        start_s=largest.start_s if starts and largest is not None else 0.0,
        restart_va=_restart(kept, start),
        largest_start=largest.load.name if starts and largest is not None else "",
        demand=demand,
        not_known=tuple(line.load.name for line in kept if line.daily is None or line.running_w is None),
        assumed=tuple(line.load.name for line in kept if line.assumed),
    )


def _inputs(
    lines: Sequence[LoadLine], symbol: str, unit: str, value: Callable[[LoadLine], float]
) -> tuple[Input, ...]:
    return tuple(Input(line.load.name, f"{symbol}_{i}", value(line), unit) for i, line in enumerate(lines, 1))


def _daily(lines: Sequence[LoadLine]) -> Figure:
    """Give E = Σ q·e [kWh/d]; 95 % ends from √(Σu² + Σ_meters(Σu_g)²)."""
    known = [line for line in lines if line.daily is not None]
    value = sum(line.daily.value for line in known if line.daily is not None)
    u = daily_u_kwh(known)
    each = _inputs(known, "E", "kWh/d", lambda line: line.daily.value if line.daily else 0.0)
    total = Step("Energy a day, all loads", "E = Σ E_i", each, value, "kWh/d", "sum", typical=False)
    parts = _inputs(known, "u", "kWh/d", lambda line: line.own_u_kwh)
    shared = tuple(
        Input(f"{line.load.name}, by meter {line.meter}", f"g_{i}", line.gain_u_kwh, "kWh/d")
        for i, line in enumerate(known, 1)
        if line.gain_u_kwh > 0.0
    )
    equation = "U = √(Σ u_i² + Σ_meters (Σ g_i)²)"
    spread = Step(
        "Standard uncertainty of it",
        equation,
        parts + shared,
        u,
        "kWh/d",
        f"{GUM}; a meter's gain is shared by all it measured, 5.2.2",
        typical=False,
    )
    return Figure(
        value, *ends(value, u), "kWh/d", chained(*(_steps(line.daily) for line in known), (total, spread))
    )


def _steps(figure: Figure | None) -> tuple[Step, ...]:
    return () if figure is None else figure.steps


def _plan(lines: Sequence[LoadLine], daily: Figure, days: float, confidence: float) -> Figure:
    """Give the energy of the whole outage [kWh]: expected, and at the plan's confidence at most and least."""
    margin = margin_of(lines, days, confidence)
    value = days * daily.value
    inputs = (Input("days", "d", days, "d"), Input("energy a day", "E", daily.value, "kWh/d"))
    quantity = "Energy for the outage, expected"
    expected = Step(quantity, "E_d = d · E", inputs, value, "kWh", "sum", typical=False)
    hold = _hold(value, margin, confidence)
    steps = chained(daily.steps, (expected, _outage_u(lines, days, margin), hold))
    return Figure(value, max(value - margin.kwh, 0.0), value + margin.kwh, "kWh", steps)


def _outage_u(lines: Sequence[LoadLine], days: float, margin: Margin) -> Step:
    inputs = (
        Input("days", "d", days, "d"),
        *_inputs(lines, "u", "kWh/d", lambda line: line.own_u_kwh),
        *_inputs(lines, "s", "kWh", lambda line: line.day_sd_kwh),
        *_inputs(lines, "g", "kWh/d", lambda line: line.gain_u_kwh),
    )
    return Step(
        "Standard uncertainty for the outage",
        "u_d = √(Σ[(d · u_i)² + d · s_i²] + Σ_meters (d · Σ g_i)²)",
        inputs,
        margin.u_kwh,
        "kWh",
        "prediction of the days to come, not of their mean: NIST handbook, 7.2.6; identical appliances share",
        typical=False,
    )


def _hold(value: float, margin: Margin, confidence: float) -> Step:
    inputs = (
        Input("expected", "E_d", value, "kWh"),
        Input("one-sided factor, normal", "z", margin.z, ""),
        Input("standard uncertainty", "u_d", margin.u_kwh, "kWh"),
        Input("most that few measured days of one load ask for, (t − z) · u", "x", margin.most_kwh, "kWh"),
        Input("more where the part of a day falls into the hours of use", "y", margin.hours_kwh, "kWh"),
    )
    return Step(
        f"Energy to hold, enough in {100.0 * confidence:g} % of outages",
        "E_hold = E_d + z · u_d + x + y",
        inputs,
        value + margin.kwh,
        "kWh",
        "normal and Student's distribution, JCGM 100, G.3",
        typical=False,
    )


def _running_w(lines: Sequence[LoadLine], facts: Facts) -> Figure:
    """Give P_max = Σ of running watts [W], a frost-free machine's by its heater; ends in quadrature.

    Where watts are not known the mean of the energy stands for them, the least they can be.
    """
    known = [line for line in lines if line.running_w is not None or line.daily is not None]
    value = sum(standing_w(line) for line in known)
    each = _inputs(known, "P", "W", standing_w)
    step = Step("Highest running watts", "P_max = Σ P_i", each, value, "W", _SUM, _heated(known))
    low, high = _sum_ends(known, value, facts)
    before = (_steps(line.running_w) for line in known)
    return Figure(value, low, high, "W", chained(*before, _heaters(known, facts), (step,)))


def _heaters(lines: Sequence[LoadLine], facts: Facts) -> tuple[Step, ...]:
    return tuple(
        heater_step(line.load.name, line.load.quantity, line.heater_w, facts)
        for line in lines
        if line.heater_w > 0.0
    )


def _heated(lines: Sequence[LoadLine]) -> bool:
    return any(line.heater_w > 0.0 for line in lines)


def _sum_ends(lines: Sequence[LoadLine], value: float, facts: Facts) -> tuple[float, float]:
    """Put the lines' half-widths together in quadrature, below and above on their own.

    A defrost heater's are those of the range of heaters.
    """
    heater = facts.fact("defrost_heater_w")
    down = up = 0.0
    for line in lines:
        figure = line.running_w
        if line.heater_w > 0.0:
            down += (line.heater_w * (1.0 - heater.low / heater.value)) ** 2
            up += (line.heater_w * (heater.high / heater.value - 1.0)) ** 2
        elif figure is not None:
            down += (figure.value - (figure.value if figure.low is None else figure.low)) ** 2
            up += ((figure.value if figure.high is None else figure.high) - figure.value) ** 2
    return max(value - down**0.5, 0.0), value + up**0.5


def _running_va(lines: Sequence[LoadLine], facts: Facts) -> Figure:
    """Give S_max = Σ of apparent powers [VA]: added as numbers, never less than they are as vectors."""
    known = [line for line in lines if line.running_va is not None or line.daily is not None]
    value = sum(standing_va(line) for line in known)
    each = _inputs(known, "S", "VA", standing_va)
    step = Step("Highest running apparent power", "S_max = Σ S_i", each, value, "VA", _SUM, _heated(known))
    before = (_steps(line.running_va) for line in known)
    return Figure(value, None, None, "VA", chained(*before, _heaters(known, facts), (step,)))


def _likely(lines: Sequence[LoadLine], demand: Demand | None, facts: Facts) -> Figure:
    """Give the watts that the demand exceeds in a hundredth of the time only, at least the largest load's.

    A kettle of some minutes a day lies beyond that share of the time, and yet must be carried.
    """
    share = facts["likely_share"]
    most = sum(standing_w(line) for line in lines)
    least = max((standing_w(line) / line.load.quantity for line in lines if line.load.quantity), default=0.0)
    value = 0.0 if demand is None else max(quantile_w(demand, share), least)
    average = 0.0 if demand is None else sum(map(_product, demand.watts, demand.share))
    inputs = (
        Input("share of time", "p", share, ""),
        Input("average demand", "P_mean", average, "W"),
        Input("all running together", "P_max", most, "W"),
        Input("largest single load", "P_one", least, "W"),
    )
    source = "distribution of independent loads, each running its share of the time"
    equation = "P_likely = max(P_p, P_one), demand ≤ P_p for p of the time"
    step = Step("Likely highest watts", equation, inputs, value, "W", source, facts.typical("likely_share"))
    return Figure(value, None, None, "W", (step,))


def _product(watts: float, share: float) -> float:
    return watts * share


def _start(lines: Sequence[LoadLine], largest: LoadLine | None) -> Figure:
    """Give the worst single start [VA], of one appliance: max over j of Σ_{i≠j} S_i + m_j·S_j."""
    running = sum(standing_va(line) for line in lines)
    excess = 0.0 if largest is None else start_excess_va(largest)
    value = running + excess
    name = "" if largest is None else f", {largest.load.name}"
    inputs = (
        Input("all running", "S_max", running, "VA"),
        Input(f"more at the worst start{name}", "ΔS_j", excess, "VA"),
    )
    equation = "S_start = max over j of (S_max + ΔS_j), ΔS_j = m_j · S_j − what j draws running"
    typical = largest is not None and any(step.typical for step in _steps(largest.start_va))
    step = Step("Worst single start", equation, inputs, value, "VA", _ONE_START, typical)
    before = chained(*(_steps(line.start_va) for line in lines))
    return Figure(value, None, None, "VA", (*before, step))


def starts_by_itself(line: LoadLine) -> bool:
    """Tell whether a thermostat, a float or the weather switches a load on, with nobody there."""
    return line.load.kind.use_pattern in _BY_THEMSELVES


def _restart(lines: Sequence[LoadLine], start: Figure) -> Figure:
    """Give the demand when power returns [VA]: all that starts by itself does at once while the rest runs.

    S_max + Σ q·(m − 1)·S over thermostats, float switches and what the weather drives: after an outage the
    refrigerator is warm and the sump full. Where another load's single start is worse, that one.
    """
    cold = [line for line in lines if starts_by_itself(line)]
    excess = sum(line.load.quantity * start_excess_va(line) for line in cold)
    running = sum(standing_va(line) for line in lines)
    value = max(running + excess, start.value)
    inputs = (
        Input("all running", "S_max", running, "VA"),
        *_inputs(cold, "ΔS", "VA", lambda line: line.load.quantity * start_excess_va(line)),
        Input("worst single start", "S_start", start.value, "VA"),
    )
    equation = "S_restart = max(S_start, S_max + Σ ΔS_i of all that starts by itself)"
    step = Step(
        "All that starts by itself, together", equation, inputs, value, "VA", _ALL_START, typical=True
    )
    return Figure(value, None, None, "VA", chained(start.steps, (step,)))

"""Limits of energy: what battery, sun and charging give over the outage against what is drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hearthload.domain.supply import Chemistry, SupplyDraft
from hearthload.outage.answers import Demand, Limit, LimitCode, Outcome
from hearthload.outage.battery import known_at, not_known_words, usable_kwh
from hearthload.outage.drawing import Drawn, drawn_from_battery, hours_carried
from hearthload.outage.inverter import loss_of
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.verdict_case import Case, at_most, judged, rating_va
from hearthload.outage.verdict_inflow import Inflow, inflow_of, recharge_limits
from hearthload.outage.working import Term, of_steps, worked


@dataclass(frozen=True, slots=True)
class Energy:
    """The limits of energy, and the hours that the batteries last alone (None: not known, or not limited)."""

    limits: tuple[Limit, ...]
    hours: Figure | None
    inflow: Inflow | None = None


@dataclass(frozen=True, slots=True)
class _Store:
    """The batteries' usable energy, and what of it a generator's runs leave uncharged, None if nothing."""

    usable: Figure
    uncharged: Figure | None


def energy_limits(case: Case) -> Energy:
    """Check the batteries' energy, alone and with sun or a generator; nothing to check without a battery."""
    if not case.batteries:
        return Energy((), None)
    if case.loss is None:
        return Energy((_without_rating(case),), None)
    others = sum(_idle_w(case, each) for each in case.batteries[1:])
    drawn = drawn_from_battery(
        case.totals, case.demand, case.plan, case.loss, case.facts, others_idle_w=others
    )
    store = _store(case, drawn)
    missing = "stored watt-hours" if any(each.stored_wh is None for each in case.batteries) else "chemistry"
    if store is None:
        return Energy((_bounded(case, drawn.plan_kwh, f"the battery's {missing}"),), None)
    usable, inflow = store.usable, inflow_of(case, drawn)
    limits = [_main(case, drawn, store, inflow)]
    if inflow.has_sun:
        limits.append(_expected(case, drawn, store, inflow))
    in_frost = _in_frost(case)
    if in_frost:
        limits = [_no_more_than(each, not_known_words(case.plan.battery_c)) for each in limits]
    limits += recharge_limits(case, drawn, usable, inflow)
    enough = limits[0].outcome is Outcome.CARRIES and inflow.has_generator
    unknown = in_frost or bool(case.totals.not_known)
    hours = None if enough or unknown else hours_carried(usable, drawn, case.facts)
    return Energy(tuple(limits), hours, inflow)


def _in_frost(case: Case) -> bool:
    """Tell whether it is colder than some battery's capacity is known for."""
    return not all(known_at(each.chemistry, case.plan.battery_c, case.facts) for each in case.batteries)


def _no_more_than(limit: Limit, missing: str) -> Limit:
    """Take carrying that rests on an upper bound for not known, for there may be less."""
    if limit.outcome is Outcome.FALLS_SHORT:
        return limit
    said = "; ".join(dict.fromkeys([missing, *([limit.missing] if limit.missing else [])]))
    return replace(limit, outcome=Outcome.NOT_KNOWN, offered=None, margin=None, missing=said)


def _idle_w(case: Case, draft: SupplyDraft) -> float:
    rated = rating_va(draft)
    if rated is None:
        return draft.idle_w or 0.0
    return loss_of(rated, case.facts, draft.idle_w, draft.waveform).idle_w


def _without_rating(case: Case) -> Limit:
    """Judge where the inverter's rating, and so its loss, is not known: at least the loads' own energy."""
    most = case.totals.plan_kwh.high
    value = case.totals.plan_kwh.value if most is None else most
    return _bounded(case, replace(case.totals.plan_kwh, value=value), "its continuous watts")


def _bounded(case: Case, needed: Figure, missing: str) -> Limit:
    """Judge by the whole of the stated energy, the most there can be: it falls short, or it is not known."""
    stored = [each.stored_wh for each in case.batteries]
    known = sum(each for each in stored if each is not None) / 1000.0
    if None in stored or known >= needed.value or case.arrays or case.generators:
        return judged(case, LimitCode.ENERGY, needed, None, missing=missing)
    return judged(case, LimitCode.ENERGY, needed, known)


def _store(case: Case, drawn: Drawn) -> _Store | None:
    """Give the batteries' usable energy together, each drawn on by its share; None where one is not known.

    Colder than its capacity is known for, a battery gives no more than at the coldest: an upper bound, on
    which a supply may fall short but never carries.
    """
    whole = sum(each.stored_wh or 0.0 for each in case.batteries)
    parts = []
    for each in case.batteries:
        if each.stored_wh is None or each.chemistry is Chemistry.NOT_KNOWN:
            return None
        draw_w = drawn.mean_w.value * each.stored_wh / whole
        parts.append(_usable_of(case, each.chemistry, each.stored_wh, draw_w, drawn.draws))
    uncharged = _uncharged(case, parts) if case.generators else None
    if len(parts) == 1:
        return _Store(parts[0], uncharged)
    inputs = [
        Input(each.name, f"E_{i}", part.value, "kWh") for i, (each, part) in enumerate(_pairs(case, parts))
    ]
    total = sum(part.value for part in parts)
    step = worked(case.facts, "Usable energy of the batteries", "Σ E_i", total, "kWh", *inputs)
    steps = chained(*(part.steps for part in parts), (step,))
    return _Store(Figure(total, None, None, "kWh", steps), uncharged)


def _uncharged(case: Case, parts: list[Figure]) -> Figure | None:
    """Give what a generator's runs leave uncharged of lead-acid batteries [kWh], None without such.

    E_x = (1 − s)·E_u/DoD. The last part of a lead-acid charge is absorption at falling current: a full charge
    takes 8 to 12 hours however strong the charger. A run, which ends as soon as what is charged at full
    current is in, is counted to fill it up to s of its capacity only, even where it is long. The sun, which
    shines for most of a day, is counted in full.
    """
    lead_kwh = math.fsum(part.value for each, part in _pairs(case, parts) if each.chemistry.is_lead)
    if lead_kwh <= 0.0:
        return None
    step = worked(
        case.facts,
        "Left uncharged by a generator's runs: the last part of lead-acid's capacity, which takes hours",
        "E_x = (1 − s)·E_u/DoD",
        (1.0 - case.facts["battery_lead_bulk"]) * lead_kwh / case.facts["battery_dod_lead"],
        "kWh",
        Input("usable energy, lead-acid", "E_u", lead_kwh, "kWh"),
        Term("battery_lead_bulk", "s"),
        Term("battery_dod_lead", "DoD"),
    )
    return of_steps(step)


def _usable_of(case: Case, chemistry: Chemistry, stored_wh: float, draw_w: float, draws: Demand) -> Figure:
    celsius = case.plan.battery_c
    if known_at(chemistry, celsius, case.facts):
        return usable_kwh(stored_wh, draw_w, chemistry, celsius, case.facts, draws=draws)
    coldest = worked(
        case.facts,
        "Temperature to reckon with: the coldest that its capacity is known for; colder it gives less",
        "max(T, T_c)",
        case.facts["battery_lead_coldest_c"],
        "°C",
        Input("temperature of the battery", "T", celsius, "°C"),
        Term("battery_lead_coldest_c", "T_c"),
    )
    most = usable_kwh(stored_wh, draw_w, chemistry, coldest.value, case.facts, draws=draws)
    return replace(most, steps=(coldest, *most.steps))


def _pairs(case: Case, parts: list[Figure]) -> list[tuple[SupplyDraft, Figure]]:
    return list(zip(case.batteries, parts, strict=True))


def _main(case: Case, drawn: Drawn, store: _Store, inflow: Inflow) -> Limit:
    """Judge the energy by the cautious run: cloudy days first, then the month's sun at its low end.

    Where part of the inflow is not known, falling short without it is not known either.
    """
    usable = store.usable
    alone = judged(case, LimitCode.ENERGY, drawn.plan_kwh, usable.value, steps=usable.steps)
    if not (inflow.has_sun or inflow.has_generator):
        return at_most(alone, inflow.missing) if inflow.missing else alone
    needed = _most_out(case, drawn, inflow, store.uncharged, cloudy=True)
    found = judged(case, LimitCode.ENERGY, needed, usable.value, steps=usable.steps)
    return at_most(found, inflow.missing) if inflow.missing else found


def _expected(case: Case, drawn: Drawn, store: _Store, inflow: Inflow) -> Limit:
    usable = store.usable
    needed = _most_out(case, drawn, inflow, store.uncharged, cloudy=False)
    told = judged(case, LimitCode.ENERGY, needed, usable.value, steps=usable.steps, counts=False)
    return replace(told, about="with the month's mean sun")


def most_out_kwh(
    daily_kwh: float,
    days: float,
    phases: tuple[tuple[float, float], ...],
    *,
    runs: int = 1,
    run_kwh: float = 0.0,
    uncharged_kwh: float = 0.0,
) -> float:
    """Give the most that is out of the battery at once [kWh].

    `phases` are days and the sun's inflow a day [d, kWh/d], which counts at the day's end, as in an outage
    that begins at dusk. A generator charges `runs` times a day, each time when another such part of the day's
    draw is out, and brings `run_kwh` [kWh], but leaves `uncharged_kwh` out [kWh]. A full battery takes no
    more. The last part of a day has no sun, and only the runs that are whole in it.
    """
    out, most, left = 0.0, 0.0, days
    part_kwh = daily_kwh / runs
    for length, brought in phases:
        span = min(length, left)
        whole = math.floor(span) if math.isfinite(span) else 0
        ran = math.floor((span - whole) * runs) if math.isfinite(span) else 0
        for part in range(1, whole * runs + ran + 1):
            out += part_kwh
            most = max(most, out)
            out = max(out - run_kwh, min(out, uncharged_kwh))
            if part % runs == 0:
                out = max(out - brought, 0.0)
        out += (span - whole - ran / runs) * daily_kwh
        most = max(most, out)
        left -= span
    return most


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _most_out(case: Case, drawn: Drawn, inflow: Inflow, uncharged: Figure | None, *, cloudy: bool) -> Figure:
    days = case.plan.days
    daily = drawn.plan_kwh.value / days
    bad = float(round(case.facts["sun_cloudy_days"])) if cloudy and inflow.has_sun else 0.0
    poor, later = (inflow.cloudy_kwh, inflow.cautious_kwh) if cloudy else (0.0, inflow.sun_kwh)
    runs = round(case.facts["generator_runs_a_day"]) if inflow.has_generator else 1
    left = uncharged if inflow.has_generator else None
    most = most_out_kwh(
        daily,
        days,
        ((bad, poor), (max(days - bad, 0.0), later)),
        runs=runs,
        run_kwh=inflow.engine_kwh / runs,
        uncharged_kwh=0.0 if left is None else left.value,
    )
    inputs: list[Input | Term] = [
        Input("energy from the battery a day, at the plan's confidence", "E", daily, "kWh/d"),
        Input("days", "d", days, "d"),
    ]
    words, equation = "Most energy out of the battery at once", "day by day: all of E out, then E_1 or E_2 in"
    if bad:
        inputs += [Input("brought on a cloudy day", "E_1", poor, "kWh/d"), Term("sun_cloudy_days", "n")]
        words += ", cloudy days first"
    if inflow.has_sun:
        inputs.append(Input("brought by the sun on another day", "E_2", later, "kWh/d"))
    if inflow.has_generator:
        inputs += _engine_inputs(inflow, left)
        words += f", the generator charging {_times(runs)} a day"
        equation = "run by run: E/n_g out, then E_g/n_g in" + (", never below E_x out" if left else "")
        equation += "; E_1 or E_2 in at the day's end" if inflow.has_sun else ""
    value = min(most, drawn.plan_kwh.value)
    step: Step = worked(case.facts, words, equation, value, "kWh", *inputs)
    steps = chained(drawn.plan_kwh.steps, inflow.steps, left.steps if left else (), (step,))
    return Figure(value, None, None, "kWh", steps)


def _engine_inputs(inflow: Inflow, left: Figure | None) -> list[Input | Term]:
    inputs: list[Input | Term] = [
        Input("most brought by the generator on a day", "E_g", inflow.engine_kwh, "kWh/d"),
        Term("generator_runs_a_day", "n_g"),
    ]
    return (
        inputs if left is None else [*inputs, Input("left uncharged by each run", "E_x", left.value, "kWh")]
    )

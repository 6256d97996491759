"""Questions about an outage: what the loads of a plan take, and what would carry them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.domain.plugs import PLUGS
from hearthload.domain.supply import Supply
from hearthload.errors import RefusedError
from hearthload.outage.answers import LoadInput, LoadLine
from hearthload.outage.cable import GAUGES, CordAnswer, CordUse, check_cord, current_a
from hearthload.outage.catalogue import CATALOGUE, facts_in_force
from hearthload.outage.circuits import CircuitCheck, Element, Rating, circuit_check
from hearthload.outage.demand import totals
from hearthload.outage.facts import Facts
from hearthload.outage.judging import Judge
from hearthload.outage.loads import load_line
from hearthload.service.logbook import Logbook
from hearthload.service.outage_answers import FactRow, PlanAnswer, PlanRow, SupplyAnswer
from hearthload.service.outage_cautions import plan_cautions, supply_cautions
from hearthload.service.outage_loads import load_input
from hearthload.service.queries_plans import appliances_not_in_plan, plan_figures, plan_loads, supplies


def plan_answer(logbook: Logbook, plan_id: int) -> PlanAnswer:
    """Give all that a plan says: its load list, totals, what to look for, and the figures it rests on."""
    plan = logbook.held().plan(plan_id)
    facts = _facts(logbook, plan_id)
    rows = _rows(logbook, plan, facts)
    lines = [row.line for row in rows]
    whole = totals(lines, plan.days, plan.confidence, facts, waking=plan.waking_share)
    return PlanAnswer(
        plan=plan,
        rows=rows,
        not_in_plan=appliances_not_in_plan(logbook, plan_id),
        totals=whole,
        facts=tuple(FactRow(fact, facts[key], facts.is_own(key)) for key, fact in CATALOGUE.items()),
        own=facts.own,
        mains_v=logbook.caches.household.mains_voltage_v,
        cautions=plan_cautions(lines),
        medical=any(line.load.medical and line.load.role is not Role.OFF for line in lines),
    )


def supply_answers(logbook: Logbook, plan_id: int) -> tuple[SupplyAnswer, ...]:
    """Judge every supply against a plan, in the order of `queries.supplies`."""
    judge = _judge(logbook, plan_id)
    return tuple(_judged(logbook, judge, supply) for supply in supplies(logbook))


def supply_answer(logbook: Logbook, plan_id: int, supply_id: int) -> SupplyAnswer:
    """Judge one supply against a plan."""
    return _judged(logbook, _judge(logbook, plan_id), logbook.held().supply(supply_id))


def cord_gauges() -> tuple[tuple[str, str], ...]:
    """Give the wire sizes of cords and cables, each with its key and name."""
    return tuple((key, gauge.name) for key, gauge in GAUGES.items())


def cord_answer(
    gauge_key: str,
    *,
    watts: float,
    volts: float,
    length_m: float,
    power_factor: float = 1.0,
    start_multiple: float | None = None,
    long_run: bool = False,
    plan_id: int | None = None,
    logbook: Logbook | None = None,
) -> CordAnswer:
    """Check a cord of `length_m` one way for a load, by the plan's figures where one is given."""
    for field, value, least in (("watts", watts, 0.0), ("volts", volts, 0.0), ("length_m", length_m, 0.0)):
        if not least < value < 1e6:
            words = {"watts": "The load [W]", "volts": "The voltage [V]", "length_m": "The length [m]"}[field]
            raise RefusedError(
                f"{words} must be more than 0 and less than 1 000 000.", field=field, code="range"
            )
    if not 0.0 < power_factor <= 1.0:
        raise RefusedError(
            "The power factor must be more than 0 and at most 1.", field="power_factor", code="range"
        )
    if start_multiple is not None and not 1.0 <= start_multiple <= 20.0:
        raise RefusedError(
            "The start multiple must lie between 1 and 20.", field="start_multiple", code="range"
        )
    facts = facts_in_force({})
    if logbook is not None and plan_id is not None:
        facts = _facts(logbook, plan_id)
    amps = current_a(watts, volts, power_factor, facts).value
    start = None if start_multiple is None or start_multiple <= 1.0 else amps * start_multiple
    return check_cord(gauge_key, CordUse(amps, volts, length_m, power_factor, start, long_run), facts)


def _facts(logbook: Logbook, plan_id: int) -> Facts:
    return facts_in_force(plan_figures(logbook, plan_id))


def _rows(logbook: Logbook, plan: Plan, facts: Facts) -> tuple[PlanRow, ...]:
    """Work out a plan's load list; what an edit did not touch is taken from before."""
    held = logbook.held()
    plug = PLUGS.get(held.household.default_plug)
    way = _Way(
        None if plug is None or plug.current_a is None else Rating(Element.SOCKET, plug.name, plug.current_a),
        held.household.mains_voltage_v,
    )
    rows = []
    for load in plan_loads(logbook, plan.id):
        appliance = held.appliances[load.appliance_id]
        line, circuit = _line(load_input(logbook, load, appliance, plan.days), plan.room_c, way, facts.own)
        rows.append(PlanRow(load, appliance, line, circuit))
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class _Way:
    """What the household's mains give: its socket, where that is known, and its volts."""

    socket: Rating | None
    mains_v: float


@lru_cache(maxsize=512)
def _line(
    load: LoadInput, room_c: float | None, way: _Way, own: tuple[tuple[str, float], ...]
) -> tuple[LoadLine, CircuitCheck]:
    """Give an appliance's line, and check its own plug and the socket, where it is plugged into one."""
    facts = facts_in_force(dict(own))
    line = load_line(load, room_c, facts)
    ratings = () if way.socket is None or load.hard_wired else (way.socket,)
    return line, circuit_check(line, ratings, facts, load.voltage_v or way.mains_v)


def _judge(logbook: Logbook, plan_id: int) -> Judge:
    plan = logbook.held().plan(plan_id)
    facts = _facts(logbook, plan_id)
    household = logbook.held().household
    lines = tuple(row.line for row in _rows(logbook, plan, facts))
    return Judge(plan, lines, facts, household.mains_voltage_v, household.mains_frequency_hz)


def _judged(logbook: Logbook, judge: Judge, supply: Supply) -> SupplyAnswer:
    held = logbook.held()
    members = tuple(held.supply(number) for number in supply.draft.members) or (supply,)
    judgement = judge.of(supply.name, [member.draft for member in members])
    return SupplyAnswer(
        supply=supply,
        members=members,
        verdict=judgement.verdict,
        leave_off=judgement.leave_off,
        kept_verdict=judgement.kept_verdict,
        cautions=supply_cautions(
            members, judge.lines, judge.plan, judge.facts, held.household.mains_voltage_v
        ),
    )

"""An outage's answers put together, from a logbook's plan or from a size file alike."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass

from hearthload.domain.plan import Plan
from hearthload.domain.supply import Supply
from hearthload.outage.answers import LoadLine, Totals
from hearthload.outage.circuits import CircuitCheck, circuit_check
from hearthload.outage.demand import totals
from hearthload.outage.judging import Judge
from hearthload.outage.loads import load_line
from hearthload.outage.sizing import Sizing, size
from hearthload.outage.steps import Step
from hearthload.service.exchange.size_json import SizeFile
from hearthload.service.outage_answers import PlanAnswer, SupplyAnswer
from hearthload.service.outage_cautions import plan_cautions, supply_cautions


@dataclass(frozen=True, slots=True)
class OutageReport:
    """A plan's answer and the supplies judged against it; `own` are figures of the trade the plan sets.

    `assumed` are the plan's fields that a size file did not give.
    """

    plan: Plan
    own: Mapping[str, float]
    lines: tuple[LoadLine, ...]
    circuits: tuple[CircuitCheck, ...]
    totals: Totals
    sizing: Sizing | None
    supplies: tuple[SupplyAnswer, ...]
    cautions: tuple[str, ...]
    assumed: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Working:
    """The arithmetic of a report, each line once: by load, of the totals, of the sizing, by supply."""

    loads: Mapping[str, tuple[Step, ...]]
    totals: tuple[Step, ...]
    sizing: tuple[Step, ...]
    supplies: Mapping[str, tuple[Step, ...]]


def report_of_answer(answer: PlanAnswer, supplies: Sequence[SupplyAnswer] = ()) -> OutageReport:
    """Put a logbook's answers together."""
    return OutageReport(
        plan=answer.plan,
        own={row.fact.key: row.value for row in answer.facts if row.is_own},
        lines=tuple(row.line for row in answer.rows),
        circuits=tuple(row.circuit for row in answer.rows),
        totals=answer.totals,
        sizing=answer.sizing,
        supplies=tuple(supplies),
        cautions=answer.cautions,
    )


def report_of_size(file: SizeFile) -> OutageReport:
    """Work out the whole chain of a size file: load list, totals, sizing, verdicts."""
    plan, facts = file.plan, file.facts
    lines = tuple(load_line(load, plan.room_c, facts) for load in file.loads)
    whole = totals(lines, plan.days, plan.confidence, facts, waking=plan.waking_share)
    judge = Judge(plan, lines, facts, file.mains_v, file.mains_hz)
    return OutageReport(
        plan=plan,
        own=file.own,
        lines=lines,
        circuits=tuple(circuit_check(line, (), facts, line.load.voltage_v or file.mains_v) for line in lines),
        totals=whole,
        sizing=size(whole, plan, facts, mains_v=file.mains_v),
        supplies=tuple(_judged(judge, supply, file) for supply in file.supplies),
        cautions=plan_cautions(lines),
        assumed=file.assumed,
    )


def _judged(judge: Judge, supply: Supply, file: SizeFile) -> SupplyAnswer:
    members = tuple(each for each in file.supplies if each.id in supply.draft.members) or (supply,)
    judgement = judge.of(supply.name, [member.draft for member in members])
    return SupplyAnswer(
        supply=supply,
        members=members,
        verdict=judgement.verdict,
        leave_off=judgement.leave_off,
        kept_verdict=judgement.kept_verdict,
        cautions=supply_cautions(members, judge.lines, judge.plan, judge.facts, file.mains_v),
    )


def all_cautions(report: OutageReport) -> tuple[str, ...]:
    """Give every caution of the plan and its supplies once, the plan's first."""
    said = [*report.cautions, *(each for answer in report.supplies for each in answer.cautions)]
    return tuple(dict.fromkeys(said))


def working_of(report: OutageReport) -> Working:
    """Gather every line of arithmetic where it first comes about."""
    seen: set[Step] = set()
    return Working(
        loads={
            line.load.name: _new(seen, line, circuit)
            for line, circuit in zip(report.lines, report.circuits, strict=True)
        },
        totals=_new(seen, report.totals),
        sizing=_new(seen, report.sizing),
        supplies={answer.supply.name: _new(seen, answer.verdict) for answer in report.supplies},
    )


def _new(seen: set[Step], *answers: object) -> tuple[Step, ...]:
    """Give the steps inside answers that were not met before, and remember them."""
    found = []
    for answer in answers:
        for step in _steps_in(answer):
            if step not in seen:
                seen.add(step)
                found.append(step)
    return tuple(found)


def _steps_in(value: object) -> Iterator[Step]:
    if isinstance(value, Step):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _steps_in(item)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from _steps_in(getattr(value, field.name))

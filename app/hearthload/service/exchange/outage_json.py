"""An outage's answers as JSON for machines: one form for plans, verdicts and size files, unrounded."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import asdict, fields
from typing import Any

from hearthload.domain.plan import Plan
from hearthload.outage.answers import Limit, LoadLine, Totals
from hearthload.outage.circuits import CircuitCheck
from hearthload.outage.fuel import Running
from hearthload.outage.shed import Breach, LeaveOff
from hearthload.outage.sizing import Sizing, SunSize
from hearthload.outage.sizing_generator import GeneratorSize
from hearthload.outage.steps import Figure, Step
from hearthload.service.exchange.outage_report import OutageReport, all_cautions, working_of
from hearthload.service.outage_answers import SupplyAnswer

Json = dict[str, Any]


def outage_json(report: OutageReport) -> Json:
    """Give a report as plain values; what is not known or without end is None."""
    working = working_of(report)
    answer = {
        "plan": {**_plan(report.plan), "figures": dict(report.own)},
        "loads": [_load(line, circuit) for line, circuit in zip(report.lines, report.circuits, strict=True)],
        "totals": _totals(report.totals),
        "sizing": None if report.sizing is None else _sizing(report.sizing),
        "verdicts": [_verdict(each, report.lines) for each in report.supplies],
        "steps": {
            "loads": {name: _steps(steps) for name, steps in working.loads.items()},
            "totals": _steps(working.totals),
            "sizing": _steps(working.sizing),
            "verdicts": {name: _steps(steps) for name, steps in working.supplies.items()},
        },
        "cautions": list(all_cautions(report)),
    }
    return {key: finite(value) for key, value in answer.items()}


def finite(value: object) -> Any:  # noqa: ANN401 - any plain value
    """Give plain values with None for numbers that JSON does not have."""
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, dict):
        return {key: finite(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [finite(item) for item in value]
    return value


def step_json(step: Step) -> Json:
    """Give one line of arithmetic as plain values."""
    return {
        "quantity": step.quantity,
        "equation": step.equation,
        "inputs": [asdict(each) for each in step.inputs],
        "value": step.value,
        "unit": step.unit,
        "source": step.source,
        "typical": step.typical,
    }


def _steps(steps: Iterable[Step]) -> list[Json]:
    return [step_json(step) for step in steps]


def _ends(figure: Figure | None) -> Json | None:
    if figure is None:
        return None
    return {"value": figure.value, "low": figure.low, "high": figure.high}


def _value(figure: Figure | None) -> float | None:
    return None if figure is None else figure.value


def _plan(plan: Plan) -> Json:
    return {field.name: getattr(plan, field.name) for field in fields(plan) if field.name != "id"}


def _load(line: LoadLine, circuit: CircuitCheck) -> Json:
    load = line.load
    return {
        "name": load.name,
        "kind": load.kind.value,
        "role": load.role.value,
        "quantity": load.quantity,
        "rank": load.rank,
        "use": load.use.value,
        "medical": load.medical,
        "daily_kwh": _ends(line.daily),
        "one_daily_kwh": _ends(line.one_daily),
        "running_w": _ends(line.running_w),
        "running_va": _value(line.running_va),
        "heater_w": line.heater_w,
        "idle_w": line.idle_w,
        "duty": line.duty,
        "start_va": _value(line.start_va),
        "start_s": line.start_s,
        "thermostatic": line.thermostatic,
        "longest_run_h": line.run_h,
        "assumed": line.assumed,
        "notes": [note.value for note in line.notes],
        "circuit": {
            "weakest": circuit.element_name,
            "needed_a": _value(circuit.needed_a),
            "allowed_a": _value(circuit.allowed_a),
            "long_run": circuit.long_run,
            "fits": circuit.fits,
        },
    }


def _totals(totals: Totals) -> Json:
    return {
        "daily_kwh": _ends(totals.daily),
        "plan_kwh": _ends(totals.plan_kwh),
        "average_w": totals.average_w,
        "running_w": totals.running_w.value,
        "running_w_low": totals.running_w.low,
        "running_w_high": totals.running_w.high,
        "running_va": totals.running_va.value,
        "likely_w": totals.likely_w.value,
        "start_va": totals.start_va.value,
        "start_s": totals.start_s,
        "restart_va": totals.restart_va.value,
        "largest_start": totals.largest_start,
        "not_known": list(totals.not_known),
        "assumed": list(totals.assumed),
    }


def _sizing(sizing: Sizing) -> Json:
    return {
        "drawn": {
            "mean_w": sizing.drawn.mean_w.value,
            "daily_kwh": _ends(sizing.drawn.daily_kwh),
            "plan_kwh": sizing.drawn.plan_kwh.value,
        },
        "batteries": [
            {
                "chemistry": each.chemistry.value,
                "stored_kwh": each.stored_kwh.value,
                "charge_w": each.charge_w.value,
                "recharge_h": _value(each.recharge_h),
                "may_charge": each.may_charge,
                "may_discharge": each.may_discharge,
            }
            for each in sizing.stored
        ],
        "inverter_w": sizing.inverter_w.value,
        "inverter_va": sizing.inverter_va.value,
        "start_va": sizing.start_va.value,
        "start_s": sizing.start_s,
        "restart_va": sizing.restart_va.value,
        "direct": [
            {"battery_v": each.battery_v, "current_a": each.current_a.value, "fuse_a": each.fuse_a.value}
            for each in sizing.direct
        ],
        "suggested_battery_v": sizing.suggested_v,
        "sun": None if sizing.sun is None else _sun(sizing.sun),
        "generators": [_generator(each) for each in sizing.generators],
        "not_known": list(sizing.not_known),
        "assumed": list(sizing.assumed),
    }


def _sun(sun: SunSize) -> Json:
    return {
        "peak_sun_hours": _ends(sun.sun_hours),
        "performance_ratio": sun.ratio.value,
        "array_w": _value(sun.array_w),
        "lead_array_w": _value(sun.lead_array_w),
        "best_from_h": sun.best_from_h,
        "best_to_h": sun.best_to_h,
        "recharging_w": _value(sun.recharging_w),
        "recharge_days": _value(sun.recharge_days),
        "controller_a": _value(sun.controller_a),
    }


def _generator(found: GeneratorSize) -> Json:
    return {
        "fuel": found.fuel.value,
        "control": found.control.value,
        "rating_w": found.rating_w.value,
        "start_va": found.start_va.value,
        "round_the_clock": _running(found.steady),
        "charging": None if found.charging is None else _running(found.charging),
        "load_low": found.load_low,
        "load_high": found.load_high,
        "cautions": [note.code.value for note in found.cautions],
    }


def _running(way: Running) -> Json:
    return {
        "hours_a_day": way.hours_a_day.value,
        "load_share": way.load_share.value,
        "litres": way.litres.value,
        "litres_per_hour": way.litres_per_hour.value,
        "containers": way.containers,
        "refuel_h": _value(way.refuel_h),
        "oil_changes": way.oil_changes,
        "possible": way.possible,
    }


def _verdict(answer: SupplyAnswer, lines: tuple[LoadLine, ...]) -> Json:
    verdict = answer.verdict
    return {
        "supply": verdict.supply,
        "kind": answer.supply.kind.value,
        "members": [each.name for each in answer.members if each.id != answer.supply.id],
        "outcome": verdict.outcome.value,
        "hours": _ends(verdict.hours),
        "fails_first": None if verdict.fails_first is None else verdict.fails_first.value,
        "limits": [_limit(each) for each in verdict.limits],
        "leave_off": None if answer.leave_off is None else _leave_off(answer, answer.leave_off, lines),
        "cautions": list(answer.cautions),
    }


def _limit(limit: Limit) -> Json:
    return {
        "code": limit.code.value,
        "needed": _value(limit.needed),
        "offered": limit.offered,
        "unit": limit.unit,
        "margin": limit.margin,
        "outcome": limit.outcome.value,
        "missing": limit.missing,
        "about": limit.about,
        "counts": limit.counts,
    }


def _leave_off(answer: SupplyAnswer, found: LeaveOff, lines: tuple[LoadLine, ...]) -> Json:
    kept = answer.kept_verdict
    return {
        "kept": [lines[place].load.name for place in found.kept],
        "left_off": [
            {"name": each.name, "not_known": each.not_known, "breaks": _breaches(each.breaches)}
            for each in found.left_off
        ],
        "essentials_break": _breaches(found.essentials_break),
        "switch_off_order": [lines[place].load.name for place in found.shed_order],
        "not_known": list(found.not_known),
        "then_outcome": None if kept is None else kept.outcome.value,
        "then_hours": None if kept is None else _ends(kept.hours),
    }


def _breaches(breaches: Iterable[Breach]) -> list[Json]:
    return [
        {"code": each.code.value, "needed": each.needed, "offered": each.offered, "unit": each.unit}
        for each in breaches
    ]

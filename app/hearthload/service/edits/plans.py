"""Edits of the outage plans, of their loads and of the figures that they set for themselves."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.plan import Plan, PlanDraft, PlanFigure, PlanLoadDraft, Use
from hearthload.errors import RefusedError
from hearthload.outage.catalogue import CATALOGUE
from hearthload.outage.facts import Facts
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits.plan_values import tidied_load, tidied_plan
from hearthload.service.edits.refusing import refuse_taken_name
from hearthload.service.logbook import Edit, Logbook
from hearthload.service.tidy import tidy_line, tidy_name
from hearthload.store.plan_rows import plan_load_row, plan_row


def add_plan(logbook: Logbook, draft: PlanDraft) -> Changes:
    """Add an outage plan with a load for every appliance: its role, one of it, as measured where it was."""
    kept = tidied_plan(draft)
    with logbook.edit("add plan") as edit:
        edit.about(kept.name)
        refuse_taken_name(kept.name, edit.held.plans.values(), "a plan")
        plan_id = edit.unit.insert("plans", plan_row(kept))
        for appliance in sorted(edit.held.appliances.values(), key=lambda found: found.id):
            load = first_load(edit.held, appliance)
            edit.unit.insert("plan_loads", {"plan_id": plan_id, **plan_load_row(load)})
        edit.created_id = plan_id
    return edit.changes


def copy_plan(logbook: Logbook, plan_id: int, name: str) -> Changes:
    """Add a plan that is another one's copy, its loads and figures included, under a name of its own."""
    kept = tidy_name(name, "plan")
    with logbook.edit("copy plan") as edit:
        plan = _about(edit, plan_id)
        refuse_taken_name(kept, edit.held.plans.values(), "a plan")
        copy_id = edit.unit.insert("plans", plan_row(replace(plan, name=kept)))
        for load in edit.held.loads_of(plan_id):
            edit.unit.insert("plan_loads", {"plan_id": copy_id, **plan_load_row(load)})
        for figure in edit.held.figures_of(plan_id):
            edit.unit.insert("plan_figures", {"plan_id": copy_id, "key": figure.key, "value": figure.value})
        edit.created_id = copy_id
    return edit.changes


def change_plan(logbook: Logbook, plan_id: int, draft: PlanDraft) -> Changes:
    """Change what is noted about a plan; its loads and figures stay."""
    kept = tidied_plan(draft)
    with logbook.edit("change plan") as edit:
        _about(edit, plan_id)
        others = [other for other in edit.held.plans.values() if other.id != plan_id]
        refuse_taken_name(kept.name, others, "a plan")
        edit.unit.update("plans", plan_id, plan_row(kept))
    return edit.changes


def remove_plan(logbook: Logbook, plan_id: int) -> Changes:
    """Remove a plan with its loads and figures."""
    with logbook.edit("remove plan") as edit:
        _about(edit, plan_id)
        edit.unit.delete("plan_figures", [figure.id for figure in edit.held.figures_of(plan_id)])
        edit.unit.delete("plan_loads", [load.id for load in edit.held.loads_of(plan_id)])
        edit.unit.delete("plans", [plan_id])
    return edit.changes


def set_plan_load(logbook: Logbook, plan_id: int, draft: PlanLoadDraft) -> Changes:
    """Say what an appliance is in a plan, whether or not it was in it before."""
    kept = tidied_load(draft)
    with logbook.edit("change load") as edit:
        plan = edit.held.plan(plan_id)
        edit.about(f"{edit.held.appliance(kept.appliance_id).name}, {plan.name}")
        loads = edit.held.loads_of(plan_id)
        standing = next((load for load in loads if load.appliance_id == kept.appliance_id), None)
        if standing is None:
            edit.created_id = edit.unit.insert("plan_loads", {"plan_id": plan_id, **plan_load_row(kept)})
        else:
            edit.unit.update("plan_loads", standing.id, plan_load_row(kept))
    return edit.changes


def add_missing_loads(logbook: Logbook, plan_id: int) -> Changes:
    """Take the appliances that came after a plan was made into it, each as it would be in a new plan."""
    with logbook.edit("add loads") as edit:
        _about(edit, plan_id)
        there = {load.appliance_id for load in edit.held.loads_of(plan_id)}
        for appliance in sorted(edit.held.appliances.values(), key=lambda found: found.id):
            if appliance.id not in there:
                load = first_load(edit.held, appliance)
                edit.unit.insert("plan_loads", {"plan_id": plan_id, **plan_load_row(load)})
    return edit.changes


def set_plan_figure(logbook: Logbook, plan_id: int, key: str, value: float | None) -> Changes:
    """Set a figure of the trade for one plan, within what it may be; None goes back to the trade's own."""
    kept = _tidy_key(key)
    if value is not None:
        Facts(CATALOGUE, {kept: value})
    with logbook.edit("set figure" if value is not None else "take back figure") as edit:
        _about(edit, plan_id)
        standing = _standing(edit, plan_id, kept)
        if value is None:
            edit.unit.delete("plan_figures", [] if standing is None else [standing.id])
        elif standing is None:
            row = {"plan_id": plan_id, "key": kept, "value": value}
            edit.created_id = edit.unit.insert("plan_figures", row)
        else:
            edit.unit.update("plan_figures", standing.id, {"value": value})
    return edit.changes


def first_load(held: Caches, appliance: Appliance) -> PlanLoadDraft:
    """Give what an appliance is in a plan until she says otherwise."""
    with_readings = {MeasurementState.RUNNING, MeasurementState.FINISHED}
    measured = any(found.state in with_readings for found in held.measurements_of(appliance.id))
    use = Use.AS_MEASURED if measured else Use.ASSUMED
    return PlanLoadDraft(appliance.id, appliance.role, use=use)


def _about(edit: Edit, plan_id: int) -> Plan:
    plan = edit.held.plan(plan_id)
    edit.about(plan.name)
    return plan


def _standing(edit: Edit, plan_id: int, key: str) -> PlanFigure | None:
    return next((found for found in edit.held.figures_of(plan_id) if found.key == key), None)


def _tidy_key(key: str) -> str:
    kept = tidy_line(key, "key")
    if not kept:
        raise RefusedError("Say which figure is meant.", field="key", code="empty_name")
    return kept

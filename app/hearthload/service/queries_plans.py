"""Questions about outage plans and supplies; the answers are frozen values."""

from __future__ import annotations

import math

from hearthload.domain.appliance import Appliance, Role
from hearthload.domain.plan import Plan, PlanLoad
from hearthload.domain.supply import Supply
from hearthload.service.logbook import Logbook
from hearthload.service.tidy import name_key

_ORDER = {Role.ESSENTIAL: 0, Role.WANTED: 1, Role.OFF: 2}


def plans(logbook: Logbook) -> tuple[Plan, ...]:
    """Give the outage plans by name."""
    return tuple(sorted(logbook.held().plans.values(), key=lambda plan: name_key(plan.name)))


def plan(logbook: Logbook, plan_id: int) -> Plan:
    """Give an outage plan by its number, refusing one that is not there."""
    return logbook.held().plan(plan_id)


def plan_loads(logbook: Logbook, plan_id: int) -> tuple[PlanLoad, ...]:
    """Give a plan's loads: the essential, the wanted by rank, those that are off; then by name."""
    held = logbook.held()
    held.plan(plan_id)

    def place(load: PlanLoad) -> tuple[int, float, str]:
        # A rank of 0 is the last; among the essential and the off there is none.
        rank = (load.rank or math.inf) if load.role is Role.WANTED else 0.0
        return _ORDER[load.role], rank, name_key(held.appliances[load.appliance_id].name)

    return tuple(sorted(held.loads_of(plan_id), key=place))


def plan_figures(logbook: Logbook, plan_id: int) -> dict[str, float]:
    """Give the figures of the trade that a plan sets for itself, by their keys."""
    held = logbook.held()
    held.plan(plan_id)
    return {figure.key: figure.value for figure in held.figures_of(plan_id)}


def appliances_not_in_plan(logbook: Logbook, plan_id: int) -> tuple[Appliance, ...]:
    """Give the appliances that came after a plan was made and are not in it yet, by name."""
    held = logbook.held()
    held.plan(plan_id)
    there = {load.appliance_id for load in held.loads_of(plan_id)}
    missing = [found for found in held.appliances.values() if found.id not in there]
    return tuple(sorted(missing, key=lambda appliance: name_key(appliance.name)))


def supplies(logbook: Logbook) -> tuple[Supply, ...]:
    """Give the supplies by name."""
    return tuple(sorted(logbook.held().supplies.values(), key=lambda supply: name_key(supply.name)))


def supply(logbook: Logbook, supply_id: int) -> Supply:
    """Give a supply by its number, refusing one that is not there."""
    return logbook.held().supply(supply_id)

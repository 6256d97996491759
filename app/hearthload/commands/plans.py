"""Finds the plan and the supply that `plan` and `verdict` are about."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.commands.names import Sort, find_named, listed
from hearthload.domain.plan import Plan
from hearthload.domain.supply import Supply
from hearthload.errors import RefusedError

PLAN = Sort("plan", "A", "It has none yet: open it in the window and plan an outage.")
SUPPLY = Sort("supply", "A", "It has none yet: open it in the window and add the equipment.")


def chosen_plan(plans: Sequence[Plan], typed: str | None) -> Plan:
    """Give the plan of that name; without a name the only one there is."""
    if typed is not None:
        return find_named(plans, typed, PLAN)
    if len(plans) == 1:
        return plans[0]
    if not plans:
        raise RefusedError(
            "There is no outage plan in this logbook yet: open it in the window and plan an outage.",
            field="plan",
            code="no_plan",
        )
    raise RefusedError(
        f"There are {len(plans)} outage plans in this logbook, {listed([plan.name for plan in plans])}: "
        "say which with --plan NAME.",
        field="plan",
        code="which_plan",
    )


def chosen_supplies(supplies: Sequence[Supply], typed: str | None) -> tuple[Supply, ...]:
    """Give the supply of that name; without a name all of them."""
    if typed is not None:
        return (find_named(supplies, typed, SUPPLY),)
    if not supplies:
        raise RefusedError(
            "There is no supply in this logbook yet: open it in the window and add the equipment that is "
            "there or offered.",
            field="supply",
            code="no_supply",
        )
    return tuple(supplies)

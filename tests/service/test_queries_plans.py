"""Questions about plans and supplies: what is in the answers, and in which order."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanLoadDraft, Use
from hearthload.domain.supply import SupplyKind
from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.edits.plans import set_plan_figure, set_plan_load
from tests.service.building import House, a_house


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def test_nothing_is_there_at_first(house: House) -> None:
    assert (queries.plans(house.logbook), queries.supplies(house.logbook)) == ((), ())


def test_plans_and_supplies_are_by_name(house: House) -> None:
    for name in ("storm", "Ärger", "Flood"):
        house.plan(name)
        house.supply(name, SupplyKind.ARRAY)
    assert [plan.name for plan in queries.plans(house.logbook)] == ["Flood", "storm", "Ärger"]
    assert [supply.name for supply in queries.supplies(house.logbook)] == ["Flood", "storm", "Ärger"]
    assert queries.plan(house.logbook, 2).name == "Ärger"
    assert queries.supply(house.logbook, 3).name == "Flood"


def test_loads_are_in_the_order_in_which_they_matter(house: House) -> None:
    placed = (
        ("kettle", Role.OFF, 1),
        ("Lamp", Role.WANTED, 0),
        ("television", Role.WANTED, 2),
        ("Radio", Role.WANTED, 2),
        ("Clock", Role.WANTED, 1),
        ("Oven", Role.OFF, 0),
        ("Router", Role.ESSENTIAL, 2),
        ("Freezer", Role.ESSENTIAL, 9),
        ("Drill", Role.WANTED, 0),
    )
    numbers = {name: house.appliance(name) for name, _, _ in placed}
    plan = house.plan()
    for name, role, rank in placed:
        draft = PlanLoadDraft(numbers[name], role, use=Use.ASSUMED, rank=rank)
        set_plan_load(house.logbook, plan, draft)
    names = {number: name for name, number in numbers.items()}
    assert [names[load.appliance_id] for load in queries.plan_loads(house.logbook, plan)] == [
        "Freezer",
        "Router",
        "Clock",
        "Radio",
        "television",
        "Drill",
        "Lamp",
        "kettle",
        "Oven",
    ]


def test_what_is_of_one_plan_is_not_of_another(house: House) -> None:
    house.appliance()
    storm, flood = house.plan("Storm"), house.plan("Flood")
    set_plan_figure(house.logbook, storm, "long_run_share", 0.8)
    set_plan_figure(house.logbook, storm, "battery_margin", 0.1)
    assert queries.plan_figures(house.logbook, storm) == {"long_run_share": 0.8, "battery_margin": 0.1}
    assert queries.plan_figures(house.logbook, flood) == {}
    assert [load.plan_id for load in queries.plan_loads(house.logbook, flood)] == [flood]


def test_what_came_later_is_not_in_the_plan(house: House) -> None:
    house.appliance("Router")
    plan = house.plan()
    assert queries.appliances_not_in_plan(house.logbook, plan) == ()
    later = [house.appliance(name) for name in ("oven", "Lamp")]
    found = queries.appliances_not_in_plan(house.logbook, plan)
    assert [appliance.name for appliance in found] == ["Lamp", "oven"]
    set_plan_load(house.logbook, plan, PlanLoadDraft(later[0], Role.OFF))
    assert [found.name for found in queries.appliances_not_in_plan(house.logbook, plan)] == ["Lamp"]


def test_what_is_not_there_is_refused(house: House) -> None:
    questions = (
        queries.plan,
        queries.plan_loads,
        queries.plan_figures,
        queries.appliances_not_in_plan,
    )
    for ask in questions:
        with pytest.raises(RefusedError, match="no plan number 7"):
            ask(house.logbook, 7)
    with pytest.raises(RefusedError, match="no supply number 7"):
        queries.supply(house.logbook, 7)

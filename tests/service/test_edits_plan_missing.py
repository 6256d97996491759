"""Taking appliances that came after a plan into it: one edit, as in a new plan, undone at once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Use
from hearthload.service import queries_plans
from hearthload.service.edits.plans import add_missing_loads
from tests.service.building import House, a_house


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def test_missing_appliances_become_loads_in_one_edit(house: House) -> None:
    plan_id = house.plan()
    lamp = house.appliance("Lamp", role=Role.ESSENTIAL)
    house.measured("Router")
    changes, lines = house.journaled(lambda: add_missing_loads(house.logbook, plan_id))
    added = ("add loads: Storm", "plan_loads", "added")
    assert [(edit, table, word) for edit, table, _, word in lines] == [added, added]
    assert plan_id in changes.plan_ids
    loads = {load.appliance_id: load for load in queries_plans.plan_loads(house.logbook, plan_id)}
    assert (loads[lamp].role, loads[lamp].use) == (Role.ESSENTIAL, Use.ASSUMED)
    (router,) = (load for number, load in loads.items() if number != lamp)
    assert (router.role, router.use, router.quantity) == (Role.WANTED, Use.AS_MEASURED, 1)
    assert queries_plans.appliances_not_in_plan(house.logbook, plan_id) == ()
    house.logbook.history.undo()
    assert queries_plans.plan_loads(house.logbook, plan_id) == ()


def test_loads_that_are_there_stay_as_they_are(house: House) -> None:
    house.appliance("Lamp", role=Role.ESSENTIAL)
    plan_id = house.plan()
    before = queries_plans.plan_loads(house.logbook, plan_id)
    house.appliance("Kettle")
    add_missing_loads(house.logbook, plan_id)
    after = queries_plans.plan_loads(house.logbook, plan_id)
    assert set(before) < set(after)
    assert len(after) == 2


def test_a_plan_that_is_not_there_is_refused(house: House) -> None:
    with house.refuses("unknown_plan", "plan_id"):
        add_missing_loads(house.logbook, 7)

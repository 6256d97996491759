"""Edits of a plan's loads and of the figures it sets for itself."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanLoadDraft, Use
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.plans import set_plan_figure, set_plan_load
from tests.service.building import House, a_house, furnished
from tests.service.made_plans import LOAD

# Each draws one field of a good load out of what can be: field, value, code.
BAD: list[tuple[str, Any, str]] = [
    ("quantity", 0, "out_of_range"),
    ("quantity", -2, "out_of_range"),
    ("quantity", 1001, "out_of_range"),
    ("rank", -1, "out_of_range"),
    ("rank", 1001, "out_of_range"),
    ("hours_a_day", 0.0, "out_of_range"),
    ("hours_a_day", 24.1, "out_of_range"),
    ("hours_a_day", math.nan, "out_of_range"),
    ("hours_a_day", None, "no_hours"),
    ("uses_a_day", 0.0, "out_of_range"),
    ("uses_a_day", 1001.0, "out_of_range"),
    ("daily_kwh", 0.0, "out_of_range"),
    ("daily_kwh", -0.3, "out_of_range"),
    ("daily_kwh", 1001.0, "out_of_range"),
    ("daily_kwh", None, "no_daily"),
    ("daily_low_kwh", 0.0, "out_of_range"),
    ("daily_low_kwh", 0.81, "ends_turned_round"),
    ("daily_low_kwh", None, "one_end"),
    ("daily_high_kwh", math.inf, "out_of_range"),
    ("daily_high_kwh", 0.79, "ends_turned_round"),
    ("daily_high_kwh", None, "one_end"),
    ("room_c", 61.0, "out_of_range"),
    ("season_factor", 0.0, "out_of_range"),
    ("season_factor", 101.0, "out_of_range"),
    ("season_factor_u", -0.1, "out_of_range"),
    ("season_factor_u", 1.1, "out_of_range"),
    ("running_w", 0.0, "out_of_range"),
    ("running_w", -90.0, "out_of_range"),
    ("running_w", 100_001.0, "out_of_range"),
    ("idle_w", -0.1, "out_of_range"),
    ("idle_w", 90.1, "idle_above_running"),
    ("power_factor", 0.0, "out_of_range"),
    ("power_factor", 1.01, "out_of_range"),
    ("start_multiple", 0.9, "out_of_range"),
    ("start_multiple", 31.0, "out_of_range"),
    ("start_s", 0.0, "out_of_range"),
    ("start_s", 61.0, "out_of_range"),
]


def furnish(house: House) -> None:
    house.appliance("Router")
    house.appliance("Lamp")
    house.plan("Storm")
    house.appliance("Clock")


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) and a lamp (2) in plan 1, as loads 1 and 2, and a clock (3) that came later."""
    with a_house(tmp_path, file) as made:
        yield made


def test_changing_a_load(house: House) -> None:
    other = house.held.plan_loads[2]
    changes, lines = house.journaled(lambda: set_plan_load(house.logbook, 1, LOAD))
    name = "change load: Router, Storm"
    assert changes == Changes(name, frozenset({Topic.PLANS}), plan_ids=frozenset({1}))
    assert lines == [(name, "plan_loads", 1, "changed")]
    kept = house.held.plan_loads[1]
    assert all(getattr(kept, each.name) == getattr(LOAD, each.name) for each in fields(LOAD))
    assert house.held.plan_loads[2] is other


def test_taking_in_what_came_later(house: House) -> None:
    changes, lines = house.journaled(
        lambda: set_plan_load(house.logbook, 1, PlanLoadDraft(3, Role.ESSENTIAL, use=Use.ASSUMED))
    )
    assert (changes.created_id, changes.plan_ids) == (3, frozenset({1}))
    assert lines == [("change load: Clock, Storm", "plan_loads", 3, "added")]
    house.logbook.history.undo()
    assert sorted(house.held.plan_loads) == [1, 2]


def test_an_appliance_has_another_load_in_another_plan(house: House) -> None:
    flood = house.plan("Flood")
    set_plan_load(house.logbook, flood, LOAD)
    assert house.held.plan_loads[1].quantity == 1
    assert house.held.loads_of(flood)[0].quantity == 2


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    with house.refuses(code, field):
        set_plan_load(house.logbook, 1, replace(LOAD, **{field: value}))


def test_uses_a_day_are_to_be_counted(house: House) -> None:
    with house.refuses("no_uses", "uses_a_day"):
        set_plan_load(house.logbook, 1, PlanLoadDraft(1, Role.WANTED, use=Use.USES_A_DAY))


def test_ends_need_a_figure_and_each_other(house: House) -> None:
    with house.refuses("no_daily", "daily_kwh"):
        set_plan_load(house.logbook, 1, PlanLoadDraft(1, Role.WANTED, daily_low_kwh=0.2))
    set_plan_load(house.logbook, 1, PlanLoadDraft(1, Role.WANTED, daily_kwh=0.2))
    exact = PlanLoadDraft(1, Role.WANTED, daily_kwh=0.2, daily_low_kwh=0.2, daily_high_kwh=0.2)
    set_plan_load(house.logbook, 1, exact)
    assert house.held.plan_loads[1].daily_high_kwh == 0.2


@pytest.mark.parametrize("number", [0, -1, 99])
def test_an_appliance_that_is_not_there(house: House, number: int) -> None:
    with house.refuses("unknown_appliance", "appliance_id"):
        set_plan_load(house.logbook, 1, replace(LOAD, appliance_id=number))


def figures(house: House) -> dict[str, float]:
    return {found.key: found.value for found in house.held.figures_of(1)}


def test_setting_a_figure_and_going_back(house: House) -> None:
    changes, lines = house.journaled(lambda: set_plan_figure(house.logbook, 1, "long_run_share", 0.8))
    name = "set figure: Storm"
    assert changes == Changes(name, frozenset({Topic.PLANS}), plan_ids=frozenset({1}), created_id=1)
    assert lines == [(name, "plan_figures", 1, "added")]
    changes, lines = house.journaled(lambda: set_plan_figure(house.logbook, 1, " long_run_share ", 0.4))
    assert lines == [(name, "plan_figures", 1, "changed")]
    assert changes.created_id is None
    assert figures(house) == {"long_run_share": 0.4}
    changes, lines = house.journaled(lambda: set_plan_figure(house.logbook, 1, "long_run_share", None))
    assert lines == [("take back figure: Storm", "plan_figures", 1, "removed")]
    assert figures(house) == {}
    house.logbook.history.undo()
    house.logbook.history.undo()
    assert figures(house) == {"long_run_share": 0.8}


def test_going_back_from_what_was_never_set_is_no_edit(house: House) -> None:
    set_plan_figure(house.logbook, 1, "battery_margin", 0.3)
    changes, lines = house.journaled(lambda: set_plan_figure(house.logbook, 1, "long_run_share", None))
    assert (changes.topics, lines) == (frozenset(), [])
    assert house.logbook.history.undo_name == "set figure: Storm"
    assert figures(house) == {"battery_margin": 0.3}


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 0.29, 1.01, -0.4])
def test_a_figure_that_is_none(house: House, value: float) -> None:
    with house.refuses("fact_range", "long_run_share"):
        set_plan_figure(house.logbook, 1, "long_run_share", value)


def test_a_figure_that_there_is_not(house: House) -> None:
    with house.refuses("unknown_fact", "depth"):
        set_plan_figure(house.logbook, 1, "depth", 0.8)


@pytest.mark.parametrize("key", ["", "  "])
def test_a_figure_without_a_key(house: House, key: str) -> None:
    with house.refuses("empty_name", "key"):
        set_plan_figure(house.logbook, 1, key, 0.8)

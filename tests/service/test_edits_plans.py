"""Edits of the outage plans: what they save and tell, and what they refuse without a trace."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import PlanDraft, PlanLoad, Use
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import remove_appliance
from hearthload.service.edits.measurements import finish_measurement, set_aside_measurement
from hearthload.service.edits.plans import (
    add_plan,
    change_plan,
    copy_plan,
    remove_plan,
    set_plan_figure,
    set_plan_load,
)
from tests.service.building import House, a_house, contents, furnished, number_of, on_day
from tests.service.made_plans import LOAD, STORM
from tests.store.files import kept_rows

# Each draws one field of a good plan out of what can be: field, value, code.
BAD: list[tuple[str, Any, str]] = [
    ("name", " ", "empty_name"),
    ("name", "x" * 121, "too_long"),
    ("note", "a\0b", "bad_text"),
    ("days", 0.0, "out_of_range"),
    ("days", -1.0, "out_of_range"),
    ("days", 366.5, "out_of_range"),
    ("days", math.nan, "out_of_range"),
    ("days", math.inf, "out_of_range"),
    ("month", 0, "out_of_range"),
    ("month", 13, "out_of_range"),
    ("room_c", -41.0, "out_of_range"),
    ("room_c", 61.0, "out_of_range"),
    ("battery_c", math.nan, "out_of_range"),
    ("outdoor_c", 100.0, "out_of_range"),
    ("altitude_m", -500.0, "out_of_range"),
    ("altitude_m", 9000.0, "out_of_range"),
    ("confidence", 0.49, "out_of_range"),
    ("confidence", 1.0, "out_of_range"),
    ("confidence", 90.0, "out_of_range"),
    ("waking_from_h", -1.0, "out_of_range"),
    ("waking_to_h", 25.0, "out_of_range"),
    ("waking_to_h", math.nan, "out_of_range"),
    ("waking_to_h", 6.5, "waking_turned_round"),
    ("waking_to_h", 3.0, "waking_turned_round"),
    ("latitude_deg", 91.0, "out_of_range"),
    ("peak_sun_hours", -0.1, "out_of_range"),
    ("peak_sun_hours", 13.0, "out_of_range"),
]


def furnish(house: House) -> None:
    house.measured("Router")
    house.appliance("Oven", Kind.KITCHEN, role=Role.OFF)
    finish_measurement(house.logbook, house.measured("Lamp", "Blue meter"), on_day(2))
    set_aside_measurement(house.logbook, house.measured("Pump", "Red meter"))
    house.planned(house.appliance("Freezer", Kind.FREEZER, role=Role.ESSENTIAL))


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give a router (1) under way, an oven (2), a lamp (3) measured, a pump (4) set aside, a freezer (5)."""
    with a_house(tmp_path, file) as made:
        yield made


def loads(house: House, plan_id: int) -> list[PlanLoad]:
    return list(house.held.loads_of(plan_id))


def test_adding(house: House) -> None:
    changes, lines = house.journaled(lambda: add_plan(house.logbook, STORM))
    number = number_of(changes)
    kept = house.held.plan(number)
    assert all(getattr(kept, each.name) == getattr(STORM, each.name) for each in fields(STORM))
    name = "add plan: Winter storm"
    assert changes == Changes(name, frozenset({Topic.PLANS}), plan_ids=frozenset({number}), created_id=number)
    assert not changes.about_all
    assert lines[0] == (name, "plans", number, "added")
    assert [line[1:] for line in lines[1:]] == [("plan_loads", each, "added") for each in range(1, 6)]


def test_a_new_plan_has_a_load_for_every_appliance(house: House) -> None:
    """Measured is what has readings that count: not what is planned only, nor what was set aside."""
    found = loads(house, house.plan())
    assert [(load.appliance_id, load.role, load.use) for load in found] == [
        (1, Role.WANTED, Use.AS_MEASURED),
        (2, Role.OFF, Use.ASSUMED),
        (3, Role.WANTED, Use.AS_MEASURED),
        (4, Role.WANTED, Use.ASSUMED),
        (5, Role.ESSENTIAL, Use.ASSUMED),
    ]
    assert {(load.quantity, load.rank, load.running_w, load.daily_kwh) for load in found} == {
        (1, 0, None, None)
    }


def test_an_appliance_that_comes_later_is_not_in_it(house: House) -> None:
    number = house.plan()
    house.appliance("Clock")
    assert len(loads(house, number)) == 5


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_adding_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    with house.refuses(code, field):
        add_plan(house.logbook, replace(STORM, **{field: value}))


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_changing_to_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    number = house.plan()
    with house.refuses(code, field):
        change_plan(house.logbook, number, replace(STORM, **{field: value}))


def test_names_that_differ_by_case_are_the_same_name(house: House) -> None:
    house.plan("Störung")
    other = house.plan("Flood")
    with house.refuses("name_taken", "name"):
        add_plan(house.logbook, PlanDraft("STÖRUNG"))
    with house.refuses("name_taken", "name"):
        change_plan(house.logbook, other, PlanDraft(" störung "))
    with house.refuses("name_taken", "name"):
        copy_plan(house.logbook, other, "STÖRUNG")
    with house.refuses("name_taken", "name"):
        copy_plan(house.logbook, other, "flood")
    change_plan(house.logbook, other, PlanDraft("FLOOD"))
    assert house.held.plan(other).name == "FLOOD"


def test_changing(house: House) -> None:
    number = house.plan("Flood")
    before = loads(house, number)
    changes, lines = house.journaled(lambda: change_plan(house.logbook, number, STORM))
    name = "change plan: Flood"
    assert changes == Changes(name, frozenset({Topic.PLANS}), plan_ids=frozenset({number}))
    assert lines == [(name, "plans", number, "changed")]
    assert house.held.plan(number).altitude_m == STORM.altitude_m
    assert loads(house, number) == before


def test_changing_nothing_is_no_edit(house: House) -> None:
    number = house.plan()
    changes, lines = house.journaled(lambda: change_plan(house.logbook, number, PlanDraft("Storm")))
    assert (changes.topics, changes.plan_ids, lines) == (frozenset(), frozenset(), [])


def test_copying(house: House) -> None:
    number = number_of(add_plan(house.logbook, STORM))
    set_plan_load(house.logbook, number, replace(LOAD, appliance_id=2))
    set_plan_figure(house.logbook, number, "long_run_share", 0.8)
    house.appliance("Clock")
    changes = copy_plan(house.logbook, number, " Winter storm,\nlong ")
    copy = number_of(changes)
    assert (changes.name, changes.plan_ids) == ("copy plan: Winter storm", frozenset({copy}))
    held = house.held
    assert held.plan(copy) == replace(held.plan(number), id=copy, name="Winter storm, long")
    copied, first = held.loads_of(copy), held.loads_of(number)
    assert [replace(load, id=0, plan_id=0) for load in copied] == [
        replace(load, id=0, plan_id=0) for load in first
    ]
    assert [(figure.key, figure.value) for figure in held.figures_of(copy)] == [("long_run_share", 0.8)]
    # From then on each goes its own way.
    set_plan_figure(house.logbook, copy, "long_run_share", 0.5)
    assert held.figures_of(number)[0].value == 0.8


def test_removing_takes_loads_and_figures_along(house: House) -> None:
    number, other = house.plan("Flood"), house.plan()
    set_plan_figure(house.logbook, number, "long_run_share", 0.8)
    set_plan_figure(house.logbook, other, "long_run_share", 0.7)
    before, cached = kept_rows(house.path), contents(house.held)
    changes, lines = house.journaled(lambda: remove_plan(house.logbook, number))
    assert changes == Changes("remove plan: Flood", frozenset({Topic.PLANS}), plan_ids=frozenset({number}))
    assert [line[1] for line in lines] == ["plan_figures", *["plan_loads"] * 5, "plans"]
    assert list(house.held.plans) == [other]
    assert {load.plan_id for load in house.held.plan_loads.values()} == {other}
    assert [figure.plan_id for figure in house.held.plan_figures.values()] == [other]
    house.logbook.history.undo()
    assert kept_rows(house.path) == before
    assert contents(house.held) == cached


def test_removing_an_appliance_takes_it_out_of_all_plans(house: House) -> None:
    plans = frozenset({house.plan("Flood"), house.plan()})
    before, cached = kept_rows(house.path), contents(house.held)
    changes = remove_appliance(house.logbook, 1)
    assert changes.topics == {Topic.APPLIANCES, Topic.MEASUREMENTS, Topic.READINGS, Topic.PLANS}
    assert (changes.plan_ids, changes.appliance_ids) == (plans, frozenset({1}))
    assert {load.appliance_id for load in house.held.plan_loads.values()} == {2, 3, 4, 5}
    house.logbook.history.undo()
    assert kept_rows(house.path) == before
    assert contents(house.held) == cached


@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_plan_that_is_not_there(house: House, number: int) -> None:
    house.plan()
    edits: tuple[Callable[[], Changes], ...] = (
        lambda: change_plan(house.logbook, number, STORM),
        lambda: copy_plan(house.logbook, number, "Flood"),
        lambda: remove_plan(house.logbook, number),
        lambda: set_plan_load(house.logbook, number, LOAD),
        lambda: set_plan_figure(house.logbook, number, "long_run_share", 0.8),
    )
    for edit in edits:
        with house.refuses("unknown_plan", "plan_id"):
            edit()

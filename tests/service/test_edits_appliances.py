"""Edits of the appliances: what they save and tell, and what they refuse without a trace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.measurement import MeasurementState
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import add_appliance, change_appliance, remove_appliance
from hearthload.service.edits.measurements import finish_measurement
from tests.service.building import House, a_house, number_of, on_day

FRIDGE = ApplianceDraft(
    "Larder refrigerator",
    Kind.REFRIGERATOR,
    room="Larder",
    role=Role.ESSENTIAL,
    plug="cee_7",
    voltage_v=230.0,
    nameplate_w=120.0,
    running_w=85.0,
    target=0.15,
    medical=True,
    note="hums at night",
)

# Each draws one field of a good draft out of what can be: field, value, code.
BAD: list[tuple[str, Any, str]] = [
    ("name", "", "empty_name"),
    ("name", " \t\n ", "empty_name"),
    ("name", "x" * 121, "too_long"),
    ("name", "a\0b", "bad_text"),
    ("name", "a\x1bb", "bad_text"),
    ("name", "\ud800", "bad_text"),
    ("room", "x" * 121, "too_long"),
    ("room", "a\x07b", "bad_text"),
    ("note", "x" * 10_001, "too_long"),
    ("note", "a\0b", "bad_text"),
    ("plug", "", "unknown_plug"),
    ("plug", "nema", "unknown_plug"),
    ("voltage_v", 49.9, "out_of_range"),
    ("voltage_v", 500.1, "out_of_range"),
    ("voltage_v", math.nan, "out_of_range"),
    ("nameplate_w", -0.1, "out_of_range"),
    ("nameplate_w", 100_001.0, "out_of_range"),
    ("nameplate_w", math.inf, "out_of_range"),
    ("running_w", -1.0, "out_of_range"),
    ("running_w", 100_001.0, "out_of_range"),
    ("running_w", math.nan, "out_of_range"),
    ("target", 0.009, "out_of_range"),
    ("target", 1.01, "out_of_range"),
    ("target", math.nan, "out_of_range"),
]


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def with_field(draft: ApplianceDraft, field: str, value: Any) -> ApplianceDraft:  # noqa: ANN401
    return replace(draft, **{field: value})


def test_adding(house: House) -> None:
    changes, lines = house.journaled(lambda: add_appliance(house.logbook, FRIDGE))
    number = number_of(changes)
    kept = house.held.appliance(number)
    assert all(getattr(kept, each.name) == getattr(FRIDGE, each.name) for each in fields(FRIDGE))
    name = "add appliance: Larder refrigerator"
    assert changes == Changes(
        name, frozenset({Topic.APPLIANCES}), appliance_ids=frozenset({number}), created_id=number
    )
    assert lines == [(name, "appliances", number, "added")]
    assert house.logbook.history.undo_name == name


def test_text_is_tidied(house: House) -> None:
    draft = ApplianceDraft(
        "  Caf\u0065\u0301 \n lamp ", Kind.PUMP, room="\tHall  way", note=" one\n\n two \n"
    )
    kept = house.held.appliance(number_of(add_appliance(house.logbook, draft)))
    assert (kept.name, kept.room, kept.note) == ("Caf\u00e9 lamp", "Hall way", "one\n\n two")


@pytest.mark.parametrize("field", ["name", "room"])
def test_the_longest_line_is_taken(house: House, field: str) -> None:
    kept = house.held.appliance(number_of(add_appliance(house.logbook, with_field(FRIDGE, field, "x" * 120))))
    assert getattr(kept, field) == "x" * 120


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_adding_what_cannot_be(house: House, field: str, value: object, code: str) -> None:
    with house.refuses(code, field):
        add_appliance(house.logbook, with_field(FRIDGE, field, value))


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_changing_to_what_cannot_be(house: House, field: str, value: object, code: str) -> None:
    number = house.appliance("Lamp")
    with house.refuses(code, field):
        change_appliance(house.logbook, number, with_field(FRIDGE, field, value))


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("Router", "Router"),
        ("Router", "ROUTER"),
        ("router", "  rOUTER "),
        ("Köök", "KÖÖK"),
        ("Caf\u00e9", "cafe\u0301"),
        ("Straßenlampe", "STRASSENLAMPE"),
    ],
)
def test_names_that_differ_by_case_are_the_same_name(house: House, first: str, second: str) -> None:
    """Commands and lists tell appliances apart by name; SQLite itself knows the case of A to Z only."""
    house.appliance(first)
    with house.refuses("name_taken", "name"):
        add_appliance(house.logbook, ApplianceDraft(second, Kind.PUMP))
    other = house.appliance("Something else")
    with house.refuses("name_taken", "name"):
        change_appliance(house.logbook, other, ApplianceDraft(second, Kind.PUMP))


def test_a_meter_may_have_the_name_of_an_appliance(house: House) -> None:
    house.meter("Router")
    assert house.held.appliance(house.appliance("Router")).name == "Router"


def test_changing(house: House) -> None:
    number = house.appliance("Lamp")
    changes, lines = house.journaled(lambda: change_appliance(house.logbook, number, FRIDGE))
    # The edit is called by the name that she knows the thing by when she takes it back.
    name = "change appliance: Lamp"
    assert changes == Changes(name, frozenset({Topic.APPLIANCES}), appliance_ids=frozenset({number}))
    assert lines == [(name, "appliances", number, "changed")]
    assert house.held.appliance(number).name == FRIDGE.name
    assert house.held.appliance(number).kind is Kind.REFRIGERATOR


def test_its_own_name_in_another_case_is_no_clash(house: House) -> None:
    number = house.appliance("router")
    change_appliance(house.logbook, number, ApplianceDraft("ROUTER", Kind.ALWAYS_ON))
    assert house.held.appliance(number).name == "ROUTER"


def test_changing_nothing_is_no_edit(house: House) -> None:
    number = house.appliance("Lamp", Kind.LAMP_TIMER)
    name = house.logbook.history.undo_name
    changes, lines = house.journaled(
        lambda: change_appliance(house.logbook, number, ApplianceDraft("Lamp", Kind.LAMP_TIMER))
    )
    assert (changes.topics, changes.appliance_ids, lines) == (frozenset(), frozenset(), [])
    assert house.logbook.history.undo_name == name


def test_what_is_on_a_meter_is_not_hard_wired(house: House) -> None:
    measurement_id = house.measured("Router")
    wired = ApplianceDraft("Router", Kind.ALWAYS_ON, hard_wired=True)
    with house.refuses("already_measured", "hard_wired"):
        change_appliance(house.logbook, 1, wired)
    finish_measurement(house.logbook, measurement_id, on_day(2))
    change_appliance(house.logbook, 1, wired)
    assert house.held.appliance(1).hard_wired


def test_removing_takes_the_measurements_along(house: House) -> None:
    measurement_id = house.measured("Router")
    other = house.measured("Lamp", "Blue meter")
    kept = house.record(other)
    changes, lines = house.journaled(lambda: remove_appliance(house.logbook, 1))
    name = "remove appliance: Router"
    assert changes == Changes(
        name,
        frozenset({Topic.APPLIANCES, Topic.MEASUREMENTS, Topic.READINGS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({1}),
        measurement_ids=frozenset({measurement_id}),
    )
    assert lines == [
        (name, "readings", 1, "removed"),
        (name, "readings", 2, "removed"),
        (name, "runs", 1, "removed"),
        (name, "measurements", measurement_id, "removed"),
        (name, "appliances", 1, "removed"),
    ]
    assert list(house.held.appliances) == [2]
    assert house.held.measurements_of(1) == ()
    assert house.record(other) is kept
    # The meter that was busy with what is gone now is free.
    another = house.started(house.appliance("Oven"), 1, 5)
    assert house.held.measurement(another).state is MeasurementState.RUNNING


@pytest.mark.parametrize("number", [0, -1, 99])
def test_an_appliance_that_is_not_there(house: House, number: int) -> None:
    house.appliance()
    with house.refuses("unknown_appliance", "appliance_id"):
        change_appliance(house.logbook, number, FRIDGE)
    with house.refuses("unknown_appliance", "appliance_id"):
        remove_appliance(house.logbook, number)


def test_a_removed_appliance_s_number_is_not_given_again(house: House) -> None:
    number = house.appliance("Router")
    remove_appliance(house.logbook, number)
    assert house.appliance("Router") != number

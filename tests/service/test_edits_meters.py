"""Edits of the meters: what they save and tell, and what they refuse without a trace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.meter import DisplayRounding, MeterDraft, PowerLoss
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.measurements import finish_measurement, set_aside_measurement, swap_meter
from hearthload.service.edits.meters import add_meter, change_meter, remove_meter
from tests.service.building import House, a_house, number_of, on_day, read_on

GREY = MeterDraft(
    "Grey meter",
    plug="cee_7",
    voltage_v=230.0,
    current_a=16.0,
    energy_step_kwh=0.001,
    elapsed_step_h=0.1,
    gain_percent=1.0,
    power_loss=PowerLoss.KEEPS,
    rounding=DisplayRounding.TRUNCATES,
    note="borrowed",
)

# Each draws one field of a good draft out of what can be: field, value, code.
BAD: list[tuple[str, Any, str]] = [
    ("name", " ", "empty_name"),
    ("name", "x" * 121, "too_long"),
    ("name", "a\0b", "bad_text"),
    ("note", "x" * 10_001, "too_long"),
    ("plug", "nema", "unknown_plug"),
    ("voltage_v", 49.0, "out_of_range"),
    ("voltage_v", 501.0, "out_of_range"),
    ("current_a", 0.0, "out_of_range"),
    ("current_a", 200.1, "out_of_range"),
    ("energy_step_kwh", 0.0, "out_of_range"),
    ("energy_step_kwh", 10.1, "out_of_range"),
    ("energy_step_kwh", math.nan, "out_of_range"),
    ("elapsed_step_h", 0.0, "out_of_range"),
    ("elapsed_step_h", 24.1, "out_of_range"),
    ("elapsed_step_h", math.inf, "out_of_range"),
    ("gain_percent", 0.0, "out_of_range"),
    ("gain_percent", 50.1, "out_of_range"),
]


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def with_field(field: str, value: Any) -> MeterDraft:  # noqa: ANN401
    return replace(GREY, **{field: value})


def test_adding(house: House) -> None:
    changes, lines = house.journaled(lambda: add_meter(house.logbook, GREY))
    number = number_of(changes)
    kept = house.held.meter(number)
    assert all(getattr(kept, each.name) == getattr(GREY, each.name) for each in fields(GREY))
    name = "add meter: Grey meter"
    assert changes == Changes(
        name, frozenset({Topic.METERS}), meter_ids=frozenset({number}), created_id=number
    )
    assert lines == [(name, "meters", number, "added")]
    assert house.logbook.history.undo_name == name


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_adding_what_cannot_be(house: House, field: str, value: object, code: str) -> None:
    with house.refuses(code, field):
        add_meter(house.logbook, with_field(field, value))


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_changing_to_what_cannot_be(house: House, field: str, value: object, code: str) -> None:
    number = house.meter("Blue meter")
    with house.refuses(code, field):
        change_meter(house.logbook, number, with_field(field, value))


def test_names_that_differ_by_case_are_the_same_name(house: House) -> None:
    number = house.meter("Zähler Küche")
    with house.refuses("name_taken", "name"):
        add_meter(house.logbook, MeterDraft(" ZÄHLER küche "))
    other = house.meter("Blue meter")
    with house.refuses("name_taken", "name"):
        change_meter(house.logbook, other, MeterDraft("zähler KÜCHE"))
    change_meter(house.logbook, number, MeterDraft("ZÄHLER KÜCHE"))
    assert house.held.meter(number).name == "ZÄHLER KÜCHE"


def test_changing(house: House) -> None:
    number = house.meter("Blue meter")
    changes, lines = house.journaled(lambda: change_meter(house.logbook, number, GREY))
    name = "change meter: Blue meter"
    assert changes == Changes(name, frozenset({Topic.METERS}), meter_ids=frozenset({number}))
    assert lines == [(name, "meters", number, "changed")]
    assert house.held.meter(number).gain_percent == 1.0


def test_a_meter_in_use_may_be_changed(house: House) -> None:
    """Its step was typed wrong: that is found out when the first readings do not fit."""
    measurement_id = house.measured()
    record = house.record(measurement_id)
    change_meter(house.logbook, 1, GREY)
    assert house.record(measurement_id) is record


def test_removing(house: House) -> None:
    number = house.meter()
    changes, lines = house.journaled(lambda: remove_meter(house.logbook, number))
    name = "remove meter: Grey meter"
    assert changes == Changes(name, frozenset({Topic.METERS}), meter_ids=frozenset({number}))
    assert lines == [(name, "meters", number, "removed")]
    assert house.held.meters == {}


def test_plans_go_on_without_a_removed_meter(house: House) -> None:
    number, other = house.meter(), house.meter("Blue meter")
    plans = [
        house.planned(house.appliance("Lamp"), number),
        house.planned(house.appliance("Oven"), other),
        house.planned(house.appliance("Pump"), number),
    ]
    changes, lines = house.journaled(lambda: remove_meter(house.logbook, number))
    assert [house.held.measurement(plan).meter_id for plan in plans] == [None, other, None]
    assert changes == Changes(
        "remove meter: Grey meter",
        frozenset({Topic.METERS, Topic.MEASUREMENTS}),
        appliance_ids=frozenset({1, 3}),
        meter_ids=frozenset({number}),
        measurement_ids=frozenset({plans[0], plans[2]}),
    )
    assert [line[1:] for line in lines] == [
        ("measurements", plans[0], "changed"),
        ("measurements", plans[2], "changed"),
        ("meters", number, "removed"),
    ]


def refuse_to_remove(house: House, number: int) -> None:
    with house.refuses("meter_has_measured", "meter_id"):
        remove_meter(house.logbook, number)


def test_a_meter_that_measures_stays(house: House) -> None:
    measurement_id = house.measured()
    refuse_to_remove(house, 1)
    finish_measurement(house.logbook, measurement_id, on_day(2))
    refuse_to_remove(house, 1)
    set_aside_measurement(house.logbook, measurement_id)
    refuse_to_remove(house, 1)


def test_a_meter_that_was_swapped_away_stays(house: House) -> None:
    measurement_id, other = house.measured(), house.meter("Blue meter")
    swap_meter(house.logbook, measurement_id, other, read_on(2, 5.0), exact_zero=False)
    assert house.held.measurement(measurement_id).meter_id == other
    refuse_to_remove(house, 1)
    refuse_to_remove(house, other)


@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_meter_that_is_not_there(house: House, number: int) -> None:
    house.meter()
    with house.refuses("unknown_meter", "meter_id"):
        change_meter(house.logbook, number, GREY)
    with house.refuses("unknown_meter", "meter_id"):
        remove_meter(house.logbook, number)

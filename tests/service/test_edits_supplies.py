"""Edits of the supplies: what they save and tell, and what they refuse without a trace."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.supplies import add_supply, change_supply, remove_supply
from tests.service.building import House, a_house, contents, number_of
from tests.service.made_plans import BATTERY
from tests.store.files import kept_rows

POSITIVE = (
    "outlet_a",
    "continuous_w",
    "continuous_va",
    "start_w",
    "start_va",
    "start_s",
    "stored_wh",
    "battery_v",
    "battery_limit_a",
    "tank_l",
    "half_load_l_h",
    "full_load_l_h",
    "array_w",
)
# Each draws one field of a good draft out of what can be: field, value, code.
BAD: list[tuple[str, Any, str]] = [
    *((field, value, "out_of_range") for field in POSITIVE for value in (0.0, -1.0, math.nan, math.inf, 1e6)),
    ("name", "", "empty_name"),
    ("name", "x" * 121, "too_long"),
    ("note", "a\0b", "bad_text"),
    ("plug", "nema", "unknown_plug"),
    ("voltage_v", 12.0, "out_of_range"),
    ("voltage_v", 501.0, "out_of_range"),
    ("frequency_hz", 0.0, "out_of_range"),
    ("frequency_hz", 400.0, "out_of_range"),
    ("outlets", 0, "out_of_range"),
    ("outlets", 101, "out_of_range"),
    ("idle_w", -1.0, "out_of_range"),
    ("idle_w", 1001.0, "out_of_range"),
    ("charge_w", -1.0, "out_of_range"),
    ("charge_w", math.nan, "out_of_range"),
    ("solar_w", -0.1, "out_of_range"),
    ("tilt_deg", -1.0, "out_of_range"),
    ("tilt_deg", 91.0, "out_of_range"),
    ("azimuth_deg", 361.0, "out_of_range"),
    ("start_w", 1999.0, "turned_round"),
    ("start_va", 2199.0, "turned_round"),
    ("continuous_va", 1999.0, "turned_round"),
    ("start_va", 3999.0, "turned_round"),
    ("full_load_l_h", 0.5, "turned_round"),
    ("members", (1,), "not_a_combination"),
]


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def both(*members: int, name: str = "Both") -> SupplyDraft:
    return SupplyDraft(name, SupplyKind.COMBINATION, members=members)


@pytest.fixture
def three(house: House) -> House:
    """Give a battery (1), an array (2) and the two together (3)."""
    house.supply("Hall battery")
    house.supply("Barn panels", SupplyKind.ARRAY)
    add_supply(house.logbook, both(2, 1))
    return house


@pytest.mark.parametrize("kind", [SupplyKind.BATTERY, SupplyKind.GENERATOR, SupplyKind.ARRAY])
def test_adding(house: House, kind: SupplyKind) -> None:
    draft = replace(BATTERY, kind=kind)
    changes, lines = house.journaled(lambda: add_supply(house.logbook, draft))
    number = number_of(changes)
    assert house.held.supply(number).draft == draft
    name = "add supply: Hall battery"
    assert changes == Changes(
        name, frozenset({Topic.SUPPLIES}), supply_ids=frozenset({number}), created_id=number
    )
    assert not changes.about_all
    assert lines == [(name, "supplies", number, "added")]


def test_little_may_be_known(house: House) -> None:
    draft = SupplyDraft("Something", SupplyKind.GENERATOR)
    assert house.held.supply(number_of(add_supply(house.logbook, draft))).draft == draft


def test_text_is_tidied(house: House) -> None:
    draft = replace(BATTERY, name="  Shed \n battery ", note=" one\n\n two \n")
    kept = house.held.supply(number_of(add_supply(house.logbook, draft)))
    assert (kept.name, kept.draft.note) == ("Shed battery", "one\n\n two")


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_adding_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    house.supply("Shed battery")
    with house.refuses(code, field):
        add_supply(house.logbook, replace(BATTERY, **{field: value}))


@pytest.mark.parametrize(("field", "value", "code"), BAD)
def test_changing_to_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    number = house.supply("Shed battery")
    with house.refuses(code, field):
        change_supply(house.logbook, number, replace(BATTERY, **{field: value}))


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        (0.0, "The stored energy must be more than 0 Wh."),
        (-5.0, "The stored energy must be more than 0 Wh."),
        (math.nan, "The stored energy must be more than 0 Wh."),
        (2e6, "The stored energy must be at most 500000 Wh."),
    ],
)
def test_the_sentence_says_what_may_be(house: House, value: float, sentence: str) -> None:
    with pytest.raises(RefusedError) as caught:
        add_supply(house.logbook, replace(BATTERY, stored_wh=value))
    assert str(caught.value) == sentence


def test_an_idle_draw_above_what_it_gives(house: House) -> None:
    with house.refuses("turned_round", "continuous_w"):
        house.supply(continuous_w=20.0, idle_w=25.0)


def test_names_that_differ_by_case_are_the_same_name(house: House) -> None:
    house.supply("Hällbatterie")
    other = house.supply("Generator", SupplyKind.GENERATOR)
    with house.refuses("name_taken", "name"):
        house.supply("HÄLLBATTERIE")
    with house.refuses("name_taken", "name"):
        change_supply(house.logbook, other, replace(BATTERY, name=" hällbatterie "))
    change_supply(house.logbook, other, replace(BATTERY, name="GENERATOR"))
    assert house.held.supply(other).name == "GENERATOR"


def test_changing(house: House) -> None:
    number = house.supply("Shed battery")
    changes, lines = house.journaled(lambda: change_supply(house.logbook, number, BATTERY))
    name = "change supply: Shed battery"
    assert changes == Changes(name, frozenset({Topic.SUPPLIES}), supply_ids=frozenset({number}))
    assert lines == [(name, "supplies", number, "changed")]
    assert house.held.supply(number).draft == BATTERY


def test_changing_nothing_is_no_edit(three: House) -> None:
    changes, lines = three.journaled(lambda: change_supply(three.logbook, 3, both(2, 1)))
    assert (changes.topics, changes.supply_ids, lines) == (frozenset(), frozenset(), [])


def test_a_combination_keeps_its_members_in_order(three: House) -> None:
    assert three.held.supply(3).draft == both(2, 1)
    three.supply("Generator", SupplyKind.GENERATOR)
    changes, lines = three.journaled(lambda: change_supply(three.logbook, 3, both(4, 1, 2)))
    assert changes.supply_ids == {3}
    assert [line[1:] for line in lines] == [
        ("supply_members", 1, "removed"),
        ("supply_members", 2, "removed"),
        ("supply_members", 3, "added"),
        ("supply_members", 4, "added"),
        ("supply_members", 5, "added"),
    ]
    assert three.held.supply(3).draft.members == (4, 1, 2)
    three.logbook.history.undo()
    assert three.held.supply(3).draft.members == (2, 1)


@pytest.mark.parametrize(
    ("members", "code"),
    [
        ((), "too_few_members"),
        ((1,), "too_few_members"),
        ((1, 1), "member_twice"),
        ((1, 99), "unknown_supply"),
        ((1, 3), "member_is_combination"),
    ],
)
def test_what_is_no_combination(three: House, members: tuple[int, ...], code: str) -> None:
    with three.refuses(code, "members"):
        add_supply(three.logbook, both(*members, name="More"))
    with three.refuses(code, "members"):
        change_supply(three.logbook, 3, both(*members))


def test_no_combination_in_another(three: House) -> None:
    generator = three.supply("Generator", SupplyKind.GENERATOR)
    with three.refuses("in_combination", "kind"):
        change_supply(three.logbook, 1, both(2, generator, name="Hall battery"))
    with three.refuses("member_is_combination", "members"):
        change_supply(three.logbook, 1, both(1, 2, name="Hall battery"))
    # What is in none may become one.
    change_supply(three.logbook, generator, both(1, 2, name="Generator"))
    assert three.held.supply(generator).draft.members == (1, 2)


def test_a_combination_may_become_something_else(three: House) -> None:
    change_supply(three.logbook, 3, replace(BATTERY, name="Both"))
    assert three.held.supply(3).draft.members == ()
    assert three.held.memberships == {}
    remove_supply(three.logbook, 1)


def test_a_member_is_not_removed(three: House) -> None:
    with three.refuses("in_combination", "supply_id"):
        remove_supply(three.logbook, 1)
    with pytest.raises(RefusedError, match="“Hall battery” is part of “Both”"):
        remove_supply(three.logbook, 1)


def test_removing_a_combination_leaves_its_members(three: House) -> None:
    before, cached = kept_rows(three.path), contents(three.held)
    changes, lines = three.journaled(lambda: remove_supply(three.logbook, 3))
    assert changes == Changes("remove supply: Both", frozenset({Topic.SUPPLIES}), supply_ids=frozenset({3}))
    assert [line[1] for line in lines] == ["supply_members", "supply_members", "supplies"]
    assert list(three.held.supplies) == [1, 2]
    remove_supply(three.logbook, 1)
    three.logbook.history.undo()
    three.logbook.history.undo()
    assert kept_rows(three.path) == before
    assert contents(three.held) == cached


@pytest.mark.parametrize("number", [0, -1, 99])
def test_a_supply_that_is_not_there(house: House, number: int) -> None:
    house.supply("Shed battery")
    with house.refuses("unknown_supply", "supply_id"):
        change_supply(house.logbook, number, BATTERY)
    with house.refuses("unknown_supply", "supply_id"):
        remove_supply(house.logbook, number)

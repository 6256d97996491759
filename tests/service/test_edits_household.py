"""The edit of the household's settings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.household import Household
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.household import set_household
from tests.service.building import House, a_house

COTTAGE = Household("Cottage", 120.0, 60.0, "nema_5_15", 0.31, "CAD", "Key under the pot.")


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def test_setting(house: House) -> None:
    changes, lines = house.journaled(lambda: set_household(house.logbook, COTTAGE))
    assert house.held.household == COTTAGE
    assert changes == Changes("change household settings", frozenset({Topic.HOUSEHOLD}))
    assert lines == [("change household settings", "household", 1, "changed")]


def test_text_is_tidied(house: House) -> None:
    set_household(house.logbook, Household(" Mill\nlane ", currency=" C$ ", note=" a\n b "))
    kept = house.held.household
    assert (kept.name, kept.currency, kept.note) == ("Mill lane", "C$", "a\n b")


def test_a_household_needs_no_name(house: House) -> None:
    set_household(house.logbook, Household())
    assert house.held.household == Household()


@pytest.mark.parametrize(
    ("field", "value", "code"),
    [
        ("name", "x" * 121, "too_long"),
        ("name", "a\0b", "bad_text"),
        ("currency", "x" * 121, "too_long"),
        ("note", "x" * 10_001, "too_long"),
        ("mains_voltage_v", 49.0, "out_of_range"),
        ("mains_voltage_v", 501.0, "out_of_range"),
        ("mains_voltage_v", math.nan, "out_of_range"),
        ("mains_frequency_hz", 39.0, "out_of_range"),
        ("mains_frequency_hz", 71.0, "out_of_range"),
        ("price_per_kwh", -0.01, "out_of_range"),
        ("price_per_kwh", 1_000_001.0, "out_of_range"),
        ("price_per_kwh", math.inf, "out_of_range"),
        ("default_plug", "nema", "unknown_plug"),
        ("default_plug", "", "unknown_plug"),
    ],
)
def test_what_cannot_be(house: House, field: str, value: Any, code: str) -> None:  # noqa: ANN401
    with house.refuses(code, field):
        set_household(house.logbook, replace(COTTAGE, **{field: value}))


def test_setting_the_same_is_no_edit(house: House) -> None:
    set_household(house.logbook, COTTAGE)
    changes, lines = house.journaled(lambda: set_household(house.logbook, COTTAGE))
    assert (changes.topics, lines) == (frozenset(), [])
    house.logbook.history.undo()
    assert house.held.household.name == "Mill lane"
    assert house.logbook.history.undo_name is None

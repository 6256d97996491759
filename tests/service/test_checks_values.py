"""Single typed values: what no meter, and no room, can have shown is stopped, and nothing else is."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from hearthload.service.answers import Weight
from tests.service.made_stays import Stay, assert_plain, codes, draft, only, saved

STAY = Stay(readings=(saved(1, 0.0, 1.0, 0.0),))
GOOD = draft(24.0, 2.0, 24.0)

# Of each field the lowest and the highest value that may be saved, as said in the program's own words: a
# household counter, a mains of at most 1000 V, a power factor of at most 1, a room that people or stores use.
LIMITS = {
    "energy_kwh": (0.0, 1e6),
    "elapsed_h": (0.0, 1e6),
    "power_w": (0.0, 1e5),
    "voltage_v": (0.0, 1000.0),
    "current_a": (0.0, 1000.0),
    "power_factor": (0.0, 1.0),
    "highest_power_w": (0.0, 1e5),
    "frequency_hz": (40.0, 70.0),
    "uses": (0, 100_000),
    "room_temperature_c": (-40.0, 60.0),
}
VALUE_CODES = {"not_finite", "negative", "out_of_range", "not_whole"}


def said_of(field: str, value: Any) -> list[str]:  # noqa: ANN401 - values that a careless caller may hand on
    """Give the value complaints about one field, and see that they concern that field and stop."""
    found = [c for c in STAY.check(replace(GOOD, **{field: value})) if c.code in VALUE_CODES]
    assert_plain(found)
    assert {complaint.field for complaint in found} <= {field}
    assert {complaint.weight for complaint in found} <= {Weight.STOPS}
    return codes(found)


def test_a_good_reading_meets_no_complaint() -> None:
    assert STAY.check(GOOD) == ()


@pytest.mark.parametrize("field", LIMITS)
def test_both_ends_may_be_saved(field: str) -> None:
    low, high = LIMITS[field]
    assert said_of(field, low) == []
    assert said_of(field, high) == []


@pytest.mark.parametrize("field", [field for field in LIMITS if field != "uses"])
def test_the_next_number_beyond_an_end_is_stopped(field: str) -> None:
    low, high = LIMITS[field]
    assert said_of(field, math.nextafter(high, math.inf)) == ["out_of_range"]
    # Where the range begins at zero the sentence speaks of zero, not of a range.
    below = "negative" if low == 0.0 else "out_of_range"
    assert said_of(field, math.nextafter(low, -math.inf)) == [below]


@pytest.mark.parametrize("field", LIMITS)
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, float("1e400"), float("-1e400")])
def test_what_is_no_number_is_stopped(field: str, value: float) -> None:
    assert said_of(field, value) == ["not_finite"]


@pytest.mark.parametrize(
    ("uses", "code"),
    [(100_001, ["out_of_range"]), (-1, ["negative"]), (2.5, ["not_whole"]), (2.0, []), (0, []), (1, [])],
)
def test_uses_are_counted_one_by_one(uses: float, code: list[str]) -> None:
    assert said_of("uses", uses) == code


def test_minus_zero_is_zero() -> None:
    assert Stay().check(draft(24.0, -0.0, -0.0, power_w=-0.0)) == ()


def test_the_sentence_names_the_ends_with_their_unit() -> None:
    assert "40 and 70 Hz" in only(STAY.check(replace(GOOD, frequency_hz=400.0))).sentence
    assert "-40 and 60 °C" in only(STAY.check(replace(GOOD, room_temperature_c=75.0))).sentence
    assert "0 and 1." in only(STAY.check(replace(GOOD, power_factor=98.0))).sentence


@pytest.mark.parametrize(
    ("now", "highest", "said"), [(80.0, 79.9, True), (80.0, 80.0, False), (80.0, 900.0, False)]
)
def test_highest_watts_below_the_watts_now_are_asked_about(now: float, highest: float, said: bool) -> None:
    found = STAY.check(replace(GOOD, power_w=now, highest_power_w=highest))
    assert codes(found) == (["highest_below_watts"] if said else [])
    assert {(complaint.field, complaint.weight) for complaint in found} <= {("highest_power_w", Weight.WARNS)}


def test_watts_are_not_compared_while_one_of_the_values_is_impossible() -> None:
    typed = replace(GOOD, power_w=80.0, highest_power_w=40.0, voltage_v=-1.0)
    assert codes(STAY.check(typed)) == ["negative"]


def test_every_impossible_value_is_said_in_the_order_of_the_form() -> None:
    wrong: dict[str, Any] = {field: math.nan for field in LIMITS if field != "uses"}
    found = STAY.check(replace(GOOD, **wrong))
    assert [complaint.field for complaint in found] == list(wrong)
    assert codes(found) == ["not_finite"] * len(wrong)

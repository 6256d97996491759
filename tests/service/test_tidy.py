"""Names, lines, notes and numbers made fit to keep, or refused in a sentence."""

from __future__ import annotations

import math
import unicodedata
from collections.abc import Callable
from functools import partial

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.errors import RefusedError
from hearthload.service.tidy import (
    LONGEST_NAME,
    LONGEST_NOTE,
    name_key,
    refuse_outside,
    refuse_unless_positive,
    same_name,
    tidy_line,
    tidy_name,
    tidy_note,
)


def refusal(tidy: Callable[[], object]) -> tuple[str, str]:
    """Give field and code of a refusal, and see that it is one plain sentence or two."""
    with pytest.raises(RefusedError) as refused:
        tidy()
    assert str(refused.value)[0].isupper()
    assert str(refused.value).endswith(".")
    return refused.value.field, refused.value.code


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Router", "Router"),
        ("  Barn   freezer \t", "Barn freezer"),
        ("Barn\nfreezer", "Barn freezer"),
        ("Barn\r\nfreezer", "Barn freezer"),
        ("Barn\u00a0freezer", "Barn freezer"),
        ("007", "007"),
        ("NA", "NA"),
        ("Kühlschrank", "Kühlschrank"),
        # The same letter from two characters becomes one, so that it is found again however it is typed.
        ("Ku\u0308hlschrank", "Kühlschrank"),
        ("冷蔵庫", "冷蔵庫"),
        ("Lamp 💡", "Lamp 💡"),
    ],
)
def test_a_name_is_one_line_without_blanks_around(typed: str, kept: str) -> None:
    assert tidy_name(typed, "appliance") == kept
    assert tidy_line(typed, "room") == kept


@pytest.mark.parametrize("typed", ["", "   ", "\n\t", "\u3000"])
def test_a_name_is_needed_and_a_line_is_not(typed: str) -> None:
    assert refusal(lambda: tidy_name(typed, "meter")) == ("name", "empty_name")
    assert tidy_line(typed, "room") == ""


def test_the_refusal_says_what_wants_a_name() -> None:
    with pytest.raises(RefusedError, match="Give the meter a name"):
        tidy_name("", "meter")


def test_a_name_is_as_long_as_a_line_of_a_list() -> None:
    assert LONGEST_NAME == 120
    # Blanks that are not kept do not count.
    assert tidy_name("  " + "x" * 60 + "     " + "x" * 59, "meter") == "x" * 60 + " " + "x" * 59
    assert refusal(lambda: tidy_name("x" * 121, "meter")) == ("name", "too_long")
    assert refusal(lambda: tidy_line("x" * 121, "room")) == ("room", "too_long")


@pytest.mark.parametrize("bad", ["\0", "\x07", "\x1b[31m", "\x7f", "\x85", "\ud800"])
def test_what_cannot_be_kept_is_refused(bad: str) -> None:
    assert refusal(lambda: tidy_name(f"Bar{bad}n", "meter")) == ("name", "bad_text")
    assert refusal(lambda: tidy_line(f"Bar{bad}n", "room")) == ("room", "bad_text")
    assert refusal(lambda: tidy_note(f"Bar{bad}n")) == ("note", "bad_text")


def test_a_note_keeps_its_lines() -> None:
    assert tidy_note("  Seal is worn.\n\n\tDoor sticks.  \n") == "Seal is worn.\n\n\tDoor sticks."
    assert tidy_note(" \n ") == ""
    assert tidy_note("Ku\u0308hl") == "Kühl"


def test_a_note_is_at_most_a_few_pages() -> None:
    assert LONGEST_NOTE == 10_000
    assert len(tidy_note("x" * 10_000 + "\n")) == 10_000
    assert refusal(lambda: tidy_note("x" * 10_001)) == ("note", "too_long")
    assert refusal(lambda: tidy_note("x" * 10_001, "remark")) == ("remark", "too_long")


@given(st.text(st.characters(exclude_categories=("Cc", "Cs")) | st.sampled_from("\n\t\r"), max_size=60))
def test_what_was_tidied_once_stays_as_it_is(typed: str) -> None:
    for tidy in (partial(tidy_line, field="room"), tidy_note):
        kept = tidy(typed)
        assert tidy(kept) == kept
        assert kept == kept.strip()
        assert unicodedata.is_normalized("NFC", kept)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Router", "router", True),
        ("Router", "ROUTER", True),
        ("Straße", "STRASSE", True),
        ("Kühl", "Ku\u0308hl", True),
        ("Router", "Router 2", False),
        ("Router", "Rooter", False),
        ("Kuhl", "Kühl", False),
    ],
)
def test_names_are_compared_without_regard_to_case(one: str, other: str, same: bool) -> None:
    assert same_name(one, other) is same
    assert (name_key(one) == name_key(other)) is same


@pytest.mark.parametrize("value", [None, 50.0, 230.0, 500.0])
def test_a_number_within_its_bounds_passes(value: float | None) -> None:
    refuse_outside(value, "voltage_v", "The voltage", low=50.0, high=500.0, unit="V")


@pytest.mark.parametrize("value", [49.99, 500.01, -230.0, math.nan, math.inf, -math.inf, float("1e400")])
def test_a_number_outside_is_refused_with_its_bounds(value: float) -> None:
    with pytest.raises(RefusedError, match=r"^The voltage must be between 50 and 500 V\.$") as refused:
        refuse_outside(value, "voltage_v", "The voltage", low=50.0, high=500.0, unit="V")
    assert (refused.value.field, refused.value.code) == ("voltage_v", "out_of_range")


def test_a_number_without_a_unit() -> None:
    with pytest.raises(RefusedError, match=r"^The price must be between 0 and 100\.$"):
        refuse_outside(-1.0, "price", "The price", low=0.0, high=100.0, unit="")


@pytest.mark.parametrize("value", [None, 1e-9, 1, 40.0])
def test_a_positive_number_passes(value: float | None) -> None:
    refuse_unless_positive(value, "tank_l", "The tank", most=40, unit="litres")


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        (0.0, "The tank must be more than 0 litres."),
        (-1.0, "The tank must be more than 0 litres."),
        (-math.inf, "The tank must be more than 0 litres."),
        (math.nan, "The tank must be more than 0 litres."),
        (40.1, "The tank must be at most 40 litres."),
        (math.inf, "The tank must be at most 40 litres."),
    ],
)
def test_any_other_number_is_refused_by_the_bound_it_breaks(value: float, sentence: str) -> None:
    with pytest.raises(RefusedError) as refused:
        refuse_unless_positive(value, "tank_l", "The tank", most=40, unit="litres")
    assert (str(refused.value), refused.value.field, refused.value.code) == (
        sentence,
        "tank_l",
        "out_of_range",
    )


def test_a_bare_number_is_refused_without_a_unit() -> None:
    with pytest.raises(RefusedError, match=r"^The factor must be more than 0\.$"):
        refuse_unless_positive(0.0, "season_factor", "The factor", most=100, unit="")

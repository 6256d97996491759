"""Slips of the finger: a decimal mark forgotten, added or moved."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction
from hearthload.service.slips import decimal_slip

EXPECTED = Interval(14.2, 13.8, 14.6)
FACTORS = (10.0, 100.0, 1000.0, 0.1, 0.01, 0.001)


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        (142.3, 14.23),
        (1423.0, 14.23),
        (14230.0, 14.23),
        (1.423, 14.23),
        (0.1423, 14.23),
        (0.01423, 14.23),
        (139.99, 14.0),
    ],
)
def test_one_two_or_three_places_either_way(typed: float, offered: float) -> None:
    assert decimal_slip(typed, EXPECTED, 0.01, "kWh") == (
        Fix(f"Make it {offered:.2f} kWh", FixAction.SET_VALUE, offered),
    )


@pytest.mark.parametrize("typed", [13.8, 14.2, 14.6, 13.81])
def test_none_where_the_value_is_expected(typed: float) -> None:
    assert decimal_slip(typed, EXPECTED, 0.01, "kWh") == ()


def test_none_where_nothing_is_expected() -> None:
    assert decimal_slip(142.3, None, 0.01, "kWh") == ()


@pytest.mark.parametrize("typed", [15.2, 13.0, 28.4, 42.6, 200.0, 0.0, 142300.0])
def test_none_where_no_mark_was_slipped(typed: float) -> None:
    # 142300 would be four places; zero stays zero whatever its mark.
    assert decimal_slip(typed, EXPECTED, 0.01, "kWh") == ()


def test_nothing_becomes_of_zero_even_where_zero_is_expected() -> None:
    around_zero = Interval(0.0, 0.0, 0.004)
    assert decimal_slip(0.04, around_zero, 0.01, "kWh") == ()


def test_the_value_is_what_the_display_can_show() -> None:
    (fix,) = decimal_slip(142.37, EXPECTED, 0.1, "kWh")
    assert (fix.label, fix.value) == ("Make it 14.2 kWh", 14.2)
    (whole,) = decimal_slip(1418.0, Interval(142.0, 138.0, 146.0), 1.0, "h")
    assert (whole.label, whole.value) == ("Make it 142 h", 142.0)


def test_the_nearest_slip_goes_first() -> None:
    # From 1 to 60 are expected, so 500 may have been 50 or 5: the mark moved by one place is likelier.
    (fix,) = decimal_slip(500.0, Interval(20.0, 1.0, 60.0), 0.01, "kWh")
    assert fix.value == 50.0


def test_both_ends_of_what_is_expected_are_expected() -> None:
    # A range so wide that ten times its low end, and a tenth of its high one, would fit too.
    wide = Interval(20.0, 1.0, 60.0)
    assert decimal_slip(1.0, wide, 0.01, "kWh") == ()
    assert decimal_slip(60.0, wide, 0.01, "kWh") == ()


def test_a_single_step_of_the_display_can_be_meant() -> None:
    (fix,) = decimal_slip(1.0, Interval(0.001, 0.001, 0.001), 0.001, "kWh")
    assert (fix.label, fix.value) == ("Make it 0.001 kWh", 0.001)


@given(
    meant=st.integers(100, 5_000_000),
    below=st.integers(0, 300),
    above=st.integers(0, 300),
    factor=st.sampled_from(FACTORS),
    decimals=st.integers(0, 3),
)
def test_what_was_meant_is_found_again(
    meant: int, below: int, above: int, factor: float, decimals: int
) -> None:
    # Counts of the display's step. From half to one and a half times what was meant only one place fits.
    step = 10.0**-decimals
    value, low, high = (
        round(count * step, decimals)
        for count in (meant, meant - min(below, meant // 2), meant + min(above, meant // 2))
    )
    (fix,) = decimal_slip(value * factor, Interval(value, low, high), step, "kWh")
    assert fix.action is FixAction.SET_VALUE
    assert fix.value == pytest.approx(value, abs=step * 1e-6)
    assert fix.label == f"Make it {value:.{decimals}f} kWh"

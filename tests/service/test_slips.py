"""Slips of the finger: a decimal mark forgotten, added or moved."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction
from hearthload.service.slips import energy_fix, hours_fix

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
    assert energy_fix(typed, EXPECTED, 0.01) == (
        Fix(f"Make it {offered:.2f} kWh", FixAction.SET_VALUE, offered),
    )


@pytest.mark.parametrize("typed", [13.8, 14.2, 14.6, 13.81])
def test_none_where_the_value_is_expected(typed: float) -> None:
    assert energy_fix(typed, EXPECTED, 0.01) == ()


def test_none_where_nothing_is_expected() -> None:
    assert energy_fix(142.3, None, 0.01) == ()


@pytest.mark.parametrize("typed", [15.2, 13.0, 28.4, 42.6, 200.0, 0.0, 142300.0])
def test_none_where_no_mark_was_slipped(typed: float) -> None:
    # 142300 would be four places; zero stays zero whatever its mark.
    assert energy_fix(typed, EXPECTED, 0.01) == ()


def test_nothing_becomes_of_zero_even_where_zero_is_expected() -> None:
    around_zero = Interval(0.0, 0.0, 0.004)
    assert energy_fix(0.04, around_zero, 0.01) == ()


def test_the_value_is_what_the_display_can_show() -> None:
    (fix,) = energy_fix(142.37, EXPECTED, 0.1)
    assert (fix.label, fix.value) == ("Make it 14.2 kWh", 14.2)
    (whole,) = energy_fix(1418.0, Interval(142.0, 138.0, 146.0), 1.0)
    assert (whole.label, whole.value) == ("Make it 142 kWh", 142.0)


def test_the_nearest_slip_goes_first() -> None:
    # From 1 to 60 are expected, so 500 may have been 50 or 5: the mark moved by one place is likelier.
    (fix,) = energy_fix(500.0, Interval(20.0, 1.0, 60.0), 0.01)
    assert fix.value == 50.0


def test_both_ends_of_what_is_expected_are_expected() -> None:
    # A range so wide that ten times its low end, and a tenth of its high one, would fit too.
    wide = Interval(20.0, 1.0, 60.0)
    assert energy_fix(1.0, wide, 0.01) == ()
    assert energy_fix(60.0, wide, 0.01) == ()


def test_a_single_step_of_the_display_can_be_meant() -> None:
    (fix,) = energy_fix(1.0, Interval(0.001, 0.001, 0.001), 0.001)
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
    (fix,) = energy_fix(value * factor, Interval(value, low, high), step)
    assert fix.action is FixAction.SET_VALUE
    assert fix.value == pytest.approx(value, abs=step * 1e-6)
    assert fix.label == f"Make it {value:.{decimals}f} kWh"


@pytest.mark.parametrize(
    ("typed", "label"),
    [
        (28812.0, "Make it 288:12"),  # the colon forgotten: one fix, and not 288.12 h beside it
        (288.5, "Make it 288:50"),  # a point for the colon; as hours it would be 288:30
        (17292.0, "Make it 288:12"),  # minutes
        (2.88, "Make it 288:00"),  # a decimal mark
        (828.2, "Make it 288:12"),  # two digits exchanged in 288:12
        (298.2, "Make it 288:12"),  # one digit
    ],
)
def test_hours_that_were_meant(typed: float, label: str) -> None:
    margin = 0.2 if label != "Make it 288:50" else 0.1
    meant = 288.2 if label == "Make it 288:12" else 288.0 if label == "Make it 288:00" else 288 + 50 / 60
    (fix,) = hours_fix(typed, Interval(meant, meant - margin, meant + margin))
    assert fix.label == label
    assert fix.value is not None
    hours, minutes = divmod(round(fix.value * 60), 60)
    assert fix.label == f"Make it {hours}:{minutes:02d}"


def test_hours_of_which_several_would_do_are_not_picked() -> None:
    # One digit of 298:55 changed gives 298:15 and 298:25, both within ten minutes of 298:20.
    middle = 298 + 20 / 60
    assert hours_fix(298 + 55 / 60, Interval(middle, middle - 0.2, middle + 0.2)) == ()
    assert hours_fix(288.2, Interval(288.2, 288.0, 288.4)) == ()
    assert hours_fix(288.2, None) == ()


def test_digits_exchanged_over_the_mark_are_found_before_saving_too() -> None:
    (fix,) = energy_fix(13.24, Interval(12.34, 12.2, 12.5), 0.01)
    assert (fix.label, fix.value) == ("Make it 12.34 kWh", 12.34)

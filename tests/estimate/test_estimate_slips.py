"""Slips of the finger in a counter that is saved already: the smallest change that makes it fit."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hearthload.domain.doubt import Likely
from hearthload.estimate.slips import Slip, likely_slip
from tests.estimate.measurements import read

MEANT = 14.23


def slip(typed: float, expected: float = MEANT, elapsed_h: float | None = None, spread: float = 0.05) -> Slip:
    return likely_slip(read(3, typed, elapsed_h), expected, spread, 0.01)


@pytest.mark.parametrize(
    ("typed", "likely"),
    [
        (142.3, Likely.DECIMAL_SLIP),
        (1423.0, Likely.DECIMAL_SLIP),
        (14230.0, Likely.DECIMAL_SLIP),
        (1.423, Likely.DECIMAL_SLIP),
        (0.1423, Likely.DECIMAL_SLIP),
        (0.01423, Likely.DECIMAL_SLIP),
        (41.23, Likely.SWAPPED_DIGITS),
        (12.43, Likely.SWAPPED_DIGITS),  # 2 and 4 stand at either side of the mark
        (19.23, Likely.WRONG_DIGIT),
        (94.23, Likely.WRONG_DIGIT),
    ],
)
def test_what_was_meant_is_found(typed: float, likely: Likely) -> None:
    found = slip(typed)
    assert found.likely is likely
    assert found.energy_kwh == pytest.approx(MEANT, abs=0.011)


def test_hours_typed_for_energy() -> None:
    assert slip(96.0, elapsed_h=14.2) == Slip(Likely.HOURS_AS_ENERGY, 14.2)
    assert slip(96.0, elapsed_h=24.0) == Slip(Likely.TYPO)


@pytest.mark.parametrize("typed", [27.81, 16.6, 555.0, 0.0])
def test_no_small_change_fits(typed: float) -> None:
    assert slip(typed) == Slip(Likely.TYPO, None)


def test_the_nearest_of_several_is_taken() -> None:
    # From 19.5 one other digit gives 10.5, 11.5 and so on: 14.5 is nearest to 14.3 and 13.5 fits as well.
    assert slip(19.5, 14.3, spread=0.5) == Slip(Likely.WRONG_DIGIT, 14.5)


def test_the_smaller_change_goes_first() -> None:
    # 20.0 was 2.0 with its mark moved; 02.00 with the digits exchanged would fit too, and so would 02.00 h.
    assert slip(20.0, 2.0, elapsed_h=2.0) == Slip(Likely.DECIMAL_SLIP, 2.0)
    assert slip(41.23, elapsed_h=14.23) == Slip(Likely.SWAPPED_DIGITS, 14.23)
    assert slip(19.23, elapsed_h=14.23) == Slip(Likely.HOURS_AS_ENERGY, 14.23)


@pytest.mark.parametrize(("expected", "fits"), [(14.33, True), (14.35, False), (14.13, True), (14.11, False)])
def test_it_fits_within_two_uncertainties_and_a_step(expected: float, fits: bool) -> None:
    # 14.23 ± (2·0.05 + 0.01); one digit of 41.23 or its mark moved stays far away.
    assert (slip(41.23, expected).energy_kwh == MEANT) is fits


def test_decimals_are_those_of_the_display() -> None:
    coarse = likely_slip(read(3, 142.0), 14.2, 0.05, 0.1)
    assert coarse == Slip(Likely.DECIMAL_SLIP, 14.2)
    whole = likely_slip(read(3, 41.0), 14.0, 0.05, 1.0)
    assert whole == Slip(Likely.SWAPPED_DIGITS, 14.0)


counts = st.integers(1000, 99_999)


@settings(max_examples=60)
@given(counts, st.data())
def test_two_digits_exchanged_are_found_again(count: int, data: st.DataObject) -> None:
    digits = list(f"{count / 100:.2f}")
    places = [at for at, mark in enumerate(digits) if mark.isdigit()]
    one, other = data.draw(st.sampled_from(list(pairwise(places))))
    assume(digits[one] != digits[other])
    digits[one], digits[other] = digits[other], digits[one]
    assume(digits[0] != "0")  # a nought in front is not seen again in the number
    found = likely_slip(read(3, float("".join(digits))), count / 100, 0.0, 0.01)
    assert found.energy_kwh == pytest.approx(count / 100, abs=0.0101)


@settings(max_examples=60)
@given(counts, st.floats(0.0, 1000.0), st.floats(0.0, 1.0), st.none() | st.floats(0.0, 500.0))
def test_what_is_offered_always_fits(
    count: int, expected: float, spread: float, elapsed_h: float | None
) -> None:
    found = likely_slip(read(3, count / 100, elapsed_h), expected, spread, 0.01)
    if found.energy_kwh is None:
        assert found.likely is Likely.TYPO
    else:
        assert abs(found.energy_kwh - expected) <= 2.0 * spread + 0.01
        assert found.likely is not Likely.TYPO

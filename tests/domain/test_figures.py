"""Figures as printed: digits by the uncertainty, both ends where unsymmetric, never an exponent."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.figures import (
    DASH,
    decimals_of_step,
    ends_as_printed,
    format_days,
    format_days_to_go,
    format_decimals,
    format_hours,
    format_number,
    format_percent,
    format_plus_minus,
    format_range,
    format_share_of_day,
    format_watts,
    uncertainty_decimals,
    whole_days,
)
from hearthload.domain.typed import parse_number
from hearthload.estimate.answers import Interval


@pytest.mark.parametrize(
    ("value", "low", "high", "text"),
    [
        (1.02, 0.916, 1.136, "1.02 ± 0.11"),
        (0.31, 0.18, 0.60, "0.31 (0.18 to 0.60)"),
        (12345.0, 10000.0, 14700.0, "12300 ± 2400"),
        (0.98, 0.93, 1.03, "0.98 ± 0.05"),
        (5.0, 4.02, 5.98, "5.0 ± 1.0"),
        (0.0001, 0.00007, 0.00013, "0.000100 ± 0.000030"),
        (0.08, 0.003, 2.0, "0.080 (0.0030 to 2.0)"),
        (0.5, 0.0, 1.0, "0.5 ± 0.5"),
        (1e15, 0.9e15, 1.1e15, "1000000000000000 ± 100000000000000"),
        (1e-9, 0.0, 2e-9, "0"),
        (2.5, 2.5, 2.5, "2.50"),
        (1.0, 0.5, math.inf, DASH),
        (math.nan, 0.5, 1.0, DASH),
    ],
)
def test_plus_minus(value: float, low: float, high: float, text: str) -> None:
    assert format_plus_minus(value, low, high) == text


def test_unit_and_decimal_mark() -> None:
    assert format_plus_minus(1.02, 0.916, 1.136, "kWh", ",") == "1,02 ± 0,11 kWh"
    assert format_plus_minus(0.31, 0.18, 0.60, "kWh", ",") == "0,31 (0,18 to 0,60) kWh"


@given(st.floats(1e-3, 1e7), st.floats(0.01, 3.0))
def test_what_is_printed_holds_what_was_meant(value: float, spread: float) -> None:
    low, high = value / (1 + spread), value * (1 + spread)
    text = format_plus_minus(value, low, high)
    assert "e" not in text.lower()
    numbers = [parse_number(found) for found in re.findall(r"[0-9.]+", text)]
    half = 0.5 * (high - low)
    if "±" in text:
        printed_value, printed_half = numbers
        assert printed_half == pytest.approx(half, rel=0.16)
        assert abs(printed_value - value) <= 0.5 * half + 1e-9
    else:
        assert numbers[0] == pytest.approx(value, rel=0.3, abs=1e-6)
        assert numbers[1] <= numbers[0] <= numbers[2]


@given(st.floats(1e-6, 1e6))
def test_at_most_two_digits_of_the_half_width(half: float) -> None:
    shown = format_decimals(half, uncertainty_decimals(half))
    assert len(shown.replace(".", "").strip("0")) <= 2


@given(st.floats(-1e12, 1e12), st.integers(1, 6))
def test_numbers_are_never_scientific_and_read_back(value: float, digits: int) -> None:
    text = format_number(value, digits)
    assert "e" not in text
    assert float(text) == pytest.approx(value, rel=0.51 * 10.0 ** (1 - digits), abs=1e-6)


def test_decimals_of_a_display_step() -> None:
    assert [decimals_of_step(step) for step in (1.0, 0.1, 0.01, 0.001, 0.05, 10.0, 0.0)] == [
        0,
        1,
        2,
        3,
        2,
        0,
        0,
    ]


def test_ranges() -> None:
    assert format_range(12.412, 13.15) == "12.4 to 13.2"
    assert format_range(12.412, 12.434, step=0.1) == "12.4"
    assert format_range(12.40, 12.43, "kWh", ",") == "12,400 to 12,430 kWh"


def test_percent_watts_hours_days() -> None:
    assert [format_percent(share) for share in (0.14, 0.1, 0.034, 0.05, 3.2, math.inf)] == [
        "14 %",
        "10 %",
        "3.4 %",
        "5 %",
        "320 %",
        DASH,
    ]
    assert [format_watts(power) for power in (0.0, 0.15, 9.94, 9.96, 41.3, 999.6, 1234.0)] == [
        "0 W",
        "0.15 W",
        "9.9 W",
        "10 W",
        "41 W",
        "1000 W",
        "1230 W",
    ]
    assert [format_hours(hours) for hours in (0.0, 0.5, 37 + 1 / 3, 24.0, 0.999)] == [
        "0 min",
        "30 min",
        "37 h 20 min",
        "24 h",
        "1 h",
    ]
    assert [format_days(days) for days in (0.5, 1.0, 4.62, 14.2)] == ["12 h", "1 day", "4.6 days", "14 days"]


def test_days_to_go() -> None:
    assert format_days_to_go(Interval(2.6, 1.9, 4.6)) == "about 3 (2 to 5) days"
    assert format_days_to_go(Interval(0.4, 0.3, 0.9)) == "about 1 day"
    assert format_days_to_go(Interval(3.0, 3.0, 3.0)) == "about 3 days"
    assert format_days_to_go(Interval(120.0, 80.0, 400.0)) == "about 120 (80 to more than 365) days"
    assert format_days_to_go(Interval(500.0, 80.0, 900.0)) == "more than a year"
    assert format_days_to_go(None) == "cannot be foreseen"


def test_whole_days_are_rounded_up() -> None:
    assert [whole_days(days) for days in (0.2, 1.04, 1.2)] == ["1", "1", "2"]
    assert [whole_days(days) for days in (99.5, 141.0, 400.0)] == ["100", "140", "more than 365"]


@pytest.mark.parametrize(
    ("value", "low", "high", "printed"),
    [
        # 0.774 ± 0.0425 prints as 0.77 ± 0.04, so the ends are those of that and not 0.73 and 0.82.
        (0.774, 0.734, 0.819, ("0.77", "0.73", "0.81")),
        (0.77, 0.526, 1.31, ("0.77", "0.53", "1.31")),
        (0.19, 0.0814, 0.650, ("0.19", "0.08", "0.65")),
        (12345.0, 10000.0, 14700.0, ("12300", "9900", "14700")),
        (2.5, 2.5, 2.5, ("2.50", "2.50", "2.50")),
        (1.0, 0.5, math.inf, (DASH, DASH, DASH)),
    ],
)
def test_ends_alone(value: float, low: float, high: float, printed: tuple[str, str, str]) -> None:
    assert ends_as_printed(Interval(value, low, high)) == printed


@given(st.floats(1e-3, 1e5), st.floats(0.01, 3.0), st.floats(0.01, 3.0))
def test_ends_alone_are_those_printed_together(value: float, down: float, up: float) -> None:
    low, high = value / (1.0 + down), value * (1.0 + up)
    middle, bottom, top = ends_as_printed(Interval(value, low, high))
    together = format_plus_minus(value, low, high)
    if "±" not in together:
        assert together == f"{middle} ({bottom} to {top})"
        return
    printed, half = (float(part) for part in together.split(" ± "))
    assert float(middle) == printed
    assert float(bottom) == pytest.approx(printed - half, abs=1e-9)
    assert float(top) == pytest.approx(printed + half, abs=1e-9)


@pytest.mark.parametrize(
    ("hours", "text"),
    [
        ((5.6, 4.8, 6.4), "about 5½ hours a day (4¾ to 6½)"),
        ((1.0, 0.1, 1.3), "about 1 hour a day (0 to 1¼)"),
        ((23.9, 23.9, 24.0), "about 24 hours a day"),
        ((0.15, 0.07, 0.37), "about 9 min a day (4 min to 22 min)"),
        ((0.1, 0.0, 3.4), "about 6 min a day (0 min to 3 h 24 min)"),
        ((math.nan, 0.0, 1.0), DASH),
    ],
)
def test_a_share_of_the_day_in_hours(hours: tuple[float, float, float], text: str) -> None:
    value, low, high = (each / 24.0 for each in hours)
    assert format_share_of_day(Interval(value, low, high)) == text

"""Numbers as typed: both marks are read, nothing is guessed, each refusal is one clear sentence."""

from __future__ import annotations

import contextlib
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.typed import TypedError, parse_count, parse_number


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12.34", 12.34),
        ("12,34", 12.34),
        ("1,234", 1.234),
        ("  7 ", 7.0),
        ("5.", 5.0),
        (",5", 0.5),
        (".5", 0.5),
        ("+3", 3.0),
        ("007", 7.0),
        ("\u00a012.5\u202f", 12.5),
    ],
)
def test_reads_what_is_typed(text: str, value: float) -> None:
    assert parse_number(text) == value


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("twelve", "not_number"),
        (".", "not_number"),
        ("-", "not_number"),
        ("0x10", "not_number"),
        ("-3", "negative"),
        ("−3", "negative"),
        ("-0", "negative"),
        ("nan", "not_finite"),
        ("-inf", "not_finite"),
        ("Infinity", "not_finite"),
        ("1e400", "too_large"),
        ("1E400", "too_large"),
        ("9" * 400, "too_large"),
        ("1000000001", "too_large"),
        ("1e3", "exponent"),
        ("1_0", "split"),
        ("1 234", "split"),
        ("1'234", "split"),
        ("１２", "other_digits"),
        ("٣", "other_digits"),
        ("1.234,5", "ambiguous"),
        ("1,234.5", "ambiguous"),
        ("1.2.3", "ambiguous"),
        ("1,,2", "ambiguous"),
        ("12 W", "unit"),
    ],
)
def test_refuses_with_one_sentence(text: str, code: str) -> None:
    with pytest.raises(TypedError) as caught:
        parse_number(text, unit="kWh")
    assert caught.value.code == code
    sentence = str(caught.value)
    assert sentence.endswith(".")
    assert "\n" not in sentence
    assert len(sentence) < 110


def test_takes_the_right_unit_only() -> None:
    assert parse_number("12.3 kWh", unit="kWh") == 12.3
    assert parse_number("41W", unit="W") == 41.0
    with pytest.raises(TypedError, match="unit that does not belong"):
        parse_number("12.3 V", unit="W")
    with pytest.raises(TypedError):
        parse_number("kWh", unit="kWh")


def test_negative_where_it_may_be() -> None:
    assert parse_number("−18,5 °C", allow_negative=True, unit="°C") == -18.5
    assert math.copysign(1.0, parse_number("-0", allow_negative=True)) == 1.0


def test_counts_are_whole() -> None:
    assert parse_count("3") == 3
    with pytest.raises(TypedError, match="whole"):
        parse_count("2.5")


@given(st.integers(0, 10**9 - 1), st.integers(0, 999_999), st.sampled_from(".,"), st.sampled_from(["", " "]))
def test_every_written_decimal_comes_back(whole: int, millionths: int, mark: str, blank: str) -> None:
    text = f"{blank}{whole}{mark}{millionths:06d}{blank}"
    assert parse_number(text) == float(f"{whole}.{millionths:06d}")


@given(st.text(max_size=30))
def test_any_text_is_a_number_or_a_refusal(text: str) -> None:
    value = _read(text)
    if value is not None:
        assert 0.0 <= value <= 1e9
        assert text.strip().isascii()


def _read(text: str) -> float | None:
    with contextlib.suppress(TypedError):
        return parse_number(text)
    return None

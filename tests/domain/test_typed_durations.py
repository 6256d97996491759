"""Durations as typed: clock, decimal and lettered forms mean the same hours."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.figures import format_hours
from hearthload.domain.typed import TypedError, parse_duration_h


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("37:20", 37 + 1 / 3),
        ("37.3", 37.3),
        ("37,3", 37.3),
        ("37 h", 37.0),
        ("37.5 hours", 37.5),
        ("1d 13h 20m", 37 + 1 / 3),
        ("1d13h20", 37 + 1 / 3),
        ("1d 13:20", 37 + 1 / 3),
        ("37h20", 37 + 1 / 3),
        ("37 h 20 min", 37 + 1 / 3),
        ("90m", 1.5),
        ("2d", 48.0),
        ("1.5 days", 36.0),
        ("1,5h", 1.5),
        ("0", 0.0),
        ("1000:59", 1000 + 59 / 60),
    ],
)
def test_reads_the_usual_forms(text: str, hours: float) -> None:
    assert parse_duration_h(text) == pytest.approx(hours, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        ("-3", "negative"),
        ("-1:30", "negative"),
        ("37:60", "minutes"),
        ("37:99", "minutes"),
        ("1d 24h", "minutes"),
        ("2h 75m", "minutes"),
        ("1:02:03", "ambiguous"),
        ("1.5d 2h", "ambiguous"),
        ("2d 30", "ambiguous"),
        ("1.234,5", "ambiguous"),
        ("a day", "not_duration"),
        ("12 kWh", "not_duration"),
        ("3:", "not_duration"),
        (":30", "not_duration"),
        ("1:2x", "not_duration"),
        ("nan", "not_finite"),
        ("1e400", "too_large"),
        ("9" * 30 + "d", "too_large"),
        ("9" * 400 + ":00", "too_large"),
    ],
)
def test_refuses_with_one_sentence(text: str, code: str) -> None:
    with pytest.raises(TypedError) as caught:
        parse_duration_h(text)
    assert caught.value.code == code
    assert str(caught.value).endswith(".")


@given(st.integers(0, 60 * 24 * 400))
def test_what_is_printed_is_read_again(minutes: int) -> None:
    hours = minutes / 60
    days, rest = divmod(minutes, 1440)
    for text in (
        format_hours(hours),
        f"{minutes // 60}:{minutes % 60:02d}",
        f"{days}d {rest // 60}h {rest % 60}m",
        f"{minutes}m",
    ):
        assert parse_duration_h(text) == pytest.approx(hours, abs=1e-9)


@given(st.text(alphabet="0123456789:.,dhm -e\u00a0", max_size=14))
def test_any_text_is_a_duration_or_a_refusal(text: str) -> None:
    hours = _read(text)
    assert hours is None or 0.0 <= hours <= 1e9


def _read(text: str) -> float | None:
    with contextlib.suppress(TypedError):
        return parse_duration_h(text)
    return None

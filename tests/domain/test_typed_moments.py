"""Moments as typed: today by default, the offset of their own day, impossible ones refused."""

from __future__ import annotations

import contextlib
from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.typed import TypedError, parse_moment

HILL = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 11, 24, 8, 5, 30, tzinfo=HILL)  # a Tuesday


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", "2026-11-24T08:05:30+01:00"),
        ("now", "2026-11-24T08:05:30+01:00"),
        ("07:30", "2026-11-24T07:30:00+01:00"),
        ("7:30 am", "2026-11-24T07:30:00+01:00"),
        ("yesterday 9:30pm", "2026-11-23T21:30:00+01:00"),
        ("yesterday at 7:30", "2026-11-23T07:30:00+01:00"),
        ("Mon 7:30", "2026-11-23T07:30:00+01:00"),
        ("tuesday 7:30", "2026-11-24T07:30:00+01:00"),
        ("24 Nov 7:30", "2026-11-24T07:30:00+01:00"),
        ("Nov 20, 7:30", "2026-11-20T07:30:00+01:00"),
        ("20. November 2025 7:30", "2025-11-20T07:30:00+01:00"),
        ("25 Dec 7:30", "2025-12-25T07:30:00+01:00"),
        ("29 feb 7:30", "2024-02-29T07:30:00+01:00"),
        ("24.11. 7:30", "2026-11-24T07:30:00+01:00"),
        ("2026-07-01 7:30", "2026-07-01T07:30:00+02:00"),
        ("2026-07-01T07:30", "2026-07-01T07:30:00+02:00"),
        ("2026-07-01T07:30:00Z", "2026-07-01T07:30:00+00:00"),
        ("2026-07-01 07:30:15+05:30", "2026-07-01T07:30:15+05:30"),
    ],
)
def test_reads_the_usual_forms(text: str, wanted: str) -> None:
    moment = parse_moment(text, NOW)
    assert moment.isoformat() == wanted
    assert moment.tzinfo is not None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("breakfast", "not_moment"),
        ("25:00", "not_moment"),
        ("7:60", "not_moment"),
        ("0:30 pm", "not_moment"),
        ("11/12 7:30", "not_moment"),
        ("31 Apr 7:30", "not_moment"),
        ("yesterday", "no_time"),
        ("2026-11-24", "no_time"),
        ("2026-13-01 07:30", "not_moment"),
        ("2026-13-01 7:30", "not_moment"),
        ("０7:30", "not_moment"),
        ("2026-03-29 2:30", "no_such_time"),
    ],
)
def test_refuses_with_one_sentence(text: str, code: str) -> None:
    with pytest.raises(TypedError) as caught:
        parse_moment(text, NOW)
    assert caught.value.code == code
    assert str(caught.value).endswith(".")


def test_the_doubled_hour_of_autumn_is_the_later_one_that_has_passed() -> None:
    first = datetime(2026, 10, 25, 2, 45, tzinfo=timezone(timedelta(hours=2)))
    assert parse_moment("2:30", first.astimezone(HILL)).utcoffset() == timedelta(hours=2)
    second = datetime(2026, 10, 25, 2, 45, tzinfo=timezone(timedelta(hours=1)))
    assert parse_moment("2:30", second.astimezone(HILL)).utcoffset() == timedelta(hours=1)


def test_a_fixed_offset_that_is_not_this_computers_is_kept() -> None:
    elsewhere = datetime(2026, 11, 24, 8, 5, tzinfo=timezone(timedelta(hours=11, minutes=7)))
    assert parse_moment("7:30", elsewhere).utcoffset() == timedelta(hours=11, minutes=7)


@given(
    st.datetimes(datetime(2001, 1, 1), datetime(2026, 11, 24)),  # noqa: DTZ001 (local wall-clock times)
    st.sampled_from(["%Y-%m-%d %H:%M", "%d %b %Y %H:%M", "%d.%m.%Y %H:%M", "%Y-%m-%dT%H:%M"]),
)
def test_what_is_written_is_read_again(naive: datetime, form: str) -> None:
    naive = naive.replace(second=0, microsecond=0)
    moment = _read(naive.strftime(form))
    exists = naive.replace(tzinfo=HILL).astimezone(UTC).astimezone(HILL).replace(tzinfo=None) == naive
    assert (moment is not None) == exists
    if moment is not None:
        assert moment.replace(tzinfo=None) == naive
        assert moment.astimezone(HILL).replace(tzinfo=None) == naive


@given(st.text(alphabet="0123456789:-.TZ+ adeimnopstuvyMN", max_size=24))
def test_any_text_is_a_moment_or_a_refusal(text: str) -> None:
    moment = _read(text)
    assert moment is None or moment.utcoffset() is not None


def _read(text: str) -> datetime | None:
    with contextlib.suppress(TypedError):
        return parse_moment(text, NOW)
    return None

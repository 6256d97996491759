"""Moments in two columns: the instant is kept to the second, and the offset that was typed at."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.store.moments import moment_columns, moment_of, offset_min, optional_moment_of, utc_text

minutes = st.integers(-1439, 1439)


@st.composite
def moments(draw: st.DrawFn) -> datetime:
    """Draw aware moments of any local offset in whole minutes."""
    zone = timezone(timedelta(minutes=draw(minutes)))
    naive = draw(st.datetimes(datetime(1900, 1, 2), datetime(2999, 12, 30)))  # noqa: DTZ001 (zone follows)
    return naive.replace(tzinfo=zone)


@given(moments())
def test_a_moment_comes_back_with_its_offset(moment: datetime) -> None:
    back = moment_of(utc_text(moment), offset_min(moment))
    assert back == moment.replace(microsecond=0)
    assert back.utcoffset() == moment.utcoffset()
    assert back.replace(tzinfo=None) == moment.replace(microsecond=0, tzinfo=None)


@given(moments(), moments())
def test_text_sorts_as_time_does(one: datetime, other: datetime) -> None:
    one, other = one.replace(microsecond=0), other.replace(microsecond=0)
    assert (utc_text(one) < utc_text(other)) == (one < other)


@given(moments(), st.integers(-59, 59))
def test_an_offset_with_seconds_keeps_the_instant(moment: datetime, seconds: int) -> None:
    """Old local mean times have seconds in them; the wall clock may then be half a minute off, time not."""
    zone = timezone(timedelta(minutes=60, seconds=seconds))
    there = moment.astimezone(zone)
    assert moment_of(utc_text(there), offset_min(there)) == moment.replace(microsecond=0)


def test_a_moment_is_text_in_utc() -> None:
    moment = datetime(2026, 11, 24, 7, 30, 59, 999_999, tzinfo=timezone(timedelta(hours=1)))
    assert moment_columns("began", moment) == {"began_at": "2026-11-24T06:30:59Z", "began_offset_min": 60}


def test_an_early_year_has_four_figures() -> None:
    assert utc_text(datetime(31, 1, 2, tzinfo=UTC)) == "0031-01-02T00:00:00Z"


def test_a_missing_moment_is_missing_in_both_columns() -> None:
    assert moment_columns("finished", None) == {"finished_at": None, "finished_offset_min": None}
    assert optional_moment_of(None, None) is None


def test_a_moment_without_an_offset_is_a_bug() -> None:
    with pytest.raises(ValueError, match="without a local offset"):
        moment_columns("began", datetime(2026, 11, 24, 7, 30))  # noqa: DTZ001 (that is the point)

"""Moments as two columns: UTC as text and the local offset in minutes that was typed at."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from functools import cache


def utc_text(moment: datetime) -> str:
    """Give the UTC text of an aware moment, whole seconds, such as "2026-11-24T06:30:00Z"."""
    whole = moment.astimezone(UTC).replace(microsecond=0, tzinfo=None)
    return f"{whole.isoformat(timespec='seconds')}Z"


def offset_min(moment: datetime) -> int:
    """Give the local offset from UTC of an aware moment, in whole minutes."""
    offset = moment.utcoffset()
    if offset is None:
        raise ValueError("a moment without a local offset cannot be stored")
    return round(offset.total_seconds() / 60.0)


def moment_columns(stem: str, moment: datetime | None) -> dict[str, str | int | None]:
    """Give the two columns of a moment that may be missing: "began" gives began_at and began_offset_min."""
    text = None if moment is None else utc_text(moment)
    offset = None if moment is None else offset_min(moment)
    return {f"{stem}_at": text, f"{stem}_offset_min": offset}


def moment_of(text: str, offset: int) -> datetime:
    """Give back the aware moment from its two columns."""
    utc = datetime.fromisoformat(text.removesuffix("Z"))
    return (utc + timedelta(minutes=offset)).replace(tzinfo=_zone(offset))


def optional_moment_of(text: str | None, offset: int | None) -> datetime | None:
    """Give back a moment that may be missing."""
    return None if text is None or offset is None else moment_of(text, offset)


@cache
def _zone(offset: int) -> timezone:
    return timezone(timedelta(minutes=offset))

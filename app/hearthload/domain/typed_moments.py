"""Moments as people type them: now, a clock time today, a day with a time, or ISO 8601."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta, timezone, tzinfo

from hearthload.domain.typed_numbers import TypedError, shown

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_CLOCK = re.compile(r"(?:(.*?)[\s,]+)?(?:at\s+)?([0-9]{1,2}):([0-9]{2})\s*(am|pm)?", re.IGNORECASE)
_ISO_DAY = re.compile(r"([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})")
_DAY_MONTH = re.compile(r"([0-9]{1,2})\.?\s*([a-z]{3,9})\.?(?:\s+([0-9]{4}))?", re.IGNORECASE)
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.?\s+([0-9]{1,2})(?:,?\s+([0-9]{4}))?", re.IGNORECASE)
_DOTTED = re.compile(r"([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})?")
_ISO_FULL = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}([:.+Zz -].*)?")
_HOW = "write it like 7:30, yesterday 7:30 or 2026-11-24 7:30."


def parse_moment(text: str, now: datetime) -> datetime:
    """Read a moment as an aware time with the local offset of its own day.

    Empty text and "now" are `now`. A time alone is today; a day without a year is the latest such day
    that has begun. An offset typed in ISO 8601 is kept. Moments in the future are not refused here.
    """
    plain = " ".join(text.split())
    if not plain or plain.lower() == "now":
        return now.replace(microsecond=0)
    if not plain.isascii():
        raise TypedError("not_moment", f"{shown(text)} is not a time; {_HOW}")
    if _ISO_FULL.fullmatch(plain):
        return _iso_moment(plain, text, now)
    found = _CLOCK.fullmatch(plain)
    if found is None:
        code = "no_time" if _day_or_none(plain, now) else "not_moment"
        missing = "has no time of day" if code == "no_time" else "is not a time"
        raise TypedError(code, f"{shown(text)} {missing}; {_HOW}")
    day = now.date() if not found.group(1) else _day_or_none(found.group(1), now)
    if day is None:
        raise TypedError("not_moment", f"{shown(text)} is not a day that can be told; {_HOW}")
    return _local(datetime.combine(day, _clock_time(found, text)), now, text)


def _iso_moment(plain: str, text: str, now: datetime) -> datetime:
    try:
        moment = datetime.fromisoformat(plain.upper().replace(" ", "T", 1).replace(" ", ""))
    except ValueError:
        raise TypedError("not_moment", f"{shown(text)} is not a time; {_HOW}") from None
    return moment if moment.tzinfo is not None else _local(moment, now, text)


def _clock_time(found: re.Match[str], text: str) -> time:
    hour, minute, half = int(found.group(2)), int(found.group(3)), (found.group(4) or "").lower()
    if hour > (12 if half else 23) or minute > 59 or (half and hour == 0):
        raise TypedError("not_moment", f"{shown(text)} is not a time of day; {_HOW}")
    if half:
        hour = hour % 12 + (12 if half == "pm" else 0)
    return time(hour, minute)


def _day_or_none(text: str, now: datetime) -> date | None:
    """Give the day that words or figures name, None when they name none."""
    word = text.strip(" ,").lower()
    today = now.date()
    if word in {"today", "yesterday"}:
        return today - timedelta(days=1 if word == "yesterday" else 0)
    if word.removesuffix("day")[:3] in _WEEKDAYS and _is_weekday(word):
        return today - timedelta(days=(today.weekday() - _WEEKDAYS.index(word[:3])) % 7)
    for pattern, order in ((_ISO_DAY, "ymd"), (_DAY_MONTH, "dmy"), (_MONTH_DAY, "mdy"), (_DOTTED, "dmy")):
        found = pattern.fullmatch(word)
        if found is not None:
            fields = dict(zip(order, found.groups(), strict=True))
            return _day(fields["y"], fields["m"] or "", fields["d"] or "", today)
    return None


def _is_weekday(word: str) -> bool:
    names = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    return len(word) >= 3 and any(name.startswith(word) for name in names)


def _day(year: str | None, month: str, day: str, today: date) -> date | None:
    """Build a day; without a year it is the latest such day that is not in the future."""
    if month.isdigit():
        number = int(month)
    elif month[:3] in _MONTHS:
        number = _MONTHS.index(month[:3]) + 1
    else:
        return None
    years = [int(year)] if year else [today.year - back for back in range(9)]
    for candidate in years:
        try:
            built = date(candidate, number, int(day))
        except ValueError:
            continue
        if year or built <= today:
            return built
    return None


def _local(naive: datetime, now: datetime, text: str) -> datetime:
    """Give a local wall-clock time its own day's offset; of two in autumn the later that has passed."""
    zone = _zone(now)
    both = [_fixed(naive.replace(fold=fold), zone) for fold in (0, 1)]
    real = [moment for moment in both if moment.astimezone(zone).replace(tzinfo=None, fold=0) == naive]
    if not real:
        raise TypedError("no_such_time", f"{shown(text)} did not exist: the clocks went forward over it.")
    passed = [moment for moment in real if moment <= now]
    return max(passed) if passed else min(real)


def _zone(now: datetime) -> tzinfo | None:
    """Give the rule for local offsets: this computer's (None) where `now` agrees, else that of `now`."""
    is_fixed = isinstance(now.tzinfo, timezone)
    agrees = now.astimezone().utcoffset() == now.utcoffset()
    return None if is_fixed and agrees else now.tzinfo


def _fixed(naive: datetime, zone: tzinfo | None) -> datetime:
    aware = naive.astimezone() if zone is None else naive.replace(tzinfo=zone)
    return naive.replace(tzinfo=timezone(aware.utcoffset() or timedelta(0)), fold=0)

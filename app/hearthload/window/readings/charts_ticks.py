"""Ticks of a time axis on local days: from hours of one day to months of years."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from hearthload.domain.units import SECONDS_PER_DAY, SECONDS_PER_HOUR
from hearthload.window.readings.entry_words import MONTHS, WEEKDAYS


@dataclass(frozen=True, slots=True)
class Tick:
    """One tick: where [UTC seconds] and what stands under it."""

    at_s: float
    text: str


_HOUR_STEPS = (1, 3, 6, 12)
_DAY_STEPS = (1, 2)
_WEEK_STEPS = (1, 2)
_MONTH_STEPS = (1, 2, 3, 6, 12)


def time_ticks(from_s: float, to_s: float, most: int) -> tuple[Tick, ...]:
    """Give at most `most` ticks between two moments, on round local times."""
    if not to_s > from_s or most < 1:
        return ()
    for ticks in _candidates(from_s, to_s, most):
        if len(ticks) <= most:
            return ticks
    return ()


def _candidates(from_s: float, to_s: float, most: int) -> Iterator[tuple[Tick, ...]]:
    """Give finer ticks before coarser ones, leaving out those that are far too many."""
    span = to_s - from_s
    start = datetime.fromtimestamp(from_s).astimezone()
    for hours in _HOUR_STEPS:
        if span / (hours * SECONDS_PER_HOUR) <= 2 * most:
            yield _hour_ticks(start, to_s, from_s, hours)
    for days in _DAY_STEPS:
        if span / (days * SECONDS_PER_DAY) <= 2 * most:
            yield _day_ticks(start, to_s, from_s, days)
    for weeks in _WEEK_STEPS:
        if span / (weeks * 7 * SECONDS_PER_DAY) <= 2 * most:
            yield _day_ticks(start - timedelta(days=start.weekday()), to_s, from_s, 7 * weeks)
    for months in _MONTH_STEPS:
        yield _month_ticks(start, to_s, from_s, months)


def _local(year: int, month: int, day: int, hour: int = 0) -> datetime:
    """Give a local wall-clock time with its own day's offset."""
    return datetime(year, month, day, hour).astimezone()


def _hour_ticks(start: datetime, to_s: float, from_s: float, step: int) -> tuple[Tick, ...]:
    ticks: list[Tick] = []
    day, hour = start.date(), 0
    while (at := _local(day.year, day.month, day.day, hour)).timestamp() <= to_s:
        if at.timestamp() >= from_s:
            text = (
                f"{at.hour:02d}:00"
                if at.hour
                else f"{WEEKDAYS[at.weekday()]} {at.day} {MONTHS[at.month - 1]}"
            )
            ticks.append(Tick(at.timestamp(), text))
        hour += step
        if hour >= 24:
            day, hour = day + timedelta(days=1), 0
    return tuple(ticks)


def _day_ticks(start: datetime, to_s: float, from_s: float, step: int) -> tuple[Tick, ...]:
    """Tick each so many days at local midnight; a step of days counts from a fixed Monday."""
    ticks: list[Tick] = []
    day = start.date()
    day -= timedelta(days=day.toordinal() % step if step < 7 else 0)
    while (at := _local(day.year, day.month, day.day)).timestamp() <= to_s:
        if at.timestamp() >= from_s:
            ticks.append(Tick(at.timestamp(), f"{at.day} {MONTHS[at.month - 1]}"))
        day += timedelta(days=step)
    return tuple(ticks)


def _month_ticks(start: datetime, to_s: float, from_s: float, step: int) -> tuple[Tick, ...]:
    ticks: list[Tick] = []
    count = start.year * 12 + (start.month - 1) // step * step
    while (at := _local(count // 12, count % 12 + 1, 1)).timestamp() <= to_s:
        if at.timestamp() >= from_s:
            text = f"{MONTHS[at.month - 1]} {at.year}" if at.month == 1 or not ticks else MONTHS[at.month - 1]
            ticks.append(Tick(at.timestamp(), text))
        count += step
    return tuple(ticks)

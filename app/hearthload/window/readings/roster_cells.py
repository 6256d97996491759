"""What the roster says in each cell: the text, the line under it, the key to sort by, the spoken words."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from enum import IntEnum
from typing import Final

from hearthload.domain.figures import (
    format_days_to_go,
    format_percent,
    format_plus_minus,
)
from hearthload.domain.measurement import MeasurementState
from hearthload.service.roster_answers import RosterRow
from hearthload.window.words import HARD_WIRED, KIND_WORDS, NOT_MEASURED, STATE_WORDS


class Column(IntEnum):
    """The roster's columns, in order."""

    NAME = 0
    STATE = 1
    DAILY = 2
    KNOWN = 3
    SHARE = 4
    DAYS = 5
    TO_GO = 6


HEADERS: Final[Mapping[Column, str]] = {
    Column.NAME: "Appliance",
    Column.STATE: "State",
    Column.DAILY: "Daily energy\nkWh/day",
    Column.KNOWN: "How well\nknown",
    Column.SHARE: "Time\nrunning",
    Column.DAYS: "Days\nmeasured",
    Column.TO_GO: "Days\nto go",
}

HEADER_HELP: Final[Mapping[Column, str]] = {
    Column.NAME: "The appliance, and the room it stands in",
    Column.STATE: "Where its measurement stands",
    Column.DAILY: "Energy in 24 hours with its 95 % interval",
    Column.KNOWN: (
        "The line is the 95 % interval, from half the daily energy to twice it; an arrow means that it goes "
        "further. The shaded band is the target: once the line lies in it, the appliance is well measured."
    ),
    Column.SHARE: "Share of the time in which it runs",
    Column.DAYS: "Days across which the meter's counters ran on",
    Column.TO_GO: "Days of measuring still to go until it is known well enough, foreseen from what was read",
}

FOLDED_HEADERS: Final[Mapping[Column, tuple[Column, str]]] = {
    Column.NAME: (Column.STATE, "Appliance,\nstate"),
    Column.SHARE: (Column.DAYS, "Running\nof days"),
}
"""Columns that a narrow roster puts under another: which one goes under it, and the header of both."""

Folded = frozenset[Column]

RIGHT_ALIGNED: Final = frozenset({Column.DAILY, Column.SHARE, Column.DAYS, Column.TO_GO})

_STATE_ORDER = {
    MeasurementState.RUNNING: 0.0,
    MeasurementState.PLANNED: 1.0,
    None: 2.0,
    MeasurementState.FINISHED: 3.0,
    MeasurementState.SET_ASIDE: 4.0,
}

LONGEST_SAID_D = 100.0
"""Beyond so many days to go the roster only says that it takes long."""

SortKey = float | str | None


def cell_text(row: RosterRow, column: Column) -> str:
    """Give the text of one cell, empty where there is nothing to say."""
    return _TEXTS[column](row)


def header(column: Column, folded: Folded = frozenset()) -> str:
    """Give a column's header, which names the column folded under it too."""
    under, words = FOLDED_HEADERS.get(column, (None, ""))
    return words if under in folded else HEADERS[column]


def second_line(row: RosterRow, column: Column, folded: Folded = frozenset()) -> str:
    """Give the muted line under the text: the room, when it was read, the ends of an interval.

    With the state folded under the name it is the state and the room, with the days folded under the time
    running it is the days.
    """
    match column:
        case Column.NAME:
            return _name_below(row) if Column.STATE in folded else row.appliance.room
        case Column.SHARE:
            days = _days_text(row) if Column.DAYS in folded else ""
            return f"of {days} d" if days else ""
        case Column.STATE:
            return _state_below(row)
        case Column.DAILY:
            return daily_lines(row)[1]
        case Column.TO_GO:
            return _to_go_lines(row)[1]
        case _:
            return ""


def _name_below(row: RosterRow) -> str:
    state = _state_text(row)
    if row.state is MeasurementState.RUNNING:
        state = _state_below(row)
    elif row.state is MeasurementState.FINISHED and row.last_reading_at is not None:
        state = f"{state} {row.last_reading_at.day} {row.last_reading_at:%b}"
    return ", ".join(part for part in (state, row.appliance.room) if part)


def _state_below(row: RosterRow) -> str:
    if row.state is MeasurementState.RUNNING:
        return "read today" if row.read_today else "unread today"
    if row.state is MeasurementState.FINISHED and row.last_reading_at is not None:
        return f"{row.last_reading_at.day} {row.last_reading_at:%b %Y}"
    if row.state is MeasurementState.PLANNED and row.meter is not None:
        return row.meter.name
    return ""


def sort_key(row: RosterRow, column: Column) -> SortKey:
    """Give what the column is sorted by; None sorts last in either order."""
    estimate = row.estimate
    match column:
        case Column.NAME:
            return row.appliance.name.casefold()
        case Column.STATE:
            return _STATE_ORDER[row.state] + (0.5 if is_read_today(row) else 0.0)
        case Column.DAILY:
            return None if estimate is None or estimate.daily_kwh is None else estimate.daily_kwh.value
        case Column.KNOWN:
            return None if estimate is None or estimate.daily_kwh is None else estimate.enough.half_width
        case Column.SHARE:
            return (
                None if estimate is None or estimate.duty_cycle is None else estimate.duty_cycle.share.value
            )
        case Column.DAYS:
            return None if estimate is None or estimate.spans == 0 else estimate.days
        case Column.TO_GO:
            return _to_go_key(row)


def is_read_today(row: RosterRow) -> bool:
    """Tell whether a running measurement has its reading of today; for others it does not matter."""
    return row.read_today and row.state is MeasurementState.RUNNING


def matches(row: RosterRow, words: tuple[str, ...]) -> bool:
    """Tell whether every word stands in the appliance's name, room, kind or state."""
    appliance = row.appliance
    state = f"{_state_text(row)} {second_line(row, Column.STATE)}"
    haystack = f"{appliance.name} {appliance.room} {KIND_WORDS[appliance.kind]} {state}".casefold()
    return all(word in haystack for word in words)


def _state_text(row: RosterRow) -> str:
    if row.state is None:
        return HARD_WIRED if row.appliance.hard_wired else NOT_MEASURED
    return STATE_WORDS[row.state]


def daily_lines(row: RosterRow) -> tuple[str, str]:
    """Give "1.02 ± 0.11", or the value with both ends of its interval under it where it is unsymmetric."""
    daily = row.estimate.daily_kwh if row.estimate is not None else None
    if daily is None:
        return "", ""
    text = format_plus_minus(daily.value, daily.low, daily.high)
    value, bracket, ends = text.partition(" (")
    return value, f"({ends}" if bracket else ""


def _daily_text(row: RosterRow) -> str:
    return daily_lines(row)[0]


def _share_text(row: RosterRow) -> str:
    share = sort_key(row, Column.SHARE)
    return format_percent(share) if isinstance(share, float) else ""


def _days_text(row: RosterRow) -> str:
    days = sort_key(row, Column.DAYS)
    return f"{days:.1f}" if isinstance(days, float) else ""


def _to_go_key(row: RosterRow) -> float | None:
    if row.estimate is None or row.estimate.daily_kwh is None:
        return None
    if row.estimate.enough.well_measured:
        return 0.0
    to_go = row.estimate.enough.days_to_go
    return None if to_go is None or not math.isfinite(to_go.value) else to_go.value


def _to_go_lines(row: RosterRow) -> tuple[str, str]:
    """Give the days to go with their range under them, "enough", or nothing where nothing is measured now."""
    if row.estimate is not None and row.estimate.enough.well_measured:
        return "enough", ""
    if row.state is not MeasurementState.RUNNING or row.estimate is None:
        return "", ""
    days = row.estimate.enough.days_to_go
    if days is None or row.estimate.daily_kwh is None:
        return "", ""
    words = format_days_to_go(days).removeprefix("about ").removesuffix(" days").removesuffix(" day")
    if days.value > LONGEST_SAID_D:
        return "over 100", ""
    value, bracket, ends = words.partition(" (")
    return value, ends.rstrip(")").replace("more than ", "over ") if bracket else ""


def _to_go_text(row: RosterRow) -> str:
    return _to_go_lines(row)[0]


_TEXTS: Final[Mapping[Column, Callable[[RosterRow], str]]] = {
    Column.NAME: lambda row: row.appliance.name,
    Column.STATE: _state_text,
    Column.DAILY: _daily_text,
    Column.KNOWN: lambda _row: "",
    Column.SHARE: _share_text,
    Column.DAYS: _days_text,
    Column.TO_GO: _to_go_text,
}

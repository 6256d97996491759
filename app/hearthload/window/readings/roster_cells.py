"""What the roster says in each cell: the text, the line under it, the key to sort by, the spoken words."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from enum import IntEnum
from typing import Final

from hearthload.domain.figures import (
    format_days,
    format_days_to_go,
    format_percent,
    format_plus_minus,
)
from hearthload.domain.measurement import MeasurementState
from hearthload.service.answers import RosterRow
from hearthload.window.words import HARD_WIRED, KIND_WORDS, NOT_MEASURED, STATE_WORDS, lack_words


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


def second_line(row: RosterRow, column: Column) -> str:
    """Give the muted line under the text: the room, when it was read, the ends of an interval."""
    match column:
        case Column.NAME:
            return row.appliance.room
        case Column.STATE:
            return _state_below(row)
        case Column.DAILY:
            return _daily_lines(row)[1]
        case Column.TO_GO:
            return _to_go_lines(row)[1]
        case _:
            return ""


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
            return _STATE_ORDER[row.state] + (0.5 if row.read_today else 0.0)
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


def spoken(row: RosterRow, column: Column) -> str:
    """Say one cell in a sentence, for a screen reader and for the tooltip."""
    match column:
        case Column.NAME:
            return _spoken_name(row)
        case Column.STATE:
            below = second_line(row, column)
            return _state_text(row) + (f", {below}" if below else "")
        case Column.DAILY:
            text = " ".join(line for line in _daily_lines(row) if line)
            return f"daily energy {text} kWh per day" if text else "daily energy not known yet"
        case Column.KNOWN:
            return _spoken_known(row)
        case Column.SHARE:
            return _spoken_share(row)
        case Column.DAYS:
            days = sort_key(row, column)
            return f"measured for {format_days(days)}" if isinstance(days, float) else "not measured yet"
        case Column.TO_GO:
            return _spoken_to_go(row)


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


def _daily_lines(row: RosterRow) -> tuple[str, str]:
    """Give "1.02 ± 0.11", or the value with both ends of its interval under it where it is unsymmetric."""
    daily = row.estimate.daily_kwh if row.estimate is not None else None
    if daily is None:
        return "", ""
    text = format_plus_minus(daily.value, daily.low, daily.high)
    value, bracket, ends = text.partition(" (")
    return value, f"({ends}" if bracket else ""


def _daily_text(row: RosterRow) -> str:
    return _daily_lines(row)[0]


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


def _spoken_name(row: RosterRow) -> str:
    appliance = row.appliance
    parts = [appliance.name, appliance.room, KIND_WORDS[appliance.kind]]
    if appliance.medical:
        parts.append("keeps someone alive or healthy")
    if row.doubts:
        parts.append("1 open doubt" if row.doubts == 1 else f"{row.doubts} open doubts")
    return ", ".join(part for part in parts if part)


def _spoken_known(row: RosterRow) -> str:
    if row.estimate is None or row.estimate.daily_kwh is None:
        return "how well known: no figure yet"
    enough = row.estimate.enough
    if enough.well_measured:
        return (
            f"well measured: ± {format_percent(enough.half_width)}, wants ± {format_percent(enough.target)}"
        )
    return "not yet well measured: " + "; ".join(lack_words(lack, enough) for lack in enough.lacks)


def _spoken_share(row: RosterRow) -> str:
    duty = row.estimate.duty_cycle if row.estimate is not None else None
    if duty is None:
        return "share of time running not known"
    share = duty.share
    return (
        f"runs {format_percent(share.value)} of the time "
        f"({format_percent(share.low)} to {format_percent(share.high)})"
    )


def _spoken_to_go(row: RosterRow) -> str:
    if row.estimate is None:
        return "days to go not known"
    if row.estimate.enough.well_measured:
        return "measured long enough"
    return f"to go: {format_days_to_go(row.estimate.enough.days_to_go)}"


_TEXTS: Final[Mapping[Column, Callable[[RosterRow], str]]] = {
    Column.NAME: lambda row: row.appliance.name,
    Column.STATE: _state_text,
    Column.DAILY: _daily_text,
    Column.KNOWN: lambda _row: "",
    Column.SHARE: _share_text,
    Column.DAYS: _days_text,
    Column.TO_GO: _to_go_text,
}

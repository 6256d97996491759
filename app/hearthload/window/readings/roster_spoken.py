"""What the roster says aloud: each cell in a sentence, for a screen reader and for the tooltip."""

from __future__ import annotations

from hearthload.domain.figures import format_days, format_days_to_go, format_percent
from hearthload.service.roster_answers import RosterRow
from hearthload.window.readings.roster_cells import (
    FOLDED_HEADERS,
    Column,
    Folded,
    cell_text,
    daily_lines,
    second_line,
    sort_key,
)
from hearthload.window.words import KIND_WORDS, lack_words


def spoken(row: RosterRow, column: Column, folded: Folded = frozenset()) -> str:
    """Say one cell, and the one folded under it, in a sentence."""
    said = _spoken(row, column)
    under, _ = FOLDED_HEADERS.get(column, (None, ""))
    return f"{said}; {_spoken(row, under)}" if under in folded and under is not None else said


def _spoken(row: RosterRow, column: Column) -> str:
    """Say one cell in a sentence, for a screen reader and for the tooltip."""
    match column:
        case Column.NAME:
            return _spoken_name(row)
        case Column.STATE:
            below = second_line(row, column)
            return cell_text(row, column) + (f", {below}" if below else "")
        case Column.DAILY:
            text = " ".join(line for line in daily_lines(row) if line)
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

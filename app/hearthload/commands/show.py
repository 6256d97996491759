"""`show`: prints the appliances with what their readings say."""

from __future__ import annotations

import argparse
import json
import math
from datetime import datetime
from pathlib import Path

from hearthload.commands.parser import program_name
from hearthload.domain.figures import DASH, format_days, format_days_to_go, format_ends, format_percent
from hearthload.estimate.answers import Estimate, Interval
from hearthload.service import queries
from hearthload.service.exchange.tables import table
from hearthload.service.logbook import open_logbook
from hearthload.service.roster_answers import RosterRow

HEADERS = ("appliance", "room", "state", "kWh a day", "on", "measured", "to go")


def run(options: argparse.Namespace) -> int:
    """Print the roster of the logbook."""
    logbook = open_logbook(Path(options.logbook))
    try:
        rows = queries.roster(logbook, datetime.now().astimezone())
    finally:
        logbook.close()
    if options.json:
        answer = {"logbook": str(logbook.path), "appliances": [_row_json(row) for row in rows]}
        print(json.dumps(answer, ensure_ascii=False))
    elif rows:
        print(table(HEADERS, [_row_text(row) for row in rows], right=frozenset({3, 4, 5})))
    else:
        print(
            f"This logbook is still empty. Open it and add an appliance: {program_name()} {options.logbook}"
        )
    return 0


def _row_text(row: RosterRow) -> tuple[str, ...]:
    estimate = row.estimate
    state = "hard-wired" if row.appliance.hard_wired else "not yet"
    if row.state is not None:
        state = row.state.value.replace("_", " ")
    daily, share, days = DASH, DASH, DASH
    if estimate is not None:
        daily = format_ends(estimate.daily_kwh) if estimate.daily_kwh else DASH
        share = format_percent(estimate.duty_cycle.share.value) if estimate.duty_cycle else DASH
        days = format_days(estimate.days) if estimate.spans else DASH
    return row.appliance.name, row.appliance.room, state, daily, share, days, _to_go(estimate)


def _to_go(estimate: Estimate | None) -> str:
    if estimate is None or not estimate.spans:
        return DASH
    if estimate.enough.well_measured:
        return "well measured"
    return format_days_to_go(estimate.enough.days_to_go)


def _row_json(row: RosterRow) -> dict[str, object]:
    estimate = row.estimate
    return {
        "appliance": row.appliance.name,
        "kind": row.appliance.kind.value,
        "room": row.appliance.room,
        "role": row.appliance.role.value,
        "state": row.state and row.state.value,
        "meter": row.meter and row.meter.name,
        "last_reading_at": row.last_reading_at and row.last_reading_at.isoformat(),
        "readings": estimate.readings if estimate else 0,
        "days": estimate.days if estimate else 0.0,
        "daily_kwh": _ends(estimate.daily_kwh, "median") if estimate else None,
        "duty_cycle": _ends(estimate.duty_cycle.share) if estimate and estimate.duty_cycle else None,
        "well_measured": bool(estimate and estimate.enough.well_measured),
        "target": estimate.enough.target if estimate else row.appliance.target,
        "days_to_go": _ends(estimate.enough.days_to_go) if estimate else None,
    }


def _ends(interval: Interval | None, middle: str = "value") -> dict[str, float | None] | None:
    if interval is None:
        return None
    ends = {middle: interval.value, "low": interval.low, "high": interval.high}
    # JSON has no infinity: an end that cannot be foreseen is null.
    return {name: value if math.isfinite(value) else None for name, value in ends.items()}

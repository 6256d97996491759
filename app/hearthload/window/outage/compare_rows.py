"""Two plans side by side: totals, what they ask for, and the loads that differ."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from hearthload.domain.figures import DASH
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.load_cells import daily_text, is_off, role_words
from hearthload.window.outage.needs_rows import needs_rows
from hearthload.window.outage.outage_words import plan_words, use_words
from hearthload.window.outage.totals_rows import totals_rows

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer, PlanRow

HEAD_TOTALS: Final = "All loads that are kept on"
HEAD_LOADS: Final = "Loads that differ"
NOT_IN: Final = "not in the plan"
LENGTH: Final = re.compile(r" (?:for|in) ")
"""What stands between the name of a figure and the plan's length."""


def compared(one: PlanAnswer, other: PlanAnswer) -> tuple[FigureRow, ...]:
    """Give the rows of two plans; the unit is common to both."""
    totals = _paired(totals_rows(one), totals_rows(other))
    needs = _paired(needs_rows(one), needs_rows(other))
    return (FigureRow("head totals", HEAD_TOTALS), *totals, *needs, *_loads(one, other))


def standing(answer: PlanAnswer) -> str:
    """Say what a plan is about, with its name."""
    return f"{answer.plan.name}: {plan_words(answer.plan)}"


def _paired(one: Sequence[FigureRow], other: Sequence[FigureRow]) -> list[FigureRow]:
    """Put the rows of the same keys beside each other, in the order of the first plan."""
    left, right = ({_key(row): row for row in rows} for rows in (one, other))
    found = []
    for key, row in {**right, **left}.items():
        if row.is_heading:
            found.append(FigureRow(row.key, row.what.partition(" in ")[0]))
            continue
        values = tuple(_value(rows.get(key)) for rows in (left, right))
        unit = next((each.unit for each in (left.get(key), right.get(key)) if each and each.unit), "")
        what = row.what if _same_what(left.get(key), right.get(key)) else LENGTH.split(row.what)[0]
        steps = (left.get(key) or row).steps
        found.append(FigureRow(row.key, what, values, unit, "", steps))
    return found


def _key(row: FigureRow) -> str:
    """Give the key by which rows of two plans belong together; a heading may name the plan's month."""
    return row.key.partition(" in ")[0] if row.is_heading else row.key


def _same_what(one: FigureRow | None, other: FigureRow | None) -> bool:
    return one is None or other is None or one.what == other.what


def _value(row: FigureRow | None) -> str:
    return DASH if row is None else row.values[0]


def _loads(one: PlanAnswer, other: PlanAnswer) -> list[FigureRow]:
    left, right = ({row.appliance.id: row for row in answer.rows} for answer in (one, other))
    found = [FigureRow("head loads", HEAD_LOADS)]
    for appliance_id, row in {**left, **right}.items():
        said = [_said(rows.get(appliance_id)) for rows in (left, right)]
        if said[0] != said[1]:
            values, belows = zip(*said, strict=True)
            key = f"load {appliance_id}"
            found.append(FigureRow(key, row.appliance.name, values, "kWh a day", belows=belows))
    return found if len(found) > 1 else []


def _said(row: PlanRow | None) -> tuple[str, str]:
    """Say an appliance's energy in a plan, and what it is there: "essential, 3 h a day"."""
    if row is None:
        return DASH, NOT_IN
    if is_off(row):
        return DASH, "off"
    number = f"{row.load.quantity} × " if row.load.quantity != 1 else ""
    return daily_text(row.line.daily), f"{number}{role_words(row)}, {use_words(row.load)}"

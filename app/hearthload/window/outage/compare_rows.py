"""Two plans side by side: totals, what they ask for, and the loads that differ."""

from __future__ import annotations

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
        what = row.what if _same_what(left.get(key), right.get(key)) else row.what.partition(" for ")[0]
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
        values = tuple(_load_words(rows.get(appliance_id)) for rows in (left, right))
        if values[0] != values[1]:
            found.append(FigureRow(f"load {appliance_id}", row.appliance.name, values))
    return found if len(found) > 1 else []


def _load_words(row: PlanRow | None) -> str:
    """Say what an appliance is in a plan: "essential, 3 h a day, 0.34 kWh"."""
    if row is None:
        return NOT_IN
    if is_off(row):
        return "off"
    number = f"{row.load.quantity} × " if row.load.quantity != 1 else ""
    energy = f", {daily_text(row.line.daily)} kWh a day" if row.line.daily is not None else ""
    return f"{number}{role_words(row)}, {use_words(row.load)}{energy}"

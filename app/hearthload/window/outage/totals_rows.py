"""What the loads that are kept on take together, as rows of figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from hearthload.domain.figures import format_days, format_hours
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.outage.steps import Figure
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.outage_words import (
    exact_number,
    exact_text,
    figure_text,
    hours_in,
    is_short,
    number_text,
    span_words,
)

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

DAILY, EXPECTED, HOLD, RUNNING_W, RUNNING_VA, LIKELY, START, RESTART = KEYS = (
    "daily", "expected", "hold", "running_w", "running_va", "likely_w", "start_va", "restart_va"
)  # fmt: skip
LIKELY_SHARE: Final = "likely_share"
MINUTE_H: Final = 1.0 / 60.0
UNITS: Final = {"kWh/d": "kWh a day"}


def totals_rows(answer: PlanAnswer) -> tuple[FigureRow, ...]:
    """Give the totals, each with its arithmetic."""
    totals, plan = answer.totals, answer.plan
    whole = format_days(plan.days)
    largest = f"largest: {totals.largest_start}, {totals.start_s:g} s" if totals.largest_start else ""
    mean = "mean of a whole day, 95 % interval" if is_short(plan) else "mean, with its 95 % interval"
    return (
        total_row(DAILY, "Energy a day", totals.daily, mean),
        _plain(
            EXPECTED, f"Energy {'in' if is_short(plan) else 'for'} {whole}", totals.plan_kwh,
            "expected", totals.plan_kwh.value,
        ),
        _plain(
            HOLD, f"Energy to hold for {whole}", totals.plan_kwh,
            f"enough in {100.0 * plan.confidence:g} % of such outages", hold_kwh(totals.plan_kwh),
        ),
        total_row(RUNNING_W, "Highest running power", totals.running_w, "all running together"),
        total_row(RUNNING_VA, "Highest running apparent power", totals.running_va, "all running together"),
        total_row(LIKELY, "Power seldom passed", totals.likely_w, f"or less, {seldom_words(answer)}"),
        total_row(START, "Worst single start", totals.start_va, largest),
        total_row(RESTART, "When power returns", totals.restart_va, "all thermostats start together"),
    )  # fmt: skip


def seldom_words(answer: PlanAnswer) -> str:
    """Say for how long the likely highest power may be passed: "all but 14 min a day"."""
    share = next(row.value for row in answer.facts if row.fact.key == LIKELY_SHARE)
    hours = hours_in((1.0 - share) * HOURS_PER_DAY, answer.plan)
    passed = format_hours(hours) if hours >= MINUTE_H else "less than a minute"
    return f"all but {passed} {span_words(answer.plan)}"


def total_row(key: str, what: str, figure: Figure, below: str = "") -> FigureRow:
    """Make the row of one figure."""
    unit = UNITS.get(figure.unit, figure.unit)
    return FigureRow(
        key, what, (figure_text(figure),), unit, below, figure.steps, result=figure.value,
        exact=(exact_text(figure),),
    )  # fmt: skip


def hold_kwh(plan_kwh: Figure) -> float:
    """Give what must be held [kWh]."""
    return plan_kwh.value if plan_kwh.high is None else plan_kwh.high


def _plain(key: str, what: str, figure: Figure, below: str, value: float) -> FigureRow:
    text = number_text(value, figure.unit)
    exact = (exact_number(value),)
    return FigureRow(key, what, (text,), figure.unit, below, figure.steps, result=value, exact=exact)

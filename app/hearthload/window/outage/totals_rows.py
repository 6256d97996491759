"""What the loads that are kept on take together, as rows of figures."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from hearthload.domain.figures import format_days
from hearthload.outage.steps import Figure
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.outage_words import figure_text, number_text

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

DAILY, EXPECTED, HOLD, RUNNING_W, RUNNING_VA, LIKELY, START, RESTART = KEYS = (
    "daily", "expected", "hold", "running_w", "running_va", "likely_w", "start_va", "restart_va"
)  # fmt: skip
UNITS: Final = {"kWh/d": "kWh a day"}


def totals_rows(answer: PlanAnswer) -> tuple[FigureRow, ...]:
    """Give the totals, each with its arithmetic."""
    totals = answer.totals
    whole = format_days(answer.plan.days)
    largest = f"largest: {totals.largest_start}, {totals.start_s:g} s" if totals.largest_start else ""
    return (
        total_row(DAILY, "Energy a day", totals.daily, "mean, with its 95 % interval"),
        _plain(EXPECTED, f"Energy for {whole}", totals.plan_kwh, "expected", totals.plan_kwh.value),
        _plain(
            HOLD, f"Energy to hold for {whole}", totals.plan_kwh,
            f"enough in {100.0 * answer.plan.confidence:g} % of such outages", hold_kwh(totals.plan_kwh),
        ),
        total_row(RUNNING_W, "Highest running power", totals.running_w, "all running together"),
        total_row(RUNNING_VA, "Highest running apparent power", totals.running_va, "all running together"),
        total_row(LIKELY, "Likely highest power", totals.likely_w, "passed in a hundredth of the time only"),
        total_row(START, "Worst single start", totals.start_va, largest),
        total_row(RESTART, "When power returns", totals.restart_va, "all thermostats start together"),
    )  # fmt: skip


def total_row(key: str, what: str, figure: Figure, below: str = "") -> FigureRow:
    """Make the row of one figure."""
    unit = UNITS.get(figure.unit, figure.unit)
    return FigureRow(key, what, (figure_text(figure),), unit, below, figure.steps, result=figure.value)


def hold_kwh(plan_kwh: Figure) -> float:
    """Give what must be held [kWh]."""
    return plan_kwh.value if plan_kwh.high is None else plan_kwh.high


def _plain(key: str, what: str, figure: Figure, below: str, value: float) -> FigureRow:
    text = number_text(value, figure.unit)
    return FigureRow(key, what, (text,), figure.unit, below, figure.steps, result=value)

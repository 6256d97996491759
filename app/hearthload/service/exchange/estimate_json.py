"""Estimates of many appliances as JSON for machines and as lines for people."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Any

from hearthload.domain.figures import DASH, format_days, format_days_to_go, format_ends, format_percent
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.series import Series

Rows = Iterable[tuple[str, Series]]
Progress = Callable[[int], None]


def estimate_json(rows: Rows, progress: Progress | None = None) -> dict[str, Any]:
    """Estimate every appliance and give the answers as plain values; energies are not rounded.

    `progress` is told the number of appliances done.
    """
    answers = []
    for done, (name, series) in enumerate(rows, start=1):
        answers.append(_answer(name, series, estimate(series)))
        if progress is not None:
            progress(done)
    return {"appliances": answers}


def _answer(name: str, series: Series, answer: Estimate) -> dict[str, Any]:
    daily, duty, enough = answer.daily_kwh, answer.duty_cycle, answer.enough
    return {
        "appliance": name,
        "kind": series.kind.value,
        "readings": answer.readings,
        "days": answer.days,
        "daily_kwh": None if daily is None else _ends(daily, "median"),
        "duty_cycle": None if duty is None else _ends(duty.share, "value"),
        "kwh_per_use": None,
        "well_measured": enough.well_measured,
        "target": enough.target,
        "days_to_go": None if enough.days_to_go is None else _ends(enough.days_to_go, "value"),
        "doubts": [],
    }


def _ends(interval: Interval, middle: str) -> dict[str, float]:
    return {middle: interval.value, "low": interval.low, "high": interval.high}


def estimate_lines(rows: Rows, progress: Progress | None = None) -> list[str]:
    """Estimate every appliance and give one line for each, after a heading, in even columns."""
    table = [("appliance", "readings", "time", "kWh per day (95 %)", "duty cycle", "enough for a plan?")]
    for done, (name, series) in enumerate(rows, start=1):
        table.append(_cells(name, estimate(series)))
        if progress is not None:
            progress(done)
    if len(table) == 1:
        return ["The file names its columns but holds no readings."]
    widths = [max(len(cells[at]) for cells in table) for at in range(len(table[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
        for cells in table
    ]


def _cells(name: str, answer: Estimate) -> tuple[str, str, str, str, str, str]:
    shown = "".join(mark if mark.isprintable() else "�" for mark in name)
    daily, duty = answer.daily_kwh, answer.duty_cycle
    return (
        shown,
        str(answer.readings),
        format_days(answer.days) if answer.spans else DASH,
        DASH if daily is None else format_ends(daily) + (" preliminary" if answer.preliminary else ""),
        DASH if duty is None else format_percent(duty.share.value),
        _verdict(answer),
    )


def _verdict(answer: Estimate) -> str:
    enough = answer.enough
    if answer.daily_kwh is None:
        return "no: two readings of one run are needed"
    half = format_percent(enough.half_width) if math.isfinite(enough.half_width) else "unknown"
    wanted = f"± {half}, wants ± {format_percent(enough.target)}"
    if enough.well_measured:
        return f"yes: {wanted}"
    if enough.days_to_go is None:
        return f"no: {wanted}; when cannot be foreseen"
    return f"no: {wanted}; {format_days_to_go(enough.days_to_go)} to go"

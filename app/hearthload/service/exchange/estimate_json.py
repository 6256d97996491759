"""Estimates of many appliances as JSON for machines and as lines for people."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any

from hearthload.domain.doubt import Doubt
from hearthload.domain.figures import DASH, format_days, format_days_to_go, format_ends, format_percent
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.counters import settled
from hearthload.estimate.doubts import find_doubts
from hearthload.estimate.series import Series
from hearthload.estimate.spans import ordered, spans_of
from hearthload.service.doubt_words import doubt_sentence

Rows = Iterable[tuple[str, Series]]
Progress = Callable[[int], None]


def estimate_json(rows: Rows, progress: Progress | None = None) -> dict[str, Any]:
    """Estimate every appliance and give the answers as plain values; energies are not rounded.

    `progress` is told the number of appliances done.
    """
    answers = []
    for done, (name, series) in enumerate(rows, start=1):
        answers.append(_answer(name, series))
        if progress is not None:
            progress(done)
    return {"appliances": answers}


def judged(series: Series) -> tuple[Estimate, tuple[Doubt, ...]]:
    """Give the estimate of a series, counters that fell settled, and every doubt about it."""
    clean, _ = settled(series)
    spans = spans_of(clean)
    answer = estimate(clean, spans)
    return answer, find_doubts(series, answer, spans=spans)


def _answer(name: str, series: Series) -> dict[str, Any]:
    answer, doubts = judged(series)
    daily, duty, enough, per_use = answer.daily_kwh, answer.duty_cycle, answer.enough, answer.per_use
    by_uses = None if per_use is None else per_use.daily_kwh
    moments = moments_of(series)
    return {
        "appliance": name,
        "kind": series.kind.value,
        "readings": answer.readings,
        "days": answer.days,
        "daily_kwh": None if daily is None else _ends(daily, "median"),
        "duty_cycle": None if duty is None else _ends(duty.share, "value"),
        "kwh_per_use": None if per_use is None or per_use.at_most else _ends(per_use.energy_kwh, "value"),
        "kwh_per_use_at_most": per_use.energy_kwh.high if per_use is not None and per_use.at_most else None,
        "daily_kwh_by_uses": None if by_uses is None else _ends(by_uses, "value"),
        "one_day_kwh": None if answer.one_day is None else asdict(answer.one_day),
        "well_measured": enough.well_measured,
        "target": enough.target,
        "days_to_go": None if enough.days_to_go is None else _ends(enough.days_to_go, "value"),
        "doubts": [_doubt(doubt, moments) for doubt in doubts],
    }


def moments_of(series: Series) -> list[datetime]:
    """Give the moment of every reading, in the order in which doubts number them."""
    return [snapshot.taken_at for run in series.runs for snapshot in ordered(run)]


def _doubt(doubt: Doubt, moments: Sequence[datetime]) -> dict[str, Any]:
    taken_at = None if doubt.reading is None else moments[doubt.reading]
    return {
        "code": doubt.code.value,
        "reading": doubt.reading,
        "taken_at": None if taken_at is None else taken_at.isoformat(),
        "likely": doubt.likely.value,
        "values": doubt.values,
        "tail": doubt.tail,
        "suggested_kwh": doubt.suggested_kwh,
        "suggested_h": doubt.suggested_h,
        "left_out": doubt.left_out,
        "sentence": doubt_sentence(doubt, taken_at),
    }


def _ends(interval: Interval, middle: str) -> dict[str, float]:
    return {middle: interval.value, "low": interval.low, "high": interval.high}


def estimate_lines(rows: Rows, progress: Progress | None = None) -> list[str]:
    """Estimate every appliance and give one line for each, after a heading, in even columns."""
    table = [("appliance", "readings", "time", "kWh per day (95 %)", "duty cycle", "enough for a plan?")]
    remarks: list[str] = []
    for done, (name, series) in enumerate(rows, start=1):
        answer, doubts = judged(series)
        table.append(_cells(name, answer))
        remarks.extend(_remarks(table[-1][0], series, doubts))
        if progress is not None:
            progress(done)
    if len(table) == 1:
        return ["The file names its columns but holds no readings."]
    widths = [max(len(cells[at]) for cells in table) for at in range(len(table[0]))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
        for cells in table
    ]
    return [*lines, "", "Worth a second look:", *remarks] if remarks else lines


def _remarks(name: str, series: Series, doubts: Sequence[Doubt]) -> list[str]:
    moments = moments_of(series)
    said = [
        doubt_sentence(doubt, None if doubt.reading is None else moments[doubt.reading]) for doubt in doubts
    ]
    return [f"{name}, {sentence}" for sentence in said]


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

"""Spans beside the readings that close them, for tables and charts."""

from __future__ import annotations

from collections.abc import Iterable

from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.spans import Span
from hearthload.service.answers import SpanBar


def closing_spans(record: MeasurementRecord, spans: Iterable[Span]) -> dict[int, Span]:
    """Map each reading's number to the span it closes; a run's first reading closes none."""
    places = {run.id: place for place, run in enumerate(record.runs)}
    ends = {(places[reading.run_id], reading.taken_at.timestamp()): reading.id for reading in record.readings}
    return {ends[span.run, span.to_s]: span for span in spans}


def span_hours(span: Span) -> float:
    """Give a span's length [h]."""
    return span.days * HOURS_PER_DAY


def span_power_w(span: Span) -> float | None:
    """Give a span's average watts, P = 1000·d/T [W] with d [kWh] and T [h]; None without time."""
    hours = span_hours(span)
    return WATTS_PER_KILOWATT * span.energy_kwh / hours if hours > 0.0 else None


def bar_of(span: Span) -> SpanBar | None:
    """Give a span as the chart draws it; None without time."""
    power = span_power_w(span)
    if power is None:
        return None
    return SpanBar(span.from_s, span.to_s, power, span.energy_kwh, span_hours(span))

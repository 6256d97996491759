"""The question behind both charts of a measurement."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hearthload.domain.appliance import Appliance
from hearthload.estimate.answers import Estimate
from hearthload.estimate.spans import Span
from hearthload.service.answers import ChartData, TrendPoint
from hearthload.service.doubts import doubted_at
from hearthload.service.logbook import Logbook


def chart(logbook: Logbook, measurement_id: int) -> ChartData:
    """Give the daily figure as it settled, the target band, and the average watts span by span."""
    held = logbook.held()
    record = held.record(measurement_id)
    appliance: Appliance = held.appliance(record.measurement.appliance_id)
    estimates = logbook.estimates
    low, high = _target_band(estimates.estimate(measurement_id))
    drawn = estimates.bars(measurement_id)
    told = set(map(id, telling(span for span, _ in drawn)))
    return ChartData(
        appliance_name=appliance.name,
        measurement=record.measurement,
        trend=tuple(
            TrendPoint(reading.taken_at.timestamp(), estimate.daily_kwh)
            for reading, estimate in estimates.trend(measurement_id)
            if estimate.daily_kwh is not None
        ),
        target_low_kwh=low,
        target_high_kwh=high,
        spans=tuple(bar for span, bar in drawn if bar is not None and id(span) in told),
        readings_s=tuple(reading.taken_at.timestamp() for reading in record.readings),
        breaks_s=tuple(run.began_at.timestamp() for run in record.runs[1:]),
        doubts_s=tuple(sorted({at.timestamp() for at in doubted_at(logbook, measurement_id)})),
    )


SHORT_D = 0.5
"""Below so many days a span's watts may be nothing but the rounding of its display [d]."""

VAGUE = 0.5
"""Above this share of its value the 95 % half-width of a short span's energy says nothing [1]."""


def telling(spans: Iterable[Span]) -> list[Span]:
    """Leave out the short spans whose watts the display's step alone could have made.

    The rounding of both ends gives the energy a half-width U = 1.96·√(u₁² + u₂²) [kWh], for a step q it is
    1.96·q/√6 (JCGM 100 F.2.2.1). U is held against the span's energy, and against what its time would
    take on the measurement's average, so that an hour of standing still is not left out.
    """
    spans = list(spans)
    days = sum(span.days for span in spans)
    mean = sum(span.energy_kwh for span in spans) / days if days > 0.0 else 0.0
    return [span for span in spans if span.days >= SHORT_D or not _vague(span, mean * span.days)]


def _vague(span: Span, usual_kwh: float) -> bool:
    """Tell whether a span's rounding is large beside its energy and beside the usual energy [kWh]."""
    half_width = 1.96 * math.sqrt(span.from_u2 + span.to_u2)
    return half_width > VAGUE * max(abs(span.energy_kwh), usual_kwh)


def _target_band(estimate: Estimate) -> tuple[float | None, float | None]:
    """Give the band that the interval must fit: median/(1+target) to median·(1+target) [kWh/d].

    The stopping rule compares half-widths on the log scale, hence the division.
    """
    if estimate.daily_kwh is None:
        return None, None
    factor = 1.0 + estimate.enough.target
    return estimate.daily_kwh.value / factor, estimate.daily_kwh.value * factor

"""The question behind both charts of a measurement."""

from __future__ import annotations

from hearthload.domain.appliance import Appliance
from hearthload.estimate.answers import Estimate
from hearthload.service.answers import ChartData, TrendPoint
from hearthload.service.doubts import doubted_at
from hearthload.service.logbook import Logbook
from hearthload.service.spans import bar_of, closing_spans


def chart(logbook: Logbook, measurement_id: int) -> ChartData:
    """Give the daily figure as it settled, the target band, and the average watts span by span."""
    held = logbook.held()
    record = held.record(measurement_id)
    appliance: Appliance = held.appliance(record.measurement.appliance_id)
    estimates = logbook.estimates
    low, high = _target_band(estimates.estimate(measurement_id))
    spans = closing_spans(record, estimates.spans(measurement_id)).values()
    bars = [bar_of(span) for span in spans]
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
        spans=tuple(bar for bar in bars if bar is not None),
        readings_s=tuple(reading.taken_at.timestamp() for reading in record.readings),
        breaks_s=tuple(run.began_at.timestamp() for run in record.runs[1:]),
        doubts_s=tuple(sorted({at.timestamp() for at in doubted_at(logbook, measurement_id)})),
    )


def _target_band(estimate: Estimate) -> tuple[float | None, float | None]:
    """Give the band that the interval must fit: median/(1+target) to median·(1+target) [kWh/d].

    The stopping rule compares half-widths on the log scale, hence the division.
    """
    if estimate.daily_kwh is None:
        return None, None
    factor = 1.0 + estimate.enough.target
    return estimate.daily_kwh.value / factor, estimate.daily_kwh.value * factor

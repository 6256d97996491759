"""Which of an appliance's measurements speaks for it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime

from hearthload.domain.measurement import Measurement, MeasurementState

_RANK = {
    MeasurementState.RUNNING: 3,
    MeasurementState.FINISHED: 2,
    MeasurementState.PLANNED: 1,
    MeasurementState.SET_ASIDE: 0,
}

_BEFORE_ALL = datetime(1, 1, 1, tzinfo=UTC)


def speaking(measurements: Iterable[Measurement]) -> Measurement | None:
    """Give the measurement that speaks: running, else latest finished, else planned, else set aside."""
    return max(measurements, key=_weight, default=None)


def _weight(measurement: Measurement) -> tuple[int, datetime, int]:
    ended = measurement.finished_at or measurement.started_at or _BEFORE_ALL
    return _RANK[measurement.state], ended, measurement.id

"""How warm the room was while an appliance was measured."""

from __future__ import annotations

from hearthload.domain.measurement import MeasurementRecord


def room_temperature_c(record: MeasurementRecord) -> float | None:
    """Give the mean of the temperatures typed with readings [°C], else the one stated, None without any."""
    typed = [found.room_temperature_c for found in record.readings if found.room_temperature_c is not None]
    if typed:
        return sum(typed) / len(typed)
    return record.measurement.room_temperature_c

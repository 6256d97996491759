"""Readings: snapshots of what a meter showed, as typed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum


class RunState(StrEnum):
    """What the appliance did when its watts were read; `HEATING` is a defrost heater or a heating element."""

    RUNNING = "running"
    IDLE = "idle"
    HEATING = "heating"


@dataclass(frozen=True, slots=True)
class ReadingDraft:
    """What a person typed at the meter, parsed but not yet saved.

    `taken_at` carries the local offset typed at. `energy_kwh` and `elapsed_h` are the cumulative
    counters. `power_w`, `voltage_v`, `current_a`, `power_factor`, `frequency_hz` are spot values,
    `highest_power_w` the highest watts the meter has seen, `uses` the number of uses since the last
    reading, `room_temperature_c` the room in degrees Celsius.
    """

    taken_at: datetime
    energy_kwh: float
    elapsed_h: float | None = None
    power_w: float | None = None
    voltage_v: float | None = None
    current_a: float | None = None
    power_factor: float | None = None
    highest_power_w: float | None = None
    frequency_hz: float | None = None
    state: RunState | None = None
    uses: int | None = None
    room_temperature_c: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Reading:
    """A saved reading: its number, the run it belongs to, and what was typed."""

    id: int
    run_id: int
    taken_at: datetime
    energy_kwh: float
    elapsed_h: float | None
    power_w: float | None
    voltage_v: float | None
    current_a: float | None
    power_factor: float | None
    highest_power_w: float | None
    frequency_hz: float | None
    state: RunState | None
    uses: int | None
    room_temperature_c: float | None
    note: str

"""Plug-in energy meters: what they show, what they carry, how true they are."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class PowerLoss(StrEnum):
    """What a meter's counters do when the mains fails under it."""

    KEEPS = "keeps"
    RESETS = "resets"
    UNKNOWN = "unknown"


class DisplayRounding(StrEnum):
    """How a meter shortens its counter to the digits it shows."""

    UNKNOWN = "unknown"
    TRUNCATES = "truncates"
    ROUNDS = "rounds"


@dataclass(frozen=True, slots=True)
class MeterDraft:
    """A meter as typed in.

    `plug` is a key of `domain.plugs.PLUGS`. `energy_step_kwh` is the smallest step of its kWh display,
    `elapsed_step_h` that of its hours display in hours (1/60 for h:mm). `gain_percent` is the stated
    accuracy as half-width in percent, None when not known.
    """

    name: str
    plug: str = "unknown"
    voltage_v: float | None = None
    current_a: float | None = None
    energy_step_kwh: float = 0.01
    elapsed_step_h: float = 1 / 60
    gain_percent: float | None = None
    power_loss: PowerLoss = PowerLoss.UNKNOWN
    rounding: DisplayRounding = DisplayRounding.UNKNOWN
    note: str = ""


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter in the logbook: its number and what was typed about it."""

    id: int
    name: str
    plug: str
    voltage_v: float | None
    current_a: float | None
    energy_step_kwh: float
    elapsed_step_h: float
    gain_percent: float | None
    power_loss: PowerLoss
    rounding: DisplayRounding
    note: str

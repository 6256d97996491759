"""Measurements: one appliance's stay on a meter, made of runs across which the counters ran on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hearthload.domain.reading import Reading


class MeasurementState(StrEnum):
    """Where a measurement stands; set-aside ones are kept but not used."""

    PLANNED = "planned"
    RUNNING = "running"
    FINISHED = "finished"
    SET_ASIDE = "set_aside"


class RunCause(StrEnum):
    """Why a run of the counters began."""

    START = "start"
    RESET = "reset"
    SWAP = "swap"


@dataclass(frozen=True, slots=True)
class Measurement:
    """A measurement: which appliance, its state, the meter it is (or will be, or was last) on.

    A planned measurement has no runs and no times; `meter_id` may then be None. `joined`: its readings count
    together with those of the appliance's measurement before it.
    """

    id: int
    appliance_id: int
    meter_id: int | None
    state: MeasurementState
    started_at: datetime | None
    finished_at: datetime | None
    room_temperature_c: float | None
    note: str
    joined: bool = False


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of one measurement in which one meter's counters ran on without a reset.

    `exact_start` says that the run's first reading is an exact zero, set by a reset.
    """

    id: int
    measurement_id: int
    number: int
    meter_id: int
    cause: RunCause
    began_at: datetime
    exact_start: bool


@dataclass(frozen=True, slots=True)
class MeasurementRecord:
    """A measurement with its runs in order and its readings in order of time."""

    measurement: Measurement
    runs: tuple[Run, ...]
    readings: tuple[Reading, ...]

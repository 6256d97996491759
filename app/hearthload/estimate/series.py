"""What an estimate is made from: the readings of one measurement, run by run, with the meter's nature."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.domain.reading import RunState


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One reading: when (aware, with the local offset), displayed kWh, displayed hours, spot values."""

    taken_at: datetime
    energy_kwh: float
    elapsed_h: float | None = None
    power_w: float | None = None
    state: RunState | None = None
    uses: int | None = None


@dataclass(frozen=True, slots=True)
class RunSeries:
    """Snapshots across which one meter's counters ran on, in order of time.

    `gain_percent` is the meter's stated half-width in percent, None when not known. `exact_start`: the
    first snapshot is an exact zero set by a reset.
    """

    snapshots: tuple[Snapshot, ...]
    energy_step_kwh: float = 0.01
    elapsed_step_h: float = 1 / 60
    gain_percent: float | None = None
    exact_start: bool = False
    rounding: DisplayRounding = DisplayRounding.UNKNOWN


@dataclass(frozen=True, slots=True)
class Series:
    """One measurement as the estimator sees it.

    `target` is the wanted half-width as a fraction, None for the kind's own. `running_w` are stated
    running watts, `nameplate_w` those of the data plate, `cycling` how its motor runs.
    """

    kind: Kind
    runs: tuple[RunSeries, ...]
    target: float | None = None
    running_w: float | None = None
    nameplate_w: float | None = None
    cycling: Cycling = Cycling.NOT_KNOWN

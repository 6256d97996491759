"""What the roster shows of an appliance; apart from the other answers, for it is wanted first of all."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.domain.meter import Meter
from hearthload.estimate.answers import Estimate


@dataclass(frozen=True, slots=True)
class RosterRow:
    """One appliance in the roster: the measurement that speaks for it, where it stands, its estimate.

    `measurement` is the running one, else the latest finished, else a planned one, else the latest set
    aside; None when there is none. `estimate` is None without readings, and that of all measurements it is
    joined to where `joined`. `read_today` is about the local day of the question. `doubts` are those open.
    """

    appliance: Appliance
    measurement: Measurement | None
    state: MeasurementState | None
    meter: Meter | None
    estimate: Estimate | None
    last_reading_at: datetime | None
    read_today: bool
    doubts: int = 0
    joined: bool = False

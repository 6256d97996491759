"""One typed reading with all that the checks compare it with."""

from __future__ import annotations

from dataclasses import dataclass

from hearthload.domain.appliance import Appliance
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord, MeasurementState
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction
from hearthload.service.placing import Place, readings_of_run

USUAL_ENERGY_STEP_KWH = 0.01
USUAL_ELAPSED_STEP_H = 1 / 60

_RESTARTED = (
    Fix("The meter was reset", FixAction.METER_RESET),
    Fix("It is another meter now", FixAction.METER_SWAPPED),
)


@dataclass(frozen=True, slots=True)
class Case:
    """A draft at its place: `expected` is where the energy counter should stand, when that can be said.

    `correcting`: the draft corrects a reading that is saved already.
    """

    record: MeasurementRecord
    place: Place
    draft: ReadingDraft
    meter: Meter | None
    appliance: Appliance
    household: Household
    expected: Interval | None
    correcting: bool

    @property
    def energy_step_kwh(self) -> float:
        """Give the step of the meter's kWh display [kWh]."""
        return USUAL_ENERGY_STEP_KWH if self.meter is None else self.meter.energy_step_kwh

    @property
    def elapsed_step_h(self) -> float:
        """Give the step of the meter's hours display [h]."""
        return USUAL_ELAPSED_STEP_H if self.meter is None else self.meter.elapsed_step_h

    @property
    def restarts(self) -> tuple[Fix, ...]:
        """Offer that the meter was reset or swapped where a new run can begin: at the end, while running."""
        running = self.record.measurement.state is MeasurementState.RUNNING
        return _RESTARTED if running and self.place.is_last and not self.correcting else ()

    def neighbours_with_hours(self) -> tuple[Reading | None, Reading | None]:
        """Give the nearest readings of the run, before and after, for which hours were typed."""
        run, before, after = self.place.run, self.place.before, self.place.after
        mates = [] if run is None else readings_of_run(self.record, run)
        with_hours = [reading for reading in mates if reading.elapsed_h is not None]
        earlier = [found for found in with_hours if before is not None and found.taken_at <= before.taken_at]
        later = [found for found in with_hours if after is not None and found.taken_at >= after.taken_at]
        return (earlier[-1] if earlier else None), (later[0] if later else None)

"""One typed reading with all that the checks compare it with."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.appliance import Appliance
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord, MeasurementState
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.units import SECONDS_PER_HOUR
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction
from hearthload.service.placing import Place, readings_of_run

USUAL_ENERGY_STEP_KWH = 0.01
USUAL_ELAPSED_STEP_H = 1 / 60

_TYPED_TIME_H = 0.10
"""How far the clock time of a reading is typed from the moment it was taken [h]: six minutes."""

_CLOCK_DRIFT = 0.0005
"""How far a meter's clock may drift from the day [1]: 43 s a day."""

_RESTARTED = (
    Fix("The meter was reset", FixAction.METER_RESET),
    Fix("It is another meter now", FixAction.METER_SWAPPED),
)


@dataclass(frozen=True, slots=True)
class Case:
    """A draft at its place: `expected` is where the energy counter should stand, when that can be said.

    `or_expected` is where it should stand if a reading that is in doubt is right after all. `correcting`: the
    draft corrects a reading that is saved already. `now` is for saying when something was.
    """

    record: MeasurementRecord
    place: Place
    draft: ReadingDraft
    meter: Meter | None
    appliance: Appliance
    household: Household
    expected: Interval | None
    correcting: bool
    now: datetime
    or_expected: Interval | None = None

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
        can_be = running and self.place.is_last and not self.correcting and not self.hours_ran_on
        return _RESTARTED if can_be else ()

    @property
    def hours_ran_on(self) -> bool:
        """Tell whether the hours ran on by the clock, as after a reset or a swap they do not."""
        before, _ = self.neighbours_with_hours()
        elapsed = self.draft.elapsed_h
        agreeing = hours_by_clock(before, self.draft, self.elapsed_step_h)
        return elapsed is not None and agreeing is not None and agreeing.low <= elapsed <= agreeing.high

    def neighbours_with_hours(self) -> tuple[Reading | None, Reading | None]:
        """Give the nearest readings of the run, before and after, for which hours were typed."""
        run, before, after = self.place.run, self.place.before, self.place.after
        mates = [] if run is None else readings_of_run(self.record, run)
        with_hours = [reading for reading in mates if reading.elapsed_h is not None]
        earlier = [found for found in with_hours if before is not None and found.taken_at <= before.taken_at]
        later = [found for found in with_hours if after is not None and found.taken_at >= after.taken_at]
        return (earlier[-1] if earlier else None), (later[0] if later else None)


def hours_by_clock(before: Reading | None, reading: ReadingDraft | Reading, step_h: float) -> Interval | None:
    """Give the hours that agree with the clock [h]: within the display step + 0.10 h + 0.0005·span."""
    if before is None or before.elapsed_h is None:
        return None
    span_h = clock_hours(before.taken_at, reading.taken_at)
    margin = step_h + _TYPED_TIME_H + _CLOCK_DRIFT * abs(span_h)
    value = before.elapsed_h + span_h
    return Interval(value, max(value - margin, before.elapsed_h), value + margin)


def clock_hours(before: datetime, after: datetime) -> float:
    """Give the time between two moments by the clock [h]."""
    return (after - before).total_seconds() / SECONDS_PER_HOUR

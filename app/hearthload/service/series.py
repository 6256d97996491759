"""From a measurement's record to what the estimator takes."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import MeasurementRecord, Run
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.estimate.series import RunSeries, Series, Snapshot


def snapshot_of(reading: Reading | ReadingDraft) -> Snapshot:
    """Give what the estimator takes from one reading."""
    return Snapshot(
        taken_at=reading.taken_at,
        energy_kwh=reading.energy_kwh,
        elapsed_h=reading.elapsed_h,
        power_w=reading.power_w,
        state=reading.state,
        uses=reading.uses,
    )


def series_of(
    record: MeasurementRecord,
    appliance: Appliance,
    meters: Mapping[int, Meter],
    snapshot: Callable[[Reading], Snapshot] = snapshot_of,
) -> Series:
    """Give a measurement as the estimator sees it, each run with the nature of its own meter.

    `snapshot` gives a reading's snapshot, for whoever keeps those of readings that stay the same.
    """
    return Series(
        kind=appliance.kind,
        runs=tuple(_run_series(run, record, meters[run.meter_id], snapshot) for run in record.runs),
        target=appliance.target,
        running_w=appliance.running_w,
        nameplate_w=appliance.nameplate_w,
        cycling=appliance.cycling,
    )


def _run_series(
    run: Run, record: MeasurementRecord, meter: Meter, snapshot: Callable[[Reading], Snapshot]
) -> RunSeries:
    return RunSeries(
        snapshots=tuple(snapshot(reading) for reading in record.readings if reading.run_id == run.id),
        energy_step_kwh=meter.energy_step_kwh,
        elapsed_step_h=meter.elapsed_step_h,
        gain_percent=meter.gain_percent,
        exact_start=run.exact_start,
        rounding=meter.rounding,
    )

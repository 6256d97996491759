"""From the logbook to the outage's arithmetic: what is known of one appliance in one plan."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import Measurement, MeasurementRecord, MeasurementState
from hearthload.domain.plan import PlanLoad
from hearthload.domain.reading import Reading, RunState
from hearthload.estimate.answers import DutyBasis, Estimate, Interval
from hearthload.estimate.kinds import NORMAL_95
from hearthload.estimate.parts import scatter_over
from hearthload.estimate.posterior import Posterior
from hearthload.outage.answers import LoadInput, Measured
from hearthload.service.caches import Caches
from hearthload.service.estimates import Estimates
from hearthload.service.logbook import Logbook
from hearthload.service.rooms import room_temperature_c
from hearthload.service.speaking import speaking

_LEAST_FREEDOM = 1.0
_SPEAK = frozenset({MeasurementState.RUNNING, MeasurementState.FINISHED})


def load_input(logbook: Logbook, load: PlanLoad, appliance: Appliance, days: float) -> LoadInput:
    """Give an appliance as the arithmetic takes it: what she typed, what was measured.

    `days` is the outage's length: how much the days of a span that long differ from the average day.
    """
    measured = measured_of(logbook.caches, logbook.estimates, appliance, days)
    stated_w = appliance.running_w if measured is None or measured.running_w is None else None
    return LoadInput(
        name=appliance.name,
        kind=appliance.kind,
        role=load.role,
        quantity=load.quantity,
        rank=load.rank,
        medical=appliance.medical,
        hard_wired=appliance.hard_wired,
        plug=appliance.plug,
        voltage_v=appliance.voltage_v,
        nameplate_w=appliance.nameplate_w,
        cycling=appliance.cycling,
        use=load.use,
        hours_a_day=load.hours_a_day,
        uses_a_day=load.uses_a_day,
        daily_kwh=load.daily_kwh,
        daily_low_kwh=load.daily_low_kwh,
        daily_high_kwh=load.daily_high_kwh,
        room_c=load.room_c,
        season_factor=load.season_factor,
        season_factor_u=load.season_factor_u,
        running_w=load.running_w if load.running_w is not None else stated_w,
        idle_w=load.idle_w,
        power_factor=load.power_factor,
        start_multiple=load.start_multiple,
        start_s=load.start_s,
        measured=measured,
    )


def measured_of(held: Caches, estimates: Estimates, appliance: Appliance, days: float) -> Measured | None:
    """Give what measuring says of an appliance, None where no measurement speaks for it."""
    found = _spoken_for(held, estimates, appliance)
    if found is None:
        return None
    measurement, estimate = found
    meter = "" if measurement.meter_id is None else held.meters[measurement.meter_id].name
    if measurement.joined:  # rests on more than this measurement's own readings
        return _measured(held.record(measurement.id), estimate, meter, days)
    return estimates.kept(
        ("load", days, meter, measurement.room_temperature_c),
        measurement.id,
        lambda: _measured(held.record(measurement.id), estimate, meter, days),
    )


def _measured(record: MeasurementRecord, estimate: Estimate, meter: str, days: float) -> Measured | None:
    if estimate.daily_kwh is None or estimate.posterior is None:
        return None
    running_w, idle_w, duty = _watts(estimate, record.readings)
    per_use = estimate.per_use
    return Measured(
        daily_kwh=estimate.daily_kwh.value,
        u_kwh=standard_uncertainty(estimate.daily_kwh, estimate.posterior),
        gain=estimate.posterior.gain,
        meter=meter,
        day_sd=scatter_over(estimate.posterior, days),
        freedom=max(estimate.days - 1.0, _LEAST_FREEDOM),
        well_measured=estimate.enough.well_measured,
        room_c=room_temperature_c(record),
        running_w=running_w,
        idle_w=idle_w,
        duty=duty,
        power_factor=_power_factor(record.readings),
        highest_w=max((each.highest_power_w or 0.0 for each in record.readings), default=0.0) or None,
        use_kwh=None if per_use is None or per_use.at_most else per_use.energy_kwh.value,
        use_u_kwh=None if per_use is None or per_use.at_most else _u(per_use.energy_kwh),
        standby_kwh=None if per_use is None else per_use.standby_kwh,
    )


def _spoken_for(
    held: Caches, estimates: Estimates, appliance: Appliance
) -> tuple[Measurement, Estimate] | None:
    """Give the measurement that speaks and its estimate; one that is new leaves it to a finished one."""
    measurements = held.measurements_of(appliance.id)
    finished = [each for each in measurements if each.state is MeasurementState.FINISHED]
    for measurement in (speaking(measurements), speaking(finished)):
        if measurement is None or measurement.state not in _SPEAK:
            continue
        together = estimates.joined(measurement.id) if measurement.joined else None
        estimate = together or estimates.estimate(measurement.id)
        if estimate.daily_kwh is not None:
            return measurement, estimate
    return None


def standard_uncertainty(daily_kwh: Interval, posterior: Posterior) -> float:
    """Give u [kWh/d] such that value·e^(±1.96·u/value) are the ends shown: u = value·half-width/1.96.

    The half-width is on the log scale; where the low end is zero, the posterior's own spread takes its place.
    """
    half = daily_kwh.log_half_width
    if not math.isfinite(half):
        half = NORMAL_95 * posterior.log_moments()[1]
    return daily_kwh.value * half / NORMAL_95


def _u(interval: Interval) -> float:
    """Give the standard uncertainty of an interval that may be lopsided: half its width over 1.96."""
    return (interval.high - interval.low) / (2.0 * NORMAL_95)


def _watts(
    estimate: Estimate, readings: Sequence[Reading]
) -> tuple[float | None, float | None, float | None]:
    """Give running and idle watts and the share of time running, as far as they were measured or stated.

    Without a duty cycle the highest watts read while it ran stand for running.
    """
    duty = estimate.duty_cycle
    if duty is not None and duty.basis is not DutyBasis.NAMEPLATE:
        return duty.running_w, duty.idle_w, duty.share.value
    spots = [
        each.power_w for each in readings if each.power_w is not None and each.state is not RunState.IDLE
    ]
    highest = max(spots, default=0.0)
    return highest or None, None, None


def _power_factor(readings: Sequence[Reading]) -> float | None:
    """Give the mean power factor read while it ran, typed or from P/(V·I); None where none was."""
    found = [_factor(each) for each in readings if each.state is not RunState.IDLE]
    known = [each for each in found if each is not None]
    return sum(known) / len(known) if known else None


def _factor(reading: Reading) -> float | None:
    if reading.power_factor is not None:
        return reading.power_factor if 0.0 < reading.power_factor <= 1.0 else None
    if reading.power_w is None or not reading.voltage_v or not reading.current_a:
        return None
    factor = reading.power_w / (reading.voltage_v * reading.current_a)
    return factor if 0.0 < factor <= 1.0 else None

"""What simulated appliances are made of: cumulative energy, weather, uses on a waking clock, cycles.

Nothing here knows the estimator's model: scatter comes from how machines, people and weather go about it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Generator = np.random.Generator

HORIZON_D = 546
"""Days simulated of one unchanging season: a year and a half stands for 'these weeks go on like this' [d].

Long beside a stay of three weeks, so that the stay itself hardly pulls the truth towards what was read."""

TRUTH_DAYS = 28

_WEATHER_STEP_H = 6.0
"""Weather is drawn every six hours and runs straight in between: its memory is days [h]."""


@dataclass(frozen=True, slots=True)
class Cycles:
    """A cold appliance's states: compressor on from `starts` to `stops` [h], defrost heater likewise.

    `run_w` mean running watts of each cycle [W], `peak` how far they begin above their end [1]; `idle_w`,
    `heater_w` the other states' watts [W]; `duty` share of time that the compressor runs [1].
    """

    starts: Floats
    stops: Floats
    run_w: Floats
    peak: float
    idle_w: float
    heater_starts: Floats
    heater_stops: Floats
    heater_w: float
    duty: float


@dataclass(frozen=True, slots=True)
class Load:
    """One simulated appliance: cumulative energy [kWh] at ascending `hours`, straight in between.

    Hour 0 is a Monday's midnight. `long_run_kwh` is its average day while season and habits stay.
    `made_up`: what a power cut keeps it from drawing it draws afterwards. `uses` are the moments at which
    a use begins [h], `use_kwh` the mean energy of one [kWh]; `cycles` the states of what cycles.
    """

    hours: Floats
    energy_kwh: Floats
    long_run_kwh: float
    made_up: bool = False
    uses: Floats | None = None
    use_kwh: float = 0.0
    cycles: Cycles | None = None

    def at(self, hours: Floats) -> Floats:
        """Give the cumulative energy [kWh] at `hours` [h]."""
        return np.interp(hours, self.hours, self.energy_kwh)


def mean_day(hours: Floats, energy_kwh: Floats) -> float:
    """Give the average day of all that was simulated [kWh/d]."""
    return float(energy_kwh[-1] - energy_kwh[0]) / float(hours[-1] - hours[0]) * 24.0


def hourly(power_kw: Floats, *, made_up: bool = False) -> Load:
    """Make a load of its mean power in each hour of the horizon [kW]."""
    hours = np.arange(len(power_kw) + 1, dtype=np.float64)
    energy = np.concatenate(([0.0], np.cumsum(power_kw)))
    return Load(hours, energy, mean_day(hours, energy), made_up=made_up)


def whole_hours() -> Floats:
    """Give the hours of the horizon [h]."""
    return np.arange(HORIZON_D * 24, dtype=np.float64)


def by_day(hours: Floats, each: Floats) -> Floats:
    """Give to each hour its day's value; what comes after the last day keeps that day's."""
    day = np.clip((hours / 24.0).astype(np.intp), 0, len(each) - 1)
    out: Floats = each[day]
    return out


def weather(rng: Generator, hours: Floats, deviation: float, memory_d: float, swing: float) -> Floats:
    """Give a departure from the season's mean: slow, correlation e^(−t/memory), and a daily swing.

    In the unit of `deviation` and `swing`: kelvin for a room or the air outside.
    """
    count = int(np.ceil(hours[-1] / _WEATHER_STEP_H)) + 2
    keep = float(np.exp(-_WEATHER_STEP_H / (24.0 * memory_d)))
    now = float(rng.normal(0.0, deviation))
    pushes = rng.normal(0.0, deviation * np.sqrt(1.0 - keep**2), count).tolist()
    course = []
    for push in pushes:
        now = keep * now + push
        course.append(now)
    slow = np.interp(hours, np.arange(count) * _WEATHER_STEP_H, np.array(course))
    out: Floats = slow + swing * np.sin(2.0 * np.pi * (hours - 9.0) / 24.0)
    return out


def events(rng: Generator, intensity: Floats, weekly: float, habit: float) -> Floats:
    """Draw event times [h]: a renewal process on a clock that runs as fast as the week's intensity.

    Intervals are gamma-distributed with shape `habit` (1: no memory, more: regular); `weekly` events a week.
    """
    weeks = HORIZON_D // 7 + 1
    ticks = np.concatenate(([0.0], np.cumsum(np.tile(intensity, weeks))))
    mean = intensity.sum() / weekly
    gaps = rng.gamma(habit, mean / habit, int(weekly * weeks * 1.5) + 60)
    moments = np.cumsum(gaps) - rng.uniform(0.0, 20.0) * mean
    moments = moments[(moments > 0.0) & (moments < ticks[-1])]
    starts = np.interp(moments, ticks, np.arange(len(ticks), dtype=np.float64))
    early: Floats = starts[starts < HORIZON_D * 24.0 - 30.0]
    return early


def pulses(starts: Floats, each_kwh: Floats, hours: Floats | float, standby_w: float) -> Load:
    """Turn uses into cumulative energy: a ramp for each, put one behind another where they overlap."""
    long = np.broadcast_to(np.asarray(hours, dtype=np.float64), starts.shape)
    so_far = np.cumsum(long)
    stop = so_far + np.maximum.accumulate(starts - (so_far - long))  # stop = max(start, last stop) + length
    begin = stop - long
    last = float(max(HORIZON_D * 24.0, stop[-1] + 1.0 if len(stop) else 0.0))
    edges = np.concatenate(([0.0], np.column_stack((begin, stop)).ravel(), [last]))
    done = np.cumsum(each_kwh)
    before = np.concatenate(([0.0], done[:-1])) if len(done) else done
    total = done[-1:] if len(done) else np.zeros(1)
    gained = np.concatenate(([0.0], np.column_stack((before, done)).ravel(), total))
    energy = gained + edges * standby_w / 1000.0
    mean_each = float(each_kwh.mean()) if len(each_kwh) else 0.0
    return Load(edges, energy, mean_day(edges, energy), uses=begin, use_kwh=mean_each)

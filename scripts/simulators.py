"""Simulated appliances for the calibration study: compressor cycles, washing days, evenings, meals.

Each is built from how the machine works, not from the estimator's model: cold appliances are renewal
cycles of a compressor pulled by room warmth, doors and defrosts; loads are events on a clock that runs
only while people are up. Amounts are broad ranges of ordinary household machines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Generator = np.random.Generator

HORIZON_D = 182
"""Days simulated of one unchanging season: half a year stands for 'these weeks go on like this' [d]."""

TRUTH_DAYS = 28


@dataclass(frozen=True, slots=True)
class Load:
    """One simulated appliance: cumulative energy [kWh] at ascending `hours`, straight in between.

    Hour 0 is a Monday's midnight. `long_run_kwh` is its average day while season and habits stay.
    """

    hours: Floats
    energy_kwh: Floats
    long_run_kwh: float

    def at(self, hours: Floats) -> Floats:
        """Give the cumulative energy [kWh] at `hours` [h]."""
        return np.interp(hours, self.hours, self.energy_kwh)


def _load(hours: Floats, energy_kwh: Floats, long_run_kwh: float | None = None) -> Load:
    """Make a load; the long-run mean of a simulated half-year stands in where no exact one is known."""
    days = (hours[-1] - hours[0]) / 24.0
    mean = float(energy_kwh[-1] - energy_kwh[0]) / days
    return Load(hours, energy_kwh, mean if long_run_kwh is None else long_run_kwh)


def _warmth(rng: Generator, hours: Floats, deviation_k: float, memory_d: float, swing_k: float) -> Floats:
    """Give the room's departure from its mean [K]: slow weather (AR(1) by the hour) and a daily swing."""
    count = int(np.ceil(hours[-1])) + 2
    keep = np.exp(-1.0 / (24.0 * memory_d))
    pushes = rng.normal(0.0, deviation_k * np.sqrt(1.0 - keep**2), count)
    weather = np.empty(count)
    now = rng.normal(0.0, deviation_k)
    for hour, push in enumerate(pushes.tolist()):
        now = keep * now + push
        weather[hour] = now
    slow = np.interp(hours, np.arange(count), weather)
    return slow + swing_k * np.sin(2.0 * np.pi * (hours - 9.0) / 24.0)


def _cold(
    rng: Generator, run_w: float, duty: float, doors: float, room_k: float, *, frost_free: bool
) -> Load:
    """Simulate a compressor: cycles of random length whose running part follows the heat that comes in."""
    period_h = rng.uniform(0.5, 1.6)
    steadiness = rng.uniform(30.0, 150.0)
    count = int(HORIZON_D * 24.0 / period_h * 1.05) + 50
    periods = period_h * rng.gamma(steadiness, 1.0 / steadiness, count)
    starts = np.concatenate(([0.0], np.cumsum(periods)[:-1]))
    starts -= rng.uniform(0.0, period_h)
    day = np.floor(starts / 24.0).astype(int) + 1
    by_day = np.exp(rng.normal(0.0, doors, day.max() + 1))
    awake = 1.0 + rng.uniform(0.0, 2.0) * doors * np.where((starts % 24 > 7) & (starts % 24 < 22), 0.6, -1.0)
    weekend = np.where((day - 1) % 7 >= 5, 1.0 + rng.normal(0.0, 0.04), 1.0)
    warmth = _warmth(rng, np.maximum(starts, 0.0), room_k, rng.uniform(1.5, 5.0), rng.uniform(0.2, 1.2))
    pull = by_day[day] * awake * weekend * (1.0 + rng.uniform(0.025, 0.055) * warmth)
    share = np.clip(duty * pull * rng.normal(1.0, 0.05, count), 0.03, 0.97)
    running_h = share * periods
    idle_kw = rng.uniform(0.0002, 0.002)
    kwh = running_h * run_w / 1000.0 + (periods - running_h) * idle_kw
    if frost_free:
        kwh += _defrosts(rng, running_h)
    edges = np.column_stack((starts, starts + running_h)).ravel()
    gains = np.column_stack((kwh - (periods - running_h) * idle_kw, (periods - running_h) * idle_kw)).ravel()
    return _load(edges, np.concatenate(([0.0], np.cumsum(gains)[:-1])))


def _defrosts(rng: Generator, running_h: Floats) -> Floats:
    """Give the defrost heater's energy in each cycle [kWh]: one defrost after so many compressor hours."""
    interval_h = rng.uniform(6.0, 12.0)
    each_kwh = rng.uniform(0.25, 0.45) * rng.uniform(0.2, 0.4)
    times = np.floor((np.cumsum(running_h) + rng.uniform(0.0, interval_h)) / interval_h)
    return each_kwh * rng.normal(1.0, 0.1) * np.diff(times, prepend=times[0])


def refrigerator(rng: Generator) -> Load:
    """Simulate a refrigerator in a lived-in kitchen; every other one defrosts by itself."""
    return _cold(
        rng,
        run_w=float(np.exp(rng.normal(np.log(95.0), 0.35))),
        duty=rng.uniform(0.22, 0.55),
        doors=rng.uniform(0.03, 0.14),
        room_k=rng.uniform(0.4, 2.0),
        frost_free=rng.random() < 0.5,
    )


def freezer(rng: Generator) -> Load:
    """Simulate a freezer, opened less often, in a cellar or store room."""
    return _cold(
        rng,
        run_w=float(np.exp(rng.normal(np.log(90.0), 0.3))),
        duty=rng.uniform(0.2, 0.5),
        doors=rng.uniform(0.01, 0.05),
        room_k=rng.uniform(0.3, 1.6),
        frost_free=rng.random() < 0.2,
    )


def always_on(rng: Generator) -> Load:
    """Simulate a router, a clock, an alarm panel: constant watts, a little more when used and when warm."""
    watts = float(np.exp(rng.normal(np.log(9.0), 0.7)))
    hours = np.arange(0.0, HORIZON_D * 24.0 + 1.0)
    drift = rng.uniform(0.0, 0.012) * _warmth(rng, hours, 1.0, rng.uniform(0.5, 5.0), 0.5)
    evening = rng.uniform(0.0, 0.05) * ((hours % 24 >= 18) & (hours % 24 < 23))
    power = watts * (1.0 + drift + evening)
    energy = np.concatenate(([0.0], np.cumsum(power[:-1]))) / 1000.0
    return _load(hours, energy)


def by_the_load(rng: Generator) -> Load:
    """Simulate a washing machine or dishwasher: loads at gamma-distributed intervals of waking hours."""
    habit = rng.uniform(0.8, 4.0)
    weekly = rng.uniform(1.5, 8.0)
    intensity = np.zeros(168)
    for day in range(7):
        intensity[day * 24 + 8 : day * 24 + 21] = 1.0
    intensity[5 * 24 :] *= rng.uniform(0.6, 2.2)
    starts = _events(rng, intensity, weekly, habit)
    each = float(np.exp(rng.normal(np.log(0.8), 0.4))) * np.exp(rng.normal(0.0, 0.3, len(starts)))
    mean_each = float(each.mean()) if len(each) else 0.0
    standby_w = rng.choice([0.0, rng.uniform(0.2, 2.0)])
    load = _pulses(starts, each, rng.uniform(0.7, 2.5), standby_w)
    return Load(load.hours, load.energy_kwh, weekly / 7.0 * mean_each + standby_w * 0.024)


def kitchen(rng: Generator) -> Load:
    """Simulate a kettle or coffee machine: several uses a day, thick around the meals."""
    weekly = 7.0 * rng.uniform(3.0, 9.0)
    day = np.full(24, 0.05)
    day[[7, 8, 12, 13, 15, 18, 19, 20]] = rng.uniform(0.4, 1.6, 8)
    day[[0, 1, 2, 3, 4, 5]] = 0.0
    intensity = np.tile(day, 7)
    intensity[5 * 24 :] *= rng.uniform(0.8, 1.6)
    starts = _events(rng, intensity, weekly, rng.uniform(1.0, 2.0))
    by_day = np.exp(rng.normal(0.0, rng.uniform(0.1, 0.3), HORIZON_D + 8))
    each = rng.uniform(0.04, 0.14) * rng.gamma(6.0, 1.0 / 6.0, len(starts))
    each *= by_day[(starts / 24.0).astype(int)]
    return _pulses(starts, each, 0.08, rng.choice([0.0, rng.uniform(0.1, 1.0)]))


def evening(rng: Generator) -> Load:
    """Simulate a television corner: one evening of random length, some evenings out, longer weekends."""
    days = np.arange(HORIZON_D)
    at_home = rng.random(HORIZON_D) > rng.uniform(0.05, 0.25)
    hours = rng.uniform(2.0, 4.5) * np.exp(rng.normal(0.0, 0.35, HORIZON_D))
    hours *= np.where(days % 7 >= 5, rng.uniform(1.0, 1.7), 1.0)
    hours = np.minimum(hours, 5.5)[at_home]
    starts = (days * 24.0 + rng.uniform(17.0, 19.5) + rng.uniform(-0.7, 0.7, HORIZON_D))[at_home]
    watts = rng.uniform(40.0, 160.0)
    return _pulses(starts, hours * watts / 1000.0, hours, rng.uniform(0.3, 3.0))


def _events(rng: Generator, intensity: Floats, weekly: float, habit: float) -> Floats:
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


def _pulses(starts: Floats, each_kwh: Floats, hours: Floats | float, standby_w: float) -> Load:
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
    return _load(edges, gained + edges * standby_w / 1000.0)


FAMILIES: dict[str, Callable[[Generator], Load]] = {
    "refrigerator": refrigerator,
    "freezer": freezer,
    "always_on": always_on,
    "by_the_load": by_the_load,
    "kitchen": kitchen,
    "evening_electronics": evening,
}
"""Simulators by the kind that a person would choose for the appliance."""

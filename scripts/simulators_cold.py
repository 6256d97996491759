"""Simulated refrigerators and freezers: compressor cycles pulled by room warmth, doors and defrosts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from simulators_base import HORIZON_D, Cycles, Floats, Generator, Load, by_day, mean_day, weather

_RUN_W_PER_K = 0.01
"""A warmer condenser costs the compressor about 1 % more watts a kelvin [1/K]."""


@dataclass(frozen=True, slots=True)
class ColdBox:
    """A cold appliance in its room.

    `run_w` running watts [W], `duty` share of time running [1], `doors` day-to-day scatter by doors and
    food (log standard deviation) [1], `room_k` the room's slow deviation [K], `heater` for defrosting.
    """

    run_w: float
    duty: float
    doors: float
    room_k: float
    heater: bool


def refrigerator(rng: Generator) -> Load:
    """Simulate a refrigerator in a lived-in kitchen; every other one defrosts by a heater."""
    return cold(
        rng,
        ColdBox(
            run_w=float(np.exp(rng.normal(np.log(95.0), 0.35))),
            duty=rng.uniform(0.22, 0.55),
            doors=rng.uniform(0.03, 0.14),
            room_k=rng.uniform(0.4, 2.0),
            heater=bool(rng.random() < 0.5),
        ),
    )


def freezer(rng: Generator) -> Load:
    """Simulate a freezer, opened less often, in a cellar or store room."""
    return cold(
        rng,
        ColdBox(
            run_w=float(np.exp(rng.normal(np.log(90.0), 0.3))),
            duty=rng.uniform(0.2, 0.5),
            doors=rng.uniform(0.01, 0.05),
            room_k=rng.uniform(0.3, 1.6),
            heater=bool(rng.random() < 0.2),
        ),
    )


def cold(rng: Generator, box: ColdBox) -> Load:
    """Simulate a compressor: cycles of random length whose running part follows the heat that comes in."""
    period_h, steadiness = rng.uniform(0.5, 1.6), rng.uniform(30.0, 150.0)
    count = int(HORIZON_D * 24.0 / period_h * 1.05) + 50
    periods = period_h * rng.gamma(steadiness, 1.0 / steadiness, count)
    starts = np.concatenate(([0.0], np.cumsum(periods)[:-1])) - rng.uniform(0.0, period_h)
    warmth = weather(rng, np.maximum(starts, 0.0), box.room_k, rng.uniform(1.5, 5.0), rng.uniform(0.2, 1.2))
    share = box.duty * _heat(rng, box.doors, starts) * (1.0 + rng.uniform(0.025, 0.055) * warmth)
    share = np.clip(share * rng.normal(1.0, 0.05, count), 0.03, 0.93)
    running_h = share * periods
    run_w = box.run_w * (1.0 + _RUN_W_PER_K * warmth) * rng.normal(1.0, 0.015, count)
    heater_h = _defrosts(rng, running_h, periods - running_h) if box.heater else np.zeros(count)
    cycles = Cycles(
        starts,
        starts + running_h,
        run_w,
        rng.uniform(0.05, 0.25),
        rng.uniform(0.2, 2.0),
        starts + running_h,
        starts + running_h + heater_h,
        rng.uniform(180.0, 420.0),
        float(running_h.sum() / periods.sum()),
    )
    return _of_cycles(cycles, periods)


def _heat(rng: Generator, doors: float, starts: Floats) -> Floats:
    """Give the heat that doors and food bring in, relative to its mean [1]: days differ, nights are calm."""
    each_day = np.exp(rng.normal(0.0, doors, HORIZON_D + 30))
    up = (starts % 24.0 > 7.0) & (starts % 24.0 < 22.0)
    awake = 1.0 + rng.uniform(0.0, 2.0) * doors * np.where(up, 0.6, -1.0)
    weekend = np.where(np.floor(starts / 24.0) % 7 >= 5, 1.0 + rng.normal(0.0, 0.04), 1.0)
    heat: Floats = by_day(starts, each_day) * awake * weekend
    return heat


def _defrosts(rng: Generator, running_h: Floats, idle_h: Floats) -> Floats:
    """Give the hours that the heater is on after each cycle [h]: once in so many compressor hours."""
    interval_h = rng.uniform(6.0, 12.0)
    passed = np.floor((np.cumsum(running_h) + rng.uniform(0.0, interval_h)) / interval_h)
    due = np.diff(passed, prepend=passed[0]) > 0.0
    long = rng.uniform(0.2, 0.4) * rng.normal(1.0, 0.1, len(running_h))
    on: Floats = np.where(due, np.clip(long, 0.05, 0.95 * idle_h), 0.0)
    return on


def _of_cycles(cycles: Cycles, periods: Floats) -> Load:
    """Add up the energy of running, defrosting and idling [kWh]."""
    running_h = cycles.stops - cycles.starts
    heater_h = cycles.heater_stops - cycles.heater_starts
    idle_h = periods - running_h - heater_h
    steps = np.column_stack((running_h * cycles.run_w, heater_h * cycles.heater_w, idle_h * cycles.idle_w))
    edges = np.column_stack((cycles.starts, cycles.stops, cycles.heater_stops)).ravel()
    energy = np.concatenate(([0.0], np.cumsum(steps.ravel() / 1000.0)[:-1]))
    # A cycle without defrost has two edges at one instant, with nothing between them.
    kept = np.concatenate((np.diff(edges) > 0.0, [True]))
    edges, energy = edges[kept], energy[kept]
    return Load(edges, energy, mean_day(edges, energy), made_up=True, cycles=cycles)


def spot_watts(rng: Generator, cycles: Cycles, hours: Floats) -> tuple[Floats, Floats]:
    """Give the watts at moments [W], and 1 where the compressor runs.

    Within a cycle the watts fall from a peak, P(t) = P̄·(1 + a(e^(−t/τ) − mean)), τ a fifth of the run.
    """
    at = np.clip(np.searchsorted(cycles.starts, hours, side="right") - 1, 0, len(cycles.starts) - 1)
    into = hours - cycles.starts[at]
    long = cycles.stops[at] - cycles.starts[at]
    shape = np.exp(-5.0 * into / long) - 0.2 * (1.0 - np.exp(-5.0))
    running = cycles.run_w[at] * (1.0 + cycles.peak * shape)
    heating = (hours >= cycles.heater_starts[at]) & (hours < cycles.heater_stops[at])
    on = hours < cycles.stops[at]
    watts = np.where(on, running, np.where(heating, cycles.heater_w, cycles.idle_w))
    return watts * rng.normal(1.0, 0.005, len(hours)), on.astype(np.float64)

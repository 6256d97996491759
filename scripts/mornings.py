"""A person's readings of a simulated appliance: mornings, some skipped, through a meter's display."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from simulators import TRUTH_DAYS, Generator, Load

Floats = NDArray[np.float64]

MONDAY = datetime(2026, 1, 5, tzinfo=UTC)
"""The simulators' hour 0: a Monday's midnight."""

_GAIN_U = 0.0075
_COARSE_SHARE = 0.15
_LATER_START_SHARE = 0.25


@dataclass(frozen=True, slots=True)
class Stay:
    """One stay of a meter on a load: what was written down, and what is true.

    `hours` typed times since `MONDAY` [h], `shown_kwh` the display, `shown_h` its elapsed hours or None;
    `long_run_kwh` the average day while season and habits stay, `weeks_kwh` that of the four weeks that
    begin with the stay.
    """

    hours: Floats
    shown_kwh: Floats
    shown_h: Floats | None
    step_kwh: float
    exact_start: bool
    long_run_kwh: float
    weeks_kwh: float


def stay(rng: Generator, load: Load, readings: int) -> Stay:
    """Plug the meter in, then read it on mornings until there are so many readings.

    A third of people skip mornings now and then; times are noted to some minutes; a meter's gain is
    off by a rectangular error of 0.75 % standard deviation; displays truncate or round, most to 0.01 kWh.
    """
    skip = rng.uniform(0.0, 0.35)
    start_day = int(rng.integers(7, 70))
    begin = start_day * 24.0 + 7.5 + rng.normal(0.0, 0.3)
    if rng.random() < _LATER_START_SHARE:
        begin = start_day * 24.0 + rng.uniform(8.0, 21.0)
    days = np.cumsum(rng.geometric(1.0 - skip, readings - 1))
    mornings = (start_day + days) * 24.0 + 7.5 + rng.normal(0.0, 0.3, readings - 1)
    times = np.concatenate(([begin], mornings))
    step = 0.1 if rng.random() < _COARSE_SHARE else 0.01
    true = load.at(times)
    exact = bool(rng.random() < 0.4)
    counted = (true - true[0]) * (1.0 + rng.uniform(-1.0, 1.0) * _GAIN_U * np.sqrt(3.0))
    counted += 0.0 if exact else rng.uniform(0.0, 50.0)
    half = 0.5 if rng.random() < 0.5 else 0.0
    shown = np.floor(counted / step + half + 1e-9) * step
    typed = times + rng.uniform(-0.08, 0.08, readings)
    elapsed = np.floor((times - begin + rng.uniform(0.0, 5.0)) * 60.0) / 60.0
    weeks = float(np.diff(load.at(np.array([begin, begin + TRUTH_DAYS * 24.0])))[0]) / TRUTH_DAYS
    return Stay(typed, shown, elapsed if rng.random() < 0.6 else None, step, exact, load.long_run_kwh, weeks)


def moments(made: Stay) -> list[datetime]:
    """Give the typed times, to the minute."""
    return [MONDAY + timedelta(minutes=round(hour * 60.0)) for hour in made.hours.tolist()]


def rows_of(name: str, kind: str, made: Stay) -> list[list[str]]:
    """Write a stay as rows for the `estimate` command, in the order of `COLUMNS`."""
    elapsed = made.shown_h
    return [
        [
            name,
            kind,
            moment.isoformat(),
            f"{made.shown_kwh[at]:.4f}",
            "" if elapsed is None else f"{elapsed[at]:.5f}",
            f"{made.step_kwh:g}",
            "1" if made.exact_start else "0",
        ]
        for at, moment in enumerate(moments(made))
    ]


COLUMNS = ("appliance", "kind", "taken_at", "energy_kwh", "elapsed_h", "energy_step_kwh", "exact_start")


def total_over_time(made: Stay) -> tuple[float, float, float]:
    """Give the plain figure with a normal interval [kWh/d]: mean of days ± 1.96·s/√n of the spans' rates.

    This is what is done without the estimator; with one span there is no scatter to judge by.
    """
    days = np.diff(made.hours) / 24.0
    gained = np.diff(made.shown_kwh)
    mean = float(gained.sum() / days.sum())
    rates = gained / days
    spread = float(np.std(rates, ddof=1)) if len(rates) > 1 else 0.0
    half = 1.96 * spread / np.sqrt(len(rates))
    return mean, mean - half, mean + half

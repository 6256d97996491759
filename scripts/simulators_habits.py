"""Simulated loads that follow people: washing days, meals, evenings, desks, lamps; and what is always on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from simulators_base import (
    HORIZON_D,
    Generator,
    Load,
    by_day,
    events,
    hourly,
    pulses,
    weather,
    whole_hours,
)


def always_on(rng: Generator) -> Load:
    """Simulate a router, a clock, an alarm panel: constant watts, a little more when used and when warm."""
    watts = float(np.exp(rng.normal(np.log(9.0), 0.7)))
    hours = whole_hours()
    drift = rng.uniform(0.0, 0.012) * weather(rng, hours, 1.0, rng.uniform(0.5, 5.0), 0.5)
    evening = rng.uniform(0.0, 0.05) * ((hours % 24 >= 18) & (hours % 24 < 23))
    return hourly(watts * (1.0 + drift + evening) / 1000.0)


def by_the_load(rng: Generator) -> Load:
    """Simulate a washing machine or dishwasher: loads at gamma-distributed intervals of waking hours."""
    habit, weekly = rng.uniform(0.8, 4.0), rng.uniform(1.5, 8.0)
    intensity = np.zeros(168)
    for day in range(7):
        intensity[day * 24 + 8 : day * 24 + 21] = 1.0
    intensity[5 * 24 :] *= rng.uniform(0.6, 2.2)
    starts = events(rng, intensity, weekly, habit)
    each = float(np.exp(rng.normal(np.log(0.8), 0.4))) * np.exp(rng.normal(0.0, 0.3, len(starts)))
    standby_w = float(rng.choice([0.0, rng.uniform(0.2, 2.0)]))
    load = pulses(starts, each, rng.uniform(0.7, 2.5), standby_w)
    # The average day follows from what was drawn, weekly/7 uses a day; what was counted scatters around it.
    return replace(load, long_run_kwh=weekly / 7.0 * load.use_kwh + standby_w * 0.024, made_up=True)


def kitchen(rng: Generator) -> Load:
    """Simulate a kettle or coffee machine: several uses a day, thick around the meals."""
    weekly = 7.0 * rng.uniform(3.0, 9.0)
    day = np.full(24, 0.05)
    day[[7, 8, 12, 13, 15, 18, 19, 20]] = rng.uniform(0.4, 1.6, 8)
    day[[0, 1, 2, 3, 4, 5]] = 0.0
    intensity = np.tile(day, 7)
    intensity[5 * 24 :] *= rng.uniform(0.8, 1.6)
    starts = events(rng, intensity, weekly, rng.uniform(1.0, 2.0))
    each_day = np.exp(rng.normal(0.0, rng.uniform(0.1, 0.3), HORIZON_D + 8))
    each = rng.uniform(0.04, 0.14) * rng.gamma(6.0, 1.0 / 6.0, len(starts)) * by_day(starts, each_day)
    load = pulses(starts, each, 0.08, float(rng.choice([0.0, rng.uniform(0.1, 1.0)])))
    return replace(load, made_up=True)


def evening_electronics(rng: Generator) -> Load:
    """Simulate a television corner: one evening of random length, some evenings out, longer weekends."""
    days = np.arange(HORIZON_D)
    at_home = rng.random(HORIZON_D) > rng.uniform(0.05, 0.25)
    hours = rng.uniform(2.0, 4.5) * np.exp(rng.normal(0.0, 0.35, HORIZON_D))
    hours *= np.where(days % 7 >= 5, rng.uniform(1.0, 1.7), 1.0)
    hours = np.minimum(hours, 5.5)[at_home]
    starts = (days * 24.0 + rng.uniform(17.0, 19.5) + rng.uniform(-0.7, 0.7, HORIZON_D))[at_home]
    return pulses(starts, hours * rng.uniform(40.0, 160.0) / 1000.0, hours, rng.uniform(0.3, 3.0))


def work_electronics(rng: Generator) -> Load:
    """Simulate a desk: weekdays from the morning on, now and then a day out, a few hours at weekends."""
    days = np.arange(HORIZON_D)
    weekend = days % 7 >= 5
    there = rng.random(HORIZON_D) < np.where(weekend, rng.uniform(0.0, 0.5), rng.uniform(0.75, 0.98))
    hours = rng.uniform(5.5, 9.0) * np.exp(rng.normal(0.0, rng.uniform(0.08, 0.3), HORIZON_D))
    hours = np.minimum(hours * np.where(weekend, rng.uniform(0.2, 0.6), 1.0), 12.0)[there]
    starts = (days * 24.0 + rng.uniform(7.3, 9.5) + rng.uniform(-0.5, 0.5, HORIZON_D))[there]
    watts = rng.uniform(30.0, 180.0) * np.exp(rng.normal(0.0, rng.uniform(0.02, 0.15), len(starts)))
    return pulses(starts, hours * watts / 1000.0, hours, rng.uniform(0.3, 4.0))


def lamp_timer(rng: Generator) -> Load:
    """Simulate a light on a timer (every other one) or a night-time device switched by hand."""
    days = np.arange(HORIZON_D)
    by_timer = rng.random() < 0.5
    uneven = rng.uniform(0.0, 0.02) if by_timer else rng.uniform(0.04, 0.25)
    skipped = 0.0 if by_timer else rng.uniform(0.0, 0.08)
    hours = np.minimum(rng.uniform(4.0, 10.0) * np.exp(rng.normal(0.0, uneven, HORIZON_D)), 11.0)
    shift = rng.normal(0.0, 0.02 if by_timer else 0.5, HORIZON_D)
    lit = rng.random(HORIZON_D) >= skipped
    starts = (days * 24.0 + rng.uniform(17.0, 22.0) + shift)[lit]
    watts = float(np.exp(rng.normal(np.log(25.0), 0.8)))
    return pulses(starts, (hours * watts / 1000.0)[lit], hours[lit], rng.uniform(0.0, 0.5))

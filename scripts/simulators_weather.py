"""Simulated loads that follow the weather: heating, drying and cooling air, and the pump after rain."""

from __future__ import annotations

import numpy as np

from simulators_base import HORIZON_D, Floats, Generator, Load, hourly, weather, whole_hours


def soaked(rng: Generator, memory_d: float, dry_d: float) -> Floats:
    """Give how soaked the ground is hour by hour [mm]: showers at random, gone by e^(−t/memory).

    Showers come after exponentially distributed dry spells, `dry_d` days in the mean, and bring
    exponentially distributed rain of 8 mm in the mean within some hours.
    """
    rain = np.zeros(HORIZON_D * 24)
    for start in np.cumsum(rng.exponential(dry_d * 24.0, int(HORIZON_D / dry_d * 2) + 20)).tolist():
        if start >= len(rain):
            break
        long = int(rng.integers(1, 10))
        rain[int(start) : int(start) + long] += rng.exponential(8.0) / long
    keep = float(np.exp(-1.0 / (24.0 * memory_d)))
    now, course = float(rng.exponential(5.0)), []
    for fallen in rain.tolist():
        now = keep * now + fallen
        course.append(now)
    return np.array(course)


def climate(rng: Generator) -> Load:
    """Simulate a thermostat or a humidistat: each hour it runs for the share that the weather asks for."""
    hours = whole_hours()
    if rng.random() < 0.4:
        wet = soaked(rng, rng.uniform(2.0, 6.0), rng.uniform(1.5, 4.0))
        asked = rng.uniform(0.05, 0.4) + rng.uniform(0.01, 0.03) * wet
        watts = rng.uniform(180.0, 600.0)
    else:
        outside = weather(rng, hours, rng.uniform(1.5, 4.5), rng.uniform(2.0, 5.0), rng.uniform(1.0, 4.0))
        asked = rng.uniform(0.15, 0.6) - rng.uniform(0.02, 0.08) * outside
        watts = float(np.exp(rng.normal(np.log(400.0), 0.7)))
    share = np.clip(asked * rng.normal(1.0, 0.15, len(hours)), 0.0, 1.0)
    return hourly((share * watts + rng.uniform(0.3, 3.0)) / 1000.0, made_up=True)


def pump(rng: Generator) -> Load:
    """Simulate a pump that empties its pit stroke by stroke; water seeps in, and more after rain."""
    wet = soaked(rng, rng.uniform(0.7, 3.0), rng.uniform(1.5, 4.0))
    inflow_l = rng.uniform(0.2, 8.0) + rng.uniform(2.0, 15.0) * wet
    stroke_l = rng.uniform(20.0, 60.0)
    strokes = np.floor((np.cumsum(inflow_l) + rng.uniform(0.0, stroke_l)) / stroke_l)
    each_kwh = rng.uniform(400.0, 900.0) / 1000.0 * stroke_l / rng.uniform(60.0, 160.0) / 60.0
    return hourly(
        np.diff(strokes, prepend=strokes[0]) * each_kwh + rng.uniform(0.0, 2.0) / 1000.0, made_up=True
    )

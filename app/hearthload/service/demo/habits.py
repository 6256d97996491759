"""Loads that follow people and clocks: what is always on, the kettle, the desk."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from datetime import date

from hearthload.service.demo.trace import JOULES_PER_KWH, Pulse, Trace, trace_of_pulses, with_uses
from hearthload.service.demo.world import World, local_s

WATER_J_PER_KG_K = 4186.0
"""Specific heat of water at room temperature [J/(kg K)], a textbook value."""


@dataclass(frozen=True, slots=True)
class AlwaysOn:
    """A steady load: P = base_w·d_i, d_i = 1 + drift z_i on day i, and `evening_w` more from 18 to 23 h."""

    base_w: float
    drift: float
    evening_w: float

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Lay out the days one after another, each at its own level."""
        base, evenings = [], []
        for day, from_s, to_s in _days(world):
            base.append(Pulse(from_s, to_s, self.base_w * (1.0 + self.drift * rng.gauss(0.0, 1.0))))
            evenings.append(Pulse(local_s(day, 18.0), local_s(day, 23.0), self.evening_w))
        return trace_of_pulses(base, evenings, world.window, world.cuts)


@dataclass(frozen=True, slots=True)
class KettleHour:
    """A time of day at which water is boiled: from and to [h], boils on a weekday, on a weekend day."""

    from_h: float
    to_h: float
    weekday: float
    weekend: float


@dataclass(frozen=True, slots=True)
class Kettle:
    """A kettle: each boil takes m·c·(100 - T_tap)/η [J] at `power_w`, so it lasts that over `power_w` [s].

    m is drawn evenly between `least_l` and `most_l` litres (1 kg each), T_tap is `tap_c`, η `efficiency`;
    the boils of each time of day are Poisson.
    """

    power_w: float
    efficiency: float
    tap_c: float
    least_l: float
    most_l: float
    hours: tuple[KettleHour, ...]

    def energy_j(self, litres: float) -> float:
        """Give the energy of one boil [J]: m·c·(100 - T_tap)/η, about 0.12 kWh a litre."""
        return litres * WATER_J_PER_KG_K * (100.0 - self.tap_c) / self.efficiency

    def mean_daily_kwh(self) -> float:
        """Give the mean day's energy [kWh]: boils of five weekdays and two weekend days, mean litres."""
        boils = sum(5.0 * hour.weekday + 2.0 * hour.weekend for hour in self.hours) / 7.0
        return boils * self.energy_j((self.least_l + self.most_l) / 2.0) / JOULES_PER_KWH

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Boil day by day; a boil that would begin during another follows it, none begin without mains."""
        moments = [moment for day, _, _ in _days(world) for moment in self._moments(day, rng)]
        pulses, free_s = [], world.window[0]
        for moment in sorted(moments):
            begin_s = max(moment, free_s)
            if any(cut.from_s <= begin_s < cut.to_s for cut in world.cuts):
                continue
            free_s = begin_s + self.energy_j(rng.uniform(self.least_l, self.most_l)) / self.power_w
            pulses.append(Pulse(begin_s, free_s, self.power_w))
        trace = trace_of_pulses((), pulses, world.window, world.cuts)
        return with_uses(trace, [pulse.from_s for pulse in pulses])

    def _moments(self, day: date, rng: random.Random) -> list[float]:
        moments = []
        for hour in self.hours:
            mean = hour.weekend if day.weekday() >= 5 else hour.weekday
            boils = poisson(rng, mean)
            moments += [local_s(day, rng.uniform(hour.from_h, hour.to_h)) for _ in range(boils)]
        return moments


@dataclass(frozen=True, slots=True)
class Desk:
    """A laptop and its screen: `standby_w` always, `work_w` more at work, `lunch_w` instead over lunch.

    Someone works at home on a weekday with probability `weekday`, for a while at the weekend with
    `weekend`; the working watts of a day are `work_w`·exp(0.1 z).
    """

    standby_w: float
    work_w: float
    lunch_w: float
    weekday: float
    weekend: float

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Lay the hours at the desk over the standby."""
        base = [Pulse(*world.window, self.standby_w)]
        pulses = [pulse for day, _, _ in _days(world) for pulse in self._day(day, rng)]
        return trace_of_pulses(base, pulses, world.window, world.cuts)

    def _day(self, day: date, rng: random.Random) -> list[Pulse]:
        chance, watts = rng.random(), self.work_w * math.exp(0.1 * rng.gauss(0.0, 1.0))
        if day.weekday() >= 5:
            begin_h, hours = rng.uniform(10.0, 17.0), rng.uniform(0.5, 3.0)
            return [_between(day, begin_h, begin_h + hours, watts)] if chance < self.weekend else []
        begin_h, lunch_h, end_h = rng.gauss(8.7, 0.3), rng.gauss(12.6, 0.25), rng.gauss(17.1, 0.5)
        if chance >= self.weekday:
            return []
        back_h = lunch_h + 0.75
        morning, lunch = _between(day, begin_h, lunch_h, watts), _between(day, lunch_h, back_h, self.lunch_w)
        return [morning, lunch, _between(day, back_h, end_h, watts)]


def poisson(rng: random.Random, mean: float) -> int:
    """Draw a count with the given mean: how many exponential gaps fit into one unit of time."""
    count, left = 0, rng.expovariate(1.0)
    while left < mean:
        count += 1
        left += rng.expovariate(1.0)
    return count


def _between(day: date, from_h: float, to_h: float, watts: float) -> Pulse:
    return Pulse(local_s(day, from_h), local_s(day, to_h), watts)


def _days(world: World) -> list[tuple[date, float, float]]:
    return list(zip(world.days, world.midnights_s[:-1], world.midnights_s[1:], strict=True))

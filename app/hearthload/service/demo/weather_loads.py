"""Loads that follow the weather: the heating boiler, the dehumidifier, the cellar pump."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass

from hearthload.domain.units import HOURS_PER_DAY, SECONDS_PER_HOUR
from hearthload.service.demo.trace import Pulse, Trace, trace_of_pulses
from hearthload.service.demo.world import World, local_s

SPELLS_PER_HOUR = 2


@dataclass(frozen=True, slots=True)
class Boiler:
    """A gas boiler with its circulator, which heats from `from_h` to `to_h` when it is cold out.

    Heat asked for, Φ = max(U (T_set - T_out) - Φ_free, 0)·24/(to_h - from_h) [W]; share of each half hour
    that the burner runs, Φ/Φ_boiler. While it burns fan and valve draw `burner_w` and the circulator
    `circulator_w`; the circulator runs on for `overrun_s` [s]. Hot water takes two more goes a day of
    `hot_water_min` minutes; the control draws `standby_w` always.
    """

    burner_w: float
    circulator_w: float
    standby_w: float
    overrun_s: float
    hot_water_min: float
    loss_w_per_k: float
    set_c: float
    free_w: float
    output_w: float
    from_h: float
    to_h: float

    def heat_asked_w(self, outdoor_c: float) -> float:
        """Give the heat asked for [W] at an outdoor temperature [°C], spread over the heating hours."""
        heat_w = max(self.loss_w_per_k * (self.set_c - outdoor_c) - self.free_w, 0.0)
        return heat_w * HOURS_PER_DAY / (self.to_h - self.from_h)

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Burn in spells, half hour by half hour, and twice a day for hot water."""
        base = [Pulse(*world.window, self.standby_w)]
        burns = [*self._heating(world, rng), *self._hot_water(world, rng)]
        pulses = [pulse for burn in burns for pulse in self._draw(*burn)]
        return trace_of_pulses(base, pulses, world.window, world.cuts)

    def _heating(self, world: World, rng: random.Random) -> Iterator[tuple[float, float]]:
        length_s = SECONDS_PER_HOUR / SPELLS_PER_HOUR
        for day in world.days:
            for spell in range(int((self.to_h - self.from_h) * SPELLS_PER_HOUR)):
                from_s = local_s(day, self.from_h + spell / SPELLS_PER_HOUR)
                share = self.heat_asked_w(world.outdoors_at(from_s)) / self.output_w
                burn_s = min(share * rng.uniform(0.85, 1.15), 1.0) * length_s
                if burn_s > 0.0:
                    yield from_s, from_s + min(burn_s, length_s - self.overrun_s)

    def _hot_water(self, world: World, rng: random.Random) -> Iterator[tuple[float, float]]:
        """Give the goes for hot water, outside the heating hours so that the two do not add up."""
        for day in world.days:
            for hours in (self.from_h - 0.75, self.to_h + 0.25):
                from_s = local_s(day, hours)
                yield from_s, from_s + 60.0 * self.hot_water_min * rng.uniform(0.7, 1.3)

    def _draw(self, from_s: float, to_s: float) -> tuple[Pulse, Pulse]:
        return Pulse(from_s, to_s, self.burner_w), Pulse(from_s, to_s + self.overrun_s, self.circulator_w)


@dataclass(frozen=True, slots=True)
class Dehumidifier:
    """A dehumidifier on a humidistat: each hour it runs the share min(dry_share + per_mm·s, 1).

    s is how soaked the hillside is [mm/h] (`World.soak_by_hour`); while running it draws `run_w`,
    `standby_w` always.
    """

    run_w: float
    standby_w: float
    dry_share: float
    per_mm: float

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Run once an hour for its share of that hour."""
        pulses = []
        for hour, soak in enumerate(world.soak_by_hour()):
            share = min((self.dry_share + self.per_mm * soak) * rng.uniform(0.8, 1.2), 1.0)
            from_s = world.window[0] + hour * SECONDS_PER_HOUR
            pulses.append(Pulse(from_s, from_s + share * SECONDS_PER_HOUR, self.run_w))
        base = [Pulse(*world.window, self.standby_w)]
        return trace_of_pulses(base, pulses, world.window, world.cuts)


@dataclass(frozen=True, slots=True)
class CellarPump:
    """A pump that empties its pit at each `stroke_l`; inflow `seep_l_per_h` + `catch_l_per_mm`·s [l/h].

    s is how soaked the hillside is [mm/h]; a stroke lasts 60·stroke_l/flow_l_per_min [s] at `run_w`.
    """

    run_w: float
    stroke_l: float
    flow_l_per_min: float
    seep_l_per_h: float
    catch_l_per_mm: float

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Let the pit fill hour by hour and pump when it is full."""
        pit_l, pulses = rng.uniform(0.0, self.stroke_l), []
        stroke_s = 60.0 * self.stroke_l / self.flow_l_per_min
        for hour, soak in enumerate(world.soak_by_hour()):
            hour_s = world.window[0] + hour * SECONDS_PER_HOUR
            inflow = self.seep_l_per_h + self.catch_l_per_mm * soak
            full_h = (self.stroke_l - pit_l) / inflow
            while full_h < 1.0:
                from_s = hour_s + full_h * SECONDS_PER_HOUR
                pulses.append(Pulse(from_s, from_s + stroke_s, self.run_w))
                full_h += self.stroke_l / inflow
            pit_l = self.stroke_l - (full_h - 1.0) * inflow
        return trace_of_pulses((), pulses, world.window, world.cuts)

"""Refrigerators and freezers: a cold box with a thermostat, a compressor and, for some, a defrost heater."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

from hearthload.domain.units import SECONDS_PER_DAY, SECONDS_PER_HOUR
from hearthload.service.demo.trace import Trace, in_cut, trace_of_steps
from hearthload.service.demo.world import Room, World


@dataclass(frozen=True, slots=True)
class Defrost:
    """A defrost heater: its watts, minutes, compressor hours between two goes, share that heats the box."""

    heater_w: float
    minutes: float
    every_run_h: float
    into_box: float


@dataclass(frozen=True, slots=True)
class ColdBox:
    """A cold appliance, described so that its mean power can be worked out by hand.

    The box's air and goods at T gain heat from the room and lose it to the compressor:
    C dT/dt = U (T_room - T) + Q - on·COP·P_run [W], with `capacity_j_per_k` C, `loss_w_per_k` U,
    `steady_heat_w` Q (fan, door frame, settling of goods), `run_w` P_run and `cop`. The compressor starts
    above `set_c` + `band_k`/2 and stops below `set_c` - `band_k`/2; a door opening brings `door_j` at once.
    Over long times the compressor's mean power is therefore
    P = (U (mean T_room - mean T) + Q + doors·door_j/86400 + defrost heat) / COP, and `idle_w` comes on top.
    """

    run_w: float
    idle_w: float
    cop: float
    loss_w_per_k: float
    steady_heat_w: float
    capacity_j_per_k: float
    set_c: float
    band_k: float
    doors_per_day: float
    door_j: float
    defrost: Defrost | None
    room: Room

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Simulate the box through a stretch of days, switching at the moments the equation gives."""
        cabinet = _Cabinet(self, world.window[0])
        for event_s, opens in _events(self, world, rng):
            supplied = not in_cut(world.cuts, cabinet.now_s)
            cabinet.advance(event_s, world.room_at(self.room, cabinet.now_s), supplied=supplied)
            if opens:
                cabinet.open_door()
        return trace_of_steps(cabinet.at_s, cabinet.power_w)


class _Cabinet:
    """The box as it goes through time: temperature, compressor, defrost, and the steps it has drawn."""

    def __init__(self, box: ColdBox, now_s: float) -> None:
        self.box = box
        self.now_s = now_s
        self.inside_c = box.set_c
        self.running = False
        self.run_s = 0.0
        self.defrost_left_s = 0.0
        self.at_s = [now_s]
        self.power_w: list[float] = []

    def open_door(self) -> None:
        """Let in warm air: the temperature rises by door_j / C [K]."""
        self.inside_c += self.box.door_j / self.box.capacity_j_per_k

    def advance(self, until_s: float, room_c: float, *, supplied: bool) -> None:
        """Go on to a moment [UTC seconds] with the room [°C] held, switching where the band is reached."""
        while until_s - self.now_s > 1e-3:
            self._switch()
            watts, rest_c, limit_c = self._state(room_c, supplied=supplied)
            step_s = min(until_s - self.now_s, self._dwell_s(rest_c, limit_c))
            if supplied and self.defrost_left_s > 0.0:
                step_s = min(step_s, self.defrost_left_s)
                self.defrost_left_s -= step_s
            elif supplied and self.running:
                self.run_s += step_s
            self.inside_c = rest_c + (self.inside_c - rest_c) * math.exp(-step_s / self._slowness_s)
            self.now_s += step_s
            self._draw(watts)
        self.now_s = until_s

    @property
    def _slowness_s(self) -> float:
        """The time constant C/U [s]."""
        return self.box.capacity_j_per_k / self.box.loss_w_per_k

    def _switch(self) -> None:
        box = self.box
        if self.inside_c >= box.set_c + box.band_k / 2 - 1e-9:
            self.running = True
        elif self.inside_c <= box.set_c - box.band_k / 2 + 1e-9:
            self.running = False
        if box.defrost is not None and self.run_s >= box.defrost.every_run_h * SECONDS_PER_HOUR:
            self.run_s = 0.0
            self.defrost_left_s = box.defrost.minutes * 60.0

    def _state(self, room_c: float, *, supplied: bool) -> tuple[float, float, float]:
        """Give the watts drawn, the temperature the box tends to [°C] and the one that ends the state."""
        box = self.box
        if not supplied:
            return 0.0, room_c, math.inf
        heat_w = box.steady_heat_w
        if self.defrost_left_s > 0.0 and box.defrost is not None:
            heat_w += box.defrost.into_box * box.defrost.heater_w
            return box.idle_w + box.defrost.heater_w, room_c + heat_w / box.loss_w_per_k, math.inf
        if self.running:
            heat_w -= box.cop * box.run_w
            return box.idle_w + box.run_w, room_c + heat_w / box.loss_w_per_k, box.set_c - box.band_k / 2
        return box.idle_w, room_c + heat_w / box.loss_w_per_k, box.set_c + box.band_k / 2

    def _dwell_s(self, rest_c: float, limit_c: float) -> float:
        """Give the time to the limit: t = (C/U) ln((T_rest - T)/(T_rest - T_limit)) [s], or for ever."""
        if math.isinf(limit_c) or (rest_c - limit_c) * (rest_c - self.inside_c) <= 0.0:
            return math.inf
        share = (rest_c - self.inside_c) / (rest_c - limit_c)
        return max(self._slowness_s * math.log(share), 1e-3)

    def _draw(self, watts: float) -> None:
        if self.power_w and self.power_w[-1] == watts:
            self.at_s[-1] = self.now_s
        else:
            self.power_w.append(watts)
            self.at_s.append(self.now_s)


def _events(box: ColdBox, world: World, rng: random.Random) -> list[tuple[float, bool]]:
    """Give the moments at which the room, the mains or the door changes, with whether the door opens."""
    from_s, to_s = world.window
    hours = int((to_s - from_s) / SECONDS_PER_HOUR)
    events = [(from_s + hour * SECONDS_PER_HOUR, False) for hour in range(1, hours + 1)]
    events += [(moment, False) for cut in world.cuts for moment in (cut.from_s, cut.to_s)]
    for midnight_s in world.midnights_s[:-1]:
        opening_s = midnight_s + 7.0 * SECONDS_PER_HOUR
        while box.doors_per_day > 0.0:
            opening_s += rng.expovariate(box.doors_per_day / (15.0 / 24.0 * SECONDS_PER_DAY))
            if opening_s >= min(midnight_s + 22.0 * SECONDS_PER_HOUR, to_s):
                break
            events.append((opening_s, True))
    return sorted(event for event in [*events, (to_s, False)] if from_s < event[0] <= to_s)

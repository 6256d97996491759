"""The morning rounds of the demo: on which mornings who read what off which meter."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft, RunState
from hearthload.service.demo.household import METERS, UNSTATED_GAIN
from hearthload.service.demo.loads import LOADS
from hearthload.service.demo.meter_face import Counters, MeterFace
from hearthload.service.demo.stays import CUT, DRY_DAYS, FIRST_DAY, STAYS, STORM_DAY, Stay
from hearthload.service.demo.trace import Cut, Trace
from hearthload.service.demo.world import World, local_moment, local_s, make_world

SKIPPED_MORNINGS = 0.16
BETWEEN_METERS_MIN = 3
BEGUN_TODAY_H = 6.9
"""Today's round was begun early, so that whoever opens the demo over breakfast can go on with it."""


class Act(StrEnum):
    """What is done at a meter: put on, read, set to nought, begun anew after a cut, taken off."""

    START = "start"
    READ = "read"
    RESET = "reset"
    FINISH = "finish"


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing done on a round: at which stay, what, and the reading typed with it.

    `exact_zero`: the counters stood at an exact nought. `counters` are where the run's counters began, for
    whoever checks the reading against the trace.
    """

    stay: Stay
    act: Act
    draft: ReadingDraft
    exact_zero: bool
    counters: Counters


@dataclass(frozen=True, slots=True)
class Simulation:
    """The five weeks as they truly were, and all that was typed, in order of time."""

    world: World
    faces: dict[str, MeterFace]
    traces: dict[str, Trace]
    deeds: tuple[Deed, ...]


def simulate(today: date, now: datetime, seed: int) -> Simulation:
    """Live through the five weeks up to `now` and give the truth together with what was typed."""
    first_day = today + timedelta(days=FIRST_DAY - 1)
    cut = Cut(*(local_s(today + timedelta(days=day), hour) for day, hour in CUT))
    world = make_world(
        random.Random(f"{seed}: weather"),
        first_day,
        2 - FIRST_DAY,
        season_day=today + timedelta(days=FIRST_DAY // 2),
        storm_day=today + timedelta(days=STORM_DAY),
        dry_days=tuple(today + timedelta(days=day) for day in DRY_DAYS),
        cuts=(cut,),
    )
    traces = {name: load.trace(world, random.Random(f"{seed}: {name}")) for name, load in LOADS.items()}
    faces = {meter.name: _face(meter, random.Random(f"{seed}: {meter.name}")) for meter in METERS}
    rounds = _rounds(today, random.Random(f"{seed}: rounds"))
    deeds: list[Deed] = []
    for stay in STAYS:
        rng = random.Random(f"{seed}: {stay.appliance} on {stay.meter}")
        face, trace = faces[stay.meter], traces[stay.appliance]
        visit = _Visit(stay, today, world=world, face=face, trace=trace, rng=rng)
        deeds.extend(visit.deeds(rounds, now))
    return Simulation(world, faces, traces, tuple(sorted(deeds, key=_moment)))


class _Visit:
    """One stay as it is lived through, morning by morning."""

    def __init__(
        self, stay: Stay, today: date, *, world: World, face: MeterFace, trace: Trace, rng: random.Random
    ) -> None:
        self.stay = stay
        self.today = today
        self.world = world
        self.face = face
        self.trace = trace
        self.rng = rng
        self.counters = Counters(0.0)
        self.last_s = 0.0
        self.highest_spot_w = 0.0

    def deeds(self, rounds: dict[int, datetime | None], now: datetime) -> list[Deed]:
        """Give what was done at this stay on the rounds walked until now."""
        last_day = 0 if self.stay.until_day is None else self.stay.until_day
        deeds = []
        for day in range(self.stay.from_day, last_day + 1):
            at = rounds[day]
            if at is None and day in self._days_not_skipped():
                at = local_moment(self.today + timedelta(days=day), 7.6)
            if at is None or (day == 0 and not self.stay.read_today):
                continue
            if day != self.stay.until_day:
                at += timedelta(minutes=BETWEEN_METERS_MIN)
            if at <= now:
                deeds.append(self._deed(day, at))
        return deeds

    def _days_not_skipped(self) -> tuple[int | None, ...]:
        stay = self.stay
        return (stay.from_day, stay.until_day, stay.reset_day, STORM_DAY + 1, *stay.notes)

    def _deed(self, day: int, at: datetime) -> Deed:
        at_s, act, exact_zero = at.timestamp(), Act.READ, False
        if day == self.stay.from_day:
            act, exact_zero = Act.START, self.stay.counters is None
            self.counters = Counters(at_s, *(self.stay.counters or (0.0, 0.0)))
        elif day == self.stay.reset_day:
            act, exact_zero, self.counters = Act.RESET, True, Counters(at_s)
        elif day == self.stay.until_day:
            act = Act.FINISH
        went_on = self.face.after_cuts(self.counters, self.world.cuts, at_s)
        if went_on != self.counters:
            act, self.counters = Act.RESET, went_on
        draft = self._typed(day, at, began=act in {Act.START, Act.RESET})
        self.last_s = at_s
        return Deed(self.stay, act, draft, exact_zero, self.counters)

    def _typed(self, day: int, at: datetime, *, began: bool) -> ReadingDraft:
        stay, rng, at_s = self.stay, self.rng, at.timestamp()
        energy, elapsed = self.face.shown(self.trace, self.counters, self.world.cuts, at_s)
        hours_typed, temperature_typed, spot_typed = (rng.random() for _ in range(3))
        watts = self._watts(at_s) if spot_typed < stay.spots and not began else None
        volts = round(rng.gauss(231.0, 2.0), 1)
        return ReadingDraft(
            taken_at=at,
            energy_kwh=energy,
            elapsed_h=elapsed if began or hours_typed < 0.88 else None,
            power_w=watts,
            voltage_v=volts if watts is not None and rng.random() < 0.3 else None,
            power_factor=self._power_factor(watts),
            highest_power_w=self._highest_w(at_s) if day == stay.until_day else None,
            state=self._state(watts),
            uses=self.trace.uses_between(self.last_s, at_s) if stay.counts_uses and not began else None,
            room_temperature_c=self._room_c(at_s) if temperature_typed < 0.25 else None,
            note=stay.notes.get(day, ""),
        )

    def _watts(self, at_s: float) -> float:
        watts = self.trace.watts_at(at_s) * (1.0 + self.face.gain) * self.rng.gauss(1.0, 0.008)
        shown = round(watts, 1) if self.face.draft.energy_step_kwh < 0.1 else float(round(watts))
        self.highest_spot_w = max(self.highest_spot_w, shown)
        return shown

    def _power_factor(self, watts: float | None) -> float | None:
        if watts is None or watts < self.stay.runs_above_w or self.rng.random() < 0.6:
            return None
        return round(min(self.rng.gauss(self.stay.power_factor, 0.01), 1.0), 2)

    def _highest_w(self, at_s: float) -> float:
        highest = self.trace.highest_w(self.counters.since_s, at_s) * (1.0 + self.face.gain)
        return max(float(round(highest)), self.highest_spot_w)

    def _state(self, watts: float | None) -> RunState | None:
        if watts is None:
            return None
        return RunState.RUNNING if watts >= self.stay.runs_above_w else RunState.IDLE

    def _room_c(self, at_s: float) -> float | None:
        return None if self.stay.room is None else round(self.world.room_at(self.stay.room, at_s), 1)


def _rounds(today: date, rng: random.Random) -> dict[int, datetime | None]:
    """Give the moment of each morning's round by day counted from today, None on skipped mornings."""
    rounds: dict[int, datetime | None] = {}
    for day in range(FIRST_DAY, 0):
        weekend = (today + timedelta(days=day)).weekday() >= 5
        hours = rng.gauss(8.6, 0.35) if weekend else rng.gauss(7.4, 0.2)
        skipped = rng.random() < SKIPPED_MORNINGS
        moment = local_moment(today + timedelta(days=day), min(hours, 9.5))
        rounds[day] = None if skipped else moment
    rounds[0] = local_moment(today, BEGUN_TODAY_H)
    return rounds


def _face(meter: MeterDraft, rng: random.Random) -> MeterFace:
    """Draw a meter's own error: even within its stated accuracy, within 1.3 % where none is stated."""
    width = UNSTATED_GAIN if meter.gain_percent is None else meter.gain_percent / 100.0
    return MeterFace(meter, rng.uniform(-width, width))


def _moment(deed: Deed) -> datetime:
    return deed.draft.taken_at

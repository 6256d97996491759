"""A person's readings of a simulated appliance: mornings, some skipped, through a meter's display."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

import numpy as np

from simulators_base import TRUTH_DAYS, Cycles, Floats, Generator, Load
from simulators_cold import spot_watts

MONDAY = datetime(2026, 1, 5, tzinfo=UTC)
"""The simulators' hour 0: a Monday's midnight."""

MORNING_H = 7.5

_COARSE_SHARE = 0.15
_LATER_START_SHARE = 0.25
_EXACT_SHARE = 0.4
_HOURS_TYPED_SHARE = 0.6
_WHOLE_HOURS_SHARE = 0.2
_ACCURACY_STATED_SHARE = 0.5
_RESET_SHARE = 0.08
_CUT_SHARE = 0.08
_UNSTATED_GAIN_PERCENT = 1.3
"""Half-width of a meter's gain where none is stated [%]: a standard deviation of 0.75 %."""

_TYPED_TO_MIN, _TYPED_TO_SHARES = (1.0, 5.0, 15.0), (0.6, 0.3, 0.1)
"""What people round the time of a reading to [min]: most take the clock's, some a handy figure."""


@dataclass(frozen=True, slots=True)
class Way:
    """What the person does beside reading: note watts, count uses; and whether mishaps come about.

    `later` True begins in the course of the day, False in the morning, None as people do; `cut` there is a
    power cut for certain, and no other mishap.
    """

    spots: bool = False
    uses: bool = False
    mishaps: bool = True
    later: bool | None = None
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """One row as typed: `hour` since `MONDAY` [h], display [kWh], its elapsed hours [h], watts, uses.

    `opens`: the exact zero with which a new run begins after a reset, in the same minute as a reading.
    """

    hour: float
    energy_kwh: float
    elapsed_h: float | None
    power_w: float | None = None
    uses: int | None = None
    run: int = 0
    opens: bool = False


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter: display step [kWh], whether it rounds, its clock's step [h] or None where no hours are typed.

    `gain` is its factor [1], `stated_percent` the half-width that the leaflet tells, None where lost.
    """

    step_kwh: float
    rounds: bool
    clock_step_h: float | None
    gain: float
    stated_percent: float | None


@dataclass(frozen=True, slots=True)
class Stay:
    """One stay of a meter on a load: what was written down, and what is true.

    `true_h` the instants of the readings [h]; `long_run_kwh` the average day while season and habits
    stay, `weeks_kwh` that of the four weeks that begin with the stay; `running` 1 for readings taken
    while the compressor ran; `cut` the number of the reading that closes the span with the power cut.
    """

    readings: tuple[Reading, ...]
    true_h: Floats
    meter: Meter
    exact_start: bool
    later_start: bool
    long_run_kwh: float
    weeks_kwh: float
    running: Floats = field(default_factory=lambda: np.zeros(0))
    cut: int | None = None
    cut_h: float = 0.0

    def first(self, count: int) -> Stay:
        """Give the stay as it stood after `count` readings; an opened run is no reading of its own."""
        number, kept = 0, 0
        for at, reading in enumerate(self.readings):
            number += not reading.opens
            if number > count:
                break
            kept = at + 1
        return replace(self, readings=self.readings[:kept], true_h=self.true_h[:count])


def stay(rng: Generator, load: Load, readings: int, way: Way | None = None) -> Stay:
    """Plug the meter in, then read it on mornings until there are so many readings.

    People skip mornings and now and then read twice a day; times are noted to a minute or to handy
    figures; a quarter begin in the course of the day. Displays truncate or round, most to 0.01 kWh; a few
    runs are reset on the way, a few stays see a power cut.
    """
    way = way or Way()
    later = bool(rng.random() < _LATER_START_SHARE) if way.later is None else way.later
    true_h = _instants(rng, readings, later=later)
    meter, exact = _meter(rng), bool(rng.random() < _EXACT_SHARE)
    is_cut = way.cut or (way.mishaps and rng.random() < _CUT_SHARE)
    cut_at = int(rng.integers(1, readings)) if is_cut else None
    gap = _power_cut(rng, true_h, cut_at)
    counted = _counted(load, true_h, gap) * meter.gain
    elapsed = true_h - true_h[0] - np.clip(true_h - gap[0], 0.0, gap[1])
    if not exact:
        counted += rng.uniform(0.0, 50.0)
        elapsed += rng.uniform(0.0, 200.0)
    typed = _typed(rng, true_h)
    rows = _rows(meter, typed, counted, elapsed)
    rows, running = _extras(rng, rows, true_h, load, meter=meter, way=way)
    if way.mishaps and not way.cut and readings > 3 and rng.random() < _RESET_SHARE:
        rows = _reset(rows, int(rng.integers(1, readings - 1)), counted, elapsed, meter)
    begin = float(true_h[0])
    ends = load.at(np.array([begin, begin + TRUTH_DAYS * 24.0]))
    weeks = float(ends[1] - ends[0]) / TRUTH_DAYS
    return Stay(tuple(rows), true_h, meter, exact, later, load.long_run_kwh, weeks, running, cut_at, gap[1])


def _instants(rng: Generator, readings: int, *, later: bool) -> Floats:
    """Draw the instants of the readings [h]: most mornings, some evenings besides."""
    skip, twice = rng.uniform(0.0, 0.35), max(rng.uniform(-0.1, 0.12), 0.0)
    day = int(rng.integers(14, 70))
    hour = rng.uniform(8.0, 21.0) if later else MORNING_H + rng.normal(0.0, 0.3)
    found = [day * 24.0 + hour]
    while len(found) < readings:
        day += int(rng.geometric(1.0 - skip))
        found.append(day * 24.0 + MORNING_H + rng.normal(0.0, 0.3))
        if rng.random() < twice:
            found.append(day * 24.0 + rng.uniform(17.0, 22.0))
    return np.array(found[:readings])


def _typed(rng: Generator, true_h: Floats) -> Floats:
    """Give the times as typed [h]: a minute or two after the reading, rounded; later ones stay later."""
    handy = float(rng.choice(_TYPED_TO_MIN, p=_TYPED_TO_SHARES)) / 60.0
    late = true_h + rng.uniform(0.0, 0.03, len(true_h))
    return np.round(late / handy) * handy


def _meter(rng: Generator) -> Meter:
    coarse, rounds = rng.random() < _COARSE_SHARE, bool(rng.random() < 0.5)
    hours = None
    if rng.random() < _HOURS_TYPED_SHARE:
        hours = 1.0 if rng.random() < _WHOLE_HOURS_SHARE else 1.0 / 60.0
    stated = float(rng.choice([1.0, 2.0])) if rng.random() < _ACCURACY_STATED_SHARE else None
    half = (_UNSTATED_GAIN_PERCENT if stated is None else stated) / 100.0
    return Meter(0.1 if coarse else 0.01, rounds, hours, 1.0 + rng.uniform(-half, half), stated)


def _power_cut(rng: Generator, true_h: Floats, at: int | None) -> tuple[float, float]:
    """Give begin and length of a power cut before reading `at` [h]; a length of nothing without one."""
    if at is None:
        return float(true_h[-1]) + 1.0, 0.0
    long = float(np.exp(rng.uniform(np.log(0.25), np.log(6.0))))
    long = min(long, 0.4 * float(true_h[at] - true_h[at - 1]))
    return float(rng.uniform(true_h[at - 1], true_h[at] - long)), long


def _counted(load: Load, true_h: Floats, gap: tuple[float, float]) -> Floats:
    """Give the energy since the meter was plugged in [kWh]; a cut takes away what is not made up for."""
    energy = load.at(true_h) - load.at(true_h[:1])
    if load.made_up or gap[1] == 0.0:
        return energy
    return energy - (load.at(np.clip(true_h, gap[0], gap[0] + gap[1])) - load.at(np.array([gap[0]])))


def shown(counted: Floats, step: float, *, rounds: bool) -> Floats:
    """Give what a display of that step shows."""
    out: Floats = np.floor(counted / step + (0.5 if rounds else 0.0) + 1e-9) * step
    return out


def _rows(meter: Meter, typed: Floats, counted: Floats, elapsed: Floats, run: int = 0) -> list[Reading]:
    energy = shown(counted, meter.step_kwh, rounds=meter.rounds).tolist()
    hours: list[float | None] = [None] * len(typed)
    if meter.clock_step_h is not None:
        hours = [*shown(elapsed, meter.clock_step_h, rounds=False).tolist()]
    return [
        Reading(at, kwh, clock, run=run) for at, kwh, clock in zip(typed.tolist(), energy, hours, strict=True)
    ]


def _extras(
    rng: Generator, rows: list[Reading], true_h: Floats, load: Load, *, meter: Meter, way: Way
) -> tuple[list[Reading], Floats]:
    """Add watts and counted uses where the person notes them."""
    running = np.zeros(0)
    if way.spots and load.cycles is not None:
        watts, running = _spots(rng, load.cycles, true_h, meter)
        rows = [replace(row, power_w=w) for row, w in zip(rows, watts, strict=True)]
    if way.uses and load.uses is not None:
        begun = np.searchsorted(load.uses, true_h)
        counts = [None, *np.diff(begun).tolist()]
        rows = [replace(row, uses=count) for row, count in zip(rows, counts, strict=True)]
    return rows, running


def _spots(rng: Generator, cycles: Cycles, true_h: Floats, meter: Meter) -> tuple[list[float], Floats]:
    watts, running = spot_watts(rng, cycles, true_h)
    return np.round(watts * meter.gain, 1).tolist(), running


def _reset(rows: list[Reading], at: int, counted: Floats, elapsed: Floats, meter: Meter) -> list[Reading]:
    """Set the counters to zero right after reading number `at`: a new run begins there."""
    typed = np.array([row.hour for row in rows[at:]])
    typed[0] += 0.05
    anew = _rows(meter, typed, counted[at:] - counted[at], elapsed[at:] - elapsed[at], run=1)
    after = [
        replace(new, power_w=old.power_w, uses=old.uses)
        for new, old in zip(anew[1:], rows[at + 1 :], strict=True)
    ]
    return [*rows[: at + 1], replace(anew[0], opens=True), *after]


COLUMNS = (
    "appliance",
    "kind",
    "taken_at",
    "energy_kwh",
    "elapsed_h",
    "power_w",
    "uses",
    "run",
    "energy_step_kwh",
    "elapsed_step_h",
    "gain_percent",
    "exact_start",
)


def rows_of(name: str, kind: str, made: Stay) -> list[list[str]]:
    """Write a stay as rows for the `estimate` command, in the order of `COLUMNS`."""
    meter = made.meter
    start = 1 if made.exact_start else 0
    return [
        [
            name,
            kind,
            (MONDAY + timedelta(minutes=round(row.hour * 60.0))).isoformat(),
            f"{row.energy_kwh:.4f}",
            _cell(row.elapsed_h, ".5f"),
            _cell(row.power_w, ".1f"),
            _cell(row.uses, "d"),
            str(row.run),
            f"{meter.step_kwh:g}",
            _cell(meter.clock_step_h, ".6f"),
            _cell(meter.stated_percent, "g"),
            str(start if row.run == 0 else 1),
        ]
        for row in made.readings
    ]


def _cell(value: float | None, how: str) -> str:
    return "" if value is None else format(value, how)


def spans_of(readings: Sequence[Reading]) -> tuple[Floats, Floats]:
    """Give days [d] and displayed gains [kWh] between neighbouring readings of one run."""
    hours = np.array([row.hour for row in readings])
    energy = np.array([row.energy_kwh for row in readings])
    same = np.diff([row.run for row in readings]) == 0
    return np.diff(hours)[same] / 24.0, np.diff(energy)[same]

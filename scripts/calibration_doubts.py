"""Doubts: planted slips, falls and power cuts that are found, and untouched series that are doubted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import mornings
from calibration_run import Answer, Errand, estimated
from calibration_tables import Target, at_least, at_most, figure, share, table
from hearthload.domain.doubt import DoubtCode
from mornings import Reading, Stay
from simulators import FAMILIES, STEADY
from simulators_base import Generator

COUNTS = (7, 14, 21)
FOUND_AT_LEAST, FALSE_AT_MOST = 98.0, 5.0
WORTH_D = 0.5
"""Slips worth more than so many days' energy ought to be found [d]."""

UNTOUCHED = "untouched"


@dataclass(frozen=True, slots=True)
class Looked:
    """One series: what was planted at which reading, and every doubt as (code, reading)."""

    family: str
    readings: int
    planted: str
    at: int
    doubts: tuple[tuple[str, int | None], ...]

    @property
    def found(self) -> bool:
        """Tell whether anything was doubted about that reading or the spans that it closes and opens."""
        return any(reading in {self.at, self.at + 1} for _, reading in self.doubts)


Plant = Callable[[Generator, Stay, int], Stay | None]


def _with(stay: Stay, at: int, energy_kwh: float) -> Stay | None:
    """Give the stay with another counter at a reading, None where the slip is worth less than half a day."""
    old = stay.readings[at]
    if abs(energy_kwh - old.energy_kwh) <= WORTH_D * stay.long_run_kwh:
        return None
    rows = (*stay.readings[:at], replace(old, energy_kwh=energy_kwh), *stay.readings[at + 1 :])
    return replace(stay, readings=rows)


def _digits(stay: Stay, at: int) -> str:
    decimals = 1 if stay.meter.step_kwh > 0.05 else 2
    return f"{stay.readings[at].energy_kwh:.{decimals}f}"


def _wrong_digit(rng: Generator, stay: Stay, at: int) -> Stay | None:
    marks = list(_digits(stay, at))
    place = int(rng.choice([number for number, mark in enumerate(marks) if mark.isdigit()]))
    marks[place] = str((int(marks[place]) + int(rng.integers(1, 10))) % 10)
    return _with(stay, at, float("".join(marks)))


def _swapped(rng: Generator, stay: Stay, at: int) -> Stay | None:
    marks = list(_digits(stay, at))
    places = [number for number, mark in enumerate(marks) if mark.isdigit()]
    pick = int(rng.integers(0, len(places) - 1))
    one, other = places[pick], places[pick + 1]
    marks[one], marks[other] = marks[other], marks[one]
    return _with(stay, at, float("".join(marks)))


def _decimal(rng: Generator, stay: Stay, at: int) -> Stay | None:
    factor = float(rng.choice([0.1, 10.0, 0.01, 100.0]))
    return _with(stay, at, round(stay.readings[at].energy_kwh * factor, 2))


def _fallen(_: Generator, stay: Stay, at: int) -> Stay | None:
    """Set the counters to zero after the reading before, without a word: no new run is typed."""
    before = stay.readings[at - 1]
    if before.energy_kwh < 2.0 * stay.long_run_kwh:
        return None

    def less(row: Reading) -> Reading:
        hours = (
            None if row.elapsed_h is None or before.elapsed_h is None else row.elapsed_h - before.elapsed_h
        )
        return replace(row, energy_kwh=row.energy_kwh - before.energy_kwh, elapsed_h=hours)

    return replace(stay, readings=(*stay.readings[:at], *map(less, stay.readings[at:])))


SLIPS: dict[str, Plant] = {"wrong digit": _wrong_digit, "swapped digits": _swapped, "decimal slip": _decimal}
PLANTS: dict[str, Plant] = {**SLIPS, "counter fell": _fallen}
POWER_CUT = "power cut"


def look(errand: Errand) -> list[Looked]:
    """Simulate series with one thing planted in turn, and untouched ones, and gather what is doubted."""
    cases: list[tuple[str, int, Stay]] = []
    for index, rng, _, load in errand.appliances():
        calm = mornings.stay(rng, load, max(COUNTS), mornings.Way(mishaps=False))
        count = COUNTS[index % len(COUNTS)]
        cases += [(UNTOUCHED, 0, calm.first(count))]
        cases += _planted(rng, calm.first(count))
        cut = mornings.stay(rng, load, count, mornings.Way(cut=True))
        minute_clock = cut.meter.clock_step_h is not None and cut.meter.clock_step_h < 0.1
        if minute_clock and cut.cut is not None and errand.family in STEADY:
            cases.append((POWER_CUT, cut.cut, cut))
    series = [(f"{number} {case[0]}", errand.family, case[2]) for number, case in enumerate(cases)]
    answers = estimated(series).answers
    return [_looked(errand.family, case, answer) for case, answer in zip(cases, answers, strict=True)]


def _planted(rng: Generator, stay: Stay) -> list[tuple[str, int, Stay]]:
    found = []
    for name, plant in PLANTS.items():
        at = int(rng.integers(1, len(stay.readings)))
        changed = plant(rng, stay, at)
        if changed is not None:
            found.append((name, at, changed))
    return found


def _looked(family: str, case: tuple[str, int, Stay], answer: Answer) -> Looked:
    planted, at, stay = case
    doubts = tuple((doubt["code"], doubt["reading"]) for doubt in answer["doubts"])
    return Looked(family, len(stay.readings), planted, at, doubts)


def report(found: Sequence[Looked]) -> tuple[list[str], list[Target]]:
    """Lay out the tables and hold the targets against them."""
    lines = ["", "Doubts"]
    targets = []
    steady = [family for family in STEADY if any(one.family == family for one in found)]
    rows = []
    for planted in (*PLANTS, POWER_CUT):
        cells = [[o for o in found if o.planted == planted and o.family == family] for family in steady]
        rows.append((planted, *(_found(cell) for cell in cells), str(sum(map(len, cells)))))
    if rows and steady:
        heading = "Share found [%] of what was planted and is worth more than half a day, steady kinds"
        lines += table(heading, ("planted", *steady, "n"), rows)
        targets += _found_targets([one for one in found if one.family in steady])
    lines += _false(found)
    calm = [one for one in found if one.planted == UNTOUCHED]
    targets.append(at_most("untouched series doubted", share([bool(o.doubts) for o in calm]), FALSE_AT_MOST))
    return lines, targets


def _found(cell: Sequence[Looked]) -> str:
    value = share([one.found for one in cell])
    return figure(value, missed=value < FOUND_AT_LEAST)


def _found_targets(steady: Sequence[Looked]) -> list[Target]:
    slips = share([one.found for one in steady if one.planted in SLIPS])
    inner = [one for one in steady if one.planted in SLIPS and one.at < one.readings - 1]
    falls = share([one.found for one in steady if one.planted == "counter fell"])
    cuts = share([one.found for one in steady if one.planted == POWER_CUT])
    return [
        at_least("slips found, steady kinds", slips, FOUND_AT_LEAST),
        at_least("slips found where a reading follows", share([one.found for one in inner]), FOUND_AT_LEAST),
        at_least("counter falls found", falls, FOUND_AT_LEAST),
        at_least("power cuts of 15 min and more found by a clock of minutes", cuts, FOUND_AT_LEAST),
    ]


def _false(found: Sequence[Looked]) -> list[str]:
    calm = [one for one in found if one.planted == UNTOUCHED]
    families = [family for family in FAMILIES if any(one.family == family for one in calm)]
    codes = [c.value for c in DoubtCode if any(c.value == code for one in calm for code, _ in one.doubts)]
    rows = []
    for family in families:
        cell = [one for one in calm if one.family == family]
        every = share([bool(one.doubts) for one in cell])
        each = (share([any(code == told for told, _ in one.doubts) for one in cell]) for code in codes)
        rows.append((family, str(len(cell)), figure(every, missed=every > FALSE_AT_MOST), *map(figure, each)))
    heading = "Share of untouched series that are doubted [%], and by what"
    return table(heading, ("family", "n", "any", *codes), rows)

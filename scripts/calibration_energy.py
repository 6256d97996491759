"""Daily energy: how often the 95 % interval holds the average day of these weeks, and how wide it is."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

import mornings
from calibration_run import Answer, Errand, estimated
from calibration_tables import Target, at_most, between, figure, middle, share, table
from hearthload.estimate.spans import DEFAULT_GAIN
from simulators import FAMILIES, WEATHER
from simulators_base import HORIZON_D, Floats, Load

COUNTS = (3, 5, 7, 14, 21)
SETTLED = 5
"""Readings from which the targets hold."""

LEAST_COVERAGE, MEAN_COVERAGE, MOST_RATIO = 90.0, (94.0, 98.0), 1.5
LEAST_TO_TELL = 50
"""Intervals under which a share is not held against a target."""

# Median half-widths that the method reached when it was worked out [%], for 3, 7, 14, 21 readings.
REACHED = {
    "refrigerator": {3: 22.0, 7: 14.0, 14: 10.0, 21: 8.0},
    "freezer": {3: 17.0, 7: 11.0, 14: 7.0, 21: 5.5},
    "always_on": {3: 5.0, 7: 3.0, 14: 2.0, 21: 2.0},
    "lamp_timer": {3: 64.0, 7: 21.0, 14: 12.0, 21: 9.0},
    "evening_electronics": {3: 99.0, 7: 51.0, 14: 32.0, 21: 25.0},
    "kitchen": {3: 77.0, 7: 43.0, 14: 26.0, 21: 19.0},
    "by_the_load": {3: 163.0, 7: 109.0, 14: 73.0, 21: 58.0},
}

EXPLAINED = """
coverage  share of the 95 % intervals that hold the average day of the present weeks
28 d      the same for the average of the four weeks that begin with the first reading
normal    the same for energy over time with 1.96 s/√n from the spans' rates; t: with Student's t
± half    median of half the interval's width over its middle [%]; before: what the method reached at first
× oracle  median of the interval's half-width on the log scale over that of an oracle, who knows how energy
          over time scatters: 1.96·√(σ² + u_g² + q²/(6(μT)²)), σ the relative root-mean-square error of the
          same appliance's energy over time when the same stay begins on every other day of the horizon
bias      median of the estimate over the truth, less one [%]
doubted   share of series with any doubt about them"""


@dataclass(frozen=True, slots=True)
class Judged:
    """One interval held against the truth; energies relative to the truth [1], `oracle` log half-width."""

    family: str
    made: str
    readings: int
    later_start: bool
    low: float
    middle: float
    high: float
    weeks: float
    normal: tuple[float, float]
    student: tuple[float, float]
    oracle: float
    doubts: tuple[str, ...]
    milliseconds: tuple[float, float]

    @property
    def inside(self) -> bool:
        """Tell whether the interval holds the truth."""
        return self.low <= 1.0 <= self.high

    @property
    def ratio(self) -> float:
        """Give the half-width on the log scale over the oracle's [1]."""
        return 0.5 * math.log(self.high / self.low) / self.oracle


def judge(errand: Errand) -> list[Judged]:
    """Simulate, read, estimate and judge one errand's appliances, each after several numbers of readings."""
    made, series = [], []
    for index, rng, what, load in errand.appliances():
        whole = mornings.stay(rng, load, max(COUNTS))
        for count in COUNTS:
            stay = whole.first(count)
            made.append((what, count, load, stay))
            series.append((f"{index} after {count}", errand.family, stay))
    timed = estimated(series)
    each = 1000.0 / max(len(series), 1)
    milliseconds = (timed.reading_s * each, timed.estimating_s * each)
    return [
        _judged(errand.family, case, answer, milliseconds)
        for case, answer in zip(made, timed.answers, strict=True)
    ]


def _judged(
    family: str,
    case: tuple[str, int, Load, mornings.Stay],
    answer: Answer,
    milliseconds: tuple[float, float],
) -> Judged:
    what, count, load, stay = case
    truth = stay.long_run_kwh
    low, middle_kwh, high = (answer["daily_kwh"][end] / truth for end in ("low", "median", "high"))
    mean, normal, student = plain(stay)
    return Judged(
        family,
        what,
        count,
        stay.later_start,
        low,
        middle_kwh,
        high,
        stay.weeks_kwh / truth,
        ((mean - normal) / truth, (mean + normal) / truth),
        ((mean - student) / truth, (mean + student) / truth),
        oracle(load, stay),
        tuple(doubt["code"] for doubt in answer["doubts"]),
        milliseconds,
    )


def plain(stay: mornings.Stay) -> tuple[float, float, float]:
    """Give energy over time [kWh/d] with half-widths 1.96 s/√n and t s/√n, s of the spans' rates.

    This is what is done without the estimator; with one span there is no scatter to judge by.
    """
    days, gained = mornings.spans_of(stay.readings)
    rates = gained / days
    mean = float(gained.sum() / days.sum())
    if len(rates) < 2:
        return mean, 0.0, 0.0
    spread = float(np.std(rates, ddof=1)) / math.sqrt(len(rates))
    return mean, 1.96 * spread, float(stdtrit(len(rates) - 1.0, 0.975)) * spread


def oracle(load: Load, stay: mornings.Stay) -> float:
    """Give the oracle's half-width on the log scale, 1.96·√(σ² + u_g² + q²/(6(μT)²)) [1]."""
    begin, long = float(stay.true_h[0]) % 24.0, float(stay.true_h[-1] - stay.true_h[0])
    days = np.arange(2.0, HORIZON_D - 3.0 - math.ceil(long / 24.0), dtype=np.float64)
    starts: Floats = begin + 24.0 * days
    rates = (load.at(starts + long) - load.at(starts)) / (long / 24.0)
    truth = stay.long_run_kwh
    square = float(np.mean((rates / truth - 1.0) ** 2))
    display = stay.meter.step_kwh / (truth * long / 24.0)
    stated = stay.meter.stated_percent
    gain = DEFAULT_GAIN if stated is None else stated / 100.0 / math.sqrt(3.0)
    return 1.96 * math.sqrt(square + gain**2 + display**2 / 6.0)


Where = Callable[[Judged], bool]


def report(found: Sequence[Judged]) -> tuple[list[str], list[Target]]:
    """Lay out the tables and hold the targets against them."""
    families = [family for family in FAMILIES if any(one.family == family for one in found)]
    lines = ["", "Daily energy", EXPLAINED.strip("\n")]
    for family in families:
        lines += _family(family, [one for one in found if one.family == family])
    lines += _starts(families, found)
    lines += _not_sure([one for one in found if one.family == "not_sure" and one.readings >= SETTLED])
    return lines, list(_targets(families, found))


def _family(family: str, found: Sequence[Judged]) -> list[str]:
    columns = ("readings", "n", "coverage", "28 d", "normal", "t", "± half", "before", "× oracle", "bias")
    rows = [
        _row(family, count, [one for one in found if one.readings == count])
        for count in COUNTS
        if any(one.readings == count for one in found)
    ]
    return table(family, (*columns, "doubted"), rows)


def _row(family: str, count: int, cell: Sequence[Judged]) -> tuple[str, ...]:
    covered = share([one.inside for one in cell])
    ratio = middle([one.ratio for one in cell])
    binding = count >= SETTLED
    return (
        str(count),
        str(len(cell)),
        figure(covered, missed=covered < LEAST_COVERAGE),
        figure(share([one.low <= one.weeks <= one.high for one in cell])),
        figure(share([one.normal[0] <= 1.0 <= one.normal[1] for one in cell])),
        figure(share([one.student[0] <= 1.0 <= one.student[1] for one in cell])),
        figure(middle([50.0 * (one.high - one.low) / one.middle for one in cell])),
        figure(REACHED.get(family, {}).get(count, math.nan)),
        figure(ratio, 2, missed=binding and family not in WEATHER and ratio > MOST_RATIO),
        figure(100.0 * (middle([one.middle for one in cell]) - 1.0)),
        figure(share([bool(one.doubts) for one in cell])),
    )


def _starts(families: Sequence[str], found: Sequence[Judged]) -> list[str]:
    """Show what a start in the course of the day does, beside a start at the hour of the readings."""
    groups: tuple[tuple[bool, Where], ...] = (
        (False, lambda one: not one.later_start),
        (True, lambda one: one.later_start),
    )
    rows = []
    for family in families:
        row = [family]
        for _, wanted in groups:
            for counts in ((3,), COUNTS[1:]):
                cell = [o for o in found if o.family == family and wanted(o) and o.readings in counts]
                row.append(figure(share([one.inside for one in cell])))
                row.append(figure(100.0 * (middle([one.middle for one in cell]) - 1.0)))
        rows.append(tuple(row))
    columns = ("family", "3: coverage", "bias", "5+: coverage", "bias", "3, later: coverage", "bias")
    heading = "Begun in the morning and later in the day, with 3 and with 5 or more readings"
    return table(heading, (*columns, "5+, later: coverage", "bias"), rows)


def _not_sure(found: Sequence[Judged]) -> list[str]:
    """Show the not sure by what they are."""
    rows = []
    for made in dict.fromkeys(one.made for one in found):
        cell = [one for one in found if one.made == made]
        covered = share([one.inside for one in cell])
        ratio = middle([one.ratio for one in cell])
        rows.append(
            (made, str(len(cell)), figure(covered, missed=covered < LEAST_COVERAGE), figure(ratio, 2))
        )
    columns = ("what it is", "n", "coverage", "× oracle")
    return table("Told as not sure, five readings and more", columns, rows) if rows else []


def _targets(families: Sequence[str], found: Sequence[Judged]) -> Iterator[Target]:
    settled = [one for one in found if one.readings >= SETTLED]
    means = [share([one.inside for one in settled if one.family == family]) for family in families]
    yield between("coverage from five readings, mean over families", float(np.mean(means)), *MEAN_COVERAGE)
    cells = {(one.family, one.readings): share([]) for one in found}
    for family, count in cells:
        cell = [one for one in found if (one.family, one.readings) == (family, count)]
        cells[family, count] = share([one.inside for one in cell]) if len(cell) >= LEAST_TO_TELL else math.nan
    yield _lowest("lowest coverage, any number of readings", cells)
    for family in families:
        if family in WEATHER:
            continue
        ratios = [
            middle([one.ratio for one in settled if (one.family, one.readings) == (family, count)])
            for count in COUNTS[1:]
        ]
        yield at_most(f"width over the oracle's, {family}", max(ratios), MOST_RATIO, "×")


def _lowest(what: str, cells: dict[tuple[str, int], float]) -> Target:
    told = {cell: value for cell, value in cells.items() if not math.isnan(value)}
    if not told:
        return Target(f"{what}: at least {LEAST_COVERAGE:g} %", "-", None)
    (family, count), value = min(told.items(), key=lambda item: item[1])
    wanted = f"{what}: at least {LEAST_COVERAGE:g} %"
    return Target(wanted, f"{value:.1f} % ({family}, {count} readings)", value >= LEAST_COVERAGE)

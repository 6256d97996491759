"""Calibration study: how often the 95 % interval holds the truth, and how wide it is.

Simulated appliances (simulators.py) are read like a person reads (mornings.py), written to a CSV file,
and estimated through the very path of the `estimate` command. Truth is the average day of the present
weeks: what the appliance would take on average if season and habits stayed as they are.

    python scripts/calibration.py --appliances 5000 --seed 1
"""

from __future__ import annotations

import argparse
import csv
import json
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

import mornings
from hearthload.service.exchange.estimate_csv import read_estimate_csv
from hearthload.service.exchange.estimate_json import estimate_json
from progress import Progress
from simulators import FAMILIES

COUNTS = (3, 7, 14, 21)

# Median half-widths that the method reached when it was worked out [%], for COUNTS readings.
REACHED = {
    "refrigerator": (22.0, 14.0, 10.0, 8.0),
    "freezer": (17.0, 11.0, 7.0, 5.5),
    "always_on": (5.0, 3.0, 2.0, 2.0),
    "by_the_load": (163.0, 109.0, 73.0, 58.0),
    "kitchen": (77.0, 43.0, 26.0, 19.0),
    "evening_electronics": (99.0, 51.0, 32.0, 25.0),
}
LOWEST_COVERAGE, USUAL_COVERAGE = 91.0, (96.0, 98.0)
DEFAULT_FAMILIES = ("refrigerator", "always_on", "by_the_load")


@dataclass(frozen=True, slots=True)
class Case:
    """One simulated appliance: its family, how many readings, and the stay."""

    family: str
    readings: int
    stay: mornings.Stay


def simulate(families: Sequence[str], appliances: int, seed: int) -> list[Case]:
    """Simulate appliances, families and numbers of readings in turn."""
    cells = [(family, count) for family in families for count in COUNTS]
    cases = []
    with Progress("simulating appliances and their readings", "appliances") as shown:
        for index in range(appliances):
            family, count = cells[index % len(cells)]
            rng = np.random.default_rng([seed, index])
            cases.append(Case(family, count, mornings.stay(rng, FAMILIES[family](rng), count)))
            shown.count = index + 1
    return cases


def write(path: Path, cases: Sequence[Case]) -> None:
    """Write all readings as one CSV file."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(mornings.COLUMNS)
        for index, case in enumerate(cases):
            table.writerows(mornings.rows_of(f"{case.family} {index}", case.family, case.stay))


def answers(path: Path) -> tuple[list[dict[str, Any]], float]:
    """Estimate the file as the command does, JSON text included; give the answers and the seconds."""
    with Progress("reading and estimating the file", "appliances") as shown:

        def note(done: int) -> None:
            shown.count = done

        began = time.perf_counter()
        text = json.dumps(estimate_json(read_estimate_csv(path), note))
        seconds = time.perf_counter() - began
    found: list[dict[str, Any]] = json.loads(text)["appliances"]
    return found, seconds


@dataclass(slots=True)
class Cell:
    """Tallies of one family at one number of readings."""

    inside: list[bool]
    inside_weeks: list[bool]
    plain_inside: list[bool]
    half_widths: list[float]
    factors: list[float]


def tally(cases: Sequence[Case], found: Sequence[dict[str, Any]]) -> dict[tuple[str, int], Cell]:
    """Hold each interval against the truth."""
    cells: dict[tuple[str, int], Cell] = {}
    for case, answer in zip(cases, found, strict=True):
        cell = cells.setdefault((case.family, case.readings), Cell([], [], [], [], []))
        daily, truth = answer["daily_kwh"], case.stay.long_run_kwh
        low, high = daily["low"], daily["high"]
        cell.inside.append(low <= truth <= high)
        cell.inside_weeks.append(low <= case.stay.weeks_kwh <= high)
        _, plain_low, plain_high = mornings.total_over_time(case.stay)
        cell.plain_inside.append(plain_low <= truth <= plain_high)
        cell.half_widths.append(50.0 * (high - low) / daily["median"])
        cell.factors.append(float(np.sqrt(high / low)))
    return cells


def report(cells: dict[tuple[str, int], Cell]) -> list[str]:
    """Lay the tallies out as tables, one a family, beside the figures the method reached before."""
    lines = [
        "coverage    share of the 95 % intervals that hold the average day of the present weeks",
        "28 d        the same for the average of the four weeks that begin with the first reading",
        "total/time  the same for energy over time with a normal interval from the spans' scatter",
        "± half      median of half the interval's width over its middle; factor: of √(high/low)",
        "before      ± half of the method when it was worked out, on other simulated appliances",
    ]
    for family in dict.fromkeys(family for family, _ in cells):
        lines += ["", family, "readings     n  coverage     28 d  total/time    ± half    before  factor"]
        for at, count in enumerate(COUNTS):
            if (family, count) in cells:
                lines.append(_line(cells[family, count], count, REACHED[family][at]))
    every = [inside for cell in cells.values() for inside in cell.inside]
    lowest = min(100.0 * np.mean(cell.inside) for cell in cells.values())
    wanted = f"wanted about {USUAL_COVERAGE[0]:.0f} to {USUAL_COVERAGE[1]:.0f}"
    least = f"wanted at least {LOWEST_COVERAGE:.0f}"
    lines += ["", f"all: coverage {100.0 * np.mean(every):.1f} % ({wanted}), lowest {lowest:.1f} % ({least})"]
    return lines


def _line(cell: Cell, count: int, reached: float) -> str:
    coverage, weeks, plain = (
        100.0 * float(np.mean(part)) for part in (cell.inside, cell.inside_weeks, cell.plain_inside)
    )
    half, factor = float(np.median(cell.half_widths)), float(np.median(cell.factors))
    return (
        f"{count:8d}  {len(cell.inside):4d}  {coverage:6.1f} %  {weeks:5.1f} %  {plain:8.1f} %"
        f"  {half:6.1f} %  {reached:6.1f} %  {factor:6.2f}"
    )


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the study and print its tables."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--appliances", type=int, default=5000)
    parser.add_argument("--families", nargs="+", choices=sorted(FAMILIES), default=list(DEFAULT_FAMILIES))
    parser.add_argument("--keep", type=Path, help="write the readings to this CSV file and leave it there")
    chosen = parser.parse_args(arguments)
    cases = simulate(chosen.families, chosen.appliances, chosen.seed)
    with tempfile.TemporaryDirectory() as folder:
        path = chosen.keep or Path(folder) / "readings.csv"
        write(path, cases)
        found, seconds = answers(path)
    print("\n".join(report(tally(cases, found))))
    print(f"\n{len(found)} appliances read, estimated and written as JSON in {seconds:.1f} s")
    return 0


if __name__ == "__main__":
    sys.exit(main())

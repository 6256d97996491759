"""Calibration study: what the estimates say, held against simulated appliances whose truth is known.

Simulated appliances of every kind (simulators.py) are read like a person reads (mornings.py), written
to CSV files and estimated through the very path of the `estimate` command. Five parts: `energy` (does
the 95 % interval hold the average day of the present weeks, and how wide is it), `stop` (is it still
held when the program says enough; days to go), `duty` (duty cycle), `uses` (energy of one use),
`doubts` (slips found, and series doubted for nothing). Targets stand at the end; * marks what is missed.

    python scripts/calibration.py --seed 11
    python scripts/calibration.py --part energy duty --families refrigerator --appliances 1000
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import calibration_doubts
import calibration_duty
import calibration_energy
import calibration_stop
import calibration_uses
from calibration_run import Errand, errands, processes_here, run
from calibration_tables import Target, at_most, targets_table
from simulators import FAMILIES

APPLIANCES = 300
"""Appliances of each family in the energy part; the other parts take a share of it."""

MOST_MS = 1.5


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the study: its work on an errand, how it tells what was found, its share of appliances."""

    task: str
    work: Callable[[Errand], list[Any]]
    report: Callable[[Sequence[Any]], tuple[list[str], list[Target]]]
    families: tuple[str, ...]
    share: float


PARTS = {
    "energy": Part("daily energy", calibration_energy.judge, calibration_energy.report, FAMILIES, 1.0),
    "stop": Part("the stopping rule", calibration_stop.watch, calibration_stop.report, FAMILIES, 0.5),
    "duty": Part(
        "duty cycles", calibration_duty.judge, calibration_duty.report, calibration_duty.FAMILIES, 1.5
    ),
    "uses": Part(
        "energy per use", calibration_uses.judge, calibration_uses.report, calibration_uses.FAMILIES, 1.5
    ),
    "doubts": Part("doubts", calibration_doubts.look, calibration_doubts.report, FAMILIES, 0.8),
}


def do(name: str, chosen: argparse.Namespace) -> list[Target]:
    """Do one part of the study, print its tables and give its targets."""
    part = PARTS[name]
    families = [family for family in part.families if family in chosen.families]
    if not families:
        return []
    appliances = max(round(part.share * chosen.appliances), 1)
    found = run(part.task, part.work, errands(name, families, appliances, chosen.seed), chosen.processes)
    lines, targets = part.report(found)
    print("\n".join(lines), flush=True)
    return [*targets, *(_speed(found) if name == "energy" else [])]


def _speed(found: Sequence[calibration_energy.Judged]) -> list[Target]:
    """Tell what one estimate takes, its doubts and JSON with it, in the mean over families and readings."""
    reading, estimating = (sum(one.milliseconds[at] for one in found) / max(len(found), 1) for at in range(2))
    print(f"\nProcessor time an estimate: {estimating:.2f} ms, and {reading:.2f} ms for reading its rows")
    return [at_most("processor time an estimate, doubts and JSON with it", estimating, MOST_MS, "ms")]


def _arguments(words: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--appliances", type=int, default=APPLIANCES, help="of each family; scales all parts")
    parser.add_argument("--families", nargs="+", choices=FAMILIES, default=list(FAMILIES))
    parser.add_argument("--part", nargs="+", choices=sorted(PARTS), default=list(PARTS))
    parser.add_argument("--processes", type=int, default=processes_here())
    chosen = parser.parse_args(words)
    if chosen.appliances < 1 or chosen.processes < 1 or chosen.seed < 0:
        parser.error("appliances and processes are at least one, a seed at least zero")
    return chosen


def main(words: Sequence[str] | None = None) -> int:
    """Run the study, print its tables, and last of all the targets beside what was found."""
    chosen = _arguments(words)
    began = time.monotonic()
    print(f"Calibration study, seed {chosen.seed}, {chosen.appliances} appliances of each family")
    targets = [target for name in PARTS if name in chosen.part for target in do(name, chosen)]
    print("\n".join(targets_table(targets)))
    print(f"\n{time.monotonic() - began:.0f} s on {chosen.processes} processes")
    return 0


if __name__ == "__main__":
    sys.exit(main())

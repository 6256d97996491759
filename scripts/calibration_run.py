"""How the study runs: appliances shared out over processes, readings through the path of `estimate`."""

from __future__ import annotations

import csv
import json
import os
import tempfile
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

import mornings
from hearthload.service.exchange.estimate_csv import read_estimate_csv
from hearthload.service.exchange.estimate_json import estimate_json
from progress import Progress
from simulators import FAMILIES, SIMULATORS, made_of
from simulators_base import Generator, Load

Answer = dict[str, Any]
Found = TypeVar("Found")

CHUNK = 20
"""Appliances that a process takes at a time: enough to be worth the way, few enough to share out evenly."""

MAX_PROCESSES = 8


@dataclass(frozen=True, slots=True)
class Errand:
    """A share of one part of the study: appliances `first` to `last` (not included) of a family."""

    part: str
    family: str
    first: int
    last: int
    seed: int

    def appliances(self) -> Iterable[tuple[int, Generator, str, Load]]:
        """Simulate each appliance: its number, its own generator, what it is, the load.

        The generator hangs on seed, part, family and number alone, so the figures do not depend on how
        the work is shared out.
        """
        part = int.from_bytes(self.part.encode(), "big")
        for index in range(self.first, self.last):
            rng = np.random.default_rng([self.seed, part, FAMILIES.index(self.family), index])
            made = made_of(self.family, index)
            yield index, rng, made, SIMULATORS[made](rng)


@dataclass(frozen=True, slots=True)
class Timed:
    """Answers of the command, with the processor seconds that reading and estimating took [s]."""

    answers: list[Answer]
    reading_s: float
    estimating_s: float


def estimated(series: Sequence[tuple[str, str, mornings.Stay]]) -> Timed:
    """Write (name, kind, stay) as a CSV file and take it through the `estimate` command's path to JSON.

    Processor time is told, not time by the clock: others may be at work on the machine.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "readings.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            table = csv.writer(file)
            table.writerow(mornings.COLUMNS)
            for name, kind, stay in series:
                table.writerows(mornings.rows_of(name, kind, stay))
        began = time.process_time()
        read = read_estimate_csv(path)
        estimating = time.process_time()
        text = json.dumps(estimate_json(read))
        over = time.process_time()
    answers: list[Answer] = json.loads(text)["appliances"]
    if [answer["appliance"] for answer in answers] != [name for name, _, _ in series]:
        raise RuntimeError("the answers are not those of the appliances asked about")
    return Timed(answers, estimating - began, over - estimating)


def errands(part: str, families: Sequence[str], appliances: int, seed: int) -> list[Errand]:
    """Share out a part of the study, family after family."""
    return [
        Errand(part, family, first, min(first + CHUNK, appliances), seed)
        for family in families
        for first in range(0, appliances, CHUNK)
    ]


def run(
    task: str, work: Callable[[Errand], list[Found]], errands: Sequence[Errand], processes: int
) -> list[Found]:
    """Do all errands on so many processes, with a line of progress; give what was found in their order."""
    found: dict[int, list[Found]] = {}
    with Progress(task, f"of {sum(each.last - each.first for each in errands)} appliances") as shown:
        if processes == 1:
            for at, errand in enumerate(errands):
                found[at] = work(errand)
                shown.count += errand.last - errand.first
        else:
            with ProcessPoolExecutor(processes) as pool:
                waiting = {pool.submit(work, errand): at for at, errand in enumerate(errands)}
                for done in as_completed(waiting):
                    at = waiting[done]
                    found[at] = done.result()
                    shown.count += errands[at].last - errands[at].first
    return [one for at in sorted(found) for one in found[at]]


def processes_here() -> int:
    """Give how many processes this machine has processors for."""
    return min(os.cpu_count() or 1, MAX_PROCESSES)

"""Times one estimate at 10, 20 and 30 readings, and `hearthload estimate` on a large table."""

from __future__ import annotations

import csv
import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path

from bench_results import Figure, median, percentile, print_json
from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.series import RunSeries, Series, Snapshot

MOST_ONE_MS = 1.5
MOST_TABLE_S = 15.0
READINGS = (10, 20, 30)
REPEATS = 20
APPLIANCES = 5000
FEWEST_READINGS, MOST_READINGS = 3, 21
FIRST = datetime(2025, 11, 3, 7, 30, tzinfo=timezone(timedelta(hours=1)))


def snapshots(rng: random.Random, readings: int, step_kwh: float = 0.01) -> Iterator[Snapshot]:
    """Give the readings of so many mornings, some skipped, of a load that varies from day to day."""
    energy_kwh, days, daily_kwh = 0.0, 0.0, rng.uniform(0.2, 3.0)
    for _ in range(readings):
        at = FIRST + timedelta(minutes=round(days * 1440.0))
        elapsed_h = round(days * 1440.0) / 60.0
        watts = rng.gauss(80.0, 3.0) if rng.random() < 0.2 else None
        yield Snapshot(at, round(energy_kwh // step_kwh * step_kwh, 2), elapsed_h, watts)
        gap = rng.choice((1.0, 1.0, 1.0, 1.0, 2.0)) + rng.gauss(0.0, 0.01)
        days += gap
        energy_kwh += gap * daily_kwh * rng.lognormvariate(0.0, 0.15)


def time_one_estimate() -> list[Figure]:
    """Time one estimate, every kind of appliance and number of readings in turn, each on its own series."""
    times: dict[int, list[float]] = {readings: [] for readings in READINGS}
    rng = random.Random(1)
    for _ in range(REPEATS):
        for kind in Kind:
            for readings in READINGS:
                series = Series(kind, (RunSeries(tuple(snapshots(rng, readings)), gain_percent=2.0),))
                began = time.perf_counter()
                estimate(series)
                times[readings].append(1000.0 * (time.perf_counter() - began))
    return [
        Figure(
            f"one estimate, {readings} readings",
            median(times[readings]),
            "ms",
            MOST_ONE_MS,
            f"p95 {percentile(times[readings], 0.95):.2f} ms over {len(times[readings])}",
        )
        for readings in READINGS
    ]


def time_table(appliances: int = APPLIANCES, rounds: int = 2) -> list[Figure]:
    """Time the command on a CSV of so many appliances, from process start to its end."""
    with tempfile.TemporaryDirectory() as folder:
        table = Path(folder) / "readings.csv"
        rows = write_table(table, appliances)
        seconds = [_run_estimate(table) for _ in range(rounds)]
    note = f"{rows} rows, {FEWEST_READINGS} to {MOST_READINGS} readings each; worst {max(seconds):.1f} s"
    return [Figure(f"estimate of {appliances} appliances", median(seconds), "s", MOST_TABLE_S, note)]


def write_table(path: Path, appliances: int) -> int:
    """Write a CSV of simulated appliances of every kind and give the number of its rows."""
    rng, kinds, rows = random.Random(2), list(Kind), 0
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(("appliance", "kind", "taken_at", "energy_kwh", "elapsed_h"))
        for number in range(appliances):
            name, kind = f"Appliance {number + 1}", kinds[number % len(kinds)]
            for snapshot in snapshots(rng, rng.randint(FEWEST_READINGS, MOST_READINGS)):
                elapsed_h = "" if snapshot.elapsed_h is None else f"{snapshot.elapsed_h:.2f}"
                taken_at, energy = snapshot.taken_at.isoformat(), f"{snapshot.energy_kwh:.2f}"
                writer.writerow((name, kind, taken_at, energy, elapsed_h))
                rows += 1
    return rows


def _run_estimate(table: Path) -> float:
    command = [sys.executable, "-P", "-m", "hearthload", "estimate", str(table), "--json"]
    began = time.monotonic()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=dict(os.environ))
    return time.monotonic() - began


if __name__ == "__main__":
    print_json([*time_one_estimate(), *time_table()])

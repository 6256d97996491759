"""Measures how fast Hearthload is and prints the figures beside their targets; run with the parts to measure.

Everything is measured in one run on one machine, what is compared in turn, so that the ratios hold where
the milliseconds do not. Each part is a process of its own, so that none weighs on another.
"""

from __future__ import annotations

import argparse
import importlib.util
import os
import subprocess
import sys
import time
from pathlib import Path

import environment
from bench_results import Figure, figures_of, print_table

PARTS = {
    "first-paint": "bench_first_paint.py",
    "saving": "bench_saving.py",
    "outage": "bench_outage.py",
    "estimates": "bench_estimates.py",
}
HERE = Path(__file__).resolve().parent


def run_bench() -> int:
    """Measure the parts asked for, all when none is; gives 1 when a target was missed."""
    parser = argparse.ArgumentParser(description="Measures how fast Hearthload is, against its targets.")
    parser.add_argument("--part", action="append", choices=PARTS, help="measure this part only")
    parts = parser.parse_args().part or list(PARTS)
    python = sys.executable
    if importlib.util.find_spec("hearthload") is None:
        python = str(environment.prepare(tests=False))
    figures = [figure for part in parts for figure in _measure(python, part)]
    print_table(figures)
    return 1 if any(figure.over for figure in figures) else 0


def _measure(python: str, part: str) -> list[Figure]:
    began = time.monotonic()
    environ = {
        **environment.clean_environ(),
        "QT_QPA_PLATFORM": os.environ.get("QT_QPA_PLATFORM", "offscreen"),
    }
    command = [python, str(HERE / PARTS[part])]
    done = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True, env=environ)
    print(f"Measured {part}: {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
    return figures_of(done.stdout.splitlines()[-1])


if __name__ == "__main__":
    sys.exit(environment.run_or_sentence(run_bench))

"""Times the demo's first paint and its readable roster against a bare Qt window with a table."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from bench_results import Figure, median, print_json

HERE = Path(__file__).resolve().parent
MOST_FIRST_PAINT = 1.8
MOST_READABLE = 2.2
ROUNDS = 9
TOO_LONG_S = 60.0
HOME_VARIABLES = (
    "HOME",
    "USERPROFILE",
    "XDG_DATA_HOME",
    "XDG_CONFIG_HOME",
    "XDG_STATE_HOME",
    "APPDATA",
    "LOCALAPPDATA",
)


def time_first_paint(rounds: int = ROUNDS) -> list[Figure]:
    """Start both windows in turn, several times, and compare the medians.

    The first pair warms up and writes the demo of the day into a new home, which the others open; what it
    takes is printed too.
    """
    empty: list[dict[str, float]] = []
    demo: list[dict[str, float]] = []
    heavy: set[str] = set()
    with tempfile.TemporaryDirectory() as home:
        for _ in range(rounds + 1):
            empty.append(_start("bench_child_empty.py", home)[0])
            moments, loaded = _start("bench_child_demo.py", home)
            demo.append(moments)
            heavy |= loaded
    bare = median([moments["first_paint"] for moments in empty[1:]])
    written = demo[0]["roster_readable"]
    shown, opened, readable = (
        median([moments[name] for moments in demo[1:]])
        for name in ("first_paint", "logbook_open", "roster_readable")
    )
    base = f"{bare:.0f} ms of a bare window"
    return [
        Figure("first paint of the demo", shown / bare, "×", MOST_FIRST_PAINT, f"{shown:.0f} ms to {base}"),
        Figure("roster readable", readable / bare, "×", MOST_READABLE, f"{readable:.0f} ms to {base}"),
        Figure("logbook open", opened / bare, "×", None, f"{opened:.0f} ms to {base}"),
        Figure(
            "roster readable, first start", written / bare, "×", None, f"{written:.0f} ms, the demo written"
        ),
        Figure("heavy packages at first paint", len(heavy), "", 0.0, ", ".join(sorted(heavy)) or "none"),
    ]


def _start(child: str, home: str) -> tuple[dict[str, float], set[str]]:
    """Run one child and give its moments [ms after process start] and the heavy packages it had loaded."""
    began_ns = time.monotonic_ns()
    done = subprocess.run(
        [sys.executable, str(HERE / child)],
        check=True,
        capture_output=True,
        text=True,
        timeout=TOO_LONG_S,
        env=_surroundings(home),
    )
    moments: dict[str, float] = {}
    heavy: set[str] = set()
    for what, said in (line.split(" ", 1) for line in done.stdout.splitlines()):
        if what == "heavy":
            heavy = set(said.split(",")) - {"-"}
        else:
            moments[what] = (int(said) - began_ns) / 1e6
    return moments, heavy


def _surroundings(folder: str) -> dict[str, str]:
    """Keep the person's own settings and logbook out of it; compiled modules are kept, as anywhere else."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return {**kept, "QT_QPA_PLATFORM": "offscreen", **dict.fromkeys(HOME_VARIABLES, folder)}


if __name__ == "__main__":
    print_json(time_first_paint())

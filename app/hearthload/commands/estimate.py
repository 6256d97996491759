"""`estimate`: estimates from a CSV file of readings; needs neither a logbook nor a window."""

from __future__ import annotations

import argparse
import json
import sys
import time
from pathlib import Path

from hearthload.service.exchange.estimate_csv import read_estimate_csv
from hearthload.service.exchange.estimate_json import estimate_json, estimate_lines

REPORT_EVERY_S = 0.5


class Counter:
    """Says on a terminal how many appliances of a long file are done."""

    def __init__(self, appliances: int) -> None:
        self._appliances = appliances
        self._shown = sys.stderr.isatty()
        self._last = time.monotonic()
        self._said = False

    def done(self, appliances: int) -> None:
        """Say how far it is, now and then."""
        now = time.monotonic()
        if self._shown and now - self._last >= REPORT_EVERY_S:
            print(f"\r{appliances} of {self._appliances} appliances ", end="", file=sys.stderr, flush=True)
            self._last, self._said = now, True

    def over(self) -> None:
        """Clear the line."""
        if self._said:
            print("\r" + " " * 40 + "\r", end="", file=sys.stderr, flush=True)


def run(options: argparse.Namespace) -> int:
    """Print the estimate of every appliance in the file."""
    rows = read_estimate_csv(Path(options.file))
    counter = Counter(len(rows))
    try:
        if options.json:
            answer = json.dumps(estimate_json(rows, counter.done), ensure_ascii=False, allow_nan=False)
        else:
            answer = "\n".join(estimate_lines(rows, counter.done))
    finally:
        counter.over()
    print(answer)
    return 0

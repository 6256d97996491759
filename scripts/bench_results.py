"""What a benchmark found: figures with their targets, and the table that shows them."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """One measured figure, in `unit`; `most` is the target it must not pass, None when it has none."""

    what: str
    measured: float
    unit: str
    most: float | None = None
    note: str = ""

    @property
    def over(self) -> bool:
        """Tell whether the target was missed."""
        return self.most is not None and self.measured > self.most


def median(values: Sequence[float]) -> float:
    """Give the middle value, the lower one of two."""
    return sorted(values)[(len(values) - 1) // 2]


def percentile(values: Sequence[float], share: float) -> float:
    """Give the smallest value that at least this share of all values does not pass."""
    return sorted(values)[max(math.ceil(share * len(values)) - 1, 0)]


def print_json(figures: Sequence[Figure]) -> None:
    """Print figures as the part's own process hands them to the whole."""
    print(json.dumps([asdict(figure) for figure in figures]))


def figures_of(printed: str) -> list[Figure]:
    """Read figures back from what a part printed."""
    return [Figure(**fields) for fields in json.loads(printed)]


def print_table(figures: Sequence[Figure]) -> None:
    """Print the figures under one another: what, measured, target, ok or over, note."""
    lines = [("what", "measured", "target", "", "note")]
    for figure in figures:
        target = "" if figure.most is None else f"{_short(figure.most)} {figure.unit}"
        verdict = "" if figure.most is None else "OVER" if figure.over else "ok"
        measured = f"{_short(figure.measured)} {figure.unit}"
        lines.append((figure.what, measured, target, verdict, figure.note))
    widths = [max(len(line[column]) for line in lines) for column in range(4)]
    for what, measured, target, verdict, note in lines:
        cells = (what.ljust(widths[0]), measured.rjust(widths[1]), target.rjust(widths[2]))
        print("  ".join((*cells, verdict.ljust(widths[3]), note)).rstrip())


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 100 or value == int(value) else f"{value:.2f}"

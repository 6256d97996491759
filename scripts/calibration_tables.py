"""Tables and targets of the study as plain text."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

MISSED = "*"


@dataclass(frozen=True, slots=True)
class Target:
    """What is wanted, what was found, and whether that is good enough; None where there were too few."""

    what: str
    found: str
    held: bool | None


def table(heading: str, columns: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """Lay rows out in even columns: the first to the left, figures to the right."""
    cells = [tuple(columns), *(tuple(row) for row in rows)]
    widths = [max(len(row[at]) for row in cells) for at in range(len(columns))]
    lines = ["", heading]
    for row in cells:
        first = row[0].ljust(widths[0])
        rest = (cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))
        lines.append("  ".join((first, *rest)).rstrip())
    return lines


def share(held: Sequence[bool] | np.ndarray[tuple[int], np.dtype[np.bool_]]) -> float:
    """Give the share of what is true [%]; not a number where there is nothing."""
    return 100.0 * float(np.mean(held)) if len(held) else float("nan")


def middle(values: Sequence[float]) -> float:
    """Give the median; not a number where there is nothing."""
    return float(np.median(values)) if len(values) else float("nan")


def figure(value: float, decimals: int = 1, *, missed: bool = False) -> str:
    """Print a figure, a mark behind it where its target is missed, a dash where there is none."""
    mark = MISSED if missed else " "
    return "-" + " " if value != value else f"{value:.{decimals}f}{mark}"  # noqa: PLR0124 - not a number


def between(what: str, value: float, low: float, high: float) -> Target:
    """Make a target of a figure that belongs between two others [%]."""
    wanted = f"{what}: {low:g} to {high:g} %"
    return Target(wanted, f"{value:.1f} %", None if np.isnan(value) else low <= value <= high)


def at_most(what: str, value: float, high: float, unit: str = "%") -> Target:
    """Make a target of a figure that belongs under another."""
    return Target(
        f"{what}: at most {high:g} {unit}", f"{value:.2f} {unit}", None if np.isnan(value) else value <= high
    )


def share_at_most(what: str, held: Sequence[bool], high: float) -> Target:
    """Make a target of a share that belongs under another [%], with its standard error √(p(1−p)/n)."""
    value = share(held)
    error = 100.0 * float(np.sqrt(value / 100.0 * (1.0 - value / 100.0) / max(len(held), 1)))
    wanted = f"{what}: at most {high:g} %"
    return Target(wanted, f"{value:.1f} ± {error:.1f} %", None if np.isnan(value) else value <= high)


def at_least(what: str, value: float, low: float, unit: str = "%") -> Target:
    """Make a target of a figure that belongs over another."""
    return Target(
        f"{what}: at least {low:g} {unit}", f"{value:.1f} {unit}", None if np.isnan(value) else value >= low
    )


def targets_table(targets: Sequence[Target]) -> list[str]:
    """Lay the targets out beside what was found."""
    words = {True: "held", False: f"MISSED {MISSED}", None: "too few to tell"}
    rows = [(each.what, each.found, words[each.held]) for each in targets]
    return table("Targets", ("wanted", "found", ""), rows)

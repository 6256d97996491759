"""Energy of one use, from uses counted between readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import mornings
from calibration_run import Errand, estimated
from calibration_tables import Target, between, figure, middle, share, table
from simulators import BY_THE_USE

FAMILIES = (*BY_THE_USE, "evening_electronics")
COUNTS = (4, 7, 14, 21)
COVERAGE = (93.0, 97.0)
BY_USES = ((3, 4), (5, 7), (8, 12), (13, 20), (21, 60), (61, 10**6))
REACHED = {(5, 7): 35.0, (8, 12): 27.0, (21, 60): 17.0}
"""Median half-widths that the method reached when it was worked out, by number of uses [%]."""


@dataclass(frozen=True, slots=True)
class Use:
    """One energy per use over the true mean [1], from so many uses."""

    family: str
    uses: int
    low: float
    value: float
    high: float


def judge(errand: Errand) -> list[Use]:
    """Simulate, read and count, and hold the energy of one use against the true mean."""
    made, series = [], []
    for index, rng, _, load in errand.appliances():
        whole = mornings.stay(rng, load, max(COUNTS), mornings.Way(uses=True))
        for count in COUNTS:
            stay = whole.first(count)
            made.append((load.use_kwh, sum(row.uses or 0 for row in stay.readings)))
            series.append((f"{index} after {count}", errand.family, stay))
    found = []
    for (truth, uses), answer in zip(made, estimated(series).answers, strict=True):
        each = answer["kwh_per_use"]
        if each is not None:
            ends = (each["low"] / truth, each["value"] / truth, each["high"] / truth)
            found.append(Use(errand.family, uses, *ends))
    return found


def report(found: Sequence[Use]) -> tuple[list[str], list[Target]]:
    """Lay out the table and hold the targets against it."""
    rows, targets = [], []
    for family in dict.fromkeys(one.family for one in found):
        for least, most in BY_USES:
            cell = [one for one in found if one.family == family and least <= one.uses <= most]
            if cell:
                rows.append(_row(family, (least, most), cell))
        every = share([one.low <= 1.0 <= one.high for one in found if one.family == family])
        targets.append(between(f"coverage of the energy of one use, {family}", every, *COVERAGE))
    columns = ("family", "uses", "n", "coverage", "± half", "before", "bias")
    heading = "Energy of one use, every use counted (± half: median of half the width over the figure [%])"
    return ["", *table(heading, columns, rows)[1:]], targets


def _row(family: str, uses: tuple[int, int], cell: Sequence[Use]) -> tuple[str, ...]:
    covered = share([one.low <= 1.0 <= one.high for one in cell])
    return (
        family,
        f"{uses[0]} to {uses[1]}" if uses[1] < 10**6 else f"over {uses[0] - 1}",
        str(len(cell)),
        figure(covered, missed=not COVERAGE[0] <= covered <= COVERAGE[1]),
        figure(middle([50.0 * (one.high - one.low) / one.value for one in cell])),
        figure(REACHED.get(uses, float("nan"))),
        figure(100.0 * (middle([one.value for one in cell]) - 1.0)),
    )

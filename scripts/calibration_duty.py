"""Duty cycle of refrigerators and freezers whose watts are noted at the readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import mornings
from calibration_run import Errand, estimated
from calibration_tables import Target, between, figure, middle, share, table

FAMILIES = ("refrigerator", "freezer")
COUNTS = (8, 14, 21)
LEAST_SPOTS = 3
COVERAGE = (93.0, 98.0)


@dataclass(frozen=True, slots=True)
class Share:
    """One duty cycle: interval and truth [1], whether a heater defrosts, how often it was seen running."""

    family: str
    readings: int
    heater: bool
    spots: int
    low: float
    value: float
    high: float
    truth: float


def judge(errand: Errand) -> list[Share]:
    """Simulate, read with watts, and hold the duty cycles against the compressor's true share of time."""
    made, series = [], []
    for index, rng, _, load in errand.appliances():
        whole = mornings.stay(rng, load, max(COUNTS), mornings.Way(spots=True))
        for count in COUNTS:
            made.append((count, load.cycles, whole))
            series.append((f"{index} after {count}", errand.family, whole.first(count)))
    found = []
    for (count, cycles, whole), answer in zip(made, estimated(series).answers, strict=True):
        duty = answer["duty_cycle"]
        if duty is None or cycles is None:
            continue
        spots = int(whole.running[:count].sum())
        ends = (duty["low"], duty["value"], duty["high"])
        heater = bool((cycles.heater_stops > cycles.heater_starts).any())
        found.append(Share(errand.family, count, heater, spots, *ends, cycles.duty))
    return found


EXPLAINED = f"""
Share of time that the compressor runs, its watts seen {LEAST_SPOTS} times or more. A defrost heater is a
third state: its energy counts as running time, so the figure is an equivalent share, above the compressor's.
± half  median half-width in percentage points; error: median of figure less truth, in points"""


def report(found: Sequence[Share]) -> tuple[list[str], list[Target]]:
    """Lay out the table and hold the targets against it."""
    seen = [one for one in found if one.spots >= LEAST_SPOTS]
    rows, groups = [], dict.fromkeys((one.family, one.heater, one.readings) for one in seen)
    for family, heater, count in sorted(groups):
        cell = [one for one in seen if (one.family, one.heater, one.readings) == (family, heater, count)]
        covered = share([one.low <= one.truth <= one.high for one in cell])
        rows.append(
            (
                family,
                "heater" if heater else "none",
                str(count),
                str(len(cell)),
                figure(covered, missed=not heater and not COVERAGE[0] <= covered <= COVERAGE[1]),
                figure(middle([50.0 * (one.high - one.low) for one in cell])),
                figure(100.0 * middle([one.value - one.truth for one in cell])),
            )
        )
    columns = ("family", "defrosting", "readings", "n", "coverage", "± half", "error")
    lines = ["", "Duty cycle", EXPLAINED.strip("\n"), *table("By family", columns, rows)]
    plain = [one for one in seen if not one.heater]
    targets = [
        between(
            f"duty coverage without heater, {count} readings",
            share([one.low <= one.truth <= one.high for one in plain if one.readings == count]),
            *COVERAGE,
        )
        for count in COUNTS
    ]
    return lines, targets

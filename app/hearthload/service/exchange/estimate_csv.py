"""Readings of many appliances from a CSV file, ready for the estimator."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from hearthload.domain.appliance import Kind
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.service.exchange import csv_cells
from hearthload.service.exchange.csv_cells import CellError, refused
from hearthload.service.exchange.csv_table import Row, read_table

WANTED = ("appliance", "kind", "taken_at", "energy_kwh")
OPTIONAL = (
    "elapsed_h",
    "power_w",
    "uses",
    "run",
    "energy_step_kwh",
    "elapsed_step_h",
    "gain_percent",
    "exact_start",
)

DEFAULT_ENERGY_STEP_KWH = 0.01
DEFAULT_ELAPSED_STEP_H = 1.0 / 60.0

Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Line:
    """One reading as it stands in the file; None where a cell is empty."""

    line: int
    taken_at: datetime
    has_offset: bool
    energy_kwh: float
    elapsed_h: float | None
    power_w: float | None
    uses: int | None
    run: int
    energy_step_kwh: float | None
    elapsed_step_h: float | None
    gain_percent: float | None
    exact_start: bool | None


@dataclass(slots=True)
class _Gathered:
    """What the file says of one appliance."""

    kind: Kind
    lines: list[Line] = field(default_factory=list)


def read_estimate_csv(path: Path) -> list[tuple[str, Series]]:
    """Read every appliance's readings from a file, in the order in which the appliances first appear.

    One row a reading, in any order; columns `WANTED` and, if there, `OPTIONAL`. Raises KnownError with
    line and column where something cannot be.
    """
    path = Path(path)
    found: dict[str, _Gathered] = {}
    for row in read_table(path, WANTED, WANTED + OPTIONAL):
        name = _needed(path.name, row, "appliance", str)
        kind = _needed(path.name, row, "kind", csv_cells.kind)
        gathered = found.setdefault(name, _Gathered(kind))
        if gathered.kind is not kind:
            why = f"this appliance was {gathered.kind} on line {gathered.lines[0].line}"
            raise refused(path.name, row.line, "kind", why)
        gathered.lines.append(_line(path.name, row))
    return [(name, _series(path.name, gathered)) for name, gathered in found.items()]


def _line(file: str, row: Row) -> Line:
    taken_at, has_offset = _needed(file, row, "taken_at", csv_cells.moment)
    return Line(
        row.line,
        taken_at,
        has_offset,
        _needed(file, row, "energy_kwh", csv_cells.number),
        _given(file, row, "elapsed_h", csv_cells.number),
        _given(file, row, "power_w", csv_cells.number),
        _given(file, row, "uses", csv_cells.whole),
        _given(file, row, "run", csv_cells.whole) or 0,
        _given(file, row, "energy_step_kwh", csv_cells.step),
        _given(file, row, "elapsed_step_h", csv_cells.step),
        _given(file, row, "gain_percent", csv_cells.percent),
        _given(file, row, "exact_start", csv_cells.yes_or_no),
    )


def _given(file: str, row: Row, column: str, read: Callable[[str], Value]) -> Value | None:
    text = row.cells.get(column, "")
    if not text:
        return None
    try:
        return read(text)
    except CellError as error:
        raise refused(file, row.line, column, str(error)) from None


def _needed(file: str, row: Row, column: str, read: Callable[[str], Value]) -> Value:
    value = _given(file, row, column, read)
    if value is None:
        raise refused(file, row.line, column, "nothing is given, and it is needed")
    return value


def _series(file: str, gathered: _Gathered) -> Series:
    _check_offsets(file, gathered.lines)
    runs: dict[int, list[Line]] = {}
    for line in gathered.lines:
        runs.setdefault(line.run, []).append(line)
    in_order = [sorted(runs[number], key=_order) for number in sorted(runs)]
    for earlier, later in pairwise(in_order):
        if later[0].taken_at < earlier[-1].taken_at:
            why = f"run {later[0].run} begins before the last reading of run {earlier[-1].run}"
            raise refused(file, later[0].line, "taken_at", f"{why} (line {earlier[-1].line})")
    return Series(gathered.kind, tuple(_run(file, lines) for lines in in_order))


def _order(line: Line) -> tuple[datetime, float, float]:
    return line.taken_at, line.energy_kwh, -1.0 if line.elapsed_h is None else line.elapsed_h


def _check_offsets(file: str, lines: Sequence[Line]) -> None:
    """Refuse times with and without offset side by side: nobody can say how far apart they are."""
    first = lines[0]
    for line in lines:
        if line.has_offset is not first.has_offset:
            has, had = ("an", "none") if line.has_offset else ("no", "one")
            why = f"the time has {has} offset from UTC, but line {first.line} of the same appliance has {had}"
            raise refused(file, line.line, "taken_at", why)


def _of_run(file: str, lines: Sequence[Line], column: str) -> float | None:
    """Give what a run's rows say of its meter: one value, or nothing."""
    found: Line | None = None
    for line in lines:
        value = getattr(line, column)
        if value is None:
            continue
        if found is not None and value != getattr(found, column):
            why = f"{value:g} here, but {getattr(found, column):g} on line {found.line} of the same run"
            raise refused(file, line.line, column, why)
        found = found or line
    return None if found is None else float(getattr(found, column))


def _exact_start(file: str, lines: Sequence[Line]) -> bool:
    """Tell whether a run begins at an exact zero, by its first row or, where that says nothing, by any."""
    first = lines[0]
    said = next((line for line in lines if line.exact_start), None)
    if said is None:
        return False
    if first.exact_start is False:
        raise refused(
            file, said.line, "exact_start", f"1 here, but 0 on line {first.line}, where the run begins"
        )
    if first.energy_kwh != 0.0:
        why = f"the run begins on line {first.line} with {first.energy_kwh:g} kWh, which is not an exact zero"
        raise refused(file, said.line, "exact_start", why)
    return True


def _run(file: str, lines: Sequence[Line]) -> RunSeries:
    return RunSeries(
        tuple(
            Snapshot(line.taken_at, line.energy_kwh, line.elapsed_h, line.power_w, None, line.uses)
            for line in lines
        ),
        energy_step_kwh=_of_run(file, lines, "energy_step_kwh") or DEFAULT_ENERGY_STEP_KWH,
        elapsed_step_h=_of_run(file, lines, "elapsed_step_h") or DEFAULT_ELAPSED_STEP_H,
        gain_percent=_of_run(file, lines, "gain_percent"),
        exact_start=_exact_start(file, lines),
    )

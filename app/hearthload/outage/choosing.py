"""The integer program behind what to leave off: greatest value within energy, running and starting limits."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthload.outage.answers import LoadLine
from hearthload.outage.needs import (
    expected_kwh,
    few_days_kwh,
    gains_kwh,
    hours_kwh,
    margin_of,
    random_u_kwh,
    standing_va,
    standing_w,
    start_excess_va,
)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Problem:
    """Loads that are on in any case, loads to choose from with their values, and the four limits.

    `limits`: energy [kWh], running [W], running [VA], start [VA]; None is no limit.
    """

    fixed: tuple[LoadLine, ...]
    open: tuple[LoadLine, ...]
    values: tuple[int, ...]
    limits: tuple[float | None, float | None, float | None, float | None]
    days: float
    confidence: float


@dataclass(frozen=True, slots=True)
class Row:
    """One linear constraint, coefficients·(x, m) ≤ limit, with m the margin for few measured days [kWh]."""

    coefficients: Floats
    limit: float


def values_of(ranks: Sequence[int]) -> tuple[int, ...]:
    """Give each load's value N − p + 1, p its place by rank; one rank is one place, rank 0 the last."""
    order = sorted({math.inf if rank <= 0 else rank for rank in ranks})
    place = {rank: 1 + sum(_key(other) < rank for other in ranks) for rank in order}
    return tuple(len(ranks) - place[_key(rank)] + 1 for rank in ranks)


def _key(rank: int) -> float:
    return math.inf if rank <= 0 else rank


def best_choice(problem: Problem, fits: Callable[[Sequence[LoadLine]], bool]) -> tuple[int, ...]:
    """Give the places among the open loads of the best set; with equal values the one with more loads.

    The margin z·‖v(x)‖ is convex in x, so each candidate that passes the energy limit is cut off by the
    tangent there, which no set that fits can violate; candidates are finite in number. `fits` has the last
    word with the exact need, and what passes it by less than the solver's tolerance is excluded by itself.
    """
    rows = _power_rows(problem) + _margin_rows(problem)
    if problem.limits[0] is not None:
        rows.append(_energy_row(problem, np.zeros(len(problem.open))))
    tried = set[tuple[int, ...]]()
    while True:
        places = _solved(problem, rows)
        on = np.zeros(len(problem.open))
        on[list(places)] = 1.0
        if fits([*problem.fixed, *(problem.open[place] for place in places)]):
            return places
        if problem.limits[0] is not None and places not in tried:
            rows.append(_energy_row(problem, on))
        else:
            rows.append(_excluding(on))
        tried.add(places)


def _solved(problem: Problem, rows: Sequence[Row]) -> tuple[int, ...]:
    """Maximise Σ (value·(N + 1) + 1)·x over whole numbers x of 0 and 1, and a margin m ≥ 0."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415 (slow to load)

    n = len(problem.open)
    worth = [-float(value * (n + 1) + 1) for value in problem.values]
    bounds = Bounds(np.zeros(n + 1), np.append(np.ones(n), np.inf))
    constraints = []
    if rows:
        matrix = np.array([row.coefficients for row in rows])
        constraints = [LinearConstraint(matrix, -np.inf, np.array([row.limit for row in rows]))]
    found = milp(
        [*worth, 0.0],
        integrality=np.append(np.ones(n), 0.0),
        bounds=bounds,
        constraints=constraints,
        options={"mip_rel_gap": 0.0},
    )
    if found.x is None:
        raise ArithmeticError(f"no choice of loads was found: {found.message}")
    return tuple(place for place in range(n) if found.x[place] > 0.5)


def _row(each: Sequence[float], fixed: float, limit: float, margin: float = 0.0) -> Row:
    """Set Σ each·x + margin·m ≤ limit − fixed, on the scale of the limit."""
    scale = max(abs(limit), 1e-9)
    return Row(np.append(np.array(each, dtype=np.float64), margin) / scale, (limit - fixed) / scale)


def _power_rows(problem: Problem) -> list[Row]:
    """Give running W and VA, and one row for each load j whose start counts: Σ S_i·x_i + ΔS_j·x_j ≤ limit."""
    _, limit_w, limit_va, limit_start = problem.limits
    each_va = [standing_va(line) for line in problem.open]
    fixed_va = sum(standing_va(line) for line in problem.fixed)
    rows = []
    if limit_w is not None:
        fixed_w = sum(standing_w(line) for line in problem.fixed)
        rows.append(_row([standing_w(line) for line in problem.open], fixed_w, limit_w))
    if limit_va is not None:
        rows.append(_row(each_va, fixed_va, limit_va))
    if limit_start is None:
        return rows
    worst = max((start_excess_va(line) for line in problem.fixed), default=0.0)
    rows.append(_row(each_va, fixed_va + worst, limit_start))
    for place, line in enumerate(problem.open):
        with_start = list(each_va)
        with_start[place] += start_excess_va(line)
        rows.append(_row(with_start, fixed_va, limit_start))
    return rows


def _margin_rows(problem: Problem) -> list[Row]:
    """Hold m at or above what each load's few measured days ask for: (t − z)·u_i·x_i ≤ m."""
    if problem.limits[0] is None:
        return []
    n = len(problem.open)

    def asked(line: LoadLine) -> float:
        return few_days_kwh(line, problem.days, problem.confidence)

    rows = [Row(np.append(np.zeros(n), -1.0), -max(map(asked, problem.fixed), default=0.0))]
    for place, line in enumerate(problem.open):
        coefficients = np.append(np.zeros(n), -1.0)
        coefficients[place] = asked(line)
        rows.append(Row(coefficients, 0.0))
    return rows


def _energy_row(problem: Problem, on: Floats) -> Row:
    """Give d·Σe·x + z·tangent(x) + m ≤ limit, the tangent of ‖v‖ at `on`; v is linear in x.

    v has a part u_i·x_i for each load and one Σ_i g_i·x_i for each meter, the fixed loads' included; the
    tangent of a norm is v(on)·v(x)/‖v(on)‖ ≤ ‖v(x)‖.
    """
    days = problem.days
    chosen = [*problem.fixed, *(line for line, x in zip(problem.open, on, strict=True) if x > 0.5)]
    margin = margin_of(chosen, days, problem.confidence)
    meters = gains_kwh(chosen, days)
    slope = margin.z / margin.u_kwh if margin.u_kwh > 0.0 else 0.0

    def tangent(line: LoadLine, x: float) -> float:
        shared = meters.get(line.meter, 0.0) * days * line.gain_u_kwh
        return slope * (random_u_kwh(line, days) ** 2 * x + shared)

    def told(line: LoadLine) -> float:
        return expected_kwh(line, days) + hours_kwh(line, days)

    each = [told(line) + tangent(line, float(x)) for line, x in zip(problem.open, on, strict=True)]
    fixed = sum(told(line) + tangent(line, 1.0) for line in problem.fixed)
    limit = problem.limits[0] if problem.limits[0] is not None else math.inf
    return _row(each, fixed, limit, margin=1.0)


def _excluding(on: Floats) -> Row:
    """Exclude one choice alone: Σ_on (1 − x) + Σ_off x ≥ 1."""
    return Row(np.append(np.where(on > 0.5, 1.0, -1.0), 0.0), float(on.sum()) - 1.0)

"""What to leave off: the wanted loads of greatest value that fit beside the essential ones, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hearthload.domain.appliance import Role
from hearthload.outage.answers import LimitCode, LoadLine
from hearthload.outage.choosing import Problem, best_choice, values_of
from hearthload.outage.needs import (
    expected_kwh,
    margin_of,
    standing_va,
    standing_w,
    start_excess_va,
)


@dataclass(frozen=True, slots=True)
class Limits:
    """What there is: energy for the outage [kWh], running W and VA, VA at a start; None is no limit."""

    energy_kwh: float | None = None
    running_w: float | None = None
    running_va: float | None = None
    start_va: float | None = None


@dataclass(frozen=True, slots=True)
class Breach:
    """A limit that a set of loads would pass: what it needs, what there is, in `unit`."""

    code: LimitCode
    needed: float
    offered: float
    unit: str

    @property
    def over(self) -> float:
        """Give by how much it is passed, in `unit`."""
        return self.needed - self.offered


@dataclass(frozen=True, slots=True)
class LeftOff:
    """A wanted load that is left off: `index` among the lines, and the limits that it would break if added.

    `not_known`: it cannot be placed, its energy or watts are not known. Where essential loads alone do not
    fit, wanted loads are left off for that alone and have no breaches of their own.
    """

    index: int
    name: str
    breaches: tuple[Breach, ...]
    not_known: bool


@dataclass(frozen=True, slots=True)
class LeaveOff:
    """What is kept on and what is left off, by index among the lines.

    `essentials_break` says which limits the essential loads alone pass; then no wanted load is kept, and of
    the essential ones those that fit.
    `shed_order` is the order in which to switch off what is kept as energy runs down.
    """

    kept: tuple[int, ...]
    left_off: tuple[LeftOff, ...]
    essentials_break: tuple[Breach, ...]
    shed_order: tuple[int, ...]
    not_known: tuple[str, ...]


_SLACK = 1e-9
"""Relative amount by which a limit may be passed: rounding."""


def what_to_leave_off(lines: Sequence[LoadLine], limits: Limits, days: float, confidence: float) -> LeaveOff:
    """Choose what stays on: all essential loads, then the set of wanted ones of greatest value that fits.

    Exact, an integer program. A wanted load is worth N − p + 1, with p its place among the N wanted ones by
    rank, those of one rank sharing a place and rank 0 coming last; so two loads of middle rank may outweigh
    one of the first. Of sets of equal value the one with more loads is taken. Energy counts with its margin
    at the plan's confidence, running power with all on together, starts one at a time. Where the essential
    loads alone do not fit, the most of them that do are kept, medical ones before any number of others.
    """
    essential = [i for i, line in enumerate(lines) if line.load.role is Role.ESSENTIAL]
    wanted = [i for i, line in enumerate(lines) if line.load.role is Role.WANTED]
    unknown = {i for i in (*essential, *wanted) if _lacks(lines[i], limits)}
    broken = breaches([lines[i] for i in essential], limits, days, confidence)
    fixed, choice = ((), essential) if broken else (tuple(essential), wanted)
    open_to_choice = [i for i in choice if i not in unknown]
    ranks = [lines[i].load.rank for i in open_to_choice]
    values = _medical_first([lines[i] for i in open_to_choice]) if broken else values_of(ranks)
    problem = Problem(
        tuple(lines[i] for i in fixed),
        tuple(lines[i] for i in open_to_choice),
        values,
        (limits.energy_kwh, limits.running_w, limits.running_va, limits.start_va),
        days,
        confidence,
    )
    places = best_choice(problem, lambda on: not breaches(on, limits, days, confidence)) if values else ()
    kept = tuple(sorted((*fixed, *(open_to_choice[place] for place in places))))

    def without_room(i: int) -> LeftOff:
        with_it = [lines[place] for place in (*kept, i)]
        told = i not in unknown and not (broken and i in wanted)
        return LeftOff(
            i,
            lines[i].load.name,
            breaches(with_it, limits, days, confidence) if told else (),
            i in unknown,
        )

    left = tuple(without_room(i) for i in (*essential, *wanted) if i not in kept)
    order = tuple(sorted(kept, key=lambda i: _shed_key(lines[i], i)))
    return LeaveOff(kept, left, broken, order, tuple(lines[i].load.name for i in sorted(unknown)))


def _medical_first(lines: Sequence[LoadLine]) -> tuple[int, ...]:
    """Give each essential load's value: a medical one is worth more than all that are not."""
    others = sum(not line.load.medical for line in lines)
    return tuple(others + 1 if line.load.medical else 1 for line in lines)


def _lacks(line: LoadLine, limits: Limits) -> bool:
    power = (limits.running_w, limits.running_va, limits.start_va)
    no_watts = line.running_w is None and any(limit is not None for limit in power)
    return no_watts or (line.daily is None and limits.energy_kwh is not None)


def breaches(lines: Sequence[LoadLine], limits: Limits, days: float, confidence: float) -> tuple[Breach, ...]:
    """Give the limits that these loads together pass, with what they need."""
    running_va = sum(standing_va(line) for line in lines)
    energy = sum(expected_kwh(line, days) for line in lines) + margin_of(lines, days, confidence).kwh
    start = running_va + max((start_excess_va(line) for line in lines), default=0.0)
    rows = (
        (LimitCode.ENERGY, energy, limits.energy_kwh, "kWh"),
        (LimitCode.RUNNING_W, sum(standing_w(line) for line in lines), limits.running_w, "W"),
        (LimitCode.RUNNING_VA, running_va, limits.running_va, "VA"),
        (LimitCode.START_VA, start, limits.start_va, "VA"),
    )
    return tuple(
        Breach(code, needed, offered, unit)
        for code, needed, offered, unit in rows
        if offered is not None and needed > offered + _SLACK * max(abs(offered), 1.0)
    )


def _shed_key(line: LoadLine, index: int) -> tuple[int, float, float, int]:
    """Order for switching off: wanted, essential, medical; in each the last ranked, then most energy."""
    load = line.load
    tier = 2 if load.medical else int(load.role is Role.ESSENTIAL)
    rank = float("inf") if load.rank <= 0 else float(load.rank)
    return tier, -rank, -expected_kwh(line, 1.0), index

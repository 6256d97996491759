"""The arithmetic of a figure: named steps that the window, the sheet and the command line all show alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Input:
    """One quantity that goes into a step: what it is, its symbol in the equation, its value and unit."""

    name: str
    symbol: str
    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class Step:
    """One line of arithmetic.

    `quantity` is what comes out, in the trade's words; `equation` in symbols; `value` in `unit`, unrounded.
    `source` says where equation and constants come from; `typical`: some constant in it is common practice
    and was not checked against a standard.
    """

    quantity: str
    equation: str
    inputs: tuple[Input, ...]
    value: float
    unit: str
    source: str
    typical: bool


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its 95 % ends and the steps it came about by; ends are None where there is no interval."""

    value: float
    low: float | None
    high: float | None
    unit: str
    steps: tuple[Step, ...]


def chained(*parts: Iterable[Step]) -> tuple[Step, ...]:
    """Join the steps of several figures in order, each line once.

    Lines are the same where quantity, equation, value and unit are: what is worked out anew from the same
    inputs is the same line.
    """
    seen: dict[tuple[str, str, float, str], Step] = {}
    for part in parts:
        for step in part:
            seen.setdefault((step.quantity, step.equation, step.value, step.unit), step)
    return tuple(seen.values())

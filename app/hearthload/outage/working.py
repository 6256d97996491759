"""Writes down the arithmetic of the supply side: steps whose constants are facts, figures made of steps."""

from __future__ import annotations

from dataclasses import dataclass

from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step


@dataclass(frozen=True, slots=True)
class Term:
    """A fact that goes into a step: its key and the symbol it has in the equation."""

    key: str
    symbol: str


def worked(
    facts: Facts,
    quantity: str,
    equation: str,
    value: float,
    unit: str,
    *inputs: Input | Term,
    source: str = "",
) -> Step:
    """Write down one step; facts among its inputs bring their sources and say whether they are checked."""
    keys = [part.key for part in inputs if isinstance(part, Term)]
    sources = dict.fromkeys([*([source] if source else []), *(facts.source(key) for key in keys)])
    return Step(
        quantity,
        equation,
        tuple(part if isinstance(part, Input) else _input(facts, part) for part in inputs),
        value,
        unit,
        "; ".join(sources) or "arithmetic",
        facts.typical(*keys),
    )


def _input(facts: Facts, term: Term) -> Input:
    fact = facts.fact(term.key)
    return Input(fact.name, term.symbol, facts[term.key], fact.unit)


def of_steps(*steps: Step, low: float | None = None, high: float | None = None) -> Figure:
    """Make a figure of the last step's value, with all the steps it came about by."""
    return Figure(steps[-1].value, low, high, steps[-1].unit, steps)

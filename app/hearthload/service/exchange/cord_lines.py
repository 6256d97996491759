"""A cord's check as JSON for machines and as lines for people."""

from __future__ import annotations

from typing import Any

from hearthload.domain.figures import format_number
from hearthload.outage.answers import Outcome
from hearthload.outage.cable import CordAnswer
from hearthload.outage.steps import Figure, Step, chained
from hearthload.service.exchange.outage_json import finite, step_json
from hearthload.service.exchange.outage_lines import caution_lines, pairs, wrapped
from hearthload.service.outage_words import NOT_CHECKED, OUTCOME_WORDS, amount_words, step_words

CAUTION = (
    "The currents hold for flexible cords of two loaded cores, uncoiled, at 30 °C. Local codes and what is "
    "printed on the cord come first; a cord that grows warm is overloaded."
)


def cord_json(answer: CordAnswer) -> dict[str, Any]:
    """Give a cord's check as plain values; drops are shares of the supply's voltage, lengths one way."""
    said: dict[str, Any] = finite(
        {
            "gauge": answer.gauge.key,
            "gauge_name": answer.gauge.name,
            "running_drop": answer.running_drop.value,
            "starting_drop": _value(answer.starting_drop),
            "current_a": _current_a(answer.running_drop),
            "starting_current_a": None if answer.starting_drop is None else _current_a(answer.starting_drop),
            "most_a": _value(answer.carries_a),
            "longest_m": answer.longest_m.value,
            "smallest": None if answer.smallest is None else answer.smallest.key,
            "outcome": answer.outcome.value,
            "missing": answer.missing,
            "steps": [step_json(step) for step in _steps(answer)],
        }
    )
    return said


def cord_lines(answer: CordAnswer, *, steps: bool = False) -> list[str]:
    """Print a cord's check, with the arithmetic where it is asked for."""
    rows = [
        ("Current running", amount_words(_current_a(answer.running_drop), "A")),
        ("Most current of the cord", _most(answer)),
        ("Voltage drop running", _drop(answer, answer.running_drop, "running")),
    ]
    if answer.starting_drop is not None:
        rows.append(("Voltage drop starting", _drop(answer, answer.starting_drop, "starting")))
    smallest = "none in the tables" if answer.smallest is None else answer.smallest.name
    if answer.thickest is not None and answer.thickest_longest_m is not None:
        smallest += f"; {answer.thickest.name} for {amount_words(answer.thickest_longest_m.value, 'm')}"
    rows += [
        ("Longest one way", amount_words(answer.longest_m.value, "m")),
        ("Smallest wire that does", smallest),
    ]
    lines = [f"{answer.gauge.name}: {_outcome(answer)}", "", *pairs(rows)]
    if steps:
        lines += ["", "The arithmetic"]
        lines += [
            line for step in _steps(answer) for line in wrapped(step_words(step), indent="    ", first="  ")
        ]
    return [*lines, "", *caution_lines([CAUTION])]


def _most(answer: CordAnswer) -> str:
    if answer.carries_a is None:
        return "not in the tables of cords"
    checked = f" ({NOT_CHECKED})" if answer.gauge.cord_typical else ""
    return f"{amount_words(answer.carries_a.value, 'A')}{checked}"


def _drop(answer: CordAnswer, drop: Figure, when: str) -> str:
    """Print a drop beside the most that it may be, which the longest length was worked out from."""
    step = next(step for step in answer.longest_m.steps if step.quantity.endswith(f"drop {when}"))
    most = next(each.value for each in step.inputs if each.symbol == "d")
    return f"{format_number(100.0 * drop.value)} %, at most {100.0 * most:g} %"


def _outcome(answer: CordAnswer) -> str:
    said = OUTCOME_WORDS[answer.outcome]
    return f"{said}: look up {answer.missing}" if answer.outcome is Outcome.NOT_KNOWN else said


def _current_a(drop: Figure) -> float:
    """Give the current that a drop was worked out for [A]."""
    return next(each.value for each in drop.steps[-1].inputs if each.symbol == "I")


def _value(figure: Figure | None) -> float | None:
    return None if figure is None else figure.value


def _steps(answer: CordAnswer) -> tuple[Step, ...]:
    figures = (answer.running_drop, answer.starting_drop, answer.carries_a, answer.longest_m)
    return chained(*(figure.steps for figure in figures if figure is not None))

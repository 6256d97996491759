"""One way to run a generator as rows of figures: fuel, one filling of its tank, containers, oil changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from hearthload.domain.figures import format_hours, format_percent
from hearthload.domain.supply import Fuel
from hearthload.outage.steps import Figure, chained
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.outage_words import (
    NOT_KNOWN,
    exact_text,
    hours_in,
    is_short,
    number_text,
    short_number,
)

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer


class Running(Protocol):
    """One way to run a generator, as the answer has it."""

    @property
    def hours_a_day(self) -> Figure: ...  # noqa: D102
    @property
    def load_share(self) -> Figure: ...  # noqa: D102
    @property
    def litres_per_hour(self) -> Figure: ...  # noqa: D102
    @property
    def litres(self) -> Figure: ...  # noqa: D102
    @property
    def containers(self) -> int: ...  # noqa: D102
    @property
    def refuel_h(self) -> Figure | None: ...  # noqa: D102
    @property
    def oil_changes(self) -> int: ...  # noqa: D102
    @property
    def possible(self) -> bool: ...  # noqa: D102
    @property
    def why_not(self) -> str: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class Way:
    """What the rows of one way have in common: the beginning of their keys, its name, fuel, and a lead."""

    key: str
    name: str
    fuel: Fuel
    lead: str


def running_rows(way: Way, running: Running, answer: PlanAnswer) -> Iterator[FigureRow]:
    """Give the rows of one way to run a generator; one row only where there are too few hours for it."""
    hours, litres = running.hours_a_day, running.litres
    if not running.possible:
        few = f"{'this outage' if is_short(answer.plan) else 'a day'} has too few hours for it"
        few = running.why_not if "charged" in running.why_not else few
        yield FigureRow(way.key, f"Fuel, {way.name}", ("not possible",), "", few, hours.steps, way.lead)
        return
    steps = chained(hours.steps, running.load_share.steps, running.litres_per_hour.steps, litres.steps)
    yield FigureRow(
        way.key, f"Fuel, {way.name}", (number_text(litres.value, "L"),), "L", runs_words(running, answer),
        steps, way.lead, litres.value, exact=(exact_text(litres),),
    )  # fmt: skip
    yield _filling(way, running)
    yield _containers(way, running, answer)
    yield _oil(way, running, answer)


def runs_words(running: Running, answer: PlanAnswer) -> str:
    """Say for how long it runs and how hard: "3 h a day at 80 % of rating"."""
    hours_h = hours_in(running.hours_a_day.value, answer.plan)
    hours = format_hours(hours_h if is_short(answer.plan) else round(hours_h, 1))
    span = "in this outage" if is_short(answer.plan) else "a day"
    return f"{hours} {span} at {format_percent(running.load_share.value)} of rating"


def _filling(way: Way, running: Running) -> FigureRow:
    """Say for how long one filling lasts, or how to find it where the tank is not known."""
    rate, lasts = running.litres_per_hour, running.refuel_h
    if lasts is None:
        below = f"its tank's litres ÷ {number_text(rate.value, 'L/h')} L an hour"
        return FigureRow(
            f"{way.key} filling", f"One filling, {way.name}", (NOT_KNOWN,), "", below,
            rate.steps, way.lead, rate.value,
        )  # fmt: skip
    below = f"at {number_text(rate.value, 'L/h')} L an hour"
    return FigureRow(
        f"{way.key} filling", f"One filling, {way.name}", (number_text(lasts.value, "h"),), "h", below,
        chained(rate.steps, lasts.steps), way.lead, lasts.value, exact=(exact_text(lasts),),
    )  # fmt: skip


def _containers(way: Way, running: Running, answer: PlanAnswer) -> FigureRow:
    gas = way.fuel is Fuel.PROPANE
    each = _fact(answer, "generator_cylinder_l" if gas else "generator_container_l")
    return FigureRow(
        f"{way.key} containers", f"{'Cylinders' if gas else 'Containers'}, {way.name}",
        (str(running.containers),), "", f"of {short_number(each)} L each, for the whole outage",
        running.litres.steps, way.lead, running.litres.value,
    )  # fmt: skip


def _oil(way: Way, running: Running, answer: PlanAnswer) -> FigureRow:
    first, between = (_fact(answer, name) for name in ("generator_first_oil_h", "generator_oil_h"))
    return FigureRow(
        f"{way.key} oil", f"Oil changes, {way.name}", (str(running.oil_changes),), "",
        f"first after {short_number(first)} h, then every {short_number(between)} h",
        running.hours_a_day.steps, way.lead, running.hours_a_day.value,
    )  # fmt: skip


def _fact(answer: PlanAnswer, key: str) -> float:
    return next(row.value for row in answer.facts if row.fact.key == key)

"""Amps on the way to an appliance: meter, plug, socket, cord, outlet; the weakest of them governs."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.plugs import PLUGS
from hearthload.outage.answers import LoadLine
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step, chained


class Element(StrEnum):
    """What the current goes through."""

    METER = "meter"
    PLUG = "plug"
    SOCKET = "socket"
    CORD = "cord"
    OUTLET = "outlet"


@dataclass(frozen=True, slots=True)
class Rating:
    """An element's rating: what it is, its name for the reader, its amps [A], None where not known."""

    element: Element
    name: str
    amps: float | None


@dataclass(frozen=True, slots=True)
class CircuitCheck:
    """A load's running current against the weakest element.

    `needed_a` [A] for one appliance with its steps, None where watts or volts are not known; `allowed_a` of
    the weakest known element, already cut for a long run; `fits` None where either is missing. `not_rated`
    are the elements whose amps are not known: they are not checked.
    """

    load: str
    element: Element | None
    element_name: str
    needed_a: Figure | None
    allowed_a: Figure | None
    long_run: bool
    fits: bool | None
    not_rated: tuple[str, ...]

    @property
    def steps(self) -> tuple[Step, ...]:
        """Give the whole arithmetic."""
        parts = (figure.steps for figure in (self.needed_a, self.allowed_a) if figure is not None)
        return chained(*parts)


def circuit_check(
    line: LoadLine, ratings: Iterable[Rating], facts: Facts, voltage_v: float | None = None
) -> CircuitCheck:
    """Hold one appliance's running amps against the weakest of its plug and the elements given.

    I = S/V with the load's own volts, else those of the supply, else its plug's nominal ones. Of a run of
    three hours or more an element may carry 80 % of its rating: NEC Art. 100, 210.20(A), Table 210.21(B)(2);
    elsewhere the same is held to, since plugs near their rating grow hot.
    """
    elements = [*_plug(line), *ratings]
    rated = [(rating, rating.amps) for rating in elements if rating.amps is not None]
    not_rated = tuple(rating.name for rating in elements if rating.amps is None)
    long_run = line.run_h >= facts["long_run_h"]
    needed = _needed(line, voltage_v)
    if not rated:
        return CircuitCheck(line.load.name, None, "", needed, None, long_run, None, not_rated)
    weakest, amps = min(rated, key=lambda pair: pair[1])
    allowed = _allowed(line, weakest, amps, facts, long_run=long_run)
    fits = None if needed is None else needed.value <= allowed.value * (1.0 + 1e-9)
    return CircuitCheck(
        line.load.name, weakest.element, weakest.name, needed, allowed, long_run, fits, not_rated
    )


def _plug(line: LoadLine) -> list[Rating]:
    """Give the load's own plug, nothing of a hard-wired appliance: it has none."""
    plug = PLUGS.get(line.load.plug)
    if line.load.hard_wired or plug is None:
        return []
    return [Rating(Element.PLUG, plug.name, plug.current_a)]


def _needed(line: LoadLine, voltage_v: float | None) -> Figure | None:
    plug = PLUGS.get(line.load.plug)
    nominal = None if plug is None else plug.nominal_v
    volts = next((v for v in (line.load.voltage_v, voltage_v, nominal) if v is not None and v > 0.0), None)
    if volts is None or line.each_running_va is None:
        return None
    running_va = max(line.each_running_va, line.heater_w / max(line.load.quantity, 1))
    inputs = (
        Input("apparent power running, of one", "S", running_va, "VA"),
        Input("volts", "V", volts, "V"),
    )
    value = running_va / volts
    quantity = f"Running current, {line.load.name}"
    before = () if line.running_va is None else line.running_va.steps
    typical = line.heater_w > 0.0
    step = Step(quantity, "I = S / V", inputs, value, "A", "definition of apparent power", typical)
    return Figure(value, None, None, "A", chained(before, (step,)))


def _allowed(line: LoadLine, weakest: Rating, amps: float, facts: Facts, *, long_run: bool) -> Figure:
    share = facts["long_run_share"] if long_run else 1.0
    inputs = (
        Input(f"rating of the weakest, {weakest.name}", "I_r", amps, "A"),
        Input("longest usual run", "t", line.run_h, "h"),
        Input("share allowed", "f", share, ""),
    )
    value = share * amps
    quantity = f"Current allowed, {line.load.name}"
    source = facts.source("long_run_share") if long_run else "rating of the weakest element"
    typical = long_run and facts.typical("long_run_share")
    step = Step(quantity, "I_max = f · I_r", inputs, value, "A", source, typical)
    return Figure(value, None, None, "A", (step,))

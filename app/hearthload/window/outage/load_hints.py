"""What is in force beside each field of a load, and where it comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from hearthload.domain.figures import format_ends, format_number
from hearthload.domain.plan import Plan, Use
from hearthload.outage.steps import Figure, Step
from hearthload.window.outage.outage_words import NOT_KNOWN, NOTES, number_text

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanRow

UNITS: Final = {
    "hours_a_day": "h a day",
    "uses_a_day": "a day",
    "daily_kwh": "kWh a day",
    "daily_low_kwh": "kWh, low end",
    "daily_high_kwh": "kWh, high end",
    "room_c": "°C",
    "season_factor": "times as much",
    "season_factor_u": "% of it",
    "running_w": "W",
    "idle_w": "W",
    "power_factor": "of 1",
    "start_multiple": "times",
    "start_s": "s",
    "rank": "1 goes first, empty last",
    "quantity": "of them",
}
"""The unit that stands beside each line to type in."""

SOURCES: Final = {"typed in": "typed here", "measured": "measured", "set in this plan": "set in this plan"}
"""How short sources are said; the long ones of what is usual stand in the arithmetic."""


def in_force(row: PlanRow, plan: Plan) -> dict[str, str]:
    """Say beside each field what is in force now and where it comes from; a unit comes first."""
    said = {
        "daily_kwh": _daily(row),
        "room_c": _room(row, plan),
        "season_factor": _season(row),
        "running_w": _running(row),
        "idle_w": _idle(row),
        "power_factor": _from_step(row, "Apparent power running", "PF"),
        "start_multiple": _from_step(row, "Start, ", "m"),
        "start_s": _start_s(row),
    }
    return {
        name: " · ".join(part for part in (unit, said.get(name, "")) if part) for name, unit in UNITS.items()
    }


def notes_said(row: PlanRow) -> tuple[str, ...]:
    """Say a load's notes, a sentence each."""
    return tuple(NOTES[note] for note in row.line.notes)


def circuit_words(row: PlanRow) -> str:
    """Say whether plug and socket carry the appliance's running current."""
    check = row.circuit
    if check.needed_a is None:
        return "Whether its plug and socket carry it is not known: its watts or volts are missing."
    needed = format_number(check.needed_a.value, 2)
    if check.allowed_a is None or check.fits is None:
        return f"It draws {needed} A running; what its plug or socket may carry is not known."
    allowed = format_number(check.allowed_a.value, 2)
    long_run = ", 80 % of the rating as it runs for three hours or more" if check.long_run else ""
    weakest = f"{check.element_name} ({check.element.value})" if check.element else check.element_name
    verdict = "carries" if check.fits else "must not carry"
    return f"The weakest on the way, {weakest}, {verdict} its {needed} A: up to {allowed} A{long_run}."


def row_steps(row: PlanRow) -> tuple[Step, ...]:
    """Give the whole arithmetic of a load: energy, watts, apparent power, start, current on the way."""
    found: dict[Step, None] = {}
    line = row.line
    for figure in (line.daily, line.running_w, line.running_va, line.start_va):
        found.update(dict.fromkeys(() if figure is None else figure.steps))
    found.update(dict.fromkeys(row.circuit.steps))
    return tuple(found)


def _daily(row: PlanRow) -> str:
    if row.load.use is not Use.ASSUMED or row.load.daily_kwh is not None or row.line.one_daily is None:
        return ""
    one = row.line.one_daily
    text = number_text(one.value, one.unit) if one.low is None or one.high is None else _ends(one)
    source = one.steps[-1].source if one.steps else ""
    return f"now {text}" + (f", {source}" if source else "")


def _ends(figure: Figure) -> str:
    return format_ends(_Ends(figure))


class _Ends:
    """A figure as an interval."""

    def __init__(self, figure: Figure) -> None:
        self.value = figure.value
        self.low = figure.value if figure.low is None else figure.low
        self.high = figure.value if figure.high is None else figure.high


def _room(row: PlanRow, plan: Plan) -> str:
    measured = row.line.load.measured
    known = None if measured is None else measured.room_c
    if row.load.room_c is not None:
        return "typed here"
    if plan.room_c is not None:
        return f"now {plan.room_c:g}, the plan's"
    return "now as measured" if known is None else f"now {known:.3g}, as measured"


def _season(row: PlanRow) -> str:
    return "now 1, as measured" if row.load.season_factor is None else "typed here"


def _running(row: PlanRow) -> str:
    figure = row.line.running_w
    if figure is None:
        return NOT_KNOWN
    each = figure.value / max(row.load.quantity, 1)
    steps = [step for step in figure.steps if step.quantity.startswith("Running watts, ")]
    source = "typed here" if row.load.running_w is not None else steps[-1].source if steps else ""
    return f"now {number_text(each, 'W')}" + (f", {source}" if source else "")


def _idle(row: PlanRow) -> str:
    measured = row.line.load.measured
    if row.load.idle_w is not None:
        source = "typed here"
    elif measured is not None and measured.idle_w is not None:
        source = "measured"
    else:
        source = "usual where not known"
    return f"now {number_text(row.line.idle_w / max(row.load.quantity, 1), 'W')}, {source}"


def _start_s(row: PlanRow) -> str:
    if row.line.start_va is None:
        return ""
    source = "typed here" if row.load.start_s is not None else "usual for its kind"
    return f"now {row.line.start_s:g}, {source}"


def _from_step(row: PlanRow, begins: str, symbol: str) -> str:
    """Find a figure among the inputs of a step, with its source: in its own name, else the step's."""
    steps = () if row.line.start_va is None else row.line.start_va.steps
    for step in steps:
        for each in step.inputs:
            if step.quantity.startswith(begins) and each.symbol == symbol:
                _, _, named = each.name.partition("(")
                source = named.removesuffix(")") or step.source
                return f"now {each.value:.3g}, {SOURCES.get(source, 'usual for its kind')}"
    return ""

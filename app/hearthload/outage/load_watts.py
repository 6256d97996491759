"""Watts of one appliance of a plan: running, idle, apparent power, start."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.kinds import NORMAL_95
from hearthload.outage.answers import LoadInput
from hearthload.outage.by_kind import KindRow, row_for
from hearthload.outage.facts import Fact, Facts
from hearthload.outage.steps import Figure, Input, Step, chained

POWER_TRIANGLE = "definition of power factor"


class Origin(StrEnum):
    """Where running watts come from."""

    OWN = "own"
    MEASURED = "measured"
    AVERAGE = "average"
    NAMEPLATE = "nameplate"


@dataclass(frozen=True, slots=True)
class Watts:
    """One appliance's running and idle watts [W], relative standard uncertainty of the running ones [1].

    `highest` is None where running watts are not known; then `relative_u` means nothing.
    """

    running: Figure | None
    origin: Origin | None
    relative_u: float
    idle_w: float


@dataclass(frozen=True, slots=True)
class Start:
    """One appliance's apparent power running and starting [VA] with steps, and the start's length [s]."""

    running_va: float
    start_va: float
    start_s: float
    steps: tuple[Step, ...]


def given(
    fact: Fact, facts: Facts, own: float | None, measured: float | None = None
) -> tuple[float, str, bool]:
    """Choose a figure: her own for this appliance, else measured, else by kind.

    Gives the value, its source in words, and whether it is common practice only.
    """
    if own is not None:
        return own, "set for this appliance", False
    if measured is not None:
        return measured, "measured", False
    return facts[fact.key], facts.source(fact.key), facts.typical(fact.key)


def watts_of(load: LoadInput, facts: Facts) -> Watts:
    """Give running and idle watts of one appliance.

    Running: her own, else measured; of what is always on the average P = 1000·e/24 [W]; else the nameplate,
    which is a maximum. Idle: her own, else measured, else a typical watt; never above the running watts.
    """
    value, origin = _running(load)
    idle = _idle(load, facts)
    if value is None or origin is None:
        return Watts(None, None, 0.0, idle)
    relative_u = facts[_UNCERTAINTY[origin]]
    reach = NORMAL_95 * relative_u * value
    high = value if origin is Origin.NAMEPLATE else value + reach
    step = _running_step(load, value, origin)
    figure = Figure(value, max(value - reach, 0.0), high, "W", (step,))
    return Watts(figure, origin, relative_u, min(idle, value))


def average_watts(load: LoadInput, energy: Figure, watts: Watts) -> Watts:
    """Give the average as running watts, P = 1000·e/24 [W], where it must be.

    Of what is always on where no others are known; of all where the average is above the running watts:
    then the energy, or the room it is stepped to, asks for more than the watts that were noted.
    """
    factor = WATTS_PER_KILOWATT / HOURS_PER_DAY
    if watts.running is not None:
        return watts if factor * energy.value <= watts.running.value else _raised(load, energy, watts)
    if load.kind is not Kind.ALWAYS_ON:
        return watts
    inputs = (Input("energy a day", "e", energy.value, "kWh/d"),)
    value = factor * energy.value
    typical = any(step.typical for step in energy.steps)
    quantity = f"Running watts, {load.name}"
    step = Step(quantity, "P = 1000 · e / 24", inputs, value, "W", "it is always on", typical)
    low = None if energy.low is None else factor * energy.low
    high = None if energy.high is None else factor * energy.high
    figure = Figure(value, low, high, "W", chained(energy.steps, (step,)))
    return Watts(figure, Origin.AVERAGE, 0.0, min(watts.idle_w, value))


def _raised(load: LoadInput, energy: Figure, watts: Watts) -> Watts:
    noted = watts.running if watts.running is not None else energy
    value = energy.value * WATTS_PER_KILOWATT / HOURS_PER_DAY
    inputs = (
        Input("energy a day", "e", energy.value, "kWh/d"),
        Input("running watts as noted", "P_on", noted.value, "W"),
    )
    step = Step(
        f"Running watts, {load.name}",
        "P = max(P_on, 1000 · e / 24)",
        inputs,
        value,
        "W",
        "its energy asks for more than its watts: look at both again",
        typical=True,
    )
    high = value if energy.high is None else energy.high * WATTS_PER_KILOWATT / HOURS_PER_DAY
    figure = Figure(value, min(noted.value, value), high, "W", chained(noted.steps, energy.steps, (step,)))
    return Watts(figure, Origin.AVERAGE, watts.relative_u, min(watts.idle_w, value))


_UNCERTAINTY = {
    Origin.OWN: "u_watts_stated",
    Origin.MEASURED: "u_watts_measured",
    Origin.AVERAGE: "u_watts_measured",
    Origin.NAMEPLATE: "u_watts_nameplate",
}


def _running(load: LoadInput) -> tuple[float | None, Origin | None]:
    if load.running_w is not None:
        return load.running_w, Origin.OWN
    measured = load.measured
    if measured is not None and measured.running_w is not None:
        return measured.running_w, Origin.MEASURED
    if measured is not None and load.kind is Kind.ALWAYS_ON:
        return measured.daily_kwh * WATTS_PER_KILOWATT / HOURS_PER_DAY, Origin.AVERAGE
    if load.nameplate_w is not None:
        return load.nameplate_w, Origin.NAMEPLATE
    return None, None


def _running_step(load: LoadInput, value: float, origin: Origin) -> Step:
    quantity = f"Running watts, {load.name}"
    if origin is Origin.AVERAGE and load.measured is not None:
        energy = Input("energy a day, measured", "e", load.measured.daily_kwh, "kWh/d")
        return Step(quantity, "P = 1000 · e / 24", (energy,), value, "W", "it is always on", typical=False)
    source = {
        Origin.OWN: "typed in",
        Origin.MEASURED: "measured",
        Origin.NAMEPLATE: "nameplate, which is a maximum",
    }[origin]
    return Step(quantity, "P", (), value, "W", source, typical=False)


def _idle(load: LoadInput, facts: Facts) -> float:
    if load.idle_w is not None:
        return load.idle_w
    if load.measured is not None and load.measured.idle_w is not None:
        return load.measured.idle_w
    return facts["idle_w"]


def start_of(load: LoadInput, running_w: float, facts: Facts) -> Start:
    """Give one appliance's apparent power: S = P/PF running, m·S starting [VA], for t seconds.

    PF: her own, else measured, else by kind; m and t: her own, else by kind. A start is never less than
    running: m ≥ 1. The multiple is one of apparent power: motors start at a power factor of 0.3 to 0.7.
    """
    row = row_for(load.kind, load.cycling)
    power_factor, running = _running_va(load, row, running_w, facts)
    multiple, source, typical = given(row.start_multiple, facts, load.start_multiple)
    multiple = max(multiple, 1.0)
    start_s, _, _ = given(row.start_s, facts, load.start_s)
    start_va = multiple * running.value
    inputs = (
        Input("start over running", "m", multiple, ""),
        Input("apparent power running", "S", running.value, "VA"),
    )
    start = Step(f"Start, {load.name}", "S_start = m · S", inputs, start_va, "VA", source, typical)
    return Start(running_w / power_factor, start_va, start_s, (running, start))


def _running_va(load: LoadInput, row: KindRow, running_w: float, facts: Facts) -> tuple[float, Step]:
    measured = None if load.measured is None else load.measured.power_factor
    value, source, typical = given(row.power_factor, facts, load.power_factor, measured)
    inputs = (
        Input("running watts", "P", running_w, "W"),
        Input(f"power factor ({source})", "PF", value, ""),
    )
    quantity = f"Apparent power running, {load.name}"
    return value, Step(quantity, "S = P / PF", inputs, running_w / value, "VA", POWER_TRIANGLE, typical)


def heater_of(load: LoadInput, facts: Facts) -> float:
    """Give the watts of a frost-free machine's defrost heater [W], 0 of any other.

    It is the machine's real highest demand, not the compressor. Where the highest watts seen on the meter
    lie in the usual range of heaters they are taken for it; higher ones are the compressor's start.
    """
    if load.cycling is not Cycling.FROST_FREE:
        return 0.0
    fact = facts.fact("defrost_heater_w")
    seen = None if load.measured is None else load.measured.highest_w
    if seen is not None and fact.low <= seen <= fact.high and not facts.is_own(fact.key):
        return seen
    return facts[fact.key]


def heater_step(name: str, quantity: int, heater_w: float, facts: Facts) -> Step:
    """Say where a line's defrost heaters' watts come from [W]."""
    each = heater_w / max(quantity, 1)
    seen = each != facts["defrost_heater_w"]
    source = "highest watts seen on the meter" if seen else facts.source("defrost_heater_w")
    inputs = (Input("number of them", "q", float(quantity), ""), Input("heater of one", "P_h", each, "W"))
    typical = not seen and facts.typical("defrost_heater_w")
    return Step(f"Defrost heater, {name}", "P = q · P_h", inputs, heater_w, "W", source, typical)


def times(figure: Figure, quantity: int, name: str) -> Figure:
    """Give a figure for several identical appliances, X = q·x; all ends with it, as the figure is shared."""
    if quantity == 1:
        return figure
    inputs = (
        Input("number of them", "q", float(quantity), ""),
        Input("of one", "x", figure.value, figure.unit),
    )
    value = quantity * figure.value
    step = Step(name, "X = q · x", inputs, value, figure.unit, "sum of identical appliances", typical=False)
    low = None if figure.low is None else quantity * figure.low
    high = None if figure.high is None else quantity * figure.high
    return Figure(value, low, high, figure.unit, chained(figure.steps, (step,)))

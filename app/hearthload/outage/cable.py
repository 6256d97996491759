"""Extension cords and DC cables: voltage drop, what a cord may carry, least gauge, longest length."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hearthload.errors import RefusedError
from hearthload.outage.answers import Outcome
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step
from hearthload.outage.working import Term, of_steps, worked

_PER_KELVIN = 0.00393
"""Copper's gain of resistance for each kelvin above 20 °C."""
_TABULATED = "copper at 20 °C, wire tables"
_CLASS_5 = "IEC 60228 class 5, recalled"
_NEC_CORD = "NEC Table 400.5(A)"
_BS_CORD = "BS 7671 Table 4F3A, recalled"
_CUSTOMARY = {
    "awg_10": "customary for a cord of this size, in line with NEC Table 400.5(A); recalled",
    "mm2_6": "customary for a cord of this size; BS 7671 Table 4F3A ends at 4 mm²",
}
"""Sizes whose current is customary only: nothing that was checked, or recalled of a standard, goes so far."""


@dataclass(frozen=True, slots=True)
class Gauge:
    """A conductor size: copper resistance at 20 °C [Ω/km], most current as a flexible cord [A] if known.

    The currents hold for cords of two loaded cores, not coiled, at 30 °C, and come from `cord_source`;
    `cord_typical`: not checked. Cords of AWG 8 or 10 mm² and thicker have no one customary current.
    """

    key: str
    name: str
    ohm_per_km: float
    cord_a: float | None
    typical: bool
    cord_source: str
    cord_typical: bool


def _gauges(
    rows: Iterable[tuple[str, float, float | None]], unit: str, *, typical: bool
) -> tuple[Gauge, ...]:
    found = []
    for size, ohms, amps in rows:
        key = f"{unit}_{size}".replace("/", "_")
        customary = _CUSTOMARY.get(key)
        found.append(
            Gauge(
                key=key,
                name=f"AWG {size}" if unit == "awg" else f"{size} mm²",
                ohm_per_km=ohms,
                cord_a=amps,
                typical=typical,
                cord_source=customary or (_NEC_CORD if unit == "awg" else _BS_CORD),
                cord_typical=typical or customary is not None,
            )
        )
    return tuple(found)


AWG = _gauges(
    (
        ("18", 20.9, 10.0),
        ("16", 13.2, 13.0),
        ("14", 8.28, 18.0),
        ("12", 5.21, 25.0),
        ("10", 3.28, 30.0),
        ("8", 2.06, None),
        ("6", 1.30, None),
        ("4", 0.815, None),
        ("2", 0.513, None),
        ("1/0", 0.323, None),
        ("2/0", 0.256, None),
        ("4/0", 0.161, None),
    ),
    "awg",
    typical=False,
)
"""American gauges, thin to thick."""
METRIC = _gauges(
    (
        ("0.75", 26.0, 6.0),
        ("1", 19.5, 10.0),
        ("1.5", 13.3, 16.0),
        ("2.5", 7.98, 25.0),
        ("4", 4.95, 32.0),
        ("6", 3.30, 40.0),
        ("10", 1.91, None),
        ("16", 1.21, None),
        ("25", 0.780, None),
        ("35", 0.554, None),
        ("50", 0.386, None),
        ("70", 0.272, None),
    ),
    "mm2",
    typical=True,
)
"""Flexible metric sizes, thin to thick."""
GAUGES: dict[str, Gauge] = {gauge.key: gauge for gauge in (*AWG, *METRIC)}


@dataclass(frozen=True, slots=True)
class CordUse:
    """What a cord is to carry: running current [A], supply [V], power factor, one-way length [m].

    `start_a` the highest current while a motor starts, None where nothing starts; `long_run` for three hours
    or more; `direct` for a DC cable, which has no cord's rating.
    """

    amps: float
    volts: float
    length_m: float
    power_factor: float = 1.0
    start_a: float | None = None
    long_run: bool = False
    direct: bool = False


@dataclass(frozen=True, slots=True)
class CordAnswer:
    """A gauge for a use: drop running and starting [share of the supply's voltage], most current [A].

    `outcome` of the worst; `longest_m` for the drops; `smallest` gauge of the same family that does, None
    where none in the table does: then `thickest` is the thickest of the family that carries the current, and
    `thickest_longest_m` how long it may be, both None where none carries it. `missing` what is not known.
    """

    gauge: Gauge
    running_drop: Figure
    starting_drop: Figure | None
    carries_a: Figure | None
    longest_m: Figure
    smallest: Gauge | None
    outcome: Outcome
    missing: str
    thickest: Gauge | None = None
    thickest_longest_m: Figure | None = None


def current_a(watts: float, volts: float, power_factor: float, facts: Facts) -> Figure:
    """Give the current of a load: I = P/(V·PF) [A]."""
    step = worked(
        facts,
        "Current",
        "I = P/(V·PF)",
        watts / (volts * power_factor),
        "A",
        Input("load", "P", watts, "W"),
        Input("supply voltage", "V", volts, "V"),
        Input("power factor", "PF", power_factor, ""),
    )
    return of_steps(step)


def _ohm_per_m(gauge: Gauge, facts: Facts) -> float:
    return gauge.ohm_per_km / 1000.0 * (1.0 + _PER_KELVIN * (facts["cord_copper_c"] - 20.0))


def _resistance_step(gauge: Gauge, facts: Facts) -> Step:
    step = worked(
        facts,
        f"Resistance of one conductor, {gauge.name}",
        "R = R20·(1 + 0.00393·(T − 20 °C))",
        1000.0 * _ohm_per_m(gauge, facts),
        "Ω/km",
        Input("resistance at 20 °C", "R20", gauge.ohm_per_km, "Ω/km"),
        Term("cord_copper_c", "T"),
        source=_CLASS_5 if gauge.typical else _TABULATED,
    )
    return Step(
        step.quantity, step.equation, step.inputs, step.value, step.unit, step.source,
        typical=step.typical or gauge.typical,
    )  # fmt: skip


def _drop(gauge: Gauge, use: CordUse, facts: Facts, *, amps: float, power_factor: float, when: str) -> Figure:
    """Give the voltage drop there and back as a share of the supply: 2·L·I·R·PF/V [1], reactance left out."""
    resistance = _resistance_step(gauge, facts)
    step = worked(
        facts,
        f"Voltage drop {when}, share of the supply",
        "ΔV/V = 2·L·I·R·PF/V",
        2.0 * use.length_m * amps * resistance.value / 1000.0 * power_factor / use.volts,
        "",
        Input("length one way", "L", use.length_m, "m"),
        Input(f"current {when}", "I", amps, "A"),
        Input("resistance of one conductor", "R", resistance.value / 1000.0, "Ω/m"),
        Input("power factor", "PF", power_factor, ""),
        Input("supply voltage", "V", use.volts, "V"),
        source="voltage drop of one phase or DC",
    )
    return of_steps(resistance, step)


def _carries(gauge: Gauge, use: CordUse, facts: Facts) -> Figure | None:
    if gauge.cord_a is None or use.direct:
        return None
    share = facts["long_run_share"] if use.long_run else 1.0
    inputs: tuple[Input | Term, ...] = (Input("flexible cord of two loaded cores", "I_c", gauge.cord_a, "A"),)
    if use.long_run:
        inputs = (*inputs, Term("long_run_share", "s"))
    equation = "I_c·s" if use.long_run else "I_c"
    step = worked(
        facts,
        f"Most current of the cord, {gauge.name}",
        equation,
        share * gauge.cord_a,
        "A",
        *inputs,
        source=gauge.cord_source,
    )
    return of_steps(replace(step, typical=step.typical or gauge.cord_typical))


def _longest(gauge: Gauge, use: CordUse, facts: Facts) -> Figure:
    """Give the greatest one-way length for both drops [m]."""
    ohm = _ohm_per_m(gauge, facts)
    lengths = [(use.amps * use.power_factor, Term("cord_running_drop", "d"), "running")]
    if use.start_a is not None:
        lengths.append((use.start_a, Term("cord_starting_drop", "d"), "starting"))
    steps = [
        worked(
            facts,
            f"Longest one way for the drop {when}",
            "L = d·V/(2·I·PF·R)",
            facts[limit.key] * use.volts / (2.0 * amps * ohm) if amps > 0.0 else float("inf"),
            "m",
            limit,
            Input("supply voltage", "V", use.volts, "V"),
            Input(f"current {when} times power factor", "I·PF", amps, "A"),
            Input("resistance of one conductor", "R", ohm, "Ω/m"),
        )
        for amps, limit, when in lengths
    ]
    steps.sort(key=lambda step: -step.value)
    return Figure(steps[-1].value, None, None, "m", (_resistance_step(gauge, facts), *steps))


def _fits(gauge: Gauge, use: CordUse, facts: Facts) -> Outcome:
    """Tell whether a gauge does: drops within their limits, and current within the cord's where known."""
    if _longest(gauge, use, facts).value < use.length_m:
        return Outcome.FALLS_SHORT
    carries = _carries(gauge, use, facts)
    if carries is None:
        return Outcome.NOT_KNOWN
    return Outcome.CARRIES if carries.value >= use.amps else Outcome.FALLS_SHORT


def _thickest(family: tuple[Gauge, ...], use: CordUse, facts: Facts) -> Gauge | None:
    """Give the thickest size that carries the current, whatever the drops; of DC cables the very thickest."""
    if use.direct:
        return family[-1]

    def carries(gauge: Gauge) -> bool:
        most = _carries(gauge, use, facts)
        return most is not None and most.value >= use.amps

    return next((gauge for gauge in reversed(family) if carries(gauge)), None)


def check_cord(gauge_key: str, use: CordUse, facts: Facts) -> CordAnswer:
    """Check a cord or cable: drop at most 3 % running and 15 % starting, current within the cord's rating.

    The drop at start is taken at power factor 1, the worst case. A DC cable's own current rating depends on
    its insulation: it stays not known, and `missing` says so.
    """
    gauge = GAUGES.get(gauge_key)
    if gauge is None:
        raise RefusedError(f"There is no wire size “{gauge_key}”.", field="gauge", code="unknown_gauge")
    if use.volts <= 0.0 or use.length_m < 0.0 or use.amps < 0.0 or not 0.0 < use.power_factor <= 1.0:
        raise RefusedError(
            "A cord needs volts above nothing and a power factor from above 0 to 1.",
            field="volts",
            code="cord_use",
        )
    family = AWG if gauge in AWG else METRIC
    outcome = _fits(gauge, use, facts)
    running = _drop(gauge, use, facts, amps=use.amps, power_factor=use.power_factor, when="running")
    starting = None
    if use.start_a is not None:
        starting = _drop(gauge, use, facts, amps=use.start_a, power_factor=1.0, when="starting")
    short = Outcome.FALLS_SHORT
    accepted = {Outcome.CARRIES, Outcome.NOT_KNOWN} if use.direct else {Outcome.CARRIES}
    smallest = next((each for each in family if _fits(each, use, facts) in accepted), None)
    thickest = _thickest(family, use, facts) if smallest is None else None
    return CordAnswer(
        gauge=gauge,
        running_drop=running,
        starting_drop=starting,
        carries_a=_carries(gauge, use, facts),
        longest_m=_longest(gauge, use, facts),
        smallest=smallest,
        outcome=outcome,
        missing="" if outcome in {Outcome.CARRIES, short} else "the cable's own current rating",
        thickest=thickest,
        thickest_longest_m=None if thickest is None else _longest(thickest, use, facts),
    )

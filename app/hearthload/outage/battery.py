"""Stored energy: how much must be bought, how much a bank gives, and how long charging takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hearthload.domain.supply import Chemistry
from hearthload.outage.answers import Demand
from hearthload.outage.facts import Facts
from hearthload.outage.peukert import peukert_key, rate_steps, steadiness
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.working import Term, of_steps, worked

CHEMISTRIES = (
    Chemistry.LFP,
    Chemistry.NMC,
    Chemistry.AGM,
    Chemistry.GEL,
    Chemistry.FLOODED_LEAD,
    Chemistry.NICKEL,
)
"""The chemistries there are figures for."""

_LEAD_FREEZES_EMPTY_C = 0.0  # at 40 % charge about −9 °C, full −65 °C; published guides
_REFERENCE_C = 25.0


def is_lithium(chemistry: Chemistry) -> bool:
    """Tell whether it is a lithium battery."""
    return chemistry in {Chemistry.LFP, Chemistry.NMC}


def _family(chemistry: Chemistry) -> str:
    if chemistry.is_lead:
        return "lead"
    return "lithium" if is_lithium(chemistry) else "nickel"


def _dod_key(chemistry: Chemistry) -> str:
    return f"battery_dod_{chemistry}" if is_lithium(chemistry) else f"battery_dod_{_family(chemistry)}"


def _age_key(chemistry: Chemistry) -> str:
    return "battery_age_lithium" if is_lithium(chemistry) else "battery_age_lead"


def _round_trip_key(chemistry: Chemistry) -> str:
    return f"battery_round_trip_{_family(chemistry)}"


def _charge_rate_key(chemistry: Chemistry) -> str:
    if chemistry is Chemistry.AGM:
        return "battery_charge_c_agm"
    return "battery_charge_c_lithium" if is_lithium(chemistry) else "battery_charge_c_lead"


def _between(table: tuple[tuple[float, float], ...], x: float) -> float:
    """Interpolate a table of two or more rows linearly; below its first row its first slope goes on."""
    if x >= table[-1][0]:
        return table[-1][1]
    row = next(i for i in range(1, len(table)) if x <= table[i][0])
    (x0, y0), (x1, y1) = table[row - 1], table[row]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def temperature_factor(chemistry: Chemistry, celsius: float, facts: Facts) -> float:
    """Give the share of capacity at a temperature of the cells [°C], 1 at 25 °C and above [1].

    Straight between the facts and 1 at 25 °C. Lithium: at 0, −10 and −20 °C, below which it gives no power.
    Lead-acid: at 20, 10 and 0 °C and at the coldest that it is known for, values of IEEE 485's multipliers.
    Colder than that nothing is known: the last slope goes on so that there is a figure, which the step marks,
    and `known_at` tells verdicts not to rest on it. For nickel no table is at hand; lead-acid's holds.
    """
    table = tuple((at, facts[term.key]) for at, term in _curve(chemistry, facts))
    return min(max(_between((*table, (_REFERENCE_C, 1.0)), celsius), 0.01), 1.0)


def _curve(chemistry: Chemistry, facts: Facts) -> tuple[tuple[float, Term], ...]:
    """Give the temperatures at which the capacity is a fact, from the coldest up [°C]."""
    if is_lithium(chemistry):
        return (
            (-20.0, Term("battery_lithium_at_minus_20", "k_−20")),
            (-10.0, Term("battery_lithium_at_minus_10", "k_−10")),
            (0.0, Term("battery_lithium_at_0", "k_0")),
        )
    return (
        (facts["battery_lead_coldest_c"], Term("battery_lead_at_coldest", "k_c")),
        (0.0, Term("battery_lead_at_0", "k_0")),
        (10.0, Term("battery_lead_at_10", "k_10")),
        (20.0, Term("battery_lead_at_20", "k_20")),
    )


def known_at(chemistry: Chemistry, celsius: float, facts: Facts) -> bool:
    """Tell whether a battery's capacity at a temperature [°C] is known: not so lead-acid's in frost.

    Nickel goes by lead-acid's table. Lithium has a window of its own, outside which it gives nothing: see
    `may_discharge`.
    """
    return is_lithium(chemistry) or celsius >= facts["battery_lead_coldest_c"]


def not_known_words(celsius: float) -> str:
    """Say what is to be asked where the capacity is not known at a temperature [°C]."""
    return f"how much it gives at {celsius:g} °C, from its maker".replace("-", "−")


def may_freeze(chemistry: Chemistry, celsius: float) -> bool:
    """Tell whether a discharged battery may freeze at a temperature [°C]: lead-acid, empty at about 0 °C."""
    return chemistry.is_lead and celsius < _LEAD_FREEZES_EMPTY_C


def may_discharge(chemistry: Chemistry, celsius: float, facts: Facts) -> bool:
    """Tell whether a battery may give power at a temperature [°C]; only lithium has a window here."""
    if not is_lithium(chemistry):
        return True
    return facts["battery_lithium_coldest_c"] <= celsius <= facts["battery_lithium_warmest_c"]


def may_charge(chemistry: Chemistry, celsius: float, facts: Facts) -> bool:
    """Tell whether a battery may be charged at a temperature [°C]: lithium from 0 to 45 °C, others always."""
    if not is_lithium(chemistry):
        return True
    return facts["battery_charge_coldest_c"] <= celsius <= facts["battery_charge_warmest_c"]


def _temperature_step(chemistry: Chemistry, celsius: float, facts: Facts) -> Step:
    terms = [term for _, term in reversed(_curve(chemistry, facts))]
    words, source = "Capacity at the temperature", "between the table's values, 1 at 25 °C"
    known = known_at(chemistry, celsius, facts)
    if not is_lithium(chemistry):
        terms.append(Term("battery_lead_coldest_c", "T_c"))
    if not known:
        words += ", not known: colder than the table, whose last slope goes on"
        source = "beyond the table's values"
    if chemistry is Chemistry.NICKEL:
        source += "; lead-acid's, taken for nickel too"
    value = temperature_factor(chemistry, celsius, facts)
    at = Input("temperature of the battery", "T", celsius, "°C")
    step = worked(facts, words, "k_T(T)", value, "", at, *terms, source=source)
    return replace(step, typical=step.typical or not known or chemistry is Chemistry.NICKEL)


@dataclass(frozen=True, slots=True)
class _Shares:
    """Steps of the shares of a stated energy that are left for use, and their product [1]."""

    steps: tuple[Step, ...]
    inputs: tuple[Input | Term, ...]
    symbols: str
    product: float


def _shares(
    chemistry: Chemistry, celsius: float, hours: float, draws: Demand | None, facts: Facts
) -> _Shares:
    temperature = _temperature_step(chemistry, celsius, facts)
    rates = rate_steps(chemistry, hours, draws, facts)
    inputs: list[Input | Term] = [
        Term(_dod_key(chemistry), "DoD"),
        Input("capacity at the temperature", "k_T", temperature.value, ""),
        Term(_age_key(chemistry), "k_age"),
    ]
    symbols = "DoD·k_T·k_age"
    product = facts[_dod_key(chemistry)] * temperature.value * facts[_age_key(chemistry)]
    if not rates:
        return _Shares((temperature,), tuple(inputs), symbols, product)
    rate = rates[-1]
    inputs += [Input("capacity at this rate", "k_rate", rate.value, ""), Term("battery_lead_volts", "k_V")]
    product *= rate.value * facts["battery_lead_volts"]
    return _Shares((temperature, *rates), tuple(inputs), f"{symbols}·k_rate·k_V", product)


def nominal_kwh(
    drawn: Figure,
    hours: float,
    chemistry: Chemistry,
    celsius: float,
    facts: Facts,
    *,
    draws: Demand | None = None,
) -> Figure:
    """Give the stated energy to buy [kWh] for an energy drawn over so many hours [kWh, h].

    E_n = E_dc·(1 + m)/(DoD·k_T·k_age·k_rate·k_V), structure of IEEE 1013. Stated energy counts as measured on
    discharge, so no discharge loss is counted again; k_V, lead-acid's mean voltage, is for energy stated as
    ampere-hours by nominal volts. The full discharge that Peukert's law asks for lasts t = hours·(1 + m)/DoD;
    `draws` say how uneven the draw is, steady if None.
    """
    margin = 1.0 + facts["battery_margin"]
    shares = _shares(chemistry, celsius, hours * margin / facts[_dod_key(chemistry)], draws, facts)
    step = worked(
        facts,
        "Stored energy to look for, as stated",
        f"E_n = E_dc·(1 + m)/({shares.symbols})",
        drawn.value * margin / shares.product,
        "kWh",
        Input("energy from the battery over the outage", "E_dc", drawn.value, "kWh"),
        Term("battery_margin", "m"),
        *shares.inputs,
    )
    return Figure(step.value, None, None, "kWh", chained(drawn.steps, shares.steps, (step,)))


def full_discharge_h(
    stored_wh: float,
    draw_w: float,
    chemistry: Chemistry,
    celsius: float,
    facts: Facts,
    *,
    draws: Demand | None = None,
) -> float:
    """Give the hours of a full discharge at a mean draw [Wh, W -> h].

    The time t and Peukert's share r·(t/H)^a hang on each other, t = A·r·(t/H)^a/P with a = (k − 1)/k; what
    the iteration tends to is t = H·(r·A/(P·H))^k, no longer than A/P. `draws` as in `nominal_kwh`.
    """
    key = peukert_key(chemistry)
    full_wh = stored_wh * temperature_factor(chemistry, celsius, facts) * facts[_age_key(chemistry)]
    if key is not None:
        full_wh *= facts["battery_lead_volts"]
    if draw_w <= 0.0:
        return facts["battery_rated_h"]
    plain = full_wh / draw_w
    rated = facts["battery_rated_h"]
    if key is None:
        return plain
    steady = steadiness(chemistry, draws, facts)
    return min(rated * float((steady * plain / rated) ** facts[key]), plain)


def usable_kwh(
    stored_wh: float,
    draw_w: float,
    chemistry: Chemistry,
    celsius: float,
    facts: Facts,
    *,
    draws: Demand | None = None,
) -> Figure:
    """Give the energy that a bank gives at a mean draw [Wh, W -> kWh]: E_n·DoD·k_T·k_age·k_rate·k_V.

    `draws` as in `nominal_kwh`; only their shape counts. Nothing where the cells are too cold or too hot to
    give power.
    """
    if not may_discharge(chemistry, celsius, facts):
        outside = worked(
            facts,
            "Usable energy: the cells are too cold or too hot to give power",
            "E_u = 0 outside T_1 to T_2",
            0.0,
            "kWh",
            Input("temperature of the battery", "T", celsius, "°C"),
            Term("battery_lithium_coldest_c", "T_1"),
            Term("battery_lithium_warmest_c", "T_2"),
        )
        return of_steps(outside)
    hours = full_discharge_h(stored_wh, draw_w, chemistry, celsius, facts, draws=draws)
    shares = _shares(chemistry, celsius, hours, draws, facts)
    step = worked(
        facts,
        "Usable energy",
        f"E_u = E_n·{shares.symbols}",
        stored_wh / 1000.0 * shares.product,
        "kWh",
        Input("stored energy as stated", "E_n", stored_wh / 1000.0, "kWh"),
        *shares.inputs,
    )
    return of_steps(*shares.steps, step)


def charge_terms(chemistry: Chemistry) -> tuple[Term, Term]:
    """Give the facts that charging from the wall rests on: charger, round trip.

    The round trip all counts at charging: energy stated on discharge has the discharge loss in it already.
    """
    return Term("battery_charger", "η_c"), Term(_round_trip_key(chemistry), "η_b")


def most_charge_w(stored_wh: float, chemistry: Chemistry, facts: Facts, mains_v: float) -> Figure:
    """Give the most that a bank should be charged with at the wall [W]: P = min(c·E_n/η_c, s·I·V).

    What the cells usually take, but no more than one wall circuit gives for hours: 80 % of its amps (NEC
    210.20(A) and Art. 100) times the mains voltage [V].
    """
    key = _charge_rate_key(chemistry)
    usual = worked(
        facts,
        "Charging power that the cells usually take, at the wall",
        "P_c = c·E_n/η_c",
        facts[key] * stored_wh / facts["battery_charger"],
        "W",
        Term(key, "c"),
        Input("stored energy as stated", "E_n", stored_wh, "Wh"),
        Term("battery_charger", "η_c"),
    )
    circuit = worked(
        facts,
        "What one wall circuit gives for hours",
        "P_s = s·I·V",
        facts["long_run_share"] * facts["battery_wall_circuit_a"] * mains_v,
        "W",
        Term("long_run_share", "s"),
        Term("battery_wall_circuit_a", "I"),
        Input("voltage of the mains", "V", mains_v, "V"),
    )
    least = worked(
        facts,
        "The most it should be charged with, at the wall",
        "P_w = min(P_c, P_s)",
        min(usual.value, circuit.value),
        "W",
        Input("what the cells usually take", "P_c", usual.value, "W"),
        Input("what the wall circuit gives", "P_s", circuit.value, "W"),
    )
    return of_steps(usual, circuit, least)


def charge_hours(taken_kwh: float, wall_w: float, chemistry: Chemistry, facts: Facts) -> Figure | None:
    """Give the hours to put back an energy [kWh] with so many watts at the wall [W], None without power.

    t = E/(η_c·η_b·P_w); lead-acid needs its absorption hours besides, at least 10 h for a full charge.
    """
    if wall_w <= 0.0:
        return None
    charger, trip = charge_terms(chemistry)
    plain = 1000.0 * taken_kwh / (facts[charger.key] * facts[trip.key] * wall_w)
    inputs: tuple[Input | Term, ...] = (
        Input("energy taken", "E", taken_kwh, "kWh"),
        charger,
        trip,
        Input("charging power at the wall", "P_w", wall_w, "W"),
    )
    equation, value = "t = 1000·E/(η_c·η_b·P_w)", plain
    if chemistry.is_lead:
        inputs = (*inputs, Term("battery_lead_full_charge_h", "t_least"))
        equation, value = f"{equation}, at least t_least", max(plain, facts["battery_lead_full_charge_h"])
    return of_steps(worked(facts, "Hours to charge again", equation, value, "h", *inputs))

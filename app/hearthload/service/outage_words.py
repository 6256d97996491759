"""Plain words for what the answers about outages are made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.domain.figures import format_hours, format_number, format_plus_minus, format_watts
from hearthload.domain.plan import Use
from hearthload.domain.supply import Chemistry, EngineControl, Fuel, Waveform
from hearthload.outage.answers import LimitCode, LoadInput, Note, Outcome
from hearthload.outage.steps import Figure, Step

NOTE_WORDS: Final[Mapping[Note, str]] = {
    Note.ASSUMED_ENERGY: "energy assumed",
    Note.ASSUMED_WATTS: "watts assumed",
    Note.NO_WATTS: "watts not known",
    Note.NO_ENERGY: "energy not known",
    Note.NOT_WELL_MEASURED: "not well measured yet",
    Note.MEASURED_COLD: "measured in a room colder than the figures reach",
    Note.TOO_COLD: "its room is colder than the figures reach",
    Note.ANOTHER_SEASON: "brought to another season",
    Note.MEDICAL: "medical",
    Note.HARD_WIRED: "hard-wired",
    Note.DEFROST_HEATER: "with a defrost heater",
    Note.POOR_LOAD: "hard on a battery",
}

LIMIT_WORDS: Final[Mapping[LimitCode, str]] = {
    LimitCode.ENERGY: "energy",
    LimitCode.RUNNING_W: "running watts",
    LimitCode.RUNNING_VA: "running VA",
    LimitCode.START_VA: "starting power",
    LimitCode.BATTERY_CURRENT: "battery current",
    LimitCode.OUTLET_CURRENT: "outlet current",
    LimitCode.VOLTAGE: "voltage",
    LimitCode.FREQUENCY: "frequency",
    LimitCode.WAVEFORM: "waveform",
    LimitCode.RECHARGE: "charging",
    LimitCode.FUEL: "fuel",
    LimitCode.MEAN_LOAD: "engine load",
    LimitCode.SUN: "sun",
}

OUTCOME_WORDS: Final[Mapping[Outcome, str]] = {
    Outcome.CARRIES: "carries",
    Outcome.FALLS_SHORT: "falls short",
    Outcome.NOT_KNOWN: "not known",
}

ALSO: Final = "Also worth knowing"
"""Heads the limits that are told and do not decide."""

CHEMISTRY_WORDS: Final[Mapping[Chemistry, str]] = {
    Chemistry.NOT_KNOWN: "not sure",
    Chemistry.LFP: "lithium iron phosphate (LFP)",
    Chemistry.NMC: "lithium NMC",
    Chemistry.FLOODED_LEAD: "lead-acid, flooded",
    Chemistry.AGM: "lead-acid, AGM",
    Chemistry.GEL: "lead-acid, gel",
    Chemistry.NICKEL: "nickel-iron or nickel-cadmium",
}

WAVEFORM_WORDS: Final[Mapping[Waveform, str]] = {
    Waveform.NOT_KNOWN: "not sure",
    Waveform.SINE: "pure sine",
    Waveform.MODIFIED_SINE: "modified sine, stepped or square",
}

ENGINE_WORDS: Final[Mapping[EngineControl, str]] = {
    EngineControl.FIXED_SPEED: "fixed speed (3000 or 3600 rpm)",
    EngineControl.INVERTER: "inverter (speed follows the load)",
}

MOST_POWER: Final = "maximum (starting) power"
"""The larger figure on a generator's plate, beside its rated power."""

FUEL_WORDS: Final[Mapping[Fuel, str]] = {
    Fuel.PETROL: "petrol",
    Fuel.DIESEL: "diesel",
    Fuel.PROPANE: "propane",
}

NOT_CHECKED: Final = "typical, not checked"


def use_words(load: LoadInput) -> str:
    """Say how much a load is used."""
    if load.use is Use.HOURS_A_DAY and load.hours_a_day is not None:
        return f"{format_hours(load.hours_a_day)} a day"
    if load.use is Use.USES_A_DAY and load.uses_a_day is not None:
        return f"{load.uses_a_day:g} times a day"
    return "as measured" if load.use is Use.AS_MEASURED and load.measured is not None else "assumed"


def figure_words(figure: Figure, unit: str = "") -> str:
    """Print a figure with its ends where it has them, in its own unit or another word for it."""
    said = unit or figure.unit
    if figure.low is None or figure.high is None:
        return amount_words(figure.value, said)
    return format_plus_minus(figure.value, figure.low, figure.high, said)


def amount_words(value: float, unit: str) -> str:
    """Print a value: watts and volt-amperes to three digits that count at most, else three digits."""
    if unit in {"W", "VA"}:
        return format_watts(value).replace(" W", f" {unit}")
    return f"{format_number(value)} {unit}".rstrip()


def step_words(step: Step) -> str:
    """Write one line of arithmetic: quantity = equation: inputs → value, source."""
    inputs = ", ".join(
        f"{each.name} {each.symbol} = {_exact(each.value)} {each.unit}".rstrip() for each in step.inputs
    )
    said = f": {inputs}" if inputs else ""
    value = f"{_exact(step.value)} {step.unit}".rstrip()
    source = f"{step.source}; {NOT_CHECKED}" if step.typical else step.source
    return f"{step.quantity} = {step.equation}{said} → {value} [{source}]"


def _exact(value: float) -> str:
    """Print a number with five digits that count, without zeros at its end."""
    text = format_number(value, 5)
    return text.rstrip("0").rstrip(".") if "." in text else text

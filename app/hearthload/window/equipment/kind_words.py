"""What equipment is, in words: its kind, its battery, its voltage's shape, its fuel."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.domain.figures import format_number, format_watts
from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    Supply,
    SupplyDraft,
    SupplyKind,
    Waveform,
)

SUPPLY_WORDS: Final[Mapping[SupplyKind, str]] = {
    SupplyKind.BATTERY: "battery with inverter",
    SupplyKind.GENERATOR: "generator",
    SupplyKind.ARRAY: "solar array",
    SupplyKind.COMBINATION: "combination",
}

KIND_CHOICES: Final[Mapping[SupplyKind, str]] = {
    SupplyKind.BATTERY: "battery with inverter",
    SupplyKind.GENERATOR: "generator",
    SupplyKind.ARRAY: "solar array: panels, without a battery",
    SupplyKind.COMBINATION: "combination of what is entered already",
}

OWNED_WORDS: Final[Mapping[bool, str]] = {True: "have", False: "offered"}
OWNED_CHOICES: Final[Mapping[bool, str]] = {
    True: "have it, or can borrow it any time",
    False: "offered, or thought of",
}

CHEMISTRY_WORDS: Final[Mapping[Chemistry, str]] = {
    Chemistry.NOT_KNOWN: "not sure",
    Chemistry.LFP: "lithium iron phosphate (LFP, LiFePO4)",
    Chemistry.NMC: "lithium-ion with nickel or cobalt (NMC, NCA)",
    Chemistry.FLOODED_LEAD: "lead-acid, flooded: has caps for water",
    Chemistry.AGM: "lead-acid, sealed (AGM)",
    Chemistry.GEL: "lead-acid, gel",
    Chemistry.NICKEL: "nickel (NiMH, NiCd, nickel-iron)",
}

_SHORT_CHEMISTRY: Final[Mapping[Chemistry, str]] = {
    Chemistry.NOT_KNOWN: "",
    Chemistry.LFP: "LFP",
    Chemistry.NMC: "lithium-ion",
    Chemistry.FLOODED_LEAD: "flooded lead-acid",
    Chemistry.AGM: "AGM",
    Chemistry.GEL: "gel",
    Chemistry.NICKEL: "nickel",
}

WAVEFORM_WORDS: Final[Mapping[Waveform, str]] = {
    Waveform.NOT_KNOWN: "not sure",
    Waveform.SINE: "pure sine",
    Waveform.MODIFIED_SINE: "modified sine, stepped or square",
}

FUEL_WORDS: Final[Mapping[Fuel, str]] = {
    Fuel.PETROL: "petrol",
    Fuel.DIESEL: "diesel",
    Fuel.PROPANE: "propane",
}

CONTROL_WORDS: Final[Mapping[EngineControl, str]] = {
    EngineControl.FIXED_SPEED: "fixed speed: always as loud",
    EngineControl.INVERTER: "inverter: quieter at a small load",
}


def what_it_is(supply: Supply) -> str:
    """Say what a supply is and whether she has it, "battery with inverter, offered"."""
    return f"{SUPPLY_WORDS[supply.kind]}, {OWNED_WORDS[supply.draft.owned]}"


def plate_words(supply: Supply, members: tuple[Supply, ...]) -> str:
    """Say the leading figures of the data plate, "1.50 kWh, lithium-ion, 600 W"; names for a combination."""
    if supply.kind is SupplyKind.COMBINATION:
        return " with ".join(member.name for member in members)
    found = [_stored(supply.draft), _SHORT_CHEMISTRY[supply.draft.chemistry]]
    if supply.kind is SupplyKind.GENERATOR:
        found = [FUEL_WORDS[supply.draft.fuel]]
    power = supply.draft.array_w if supply.kind is SupplyKind.ARRAY else supply.draft.continuous_w
    found.append("" if power is None else format_watts(power))
    return ", ".join(part for part in found if part)


def _stored(draft: SupplyDraft) -> str:
    return "" if draft.stored_wh is None else f"{format_number(draft.stored_wh / 1000.0, 3)} kWh"

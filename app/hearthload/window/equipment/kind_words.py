"""What equipment is, in words: its kind, whether she has it, the leading figures of its plate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.domain.figures import format_number, format_watts
from hearthload.domain.supply import Chemistry, Supply, SupplyDraft, SupplyKind
from hearthload.service.outage_words import CHEMISTRY_WORDS, FUEL_WORDS

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


def what_it_is(supply: Supply) -> str:
    """Say what a supply is and whether she has it, "battery with inverter, offered"."""
    return f"{SUPPLY_WORDS[supply.kind]}, {OWNED_WORDS[supply.draft.owned]}"


def plate_words(supply: Supply, members: tuple[Supply, ...]) -> str:
    """Say the leading figures of the data plate, "1.50 kWh, lithium NMC, 600 W"; names for a combination."""
    if supply.kind is SupplyKind.COMBINATION:
        return " with ".join(member.name for member in members)
    found = [_stored(supply.draft), _chemistry(supply.draft)]
    if supply.kind is SupplyKind.GENERATOR:
        found = [FUEL_WORDS[supply.draft.fuel]]
    power = supply.draft.array_w if supply.kind is SupplyKind.ARRAY else supply.draft.continuous_w
    found.append("" if power is None else format_watts(power))
    return ", ".join(part for part in found if part)


def _stored(draft: SupplyDraft) -> str:
    return "" if draft.stored_wh is None else f"{format_number(draft.stored_wh / 1000.0, 3)} kWh"


def _chemistry(draft: SupplyDraft) -> str:
    return "" if draft.chemistry is Chemistry.NOT_KNOWN else CHEMISTRY_WORDS[draft.chemistry]

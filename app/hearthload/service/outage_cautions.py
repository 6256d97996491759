"""What must be said beside the figures of an outage, in sentences; local codes and licensed people first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Plan
from hearthload.domain.supply import Chemistry, Supply, SupplyKind, Waveform
from hearthload.outage.answers import LoadLine, Note
from hearthload.outage.battery import may_charge, may_freeze
from hearthload.outage.demand import starts_by_itself
from hearthload.outage.facts import Facts

ESTIMATE = "A plan is an estimate, not a guarantee: real days differ, and equipment ages."
MEDICAL = (
    "A load here keeps somebody alive or healthy. These figures are no design for life support: ask the "
    "equipment's supplier and the clinician, have a fallback that needs no electricity, and register with "
    "the power company where that can be done."
)
FOOD = (
    "A closed refrigerator keeps food safe for about 4 hours, a full freezer for 48, a half-full one for 24 "
    "(USDA). Throw out what was above 4 °C (40 °F) for more than 2 hours; do not taste it."
)
MEDICINE_COLD = (
    "Most refrigerated medicine belongs between 2 and 8 °C and must not freeze. Keep a thermometer in with "
    "it and ask the pharmacist how long it may be warmer."
)
HARD_WIRED = (
    "Hard-wired and 230/240 V circuits, transfer switches and any connection of a supply to house wiring are "
    "for a licensed electrician under local code. Never feed a supply back through a wall outlet."
)
ONE_BY_ONE = (
    "When power returns, all motors start together. Switch loads off beforehand and on again one by one."
)
LONG_RUN = "Plugs, cords and sockets: keep to 80 % of the rating for loads that run three hours or more."
GENERATOR = (
    "Run a generator outdoors only, at least 6 m (20 ft) from doors, windows and vents, its exhaust pointing "
    "away, never in a garage or shed; put carbon-monoxide alarms inside (CPSC). Refuel it cold and off."
)
BACK_FEED = (
    "Plug loads into the supply itself. Connecting it to house wiring takes a transfer switch, fitted by a "
    "licensed electrician: back-feeding kills people who work on the line."
)
CHARGE_COLD = "This battery must not be charged where it stands: it is too cold or too hot there."
LEAD_GAS = "A lead-acid battery gives off hydrogen while charging: ventilate, and keep sparks away."
LEAD_FREEZES = (
    "A discharged lead-acid battery freezes and is ruined by it: empty at about 0 °C, at 40 % charge at "
    "about −9 °C, full only at about −65 °C. Where it is below 0 °C, keep it well charged or bring it "
    "somewhere warmer, and never charge a frozen one."
)
LITHIUM = (
    "Keep a lithium battery out of bedrooms and escape routes, with a smoke alarm near, and never charge one "
    "that is damaged, wet or swollen."
)
HALF_A_LEG = "A 120/240 V set gives only half its power on each 120 V leg: spread the loads over both."
GRID_TIED = "Panels tied to the grid switch off with it: alone they give nothing in an outage."
MODIFIED_SINE = (
    "A modified sine wave heats motors and upsets some timers, chargers and medical equipment; a sine wave "
    "does not."
)

LEG_V = (100.0, 127.0)
"""Mains between one leg and neutral where a generator has two legs, from Japan's to Mexico's [V]."""

_COLD = frozenset({Kind.REFRIGERATOR, Kind.FREEZER})
_LITHIUM = frozenset({Chemistry.LFP, Chemistry.NMC, Chemistry.NOT_KNOWN})


def plan_cautions(lines: Sequence[LoadLine]) -> tuple[str, ...]:
    """Say what a plan's loads call for; the medical caution first, the general one last."""
    kept = [line for line in lines if line.load.role is not Role.OFF]
    medical = [line for line in kept if line.load.medical]
    found = []
    if medical:
        found.append(MEDICAL)
    if any(line.load.kind in _COLD for line in medical):
        found.append(MEDICINE_COLD)
    if any(line.load.kind in _COLD for line in kept):
        found.append(FOOD)
    if any(Note.HARD_WIRED in line.notes for line in kept):
        found.append(HARD_WIRED)
    if sum(starts_by_itself(line) for line in kept) > 1:
        found.append(ONE_BY_ONE)
    if kept:
        found.append(LONG_RUN)
    return (*found, ESTIMATE)


def supply_cautions(
    members: Iterable[Supply], lines: Sequence[LoadLine], plan: Plan, facts: Facts, mains_v: float
) -> tuple[str, ...]:
    """Say what a supply calls for, where it stands, with these loads and on mains of so many volts."""
    found = []
    drafts = [member.draft for member in members]
    kinds = {draft.kind for draft in drafts}
    if any(line.load.medical and line.load.role is not Role.OFF for line in lines):
        found.append(MEDICAL)
    if SupplyKind.GENERATOR in kinds:
        found.append(GENERATOR)
        if LEG_V[0] <= mains_v <= LEG_V[1]:
            found.append(HALF_A_LEG)
    batteries = [draft.chemistry for draft in drafts if draft.kind is SupplyKind.BATTERY]
    found += _battery_cautions(batteries, plan, facts)
    if any(draft.waveform is Waveform.MODIFIED_SINE for draft in drafts):
        found.append(MODIFIED_SINE)
    if any(draft.kind is SupplyKind.ARRAY and draft.grid_tied for draft in drafts):
        found.append(GRID_TIED)
    if kinds & {SupplyKind.BATTERY, SupplyKind.GENERATOR}:
        found.append(BACK_FEED)
    return (*found, ESTIMATE)


def _battery_cautions(cells: Sequence[Chemistry], plan: Plan, facts: Facts) -> list[str]:
    """Say what batteries of these cells call for where they stand."""
    said = (
        (CHARGE_COLD, any(not may_charge(each, plan.battery_c, facts) for each in cells)),
        (LEAD_GAS, any(each.is_lead for each in cells)),
        (LEAD_FREEZES, any(may_freeze(each, plan.battery_c) for each in cells)),
        (LITHIUM, any(each in _LITHIUM for each in cells)),
    )
    return [sentence for sentence, holds in said if holds]

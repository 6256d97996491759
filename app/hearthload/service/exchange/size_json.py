"""A size file: a plan, its loads and supplies without a logbook, read strictly; the help page tells of it."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

from hearthload.domain.household import Household
from hearthload.domain.plan import Plan, PlanDraft
from hearthload.domain.supply import Supply, SupplyDraft
from hearthload.errors import KnownError
from hearthload.outage.answers import LoadInput
from hearthload.outage.catalogue import CATALOGUE, facts_in_force
from hearthload.outage.facts import Facts
from hearthload.service.edits.household_values import tidied_household
from hearthload.service.edits.plan_values import tidied_plan
from hearthload.service.edits.supply_values import refuse_odd_count, refuse_odd_members, tidied_supply
from hearthload.service.exchange.csv_cells import shown
from hearthload.service.exchange.json_fields import Fields, Place, hints_of, number
from hearthload.service.exchange.json_text import JsonObject, read_json
from hearthload.service.exchange.size_loads import KEYS, read_load
from hearthload.service.tidy import same_name

WHOLE = ("plan", "mains_v", "mains_hz", "figures", "loads", "supplies")
MOST_LOADS = 200
MOST_SUPPLIES = 50


@dataclass(frozen=True, slots=True)
class SizeFile:
    """What a size file says, checked: as the arithmetic takes it. `own` are the figures it sets itself.

    `assumed` are the fields of the plan that it does not give.
    """

    plan: Plan
    mains_v: float
    mains_hz: float
    own: dict[str, float]
    loads: tuple[LoadInput, ...]
    supplies: tuple[Supply, ...]
    assumed: frozenset[str] = frozenset()

    @property
    def facts(self) -> Facts:
        """Give the figures of the trade in force."""
        return facts_in_force(self.own)


class _Named(Protocol):
    @property
    def name(self) -> str: ...


def read_size_json(path: Path) -> SizeFile:
    """Read a size file; raises KnownError with the place where something cannot be."""
    place = Place(path.name)
    fields = Fields(read_json(path), place, WHOLE)
    fields.need("plan", "loads")
    plan, assumed = _plan(fields, path.stem)
    mains_v, mains_hz = _mains(fields)
    own = _figures(fields)
    loads, supplies = _loads(fields, facts_in_force(own)), tuple(_supplies(fields).values())
    return SizeFile(plan, mains_v, mains_hz, own, loads, supplies, assumed)


def _plan(fields: Fields, name: str) -> tuple[Plan, frozenset[str]]:
    """Read the plan, and tell which of its fields are not given."""
    found = Fields(fields["plan"], fields.place.at("plan"), hints_of(PlanDraft))
    found.need("days")
    with found.telling():
        draft = tidied_plan(found.made(PlanDraft, name=name))
    keys = hints_of(PlanDraft)
    assumed = frozenset(key for key in keys if key not in found)
    return Plan(0, **{key: getattr(draft, key) for key in keys}), assumed


def _mains(fields: Fields) -> tuple[float, float]:
    usual = Household()
    values = [
        number(fields[key], fields.place.at(key)) if key in fields else otherwise
        for key, otherwise in (
            ("mains_v", usual.mains_voltage_v),
            ("mains_hz", usual.mains_frequency_hz),
        )
    ]
    for key, household in (
        ("mains_v", replace(usual, mains_voltage_v=values[0])),
        ("mains_hz", replace(usual, mains_frequency_hz=values[1])),
    ):
        _checked(household, fields, key)
    return values[0], values[1]


def _checked(household: Household, fields: Fields, key: str) -> None:
    """Check one figure of the mains as the household's settings are; its entry has a name of its own here."""
    try:
        tidied_household(household)
    except KnownError as error:
        raise fields.refused(key, str(error)) from None


def _figures(fields: Fields) -> dict[str, float]:
    """Read the figures of the trade that the file sets for itself; unknown ones and odd ones are refused."""
    place = fields.place.at("figures")
    value = fields["figures"]
    if value is None:
        return {}
    if isinstance(value, JsonObject):
        for key in value:
            if key not in CATALOGUE:
                near = difflib.get_close_matches(key, CATALOGUE, n=3)
                hint = f"; near it: {', '.join(near)}" if near else ""
                raise place.refused(f"there is no figure {shown(key)} of the trade{hint}")
    found = Fields(value, place, CATALOGUE)
    own = {key: number(found[key], place.at(key)) for key in CATALOGUE if key in found}
    with found.telling():
        Facts(CATALOGUE, own)
    return own


def _loads(fields: Fields, facts: Facts) -> tuple[LoadInput, ...]:
    items = fields.items("loads")
    if not items:
        raise fields.refused("loads", "there is no load, so there is nothing to size")
    if len(items) > MOST_LOADS:
        raise fields.refused("loads", f"there are {len(items)}, and {MOST_LOADS} are the most")
    loads: list[LoadInput] = []
    for value, place in items:
        load = read_load(Fields(value, place, KEYS), facts)
        _refuse_twice(load.name, loads, place, "loads")
        loads.append(load)
    return tuple(loads)


def _supplies(fields: Fields) -> dict[int, Supply]:
    """Read the supplies; members of a combination are named, and may stand before or after it."""
    items = fields.items("supplies")
    if len(items) > MOST_SUPPLIES:
        raise fields.refused("supplies", f"there are {len(items)}, and {MOST_SUPPLIES} are the most")
    read = [Fields(value, place, hints_of(SupplyDraft)) for value, place in items]
    found: dict[int, Supply] = {}
    for number_, each in enumerate(read):
        each.need("name", "kind")
        draft = each.made(SupplyDraft, ("members",))
        with each.telling():
            draft = tidied_supply(draft)
        _refuse_twice(draft.name, found.values(), each.place, "supplies")
        found[number_] = Supply(number_, draft)
    for number_, each in enumerate(read):
        members = tuple(_member(value, place, found) for value, place in each.items("members"))
        draft = replace(found[number_].draft, members=members)
        with each.telling():
            refuse_odd_count(draft)
            refuse_odd_members(draft, found)
        found[number_] = Supply(number_, draft)
    return found


def _member(value: object, place: Place, supplies: dict[int, Supply]) -> int:
    if not isinstance(value, str):
        raise place.refused("a member is the name of a supply in this file, in quotation marks")
    for key, supply in supplies.items():
        if same_name(supply.name, " ".join(value.split())):
            return key
    raise place.refused(f"there is no supply {shown(value)} in this file")


def _refuse_twice(name: str, others: Iterable[_Named], place: Place, where: str) -> None:
    for at, other in enumerate(others):
        if same_name(name, other.name):
            raise place.at("name").refused(f"{where}[{at}] is called {shown(other.name)} too")

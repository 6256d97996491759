"""Every figure of the trade that the answers rest on, by its key."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from hearthload.outage.facts import Fact, Facts, by_key
from hearthload.outage.facts_loads import FACTS as LOADS
from hearthload.outage.facts_supply import FACTS as SUPPLIES

CATALOGUE: Mapping[str, Fact] = MappingProxyType(by_key(LOADS, SUPPLIES))
"""Facts of all rooms: loads, inverter, battery, sun, generator, cords."""


def facts_in_force(own: Mapping[str, float]) -> Facts:
    """Give the trade's figures with her own in place of some.

    Figures that this version does not know, or that lie outside what it allows, are left out: a logbook of
    another version may hold them, and an answer must not fail by them.
    """
    kept = {key: value for key, value in own.items() if key in CATALOGUE and _allowed(CATALOGUE[key], value)}
    return Facts(CATALOGUE, kept)


def _allowed(fact: Fact, value: float) -> bool:
    return fact.least <= value <= fact.most

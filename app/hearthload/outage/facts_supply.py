"""All figures of the trade on the supply side: inverter, battery, sun, generator, cords."""

from __future__ import annotations

from hearthload.outage.facts import Fact
from hearthload.outage.facts_sources import CORDS, GENERATOR, SUN
from hearthload.outage.facts_storage import BATTERY, INVERTER

FACTS: tuple[Fact, ...] = (*INVERTER, *BATTERY, *SUN, *GENERATOR, *CORDS)
"""Facts of the rooms inverter, battery, sun, generator and cords."""

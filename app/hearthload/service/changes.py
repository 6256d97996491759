"""What an edit (or its undo) changed, told once to everybody who shows it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Topic(StrEnum):
    """What a page can be about."""

    HOUSEHOLD = "household"
    APPLIANCES = "appliances"
    METERS = "meters"
    MEASUREMENTS = "measurements"
    READINGS = "readings"
    DOUBTS = "doubts"
    PLANS = "plans"
    SUPPLIES = "supplies"


@dataclass(frozen=True, slots=True)
class Changes:
    """The name of what was done, the topics it touched and the numbers of the things concerned.

    `created_id` is the number of the thing that the edit added, None for any other edit and for undo.
    """

    name: str
    topics: frozenset[Topic]
    appliance_ids: frozenset[int] = frozenset()
    meter_ids: frozenset[int] = frozenset()
    measurement_ids: frozenset[int] = frozenset()
    created_id: int | None = None
    plan_ids: frozenset[int] = frozenset()
    supply_ids: frozenset[int] = frozenset()

    @property
    def is_reading(self) -> bool:
        """Tell whether readings alone were touched: added, changed or taken away."""
        return self.topics == {Topic.READINGS}

    @property
    def about_all(self) -> bool:
        """Tell whether no single thing is named: another program may have changed anything."""
        measured = self.appliance_ids | self.meter_ids | self.measurement_ids
        return not (measured or self.plan_ids or self.supply_ids)

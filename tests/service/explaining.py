"""Measurements to explain, and what is said of them."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import Estimate, Interval
from hearthload.service.edits.readings import add_reading
from hearthload.service.explain import explain
from tests.service.building import House, read_on

STEPS = (1.0, 1.08, 0.94, 1.03, 0.97, 1.06, 0.99, 1.01)


def measured(
    house: House,
    kind: Kind = Kind.REFRIGERATOR,
    steps: Sequence[float] = STEPS,
    *,
    uses: int | None = None,
    step_kwh: float = 0.01,
    **noted: object,
) -> int:
    """Give a measurement of a new appliance, read every morning."""
    name = f"{kind.value} {len(house.held.appliances)}"
    appliance_id = house.appliance(name, kind, **noted)
    stay = house.started(
        appliance_id, house.meter(f"Meter of {name}", energy_step_kwh=step_kwh), energy_kwh=20.0
    )
    for day in range(1, len(steps) + 1):
        draft = read_on(day, round(20.0 + sum(steps[:day]), 2), uses=uses)
        add_reading(house.logbook, stay, draft)
    return stay


def told(house: House, measurement_id: int) -> tuple[dict[str, str], Estimate]:
    """Give what is said under each heading, and the estimate."""
    steps = explain(house.logbook, measurement_id).steps
    said = {step.heading: step.text for step in steps}
    assert len(said) == len(steps)
    return said, house.logbook.estimates.estimate(measurement_id)


def daily(estimate: Estimate | None) -> Interval:
    assert estimate is not None
    assert estimate.daily_kwh is not None
    return estimate.daily_kwh

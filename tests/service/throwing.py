"""Random edits for tests of history: which one, and the dice that say on what."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime

from hypothesis import strategies as st

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.doubt import DoubtCode
from hearthload.domain.household import Household
from hearthload.domain.meter import MeterDraft
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.reading import ReadingDraft
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.service.changes import Changes
from hearthload.service.edits import (
    appliances,
    household,
    measurements,
    meters,
    plans,
    readings,
    settling,
    supplies,
)
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import plan_measurement, start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import Logbook
from tests.service.building import on_day


@dataclass(frozen=True)
class Throw:
    """A random edit: which one, and the dice that say on what; many are refused, as they should be."""

    edit: str
    one: int
    other: int
    day: int
    energy_kwh: float | None
    yes: bool


NAMES = ("Router", "Lamp", "ROUTER", "Oven")
NOBODY = 99
LARGEST_DIE = 11


def picked(numbers: Collection[int], die: int) -> int:
    """Pick one of the numbers that there are, or once in a while one that is not there."""
    return sorted(numbers)[die % len(numbers)] if numbers and die != LARGEST_DIE else NOBODY


def throws() -> st.SearchStrategy[Throw]:
    """Draw random edits, mornings' readings more often than others."""
    often = ["add_reading"] * 6 + ["start_measurement", "reset_meter", "swap_meter", "remove_reading"] * 3
    edits = [*often, *THROWN, *(edit for edit in THROWN if not edit.startswith("remove_"))]
    return st.builds(
        Throw,
        edit=st.sampled_from(edits),
        one=st.integers(0, LARGEST_DIE),
        other=st.integers(0, LARGEST_DIE),
        day=st.integers(0, 60),
        energy_kwh=st.none() | st.floats(0.0, 20.0).map(lambda value: round(value, 2)),
        yes=st.booleans(),
    )


def thrown(logbook: Logbook, throw: Throw) -> Changes:
    """Make a random edit."""
    return THROWN[throw.edit](logbook, throw)


def _appliance(throw: Throw) -> ApplianceDraft:
    heavy = 9_999.0 if throw.day % 7 == 0 else None
    kind = Kind.PUMP if throw.yes else Kind.ALWAYS_ON
    wired = throw.day % 5 == 0
    return ApplianceDraft(NAMES[throw.other % 4], kind, nameplate_w=heavy, hard_wired=wired)


def _meter(throw: Throw) -> MeterDraft:
    return MeterDraft(NAMES[throw.other % 4], energy_step_kwh=0.001 if throw.yes else 0.01)


def _reading(throw: Throw) -> ReadingDraft:
    """Give a reading of some half day; its counter mostly stands where the day says."""
    energy = 0.15 * throw.day if throw.energy_kwh is None else throw.energy_kwh
    return ReadingDraft(_moment(throw), energy, note="again" if throw.yes else "")


def _first(throw: Throw) -> ReadingDraft:
    return ReadingDraft(_moment(throw), 0.0 if throw.yes or throw.energy_kwh is None else throw.energy_kwh)


def _moment(throw: Throw) -> datetime:
    """Give some half day, the seconds differing: readings are told apart by the minute."""
    return on_day(throw.day / 2, seconds=20.0 * (throw.other % 3))


def _start(logbook: Logbook, throw: Throw) -> Changes:
    held = logbook.held()
    plans = [key for key, found in held.measurements.items() if found.started_at is None]
    plan = picked(plans, throw.other) if throw.energy_kwh is not None else None
    appliance_id = picked(held.appliances, throw.one)
    if plan is not None and plan != NOBODY:
        appliance_id = held.measurement(plan).appliance_id
    meter_id = picked(held.meters, throw.other)
    first, zero = _first(throw), throw.yes
    return start_measurement(logbook, appliance_id, meter_id, first, exact_zero=zero, measurement_id=plan)


def _plan(logbook: Logbook, throw: Throw) -> Changes:
    held = logbook.held()
    meter_id = picked(held.meters, throw.other) if throw.yes else None
    return plan_measurement(logbook, picked(held.appliances, throw.one), meter_id)


def _measurement_id(logbook: Logbook, throw: Throw) -> int:
    return picked(logbook.held().measurements, throw.one)


def _reading_id(logbook: Logbook, throw: Throw) -> int:
    record = logbook.held().record(_measurement_id(logbook, throw))
    return picked([reading.id for reading in record.readings], throw.day)


def _swap(logbook: Logbook, throw: Throw) -> Changes:
    number, meter_id = _measurement_id(logbook, throw), picked(logbook.held().meters, throw.other)
    return measurements.swap_meter(logbook, number, meter_id, _first(throw), exact_zero=throw.yes)


def _plan_id(logbook: Logbook, throw: Throw) -> int:
    return picked(logbook.held().plans, throw.one)


def _plan_draft(throw: Throw) -> PlanDraft:
    return PlanDraft(NAMES[throw.other % 4], days=float(throw.day), month=1 + throw.day % 12)


def _load(logbook: Logbook, throw: Throw) -> Changes:
    use = Use.HOURS_A_DAY if throw.yes else Use.ASSUMED
    draft = PlanLoadDraft(
        picked(logbook.held().appliances, throw.other),
        Role.WANTED if throw.yes else Role.OFF,
        use=use,
        hours_a_day=throw.energy_kwh,
        rank=throw.day,
    )
    return plans.set_plan_load(logbook, _plan_id(logbook, throw), draft)


def _figure(logbook: Logbook, throw: Throw) -> Changes:
    key = "battery_margin" if throw.yes else "long_run_share"
    return plans.set_plan_figure(logbook, _plan_id(logbook, throw), key, throw.energy_kwh)


def _supply_id(logbook: Logbook, throw: Throw) -> int:
    return picked(logbook.held().supplies, throw.one)


def _supply(logbook: Logbook, throw: Throw) -> SupplyDraft:
    """Give a battery, or a combination of what there is, others and itself among it now and then."""
    name, there = NAMES[throw.other % 4], logbook.held().supplies
    if not throw.yes:
        return SupplyDraft(name, SupplyKind.BATTERY, stored_wh=throw.energy_kwh)
    members = (picked(there, throw.day % LARGEST_DIE), picked(there, (throw.day + 1) % LARGEST_DIE))
    return SupplyDraft(name, SupplyKind.COMBINATION, members=members)


THROWN: dict[str, Callable[[Logbook, Throw], Changes]] = {
    "add_appliance": lambda logbook, throw: add_appliance(logbook, _appliance(throw)),
    "change_appliance": lambda logbook, throw: appliances.change_appliance(
        logbook, picked(logbook.held().appliances, throw.one), _appliance(throw)
    ),
    "take_as_kind": lambda logbook, throw: appliances.take_as_kind(
        logbook, picked(logbook.held().appliances, throw.one), Kind.PUMP if throw.yes else Kind.FREEZER
    ),
    "remove_appliance": lambda logbook, throw: appliances.remove_appliance(
        logbook, picked(logbook.held().appliances, throw.one)
    ),
    "add_meter": lambda logbook, throw: add_meter(logbook, _meter(throw)),
    "change_meter": lambda logbook, throw: meters.change_meter(
        logbook, picked(logbook.held().meters, throw.one), _meter(throw)
    ),
    "remove_meter": lambda logbook, throw: meters.remove_meter(
        logbook, picked(logbook.held().meters, throw.one)
    ),
    "set_household": lambda logbook, throw: household.set_household(
        logbook, Household(name=NAMES[throw.other % 4])
    ),
    "plan_measurement": _plan,
    "start_measurement": _start,
    "reset_meter": lambda logbook, throw: measurements.reset_meter(
        logbook, _measurement_id(logbook, throw), _first(throw), exact_zero=throw.yes
    ),
    "swap_meter": _swap,
    "finish_measurement": lambda logbook, throw: measurements.finish_measurement(
        logbook, _measurement_id(logbook, throw), _moment(throw)
    ),
    "reopen_measurement": lambda logbook, throw: measurements.reopen_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "set_aside_measurement": lambda logbook, throw: measurements.set_aside_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "remove_measurement": lambda logbook, throw: measurements.remove_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "describe_measurement": lambda logbook, throw: measurements.describe_measurement(
        logbook, _measurement_id(logbook, throw), room_temperature_c=float(throw.day), note=""
    ),
    "join_measurement": lambda logbook, throw: settling.join_measurement(
        logbook, _measurement_id(logbook, throw), joined=throw.yes
    ),
    "answer_doubt": lambda logbook, throw: settling.answer_doubt(
        logbook,
        _measurement_id(logbook, throw),
        DoubtCode.ODD_READING,
        _reading_id(logbook, throw) if throw.yes else None,
    ),
    "add_reading": lambda logbook, throw: add_reading(
        logbook, _measurement_id(logbook, throw), _reading(throw)
    ),
    "change_reading": lambda logbook, throw: readings.change_reading(
        logbook, _reading_id(logbook, throw), _reading(throw)
    ),
    "remove_reading": lambda logbook, throw: readings.remove_reading(logbook, _reading_id(logbook, throw)),
    "add_plan": lambda logbook, throw: plans.add_plan(logbook, _plan_draft(throw)),
    "copy_plan": lambda logbook, throw: plans.copy_plan(
        logbook, _plan_id(logbook, throw), NAMES[throw.other % 4]
    ),
    "change_plan": lambda logbook, throw: plans.change_plan(
        logbook, _plan_id(logbook, throw), _plan_draft(throw)
    ),
    "remove_plan": lambda logbook, throw: plans.remove_plan(logbook, _plan_id(logbook, throw)),
    "set_plan_load": _load,
    "set_plan_figure": _figure,
    "add_supply": lambda logbook, throw: supplies.add_supply(logbook, _supply(logbook, throw)),
    "change_supply": lambda logbook, throw: supplies.change_supply(
        logbook, _supply_id(logbook, throw), _supply(logbook, throw)
    ),
    "remove_supply": lambda logbook, throw: supplies.remove_supply(logbook, _supply_id(logbook, throw)),
}

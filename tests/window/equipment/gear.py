"""Equipment and an outage plan to hold it against, put into a logbook by the program's own edits."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.supply import Chemistry, SupplyDraft, SupplyKind, Waveform
from hearthload.service import outages
from hearthload.service.edits.plans import add_plan, set_plan_load
from hearthload.service.edits.supplies import add_supply
from hearthload.service.outage_answers import SupplyAnswer
from tests.window.filling import House, created

STRONG = SupplyDraft(
    "Attic battery", SupplyKind.BATTERY, voltage_v=230.0, frequency_hz=50.0, plug="cee_7", outlet_a=16.0,
    outlets=2, continuous_w=5000.0, continuous_va=5000.0, start_w=9000.0, start_va=9000.0, start_s=10.0,
    stored_wh=40_000.0, chemistry=Chemistry.LFP, battery_v=51.2, battery_limit_a=200.0, idle_w=20.0,
    charge_w=2000.0, solar_w=3000.0, waveform=Waveform.SINE,
)  # fmt: skip
WEAK = replace(
    STRONG, name="Camping battery", owned=False, continuous_w=600.0, continuous_va=600.0, start_w=1000.0,
    start_va=1000.0, stored_wh=9000.0, chemistry=Chemistry.NMC, battery_v=None, battery_limit_a=None,
)  # fmt: skip
BLANK = SupplyDraft("Unlabelled box", SupplyKind.BATTERY, owned=False)
ENGINE = SupplyDraft(
    "Yard generator", SupplyKind.GENERATOR, voltage_v=230.0, frequency_hz=50.0, plug="cee_7", outlet_a=16.0,
    continuous_w=4000.0, continuous_va=4000.0, start_w=6000.0, start_va=6000.0, tank_l=15.0,
)  # fmt: skip
PANELS = SupplyDraft("Porch panels", SupplyKind.ARRAY, array_w=400.0)


def planned(house: House, name: str = "Winter storm", **changed: float) -> int:
    """Add a plan of three days with a cold box, a laptop and a kettle, all of assumed figures."""
    logbook, session = house.session.logbook, house.session
    held = {each.name: each.id for each in logbook.held().appliances.values()}
    for appliance, kind in (
        ("Cold box", Kind.REFRIGERATOR),
        ("Laptop", Kind.WORK_ELECTRONICS),
        ("Kettle", Kind.KITCHEN),
    ):
        held.setdefault(appliance, 0)
        held[appliance] = held[appliance] or house.appliance(appliance, kind)
    plan_id = created(session.do(add_plan, PlanDraft(name, **changed)))  # type: ignore[arg-type]
    box = PlanLoadDraft(held["Cold box"], Role.ESSENTIAL, use=Use.ASSUMED, daily_kwh=0.9, daily_low_kwh=0.8,
        daily_high_kwh=1.0, running_w=90.0, power_factor=0.8, start_multiple=5.0, start_s=1.0)  # fmt: skip
    laptop = PlanLoadDraft(held["Laptop"], Role.WANTED, use=Use.ASSUMED, daily_kwh=0.3, daily_low_kwh=0.2,
        daily_high_kwh=0.4, running_w=60.0, power_factor=0.9, rank=1)  # fmt: skip
    kettle = PlanLoadDraft(held["Kettle"], Role.WANTED, use=Use.ASSUMED, daily_kwh=0.6, daily_low_kwh=0.5,
        daily_high_kwh=0.7, running_w=2000.0, power_factor=1.0, rank=2)  # fmt: skip
    for load in (box, laptop, kettle):
        session.do(set_plan_load, plan_id, load)
    return plan_id


def owned(house: House, *drafts: SupplyDraft) -> list[int]:
    """Add supplies and give their numbers."""
    return [created(house.session.do(add_supply, draft)) for draft in drafts]


def answers(house: House, plan_id: int) -> dict[str, SupplyAnswer]:
    """Give what the program answers about every supply, by its name."""
    return {each.supply.name: each for each in outages.supply_answers(house.session.logbook, plan_id)}

"""The demo's outages and equipment, all invented: a winter storm, a summer afternoon, what may carry them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    SupplyDraft,
    SupplyKind,
    Waveform,
)

NOBODY = 0
"""Stands for an appliance's number in the loads below, until the logbook has given it one."""

LATITUDE_DEG = 48.0
ALTITUDE_M = 480.0


@dataclass(frozen=True, slots=True)
class Outage:
    """A plan, and by their names the appliances that are something else in it than usually."""

    plan: PlanDraft
    loads: Mapping[str, PlanLoadDraft]


def _off() -> PlanLoadDraft:
    return PlanLoadDraft(NOBODY, Role.OFF, use=Use.ASSUMED)


# The boiler's heat goes with 18.5 °C less the outdoor mean, which is 4 °C in late November and 2 °C in
# January: about a quarter more, and the weather of three days spreads that widely.
WINTER_STORM = Outage(
    PlanDraft(
        "Winter storm", days=3.0, month=1, battery_c=12.0, outdoor_c=0.0, altitude_m=ALTITUDE_M,
        latitude_deg=LATITUDE_DEG,
        note="Three days, as long as the line over the ridge was down once. Water is drawn beforehand, so "
        "the well pump stays off.",
    ),
    {
        "Boiler with circulator": PlanLoadDraft(
            NOBODY, Role.ESSENTIAL, season_factor=1.25, season_factor_u=0.15
        ),
        "Cellar pump": PlanLoadDraft(NOBODY, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=1.0),
        "Mobility-scooter charger": PlanLoadDraft(
            NOBODY, Role.WANTED, use=Use.ASSUMED, daily_kwh=0.5, daily_low_kwh=0.3, daily_high_kwh=0.8, rank=1
        ),
        "Evening corner with television": PlanLoadDraft(
            NOBODY, Role.WANTED, use=Use.HOURS_A_DAY, hours_a_day=3.0, running_w=95.0, rank=2
        ),
        "Work laptop and screen": PlanLoadDraft(NOBODY, Role.WANTED, rank=3),
        "Kettle": PlanLoadDraft(NOBODY, Role.OFF, use=Use.USES_A_DAY, uses_a_day=3.0),
        "Dehumidifier": PlanLoadDraft(NOBODY, Role.OFF),
        "Well pump": _off(),
    },
)  # fmt: skip

SUMMER_AFTERNOON = Outage(
    PlanDraft(
        "Summer afternoon", days=8.0 / 24.0, month=7, room_c=26.0, battery_c=26.0, outdoor_c=31.0,
        altitude_m=ALTITUDE_M, latitude_deg=LATITUDE_DEG,
        note="Eight hours in a heat wave: what is cold is to stay cold.",
    ),
    {
        "Barn freezer": PlanLoadDraft(NOBODY, Role.ESSENTIAL, room_c=22.0),
        "Larder refrigerator": PlanLoadDraft(NOBODY, Role.ESSENTIAL, room_c=21.0),
        "Work laptop and screen": PlanLoadDraft(NOBODY, Role.WANTED, rank=1),
        "Boiler with circulator": PlanLoadDraft(NOBODY, Role.OFF),
        "Dehumidifier": PlanLoadDraft(NOBODY, Role.OFF),
        "Kettle": PlanLoadDraft(NOBODY, Role.OFF),
        "Cellar pump": _off(),
        "Evening corner with television": _off(),
        "Mobility-scooter charger": _off(),
        "Well pump": _off(),
    },
)  # fmt: skip

OUTAGES = (WINTER_STORM, SUMMER_AFTERNOON)

SUPPLIES = (
    SupplyDraft(
        "Hall cupboard battery", SupplyKind.BATTERY, voltage_v=230.0, frequency_hz=50.0, plug="cee_7",
        outlet_a=16.0, outlets=2, continuous_w=3000.0, continuous_va=3000.0, start_w=6000.0, start_va=6000.0,
        start_s=5.0, stored_wh=25_600.0, chemistry=Chemistry.LFP, battery_v=51.2, battery_limit_a=150.0,
        idle_w=18.0, charge_w=2000.0, solar_w=3000.0, waveform=Waveform.SINE,
        note="Five modules on a shelf, with an inverter of its own above them.",
    ),
    SupplyDraft(
        "Borrowed camping battery", SupplyKind.BATTERY, owned=False, voltage_v=230.0, frequency_hz=50.0,
        plug="cee_7", outlet_a=10.0, outlets=2, continuous_w=600.0, continuous_va=600.0, start_w=1000.0,
        start_va=1000.0, start_s=1.0, stored_wh=1500.0, chemistry=Chemistry.NMC, battery_v=36.0,
        battery_limit_a=30.0, idle_w=7.0, charge_w=300.0, solar_w=200.0, waveform=Waveform.SINE,
        note="The village hall lends it out between its own outings.",
    ),
    SupplyDraft(
        "Workshop battery", SupplyKind.BATTERY, owned=False, voltage_v=230.0, frequency_hz=50.0, plug="cee_7",
        outlet_a=16.0, outlets=2, continuous_w=2500.0, continuous_va=2500.0, start_w=5000.0, start_va=5000.0,
        start_s=5.0, stored_wh=4800.0, chemistry=Chemistry.AGM, battery_v=24.0, battery_limit_a=250.0,
        idle_w=15.0, charge_w=600.0, solar_w=0.0, waveform=Waveform.SINE,
        note="Offered second-hand: strong at starting, and soon empty.",
    ),
    SupplyDraft(
        "Neighbour's petrol generator", SupplyKind.GENERATOR, owned=False, voltage_v=230.0, frequency_hz=50.0,
        plug="cee_7", outlet_a=16.0, outlets=2, continuous_w=3000.0, continuous_va=3000.0, start_w=3300.0,
        start_va=3300.0, fuel=Fuel.PETROL, control=EngineControl.FIXED_SPEED, tank_l=15.0,
        half_load_l_h=1.1, full_load_l_h=1.7, note="To be fetched over the field with the handcart.",
    ),
    SupplyDraft(
        "Folding panels", SupplyKind.ARRAY, array_w=200.0, tilt_deg=40.0, azimuth_deg=180.0,
        note="Stood up on the terrace when the sun is out.",
    ),
)  # fmt: skip

COMBINATIONS = (
    (
        SupplyDraft("Camping battery with panels", SupplyKind.COMBINATION, owned=False),
        ("Borrowed camping battery", "Folding panels"),
    ),
)
"""Combinations, and by their names the supplies that each is made of."""

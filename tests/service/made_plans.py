"""A plan, a load and a supply with every figure set, for tests that draw one out of what can be."""

from __future__ import annotations

from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.supply import Chemistry, SupplyDraft, SupplyKind, Waveform

STORM = PlanDraft(
    "Winter storm",
    days=2.5,
    month=2,
    room_c=12.0,
    battery_c=8.0,
    outdoor_c=-6.0,
    altitude_m=640.0,
    confidence=0.95,
    waking_from_h=6.5,
    waking_to_h=24.0,
    latitude_deg=-41.2,
    peak_sun_hours=0.0,
    note="the line over the ridge",
)

LOAD = PlanLoadDraft(
    appliance_id=1,
    role=Role.WANTED,
    quantity=2,
    use=Use.HOURS_A_DAY,
    hours_a_day=3.5,
    uses_a_day=4.0,
    daily_kwh=0.8,
    daily_low_kwh=0.5,
    daily_high_kwh=1.3,
    room_c=12.0,
    season_factor=0.9,
    season_factor_u=0.2,
    running_w=90.0,
    idle_w=2.0,
    power_factor=0.7,
    start_multiple=5.0,
    start_s=0.5,
    rank=3,
)

BATTERY = SupplyDraft(
    "Hall battery",
    SupplyKind.BATTERY,
    owned=False,
    voltage_v=230.0,
    frequency_hz=50.0,
    plug="cee_7",
    outlet_a=16.0,
    outlets=2,
    continuous_w=2000.0,
    continuous_va=2200.0,
    start_w=4000.0,
    start_va=4400.0,
    start_s=5.0,
    stored_wh=5000.0,
    chemistry=Chemistry.LFP,
    battery_v=51.2,
    battery_limit_a=100.0,
    idle_w=25.0,
    charge_w=900.0,
    solar_w=0.0,
    waveform=Waveform.SINE,
    tank_l=15.0,
    half_load_l_h=0.6,
    full_load_l_h=1.1,
    array_w=400.0,
    tilt_deg=35.0,
    azimuth_deg=180.0,
    note="offered second-hand",
)

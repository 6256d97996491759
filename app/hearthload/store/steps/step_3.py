"""Step 3: outage plans with their loads and figures, and the equipment that may carry them."""

from __future__ import annotations

from sqlalchemy import Connection

_PLANS = """
CREATE TABLE plans (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    days REAL NOT NULL CHECK (days > 0 AND days <= 366),
    month INTEGER NOT NULL CHECK (month BETWEEN 1 AND 12),
    room_c REAL CHECK (room_c BETWEEN -100 AND 100),
    battery_c REAL NOT NULL CHECK (battery_c BETWEEN -100 AND 100),
    outdoor_c REAL NOT NULL CHECK (outdoor_c BETWEEN -100 AND 100),
    altitude_m REAL NOT NULL CHECK (altitude_m BETWEEN -1000 AND 10000),
    confidence REAL NOT NULL CHECK (confidence BETWEEN 0.5 AND 0.999),
    waking_from_h REAL NOT NULL CHECK (waking_from_h BETWEEN 0 AND 24),
    waking_to_h REAL NOT NULL CHECK (waking_to_h BETWEEN 0 AND 24),
    latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),
    peak_sun_hours REAL CHECK (peak_sun_hours BETWEEN 0 AND 24),
    note TEXT NOT NULL,
    CHECK (waking_from_h < waking_to_h)
) STRICT
"""

_PLAN_LOADS = """
CREATE TABLE plan_loads (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    plan_id INTEGER NOT NULL REFERENCES plans (id),
    appliance_id INTEGER NOT NULL REFERENCES appliances (id),
    role TEXT NOT NULL CHECK (role IN ('essential', 'wanted', 'off')),
    quantity INTEGER NOT NULL CHECK (quantity BETWEEN 1 AND 1000),
    use TEXT NOT NULL CHECK (use IN ('as_measured', 'hours_a_day', 'uses_a_day', 'assumed')),
    hours_a_day REAL CHECK (hours_a_day > 0 AND hours_a_day <= 24),
    uses_a_day REAL CHECK (uses_a_day > 0 AND uses_a_day <= 1e6),
    daily_kwh REAL CHECK (daily_kwh > 0 AND daily_kwh <= 1e6),
    daily_low_kwh REAL CHECK (daily_low_kwh > 0 AND daily_low_kwh <= daily_kwh),
    daily_high_kwh REAL CHECK (daily_high_kwh >= daily_kwh AND daily_high_kwh <= 1e6),
    room_c REAL CHECK (room_c BETWEEN -100 AND 100),
    season_factor REAL CHECK (season_factor > 0 AND season_factor <= 1000),
    season_factor_u REAL CHECK (season_factor_u BETWEEN 0 AND 10),
    running_w REAL CHECK (running_w > 0 AND running_w <= 1e6),
    idle_w REAL CHECK (idle_w BETWEEN 0 AND 1e6),
    power_factor REAL CHECK (power_factor > 0 AND power_factor <= 1),
    start_multiple REAL CHECK (start_multiple BETWEEN 1 AND 100),
    start_s REAL CHECK (start_s > 0 AND start_s <= 3600),
    rank INTEGER NOT NULL CHECK (rank BETWEEN 0 AND 1000000),
    CHECK (use <> 'hours_a_day' OR hours_a_day IS NOT NULL),
    CHECK (use <> 'uses_a_day' OR uses_a_day IS NOT NULL),
    CHECK ((daily_low_kwh IS NULL) = (daily_high_kwh IS NULL)),
    CHECK (daily_low_kwh IS NULL OR daily_kwh IS NOT NULL),
    UNIQUE (plan_id, appliance_id)
) STRICT
"""

# Which keys there are, and between which values each may lie, the catalogue of the trade's figures knows.
_PLAN_FIGURES = """
CREATE TABLE plan_figures (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    plan_id INTEGER NOT NULL REFERENCES plans (id),
    key TEXT NOT NULL CHECK (key <> ''),
    value REAL NOT NULL CHECK (value BETWEEN -1e9 AND 1e9),
    UNIQUE (plan_id, key)
) STRICT
"""

_SUPPLIES = """
CREATE TABLE supplies (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind IN ('battery', 'generator', 'array', 'combination')),
    owned INTEGER NOT NULL CHECK (owned IN (0, 1)),
    voltage_v REAL CHECK (voltage_v BETWEEN 1 AND 1000),
    frequency_hz REAL CHECK (frequency_hz BETWEEN 1 AND 1000),
    plug TEXT NOT NULL CHECK (plug <> ''),
    outlet_a REAL CHECK (outlet_a > 0 AND outlet_a <= 1e4),
    outlets INTEGER CHECK (outlets BETWEEN 1 AND 1000),
    continuous_w REAL CHECK (continuous_w > 0 AND continuous_w <= 1e7),
    continuous_va REAL CHECK (continuous_va > 0 AND continuous_va <= 1e7),
    start_w REAL CHECK (start_w > 0 AND start_w <= 1e7),
    start_va REAL CHECK (start_va > 0 AND start_va <= 1e7),
    start_s REAL CHECK (start_s > 0 AND start_s <= 3600),
    stored_wh REAL CHECK (stored_wh > 0 AND stored_wh <= 1e8),
    chemistry TEXT NOT NULL
        CHECK (chemistry IN ('not_known', 'lfp', 'nmc', 'flooded_lead', 'agm', 'gel', 'nickel')),
    battery_v REAL CHECK (battery_v > 0 AND battery_v <= 2000),
    battery_limit_a REAL CHECK (battery_limit_a > 0 AND battery_limit_a <= 1e5),
    idle_w REAL CHECK (idle_w BETWEEN 0 AND 1e5),
    charge_w REAL CHECK (charge_w BETWEEN 0 AND 1e7),
    solar_w REAL CHECK (solar_w BETWEEN 0 AND 1e7),
    waveform TEXT NOT NULL CHECK (waveform IN ('not_known', 'sine', 'modified_sine')),
    fuel TEXT NOT NULL CHECK (fuel IN ('petrol', 'diesel', 'propane')),
    control TEXT NOT NULL CHECK (control IN ('fixed_speed', 'inverter')),
    tank_l REAL CHECK (tank_l > 0 AND tank_l <= 1e5),
    half_load_l_h REAL CHECK (half_load_l_h > 0 AND half_load_l_h <= 1e4),
    full_load_l_h REAL CHECK (full_load_l_h > 0 AND full_load_l_h <= 1e4),
    array_w REAL CHECK (array_w > 0 AND array_w <= 1e7),
    tilt_deg REAL CHECK (tilt_deg BETWEEN 0 AND 90),
    azimuth_deg REAL CHECK (azimuth_deg BETWEEN 0 AND 360),
    grid_tied INTEGER NOT NULL CHECK (grid_tied IN (0, 1)),
    note TEXT NOT NULL
) STRICT
"""

_SUPPLY_MEMBERS = """
CREATE TABLE supply_members (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    supply_id INTEGER NOT NULL REFERENCES supplies (id),
    member_id INTEGER NOT NULL REFERENCES supplies (id),
    CHECK (supply_id <> member_id),
    UNIQUE (supply_id, member_id)
) STRICT
"""

_REST = (
    "CREATE UNIQUE INDEX one_plan_of_a_name ON plans (name COLLATE NOCASE)",
    "CREATE UNIQUE INDEX one_supply_of_a_name ON supplies (name COLLATE NOCASE)",
    "CREATE INDEX plan_loads_by_appliance ON plan_loads (appliance_id)",
    "CREATE INDEX supply_members_by_member ON supply_members (member_id)",
)


def step(connection: Connection) -> None:
    """Make the tables of plans and supplies."""
    for statement in (_PLANS, _PLAN_LOADS, _PLAN_FIGURES, _SUPPLIES, _SUPPLY_MEMBERS, *_REST):
        connection.exec_driver_sql(statement)

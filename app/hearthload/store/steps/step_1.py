"""Step 1: the first schema. Household, appliances, meters, measurements, runs, readings and the journal."""

from __future__ import annotations

from sqlalchemy import Connection

# UTC text of fixed width sorts in order of time; offsets reach from -24 h to +24 h.
_MOMENT = "GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'"
_OFFSET = "BETWEEN -1439 AND 1439"

_HOUSEHOLD = """
CREATE TABLE household (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    name TEXT NOT NULL,
    mains_voltage_v REAL NOT NULL CHECK (mains_voltage_v BETWEEN 1 AND 1000),
    mains_frequency_hz REAL NOT NULL CHECK (mains_frequency_hz BETWEEN 1 AND 1000),
    default_plug TEXT NOT NULL CHECK (default_plug <> ''),
    price_per_kwh REAL CHECK (price_per_kwh BETWEEN 0 AND 1e9),
    currency TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT
"""

_APPLIANCES = """
CREATE TABLE appliances (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL CHECK (kind <> ''),
    room TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('essential', 'wanted', 'off')),
    plug TEXT NOT NULL CHECK (plug <> ''),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    nameplate_w REAL CHECK (nameplate_w BETWEEN 0 AND 1e6),
    running_w REAL CHECK (running_w BETWEEN 0 AND 1e6),
    target REAL CHECK (target > 0 AND target <= 10),
    hard_wired INTEGER NOT NULL CHECK (hard_wired IN (0, 1)),
    medical INTEGER NOT NULL CHECK (medical IN (0, 1)),
    note TEXT NOT NULL
) STRICT
"""

_METERS = """
CREATE TABLE meters (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> ''),
    plug TEXT NOT NULL CHECK (plug <> ''),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    current_a REAL CHECK (current_a BETWEEN 0 AND 1e4),
    energy_step_kwh REAL NOT NULL CHECK (energy_step_kwh > 0 AND energy_step_kwh <= 1000),
    elapsed_step_h REAL NOT NULL CHECK (elapsed_step_h > 0 AND elapsed_step_h <= 1000),
    gain_percent REAL CHECK (gain_percent > 0 AND gain_percent <= 100),
    power_loss TEXT NOT NULL CHECK (power_loss IN ('keeps', 'resets', 'unknown')),
    rounding TEXT NOT NULL CHECK (rounding IN ('unknown', 'truncates', 'rounds')),
    note TEXT NOT NULL
) STRICT
"""

_MEASUREMENTS = f"""
CREATE TABLE measurements (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    appliance_id INTEGER NOT NULL REFERENCES appliances (id),
    meter_id INTEGER REFERENCES meters (id),
    state TEXT NOT NULL CHECK (state IN ('planned', 'running', 'finished', 'set_aside')),
    started_at TEXT CHECK (started_at {_MOMENT}),
    started_offset_min INTEGER CHECK (started_offset_min {_OFFSET}),
    finished_at TEXT CHECK (finished_at {_MOMENT}),
    finished_offset_min INTEGER CHECK (finished_offset_min {_OFFSET}),
    room_temperature_c REAL CHECK (room_temperature_c BETWEEN -100 AND 100),
    note TEXT NOT NULL,
    CHECK ((started_at IS NULL) = (started_offset_min IS NULL)),
    CHECK ((finished_at IS NULL) = (finished_offset_min IS NULL)),
    CHECK ((state = 'planned') = (started_at IS NULL)),
    CHECK (state = 'planned' OR meter_id IS NOT NULL),
    CHECK (state <> 'finished' OR finished_at IS NOT NULL),
    CHECK (state NOT IN ('planned', 'running') OR finished_at IS NULL)
) STRICT
"""

_RUNS = f"""
CREATE TABLE runs (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    measurement_id INTEGER NOT NULL REFERENCES measurements (id),
    number INTEGER NOT NULL CHECK (number >= 1),
    meter_id INTEGER NOT NULL REFERENCES meters (id),
    cause TEXT NOT NULL CHECK (cause IN ('start', 'reset', 'swap')),
    began_at TEXT NOT NULL CHECK (began_at {_MOMENT}),
    began_offset_min INTEGER NOT NULL CHECK (began_offset_min {_OFFSET}),
    exact_start INTEGER NOT NULL CHECK (exact_start IN (0, 1)),
    CHECK ((number = 1) = (cause = 'start')),
    UNIQUE (measurement_id, number)
) STRICT
"""

# NaN arrives as NULL and infinity fails the upper bound, so no counter can hold either.
_READINGS = f"""
CREATE TABLE readings (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    run_id INTEGER NOT NULL REFERENCES runs (id),
    taken_at TEXT NOT NULL CHECK (taken_at {_MOMENT}),
    taken_offset_min INTEGER NOT NULL CHECK (taken_offset_min {_OFFSET}),
    energy_kwh REAL NOT NULL CHECK (energy_kwh BETWEEN 0 AND 1e9),
    elapsed_h REAL CHECK (elapsed_h BETWEEN 0 AND 1e7),
    power_w REAL CHECK (power_w BETWEEN 0 AND 1e6),
    voltage_v REAL CHECK (voltage_v BETWEEN 0 AND 1000),
    current_a REAL CHECK (current_a BETWEEN 0 AND 1e4),
    power_factor REAL CHECK (power_factor BETWEEN 0 AND 1),
    highest_power_w REAL CHECK (highest_power_w BETWEEN 0 AND 1e6),
    frequency_hz REAL CHECK (frequency_hz BETWEEN 0 AND 1000),
    state TEXT CHECK (state IN ('running', 'idle', 'heating')),
    uses INTEGER CHECK (uses BETWEEN 0 AND 1000000),
    room_temperature_c REAL CHECK (room_temperature_c BETWEEN -100 AND 100),
    note TEXT NOT NULL,
    UNIQUE (run_id, taken_at)
) STRICT
"""

_JOURNAL = f"""
CREATE TABLE journal (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    edit TEXT NOT NULL CHECK (edit <> ''),
    edited_at TEXT NOT NULL CHECK (edited_at {_MOMENT}),
    edited_offset_min INTEGER NOT NULL CHECK (edited_offset_min {_OFFSET}),
    table_name TEXT NOT NULL,
    row_key INTEGER NOT NULL,
    before TEXT,
    after TEXT,
    CHECK (before IS NOT NULL OR after IS NOT NULL)
) STRICT
"""

_NEVER_REWRITTEN = """
CREATE TRIGGER journal_is_never_rewritten BEFORE UPDATE ON journal
BEGIN SELECT raise(ABORT, 'the journal is never rewritten'); END
"""

_NEVER_SHORTENED = """
CREATE TRIGGER journal_is_never_shortened BEFORE DELETE ON journal
BEGIN SELECT raise(ABORT, 'the journal is never shortened'); END
"""

_REST = (
    "CREATE UNIQUE INDEX one_appliance_of_a_name ON appliances (name COLLATE NOCASE)",
    "CREATE UNIQUE INDEX one_meter_of_a_name ON meters (name COLLATE NOCASE)",
    "CREATE UNIQUE INDEX one_running_per_meter ON measurements (meter_id) WHERE state = 'running'",
    "CREATE UNIQUE INDEX one_running_per_appliance ON measurements (appliance_id) WHERE state = 'running'",
    "CREATE INDEX measurements_by_appliance ON measurements (appliance_id)",
    "CREATE INDEX measurements_by_meter ON measurements (meter_id)",
    "CREATE INDEX runs_by_meter ON runs (meter_id)",
    _NEVER_REWRITTEN,
    _NEVER_SHORTENED,
)


def step(connection: Connection) -> None:
    """Make all tables, indexes and guards of the first schema."""
    tables = (_HOUSEHOLD, _APPLIANCES, _METERS, _MEASUREMENTS, _RUNS, _READINGS, _JOURNAL)
    for statement in (*tables, *_REST):
        connection.exec_driver_sql(statement)

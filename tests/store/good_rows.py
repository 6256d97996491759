"""One good row of each table, laid down by SQLite alone, for tests of what the file refuses."""

from __future__ import annotations

import sqlite3
from typing import Any

import pytest

Row = dict[str, Any]

MOMENT = "2025-03-03T06:30:00Z"
STARTED = {"started_at": MOMENT, "started_offset_min": 60}
FINISHED = {"finished_at": MOMENT, "finished_offset_min": 60}

# One good row a table, which a bad one differs from in the named columns only.
GOOD: dict[str, Row] = {
    "household": {
        "id": 1,
        "name": "Mill lane",
        "mains_voltage_v": 230.0,
        "mains_frequency_hz": 50.0,
        "default_plug": "unknown",
        "currency": "",
        "note": "",
    },
    "appliances": {
        "name": "Kettle",
        "kind": "kitchen",
        "room": "",
        "role": "off",
        "plug": "unknown",
        "hard_wired": 0,
        "medical": 0,
        "note": "",
    },
    "meters": {
        "name": "Green meter",
        "plug": "unknown",
        "energy_step_kwh": 0.01,
        "elapsed_step_h": 0.1,
        "power_loss": "keeps",
        "rounding": "rounds",
        "note": "",
    },
    "measurements": {
        "appliance_id": 2,
        "meter_id": 2,
        "state": "running",
        "note": "",
        "joined": 0,
        **STARTED,
    },
    "runs": {
        "measurement_id": 1,
        "number": 2,
        "meter_id": 1,
        "cause": "reset",
        "began_at": MOMENT,
        "began_offset_min": 60,
        "exact_start": 1,
    },
    "readings": {
        "run_id": 1,
        "taken_at": "2025-03-04T06:30:00Z",
        "taken_offset_min": 60,
        "energy_kwh": 1.5,
        "note": "",
    },
    "answers": {
        "measurement_id": 1,
        "reading_id": 1,
        "code": "odd_reading",
        "about": "",
        "answered_at": MOMENT,
        "answered_offset_min": 60,
    },
    "plans": {
        "name": "Flood week",
        "days": 3.0,
        "month": 1,
        "battery_c": 20.0,
        "outdoor_c": 15.0,
        "altitude_m": 0.0,
        "confidence": 0.9,
        "waking_from_h": 7.0,
        "waking_to_h": 23.0,
        "note": "",
    },
    "plan_loads": {
        "plan_id": 1,
        "appliance_id": 2,
        "role": "off",
        "quantity": 1,
        "use": "as_measured",
        "rank": 0,
    },
    "plan_figures": {"plan_id": 1, "key": "margin", "value": 0.2},
    "supplies": {
        "name": "Shed battery",
        "kind": "battery",
        "owned": 1,
        "plug": "unknown",
        "chemistry": "not_known",
        "waveform": "not_known",
        "fuel": "petrol",
        "control": "fixed_speed",
        "grid_tied": 0,
        "note": "",
    },
    "supply_members": {"supply_id": 1, "member_id": 3},
    "journal": {
        "edit": "add meter",
        "edited_at": MOMENT,
        "edited_offset_min": 60,
        "table_name": "meters",
        "row_key": 1,
        "after": "{}",
    },
}

# What stands in the file already: appliance 1 runs on meter 1, appliance 2 and meter 2 are free.
BASE: tuple[tuple[str, Row], ...] = (
    ("appliances", {**GOOD["appliances"], "name": "Router"}),
    ("appliances", {**GOOD["appliances"], "name": "Lamp"}),
    ("meters", {**GOOD["meters"], "name": "Grey meter"}),
    ("meters", {**GOOD["meters"], "name": "Blue meter"}),
    ("measurements", {**GOOD["measurements"], "appliance_id": 1, "meter_id": 1}),
    ("runs", {**GOOD["runs"], "number": 1, "cause": "start"}),
    ("readings", {**GOOD["readings"], "taken_at": MOMENT}),
)

# What stands in it besides where plans matter: appliance 1 is in plan 1, supply 2 in combination 1.
PLANS: tuple[tuple[str, Row], ...] = (
    ("plans", {**GOOD["plans"], "name": "Storm"}),
    ("plan_loads", {**GOOD["plan_loads"], "appliance_id": 1}),
    ("plan_figures", {**GOOD["plan_figures"], "key": "depth"}),
    ("supplies", {**GOOD["supplies"], "name": "Both", "kind": "combination"}),
    ("supplies", {**GOOD["supplies"], "name": "Hall battery"}),
    ("supplies", {**GOOD["supplies"], "name": "Barn panels", "kind": "array"}),
    ("supply_members", {**GOOD["supply_members"], "member_id": 2}),
)


def put(connection: sqlite3.Connection, table: str, row: Row) -> None:
    """Lay a row down by SQLite alone; the household has one row, which is laid down anew."""
    verb = "REPLACE" if table == "household" and row["id"] == 1 else "INSERT"
    marks = ", ".join("?" for _ in row)
    connection.execute(f"{verb} INTO {table} ({', '.join(row)}) VALUES ({marks})", list(row.values()))


def refuses(file: sqlite3.Connection, table: str, **columns: object) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        put(file, table, {**GOOD[table], **columns})

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


def put(connection: sqlite3.Connection, table: str, row: Row) -> None:
    """Lay a row down by SQLite alone; the household has one row, which is laid down anew."""
    verb = "REPLACE" if table == "household" and row["id"] == 1 else "INSERT"
    marks = ", ".join("?" for _ in row)
    connection.execute(f"{verb} INTO {table} ({', '.join(row)}) VALUES ({marks})", list(row.values()))


def refuses(file: sqlite3.Connection, table: str, **columns: object) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        put(file, table, {**GOOD[table], **columns})

"""What the file refuses of rows beside each other, whatever the program above it does."""

from __future__ import annotations

import math
import sqlite3

import pytest

from tests.store.good_rows import FINISHED, GOOD, MOMENT, Row, put, refuses


@pytest.mark.parametrize(
    "columns",
    [
        {"state": "planned"},
        {"state": "planned", "started_at": None},
        {"state": "planned", "started_offset_min": None},
        {"state": "planned", "started_at": None, "started_offset_min": None, **FINISHED},
        {"state": "running", "started_at": None, "started_offset_min": None},
        {"state": "running", "meter_id": None},
        {"state": "running", **FINISHED},
        {"state": "finished"},
        {"state": "finished", "finished_at": MOMENT},
        {"state": "finished", "finished_offset_min": 60},
        {"state": "finished", "meter_id": None, **FINISHED},
        {"state": "set_aside", "started_at": None, "started_offset_min": None},
        {"state": "set_aside", "meter_id": None},
        {"state": "set_aside", "finished_at": MOMENT},
    ],
)
def test_a_measurement_s_times_and_meter_are_those_of_its_state(
    file: sqlite3.Connection, columns: Row
) -> None:
    refuses(file, "measurements", **columns)


@pytest.mark.parametrize(
    "columns",
    [
        {"state": "planned", "started_at": None, "started_offset_min": None},
        {"state": "planned", "started_at": None, "started_offset_min": None, "meter_id": None},
        {"state": "finished", **FINISHED},
        {"state": "set_aside"},
        {"state": "set_aside", **FINISHED},
        {"state": "finished", "appliance_id": 1, "meter_id": 1, **FINISHED},
    ],
)
def test_every_other_measurement_is_taken(file: sqlite3.Connection, columns: Row) -> None:
    put(file, "measurements", {**GOOD["measurements"], **columns})


@pytest.mark.parametrize("columns", [{"meter_id": 1}, {"appliance_id": 1}])
def test_one_meter_and_one_appliance_are_in_one_running_measurement(
    file: sqlite3.Connection, columns: Row
) -> None:
    refuses(file, "measurements", **columns)


@pytest.mark.parametrize(
    "columns",
    [
        {"number": 0},
        {"number": -1},
        {"number": 1, "cause": "reset"},
        {"number": 1, "cause": "swap"},
        {"number": 2, "cause": "start"},
        {"number": 1, "cause": "start"},
        {"number": 1.5},
    ],
)
def test_the_first_run_and_no_other_is_the_start(file: sqlite3.Connection, columns: Row) -> None:
    refuses(file, "runs", **columns)


def test_a_run_has_one_reading_a_moment(file: sqlite3.Connection) -> None:
    refuses(file, "readings", taken_at=MOMENT)


@pytest.mark.parametrize("uses", [-1, 1_000_001, 1.5, math.inf])
def test_uses_are_counted_in_whole_numbers(file: sqlite3.Connection, uses: float) -> None:
    refuses(file, "readings", uses=uses)


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("measurements", "appliance_id"),
        ("measurements", "meter_id"),
        ("runs", "measurement_id"),
        ("runs", "meter_id"),
        ("readings", "run_id"),
        ("answers", "measurement_id"),
        ("answers", "reading_id"),
        ("plan_loads", "plan_id"),
        ("plan_loads", "appliance_id"),
        ("plan_figures", "plan_id"),
        ("supply_members", "supply_id"),
        ("supply_members", "member_id"),
    ],
)
def test_nothing_points_to_what_is_not_there(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: 99})


@pytest.mark.parametrize("table", ["appliances", "meters", "measurements", "runs", "plans", "supplies"])
def test_nothing_is_removed_that_something_points_to(file: sqlite3.Connection, table: str) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        file.execute(f"DELETE FROM {table} WHERE id = 1")  # noqa: S608


def test_an_appliance_in_a_plan_and_a_member_stay(file: sqlite3.Connection) -> None:
    put(file, "plan_loads", GOOD["plan_loads"])
    for table in ("appliances", "supplies"):  # nothing but the load and the combination points to these
        with pytest.raises(sqlite3.IntegrityError):
            file.execute(f"DELETE FROM {table} WHERE id = 2")  # noqa: S608


@pytest.mark.parametrize(
    ("table", "name"),
    [("appliances", "ROUTER"), ("meters", "grey METER"), ("plans", "STORM"), ("supplies", "hall BATTERY")],
)
def test_two_of_a_sort_do_not_share_a_name(file: sqlite3.Connection, table: str, name: str) -> None:
    refuses(file, table, name=name)


def test_there_is_one_household(file: sqlite3.Connection) -> None:
    refuses(file, "household", id=2)


def test_a_journal_line_has_an_image(file: sqlite3.Connection) -> None:
    refuses(file, "journal", before=None, after=None)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE journal SET edit = 'nothing'",
        "UPDATE journal SET after = '{}' WHERE id = 1",
        "DELETE FROM journal",
        "DELETE FROM journal WHERE id = 1",
    ],
)
def test_the_journal_is_neither_rewritten_nor_shortened(file: sqlite3.Connection, statement: str) -> None:
    lines = file.execute("SELECT * FROM journal").fetchall()
    assert lines
    with pytest.raises(sqlite3.IntegrityError, match="the journal is never"):
        file.execute(statement)
    assert file.execute("SELECT * FROM journal").fetchall() == lines

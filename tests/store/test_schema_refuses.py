"""What the file refuses of single columns, whatever the program above it does."""

from __future__ import annotations

import math
import sqlite3

import pytest
from sqlalchemy import REAL

from hearthload.store import tables
from tests.store.good_rows import FINISHED, GOOD, put, refuses

REALS = [
    (table.name, column.name, bool(column.nullable))
    for table in tables.KEPT
    for column in table.columns
    if isinstance(column.type, REAL)
]
MANDATORY = [
    (table.name, column.name)
    for table in tables.metadata.sorted_tables
    for column in table.columns
    if not column.nullable and not column.primary_key
]
WORDS = [
    ("appliances", "role"),
    ("meters", "power_loss"),
    ("meters", "rounding"),
    ("measurements", "state"),
    ("runs", "cause"),
    ("readings", "state"),
    ("plan_loads", "role"),
    ("plan_loads", "use"),
    ("supplies", "kind"),
    ("supplies", "chemistry"),
    ("supplies", "waveform"),
    ("supplies", "fuel"),
    ("supplies", "control"),
]
FAR_BELOW_ZERO = {("plans", "altitude_m"), ("plan_figures", "value")}
BELOW_ZERO = {*FAR_BELOW_ZERO, ("plans", "latitude_deg")}
MOMENTS = [
    ("measurements", "started"),
    ("measurements", "finished"),
    ("runs", "began"),
    ("readings", "taken"),
    ("answers", "answered"),
    ("journal", "edited"),
]
BAD_MOMENTS = (
    "",
    "now",
    "2025-03-03",
    "2025-03-03 06:30:00Z",
    "2025-03-03T06:30:00",
    "2025-03-03T06:30:00+00:00",
    "2025-03-03T06:30Z",
    "2025-3-3T06:30:00Z",
    "02025-03-03T06:30:00Z",
)


@pytest.mark.parametrize("table", GOOD)
def test_the_good_row_of_these_tests_is_taken(file: sqlite3.Connection, table: str) -> None:
    put(file, table, GOOD[table])


@pytest.mark.parametrize(("table", "column", "optional"), REALS)
def test_a_number_that_is_no_number_is_never_kept(
    file: sqlite3.Connection, table: str, column: str, optional: bool
) -> None:
    if not optional:
        refuses(file, table, **{column: math.nan})
        return
    # SQLite takes NaN for NULL: an optional value is then missing, never a number that poisons a mean.
    put(file, table, {**GOOD[table], column: math.nan})
    found = file.execute(f"SELECT {column} FROM {table} ORDER BY id DESC LIMIT 1").fetchone()  # noqa: S608
    assert found == (None,)


@pytest.mark.parametrize(("table", "column"), [real[:2] for real in REALS])
@pytest.mark.parametrize("value", [math.inf, -math.inf, -1e12, 1e12, "twelve", b"12"])
def test_a_number_that_no_household_has_is_refused(
    file: sqlite3.Connection, table: str, column: str, value: object
) -> None:
    refuses(file, table, **{column: value})


@pytest.mark.parametrize(("table", "column"), [real[:2] for real in REALS if real[:2] not in FAR_BELOW_ZERO])
def test_a_number_far_below_zero_is_refused(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: -101.0})


@pytest.mark.parametrize(
    ("table", "column"),
    [real[:2] for real in REALS if not real[1].endswith("_c") and real[:2] not in BELOW_ZERO],
)
def test_nothing_is_below_zero(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: -0.001})


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("meters", "energy_step_kwh"),
        ("meters", "elapsed_step_h"),
        ("meters", "gain_percent"),
        ("appliances", "target"),
        ("plans", "days"),
        *(("plan_loads", name) for name in ("hours_a_day", "uses_a_day", "daily_kwh", "season_factor")),
        *(("plan_loads", name) for name in ("running_w", "power_factor", "start_multiple", "start_s")),
        *(("supplies", name) for name in ("outlet_a", "continuous_w", "continuous_va", "start_w")),
        *(("supplies", name) for name in ("start_va", "start_s", "stored_wh", "battery_v")),
        *(("supplies", name) for name in ("battery_limit_a", "tank_l", "half_load_l_h", "full_load_l_h")),
        ("supplies", "array_w"),
    ],
)
def test_a_step_or_a_width_of_zero_is_refused(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: 0.0})


@pytest.mark.parametrize("table", ["readings", "plan_loads"])
def test_a_power_factor_above_one_is_refused(file: sqlite3.Connection, table: str) -> None:
    refuses(file, table, power_factor=1.01)


@pytest.mark.parametrize(("table", "column"), MANDATORY)
def test_what_must_be_there_cannot_be_missing(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: None})


@pytest.mark.parametrize(("table", "column"), WORDS)
@pytest.mark.parametrize("word", ["", "nonsense", "Running", " keeps"])
def test_a_word_out_of_the_list_is_refused(
    file: sqlite3.Connection, table: str, column: str, word: str
) -> None:
    refuses(file, table, **{column: word})


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("appliances", "hard_wired"),
        ("appliances", "medical"),
        ("runs", "exact_start"),
        ("measurements", "joined"),
        ("supplies", "owned"),
        ("supplies", "grid_tied"),
    ],
)
@pytest.mark.parametrize("value", [-1, 2, 0.5, "yes"])
def test_yes_or_no_is_one_or_zero(
    file: sqlite3.Connection, table: str, column: str, value: float | str
) -> None:
    refuses(file, table, **{column: value})


@pytest.mark.parametrize(
    ("table", "column"),
    [
        ("appliances", "name"),
        ("appliances", "kind"),
        ("appliances", "plug"),
        ("meters", "name"),
        ("meters", "plug"),
        ("household", "default_plug"),
        ("answers", "code"),
        ("plans", "name"),
        ("plan_figures", "key"),
        ("supplies", "name"),
        ("supplies", "plug"),
        ("journal", "edit"),
    ],
)
def test_an_empty_name_is_refused(file: sqlite3.Connection, table: str, column: str) -> None:
    refuses(file, table, **{column: ""})


@pytest.mark.parametrize(("table", "stem"), MOMENTS)
@pytest.mark.parametrize("text", BAD_MOMENTS)
def test_a_moment_is_kept_in_one_form_only(
    file: sqlite3.Connection, table: str, stem: str, text: str
) -> None:
    """Text of one width in UTC sorts in order of time; anything else among it would not."""
    more = {"state": "finished", **FINISHED} if stem == "finished" else {}
    refuses(file, table, **{**more, f"{stem}_at": text})


@pytest.mark.parametrize(("table", "stem"), MOMENTS)
@pytest.mark.parametrize("offset", [-1440, 1440, 60.5, "east"])
def test_an_offset_is_less_than_a_day(
    file: sqlite3.Connection, table: str, stem: str, offset: float | str
) -> None:
    more = {"state": "finished", **FINISHED} if stem == "finished" else {}
    refuses(file, table, **{**more, f"{stem}_offset_min": offset})


def test_the_finished_row_of_these_tests_is_taken(file: sqlite3.Connection) -> None:
    put(file, "measurements", {**GOOD["measurements"], "state": "finished", **FINISHED})

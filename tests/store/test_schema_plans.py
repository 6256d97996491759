"""What the file refuses of plans, their loads and supplies, whatever the program above it does."""

from __future__ import annotations

import sqlite3

import pytest

from tests.store.good_rows import GOOD, Row, put, refuses

HER_OWN = {"daily_kwh": 1.0, "daily_low_kwh": 0.5, "daily_high_kwh": 2.0}


@pytest.mark.parametrize(
    "columns",
    [
        {"days": 366.1},
        {"month": 0},
        {"month": 13},
        {"month": 1.5},
        {"confidence": 0.49},
        {"confidence": 0.9995},
        {"altitude_m": -1001.0},
        {"latitude_deg": 90.5},
        {"latitude_deg": -90.5},
        {"peak_sun_hours": 24.5},
        {"waking_to_h": 24.5},
        {"waking_from_h": 23.0},
        {"waking_from_h": 23.5, "waking_to_h": 6.0},
    ],
)
def test_a_plan_that_cannot_be(file: sqlite3.Connection, columns: Row) -> None:
    refuses(file, "plans", **columns)


@pytest.mark.parametrize(
    "columns",
    [
        {"days": 1 / 6},
        {"days": 366.0},
        {"month": 12},
        {"confidence": 0.5},
        {"confidence": 0.999},
        {"altitude_m": -400.0, "latitude_deg": -33.9, "peak_sun_hours": 0.0, "room_c": -5.0},
        {"waking_from_h": 0.0, "waking_to_h": 24.0},
    ],
)
def test_every_other_plan_is_taken(file: sqlite3.Connection, columns: Row) -> None:
    put(file, "plans", {**GOOD["plans"], **columns})


@pytest.mark.parametrize(
    "columns",
    [
        {"quantity": 0},
        {"quantity": -1},
        {"quantity": 1001},
        {"quantity": 1.5},
        {"rank": -1},
        {"use": "hours_a_day"},
        {"use": "uses_a_day"},
        {"hours_a_day": 24.1},
        {"start_multiple": 0.9},
        {"daily_low_kwh": 0.5, "daily_high_kwh": 2.0},
        {**HER_OWN, "daily_low_kwh": None},
        {**HER_OWN, "daily_high_kwh": None},
        {**HER_OWN, "daily_low_kwh": 1.1},
        {**HER_OWN, "daily_high_kwh": 0.9},
        {"appliance_id": 1},
    ],
)
def test_a_load_that_cannot_be(file: sqlite3.Connection, columns: Row) -> None:
    refuses(file, "plan_loads", **columns)


@pytest.mark.parametrize(
    "columns",
    [
        {"quantity": 1000, "rank": 7},
        {"use": "hours_a_day", "hours_a_day": 24.0},
        {"use": "uses_a_day", "uses_a_day": 0.5},
        {"use": "assumed", **HER_OWN},
        {"daily_kwh": 1.0},
        {"power_factor": 1.0, "start_multiple": 1.0, "idle_w": 0.0, "season_factor_u": 0.0},
    ],
)
def test_every_other_load_is_taken(file: sqlite3.Connection, columns: Row) -> None:
    put(file, "plan_loads", {**GOOD["plan_loads"], **columns})


def test_a_figure_is_set_once_a_plan(file: sqlite3.Connection) -> None:
    refuses(file, "plan_figures", key="depth")
    put(file, "plan_figures", {**GOOD["plan_figures"], "value": -0.4})


@pytest.mark.parametrize(
    "columns",
    [
        {"outlets": 0},
        {"outlets": 1001},
        {"outlets": 1.5},
        {"tilt_deg": 90.5},
        {"azimuth_deg": 360.5},
    ],
)
def test_a_supply_that_cannot_be(file: sqlite3.Connection, columns: Row) -> None:
    refuses(file, "supplies", **columns)


def test_nought_is_a_figure_where_there_may_be_none(file: sqlite3.Connection) -> None:
    nothing = {"idle_w": 0.0, "charge_w": 0.0, "solar_w": 0.0, "tilt_deg": 0.0, "azimuth_deg": 0.0}
    put(file, "supplies", {**GOOD["supplies"], **nothing})


def test_a_member_is_in_a_combination_once_and_never_in_itself(file: sqlite3.Connection) -> None:
    refuses(file, "supply_members", member_id=2)
    refuses(file, "supply_members", member_id=1)

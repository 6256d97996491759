"""Generators' fuel and power against published tables and cases worked by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.supply import Chemistry, EngineControl, Fuel
from hearthload.outage.fuel import (
    charging,
    fuel_line,
    mean_load_band,
    oil_changes,
    power_left,
    round_the_clock,
)
from hearthload.outage.fuel_keeping import FuelCaution, bottle_litres_per_hour, keeping_cautions
from tests.outage.supply_cases import facts

FIXED, INVERTER = EngineControl.FIXED_SPEED, EngineControl.INVERTER
QUARTERS = np.array([0.25, 0.5, 0.75, 1.0])


@pytest.mark.parametrize(
    ("rated_w", "fuel", "control", "litres"),
    [
        (5000.0, Fuel.PETROL, FIXED, (1.5, 2.0, 2.5, 3.0)),
        (2000.0, Fuel.PETROL, INVERTER, (0.43, 0.65, 0.88, 1.10)),
        (5000.0, Fuel.DIESEL, FIXED, (0.9, 1.2, 1.6, 2.0)),
        (5000.0, Fuel.PROPANE, FIXED, (2.1, 2.8, 3.4, 4.1)),  # petrol's litres × 1.38
    ],
)
def test_usual_fuel_at_quarters_of_the_load(
    rated_w: float, fuel: Fuel, control: EngineControl, litres: tuple[float, ...]
) -> None:
    line = fuel_line(rated_w, fuel, control, facts())
    found = [line.litres_per_hour(rated_w * quarter) for quarter in QUARTERS]
    assert found == pytest.approx(litres, abs=0.055)


@pytest.mark.parametrize(
    ("rated_kw", "litres", "f0", "f1"),
    [(20.0, (2.3, 3.4, 4.9, 6.1), 0.048, 0.258), (30.0, (4.9, 6.8, 9.1, 11.0), 0.093, 0.275)],
)
def test_published_diesel_sets_lie_on_a_straight_line(
    rated_kw: float, litres: tuple[float, ...], f0: float, f1: float
) -> None:
    slope, idle = np.polyfit(QUARTERS * rated_kw, np.array(litres), 1)
    assert [idle / rated_kw, slope] == pytest.approx([f0, f1], abs=1e-3)
    # From the half and full load stated alone the line meets the other points of the table to a tenth.
    line = fuel_line(1000 * rated_kw, Fuel.DIESEL, FIXED, facts(), half_l_h=litres[1], full_l_h=litres[3])
    assert line.litres_per_hour(500 * rated_kw) == pytest.approx(litres[1])
    assert line.litres_per_hour(1000 * rated_kw) == pytest.approx(litres[3])
    assert line.litres_per_hour(750 * rated_kw) == pytest.approx(litres[2], rel=0.1)


def test_stated_litres_by_hand() -> None:
    # 2 kW: 0.6 L/h at half, 1.0 at full load. F1 = 2·0.4/2 = 0.4 L/kWh, F0 = (1.2 − 1.0)/2 = 0.1 L/h/kW.
    line = fuel_line(2000.0, Fuel.PETROL, FIXED, facts(), half_l_h=0.6, full_l_h=1.0)
    assert [line.f0, line.f1] == pytest.approx([0.1, 0.4])
    assert line.steps[0].source == "stated"
    # One alone scales the usual line: 3.0 L/h at full load usual, 3.6 stated.
    one = fuel_line(5000.0, Fuel.PETROL, FIXED, facts(), full_l_h=3.6)
    assert [one.f0, one.f1] == pytest.approx([0.24, 0.48])
    # Half more than full is no line: the usual one through the stated full load.
    odd = fuel_line(5000.0, Fuel.PETROL, FIXED, facts(), half_l_h=4.0, full_l_h=3.6)
    assert [odd.f0, odd.f1] == pytest.approx([0.24, 0.48])


def test_heating_values() -> None:
    # 116 090, 112 114, 128 488, 84 250 Btu/gal; 1055.06 J/Btu, 3.78541 L/gal: MJ/L and kWh/L.
    tables = {116_090: (32.4, 8.99), 112_114: (31.3, 8.68), 128_488: (35.8, 9.95), 84_250: (23.5, 6.52)}
    for btu, (megajoule, kwh) in tables.items():
        joule = btu * 1055.06 / 3.78541
        assert joule / 1e6 == pytest.approx(megajoule, abs=0.06)
        assert joule / 3.6e6 == pytest.approx(kwh, abs=0.01)
    # Propane's litres for a litre of petrol, and a 20-lb cylinder: 9.07 kg at 0.51 kg/L.
    assert facts()["generator_propane_litres"] == pytest.approx(32.4 / 23.5, abs=0.01)
    assert facts()["generator_cylinder_l"] == pytest.approx(20 * 0.45359 / 0.51, abs=0.05)
    assert pytest.approx(116, abs=0.5) == 17.8 * 6.52
    # 14 to 17 % of it turned into electricity: 16 to 20 kWh.
    assert [17.8 * 6.52 * share for share in (0.14, 0.17)] == pytest.approx([16, 20], abs=0.5)


def test_what_height_heat_and_fuel_leave() -> None:
    # 1067 m: 3 steps of 305 m above 152 m, 0.91. 36.2 °C: 11.2 K above 25 °C, 0.98. Propane 0.9.
    left = power_left(152.0 + 915.0, 36.2, Fuel.PROPANE, facts())
    assert left.value == pytest.approx(0.91 * 0.98 * 0.9)
    assert power_left(0.0, 15.0, Fuel.PETROL, facts()).value == 1.0
    assert power_left(1e6, 15.0, Fuel.PETROL, facts()).value == pytest.approx(0.1)


def test_two_ways_to_run_by_hand() -> None:
    # 2 kW inverter type, loads 50 W on average, 3 days: 0.1·2 + 0.45·0.05 = 0.2225 L/h, 16.02 L.
    line = fuel_line(2000.0, Fuel.PETROL, INVERTER, facts())
    steady = round_the_clock(line, 50.0, 3.0, facts(), tank_l=4.0)
    assert steady.litres.value == pytest.approx(16.02)
    assert steady.containers == 1
    assert steady.refuel_h is not None
    assert steady.refuel_h.value == pytest.approx(4.0 / 0.2225)
    assert steady.oil_changes == 1  # 72 h: the first after 20 h, the next after 95 h
    assert steady.load_share.value == pytest.approx(0.025)
    # Charging 1.5 kWh a day at 1000 W, 0.9·0.96: 1.7361 h/d at 0.65 L/h, 3.385 L. A fifth of the fuel.
    some = charging(line, 1.5, 1000.0, Chemistry.LFP, facts(), days=3.0)
    assert some is not None
    assert some.hours_a_day.value == pytest.approx(1.7361, abs=1e-4)
    assert some.litres.value == pytest.approx(3.3854, abs=1e-4)
    assert some.possible
    too_much = charging(line, 150.0, 1000.0, Chemistry.LFP, facts(), days=3.0)
    assert too_much is not None
    assert not too_much.possible
    assert charging(line, 1.5, 0.0, Chemistry.LFP, facts(), days=3.0) is None


def test_a_week_takes_one_to_three_oil_changes() -> None:
    assert oil_changes(168.0, facts()) == 2
    harsh, kind = {"generator_oil_h": 50.0}, {"generator_first_oil_h": 30.0, "generator_oil_h": 100.0}
    assert (oil_changes(168.0, facts(harsh)), oil_changes(168.0, facts(kind))) == (3, 2)
    assert (oil_changes(19.9, facts()), oil_changes(math.inf, facts())) == (0, 0)


def test_mean_load_bands() -> None:
    assert mean_load_band(Fuel.PETROL, facts()) == (0.5, 0.8)
    assert mean_load_band(Fuel.DIESEL, facts()) == (0.3, 0.8)


@given(st.floats(100.0, 10_000.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.sampled_from(Fuel))
def test_more_load_takes_more_fuel_but_less_for_each_kwh(
    rated: float, one: float, other: float, fuel: Fuel
) -> None:
    low, high = sorted((one, other))
    line = fuel_line(rated, fuel, FIXED, facts())
    little, much = line.litres_per_hour(low * rated), line.litres_per_hour(high * rated)
    assert much >= little
    assert much * low <= little * high * (1.0 + 1e-12)


def test_cautions_about_kept_fuel() -> None:
    def codes(fuel: Fuel, litres: float, an_hour: float = 1.0, at: float = 20.0) -> set[FuelCaution]:
        return {note.code for note in keeping_cautions(fuel, litres, an_hour, at)}

    assert FuelCaution.ABOVE_UK_NOTICE not in codes(Fuel.PETROL, 30.0)
    assert FuelCaution.ABOVE_UK_NOTICE in codes(Fuel.PETROL, 30.1)
    assert FuelCaution.ABOVE_US_CAP in codes(Fuel.PETROL, 96.0)
    assert FuelCaution.GOES_STALE in codes(Fuel.DIESEL, 500.0)
    # 2.8 L/h of propane are 1.43 kg/h, more than a bottle's 1 kg/h at 20 °C; 0.9 L/h only when it freezes.
    assert FuelCaution.TOO_LITTLE_VAPOUR in codes(Fuel.PROPANE, 50.0, 2.8)
    assert FuelCaution.TOO_LITTLE_VAPOUR not in codes(Fuel.PROPANE, 50.0, 0.9)
    assert FuelCaution.TOO_LITTLE_VAPOUR in codes(Fuel.PROPANE, 50.0, 0.99, 0.0)
    assert bottle_litres_per_hour(0.0) == pytest.approx(0.5 / 0.51)
    for fuel in Fuel:
        assert {FuelCaution.LOCAL_LAW_FIRST, FuelCaution.REFUEL_COLD} <= codes(fuel, 1.0)

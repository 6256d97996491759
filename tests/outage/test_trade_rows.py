"""Rows of the trade facts that were computed from others, computed again by the program itself."""

from __future__ import annotations

import math

import pytest

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Use
from hearthload.domain.plugs import PLUGS
from hearthload.outage.answers import LoadInput
from hearthload.outage.circuits import Element, Rating, circuit_check
from hearthload.outage.needs import student
from hearthload.outage.spread import demand_of
from tests.outage.appliances import USUAL, line_of, measured, plain


def heater(watts: float, plug: str = "unknown", hours: float = 24.0) -> LoadInput:
    return LoadInput(
        "Heater",
        Kind.CLIMATE,
        Role.WANTED,
        plug=plug,
        running_w=watts,
        power_factor=1.0,
        use=Use.HOURS_A_DAY,
        hours_a_day=hours,
    )


@pytest.mark.parametrize(
    ("plug", "whole_w", "long_w"),
    [
        ("nema_5_15", 1800.0, 1440.0),
        ("nema_5_20", 2400.0, 1920.0),
        ("nema_6_15", 3600.0, 2880.0),
        ("nema_6_20", 4800.0, 3840.0),
        ("cee_7", 3680.0, 2944.0),
        ("bs_1363", 2990.0, 2392.0),
        ("as_3112", 2300.0, 1840.0),
        ("jis_8303", 1500.0, 1200.0),
    ],
)
def test_watts_that_a_plug_carries_for_hours(plug: str, whole_w: float, long_w: float) -> None:
    volts = PLUGS[plug].nominal_v
    found = circuit_check(line_of(heater(1000.0, plug)), [], USUAL)
    assert volts is not None
    assert found.allowed_a is not None
    assert found.allowed_a.value * volts == pytest.approx(long_w)
    assert found.allowed_a.value * volts / 0.8 == pytest.approx(whole_w)


@pytest.mark.parametrize(("breaker_a", "long_a"), [(15.0, 12.0), (20.0, 16.0), (30.0, 24.0)])
def test_cord_and_plug_loads_on_a_circuit(breaker_a: float, long_a: float) -> None:
    outlet = Rating(Element.OUTLET, "outlet", breaker_a)
    found = circuit_check(line_of(heater(1000.0)), [outlet], USUAL, 120.0)
    assert found.allowed_a is not None
    assert found.allowed_a.value == pytest.approx(long_a)


def test_a_heater_takes_most_of_a_circuit_and_36_kwh_a_day() -> None:
    line = line_of(heater(1500.0, "nema_5_15"))
    found = circuit_check(line, [], USUAL)
    assert found.needed_a is not None
    assert found.needed_a.value == pytest.approx(12.5)
    assert found.needed_a.value / 15.0 == pytest.approx(0.83, abs=0.005)
    assert line.one_daily is not None
    assert line.one_daily.value == pytest.approx(36.0)


@pytest.mark.parametrize(
    ("freedom", "factor"), [(1, 12.7), (2, 4.30), (3, 3.18), (4, 2.78), (6, 2.45), (9, 2.26), (13, 2.16)]
)
def test_factors_of_few_days(freedom: int, factor: float) -> None:
    # Two-sided 95 % is one-sided 97.5 %.
    assert student(0.975, float(freedom)) == pytest.approx(factor, rel=4e-3)


def fridge_at(room_c: float) -> float:
    found = measured(1.0, 0.0, room_c=20.0)
    line = line_of(LoadInput("Fridge", Kind.REFRIGERATOR, Role.ESSENTIAL, measured=found), room_c)
    assert line.one_daily is not None
    return line.one_daily.value


def test_ten_fahrenheit_more_are_about_a_quarter_more() -> None:
    # Published: 5.6 K bring 22 to 25 %, that is 3.6 to 4.1 %/K; a doubling from 16 to 32 °C is 4.4 %/K.
    assert 1.22 <= fridge_at(20.0 + 50.0 / 9.0) <= 1.25
    rates = [grown ** (1.0 / kelvin) - 1.0 for grown, kelvin in ((1.22, 5.6), (1.25, 5.6), (2.0, 16.0))]
    assert rates == pytest.approx([0.036, 0.041, 0.044], abs=5e-4)


def test_ten_kelvin_bring_ten_per_cent_of_uncertainty() -> None:
    found = measured(1.0, 0.0, room_c=20.0)
    line = line_of(LoadInput("Fridge", Kind.REFRIGERATOR, Role.ESSENTIAL, measured=found), 30.0)
    assert line.own_u_kwh / fridge_at(30.0) == pytest.approx(0.10)


def test_all_cycling_loads_run_together_for_the_product_of_their_shares() -> None:
    # 0.4 · 0.3 · 0.5 = 6 % of the time all three, 100 + 150 + 200 W.
    lines = [
        plain(f"{watts}", 24.0 * watts * duty / 1000.0, watts)
        for watts, duty in ((100.0, 0.4), (150.0, 0.3), (200.0, 0.5))
    ]
    demand = demand_of(lines, USUAL)
    assert demand is not None
    together = math.fsum(s for w, s in zip(demand.watts, demand.share, strict=True) if w > 449.0)
    assert together == pytest.approx(0.06)

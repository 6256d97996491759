"""Stored energy against cases worked by hand, published tables and what must hold for every battery."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.supply import Chemistry
from hearthload.outage.battery import (
    CHEMISTRIES,
    charge_hours,
    charge_terms,
    full_discharge_h,
    known_at,
    may_charge,
    may_discharge,
    may_freeze,
    most_charge_w,
    nominal_kwh,
    not_known_words,
    temperature_factor,
    usable_kwh,
)
from hearthload.outage.peukert import rate_factor, steadiness
from hearthload.outage.steps import Step
from tests.outage.supply_cases import demand_of, facts, figure

ANY = st.sampled_from(CHEMISTRIES)


def test_lithium_energy_to_buy_by_hand() -> None:
    # 4 kWh at 25 °C: 4·1.10/(0.9·1·(1/1.1)) = 5.378 kWh; neither discharge nor rate is counted again.
    found = nominal_kwh(figure(4.0, "kWh"), 48.0, Chemistry.LFP, 25.0, facts())
    assert found.value == pytest.approx(4.0 * 1.1 * 1.1 / 0.9)
    assert found.steps[-1].equation == "E_n = E_dc·(1 + m)/(DoD·k_T·k_age)"


def test_lead_energy_to_buy_by_hand() -> None:
    # 4 h at 20 °C, AGM: the full discharge lasts 4·1.1/0.5 = 8.8 h, k_rate = 0.44^(0.1/1.1) = 0.9281;
    # 2·1.1/(0.5·(1/1.056)·0.8·0.9281·0.97) = 6.451 kWh.
    found = nominal_kwh(figure(2.0, "kWh"), 4.0, Chemistry.AGM, 20.0, facts())
    rate = 0.44 ** (0.1 / 1.1)
    assert rate == pytest.approx(0.9281, abs=1e-4)
    assert found.value == pytest.approx(2 * 1.1 / (0.5 / 1.056 * 0.8 * rate * 0.97))
    assert found.value == pytest.approx(6.451, abs=1e-3)


@pytest.mark.parametrize(
    ("celsius", "percent"), [(10.0, 84), (4.4, 77), (-3.9, 66), (25.0, 100), (40.0, 100)]
)
def test_lead_capacity_in_the_cold(celsius: float, percent: int) -> None:
    assert 100 * temperature_factor(Chemistry.GEL, celsius, facts()) == pytest.approx(percent, abs=0.51)


def test_between_and_below_the_rows_of_the_table() -> None:
    # Half way from 10 to 20 °C: (1/1.19 + 1/1.056)/2 = 0.8937. As far below −3.9 °C as 0 °C is above it: one
    # more time 1/1.417 − 1/1.52 less, 0.6101.
    assert temperature_factor(Chemistry.AGM, 15.0, facts()) == pytest.approx((1 / 1.19 + 1 / 1.056) / 2)
    assert temperature_factor(Chemistry.AGM, -7.8, facts()) == pytest.approx(2 / 1.52 - 1 / 1.417)
    # Lithium: half way from 0 to 25 °C, from 0.875 to 1.
    assert temperature_factor(Chemistry.LFP, 12.5, facts()) == pytest.approx(0.9375)
    assert temperature_factor(Chemistry.NMC, -15.0, facts()) == pytest.approx(0.6875)


@pytest.mark.parametrize(
    ("celsius", "multiplier"), [(-3.9, 1.52), (4.4, 1.30), (10.0, 1.19), (15.6, 1.11), (20.0, 1.056)]
)
def test_the_editable_curve_meets_the_multipliers_of_the_standard(celsius: float, multiplier: float) -> None:
    # The facts stand at round temperatures; at the table's own the curve is off by 0.6 % at most,
    # on the low side of capacity.
    assert 0.994 < multiplier * temperature_factor(Chemistry.AGM, celsius, facts()) < 1.0 + 1e-9


def test_what_a_maker_says_of_the_cold_takes_the_place_of_the_table() -> None:
    assert known_at(Chemistry.AGM, -3.9, facts())
    assert not known_at(Chemistry.AGM, -4.0, facts())
    assert not known_at(Chemistry.NICKEL, -4.0, facts())
    assert known_at(Chemistry.LFP, -15.0, facts())
    # A maker's 45 % at −20 °C and 70 % at 0 °C: 57.5 % half way.
    own = facts({"battery_lead_coldest_c": -20.0, "battery_lead_at_coldest": 0.45, "battery_lead_at_0": 0.70})
    assert known_at(Chemistry.AGM, -10.0, own)
    assert temperature_factor(Chemistry.AGM, -10.0, own) == pytest.approx(0.575)


def test_the_step_says_where_the_table_ends() -> None:
    def step(celsius: float, own: dict[str, float] | None = None) -> Step:
        found = nominal_kwh(figure(1.0, "kWh"), 48.0, Chemistry.GEL, celsius, facts(own))
        return next(each for each in found.steps if each.quantity.startswith("Capacity at the temperature"))

    assert "not known" in step(-10.0).quantity
    assert step(-3.0).quantity == "Capacity at the temperature"
    keys = ("battery_lead_at_20", "battery_lead_at_10", "battery_lead_at_0", "battery_lead_at_coldest")
    stated = dict(zip(keys, (0.95, 0.85, 0.7, 0.65), strict=True)) | {"battery_lead_coldest_c": -5.0}
    assert not step(-4.0, stated).typical
    assert step(-6.0, stated).typical


def test_only_lead_freezes_and_only_in_frost() -> None:
    assert may_freeze(Chemistry.FLOODED_LEAD, -0.1)
    assert not may_freeze(Chemistry.FLOODED_LEAD, 0.0)
    assert not may_freeze(Chemistry.LFP, -10.0)
    assert not may_freeze(Chemistry.NICKEL, -10.0)
    assert not_known_words(-10.5) == "how much it gives at −10.5 °C, from its maker"


@pytest.mark.parametrize(
    ("exponent", "five", "one"), [(1.15, 0.84, 0.68), (1.25, 0.76, 0.55), (1.05, 0.94, 0.87)]
)
def test_peukert_shares_of_the_twenty_hour_capacity(exponent: float, five: float, one: float) -> None:
    # (5/20)^((k − 1)/k) and (1/20)^((k − 1)/k); 1.25 at 5 h comes to 0.758.
    own = facts({"battery_peukert_gel": exponent})
    assert rate_factor(Chemistry.GEL, 5.0, own) == pytest.approx(five, abs=0.006)
    assert rate_factor(Chemistry.GEL, 1.0, own) == pytest.approx(one, abs=0.006)
    assert rate_factor(Chemistry.GEL, 100.0, own) == 1.0
    assert rate_factor(Chemistry.LFP, 1.0, own) == 1.0


def test_the_closed_form_is_what_iterating_peukert_tends_to() -> None:
    # t ← A·(t/H)^a/P, started at A/P; 2400 Wh flooded at 400 W, 25 °C, aged to 0.8, mean voltage 0.97.
    full, exponent = 2400.0 * 0.8 * 0.97, 1.3
    hours = full / 400.0
    for _ in range(200):
        hours = full * (hours / 20.0) ** ((exponent - 1) / exponent) / 400.0
    found = full_discharge_h(2400.0, 400.0, Chemistry.FLOODED_LEAD, 25.0, facts())
    assert found == pytest.approx(hours, rel=1e-9)
    # And so it is Peukert's own t = H·(C/(I·H))^k.
    assert found == pytest.approx(20.0 * (full / (400.0 * 20.0)) ** 1.3)


def test_an_uneven_draw_by_hand() -> None:
    # k = 2; 100 W half of the time, 300 W the other half: mean 200 W, √((100² + 300²)/2) = 223.607 W,
    # r = 0.894427. Full 2400·0.8·0.97 = 1862.4 Wh: 20·(1862.4/(223.607·20))² = 3.46853 h at 200 W on average,
    # 693.71 Wh, half of which is usable. A steady 200 W gets 20·(1862.4/4000)²·200/2 = 433.57 Wh.
    own, uneven = facts({"battery_peukert_gel": 2.0}), demand_of((100.0, 0.5), (300.0, 0.5))
    assert steadiness(Chemistry.GEL, uneven, own) == pytest.approx(200.0 / math.sqrt(50_000.0))
    hours = full_discharge_h(2400.0, 200.0, Chemistry.GEL, 25.0, own, draws=uneven)
    assert hours == pytest.approx(3.46853, abs=1e-5)
    found = usable_kwh(2400.0, 200.0, Chemistry.GEL, 25.0, own, draws=uneven)
    assert found.value == pytest.approx(0.346853, abs=1e-6)
    assert usable_kwh(2400.0, 200.0, Chemistry.GEL, 25.0, own).value == pytest.approx(0.433567, abs=1e-6)
    assert steadiness(Chemistry.GEL, demand_of((0.0, 1.0)), own) == 1.0
    assert steadiness(Chemistry.LFP, uneven, own) == 1.0


def test_an_uneven_draw_against_using_up_the_charge_step_by_step() -> None:
    # Peukert's charge ∫P^k dt is used up at (A/H)^k·H, whatever the draw: turns of a minute until it is gone.
    own, exponent = facts(), 1.3
    full = 3000.0 * 0.8 * 0.97
    left, given_wh, turn = (full / 20.0) ** exponent * 20.0, 0.0, 0
    while left > 0.0:
        watts = 900.0 if turn % 4 == 0 else 150.0
        left -= watts**exponent / 60.0
        given_wh += watts / 60.0
        turn += 1
    draws = demand_of((150.0, 0.75), (900.0, 0.25))
    found = usable_kwh(3000.0, 337.5, Chemistry.FLOODED_LEAD, 25.0, own, draws=draws)
    assert found.value == pytest.approx(0.5 * given_wh / 1000.0, rel=0.01)


@given(ANY, st.floats(-19.0, 45.0), st.floats(0.05, 14.0), st.floats(0.01, 50.0), st.floats(0.01, 0.99))
def test_a_bank_for_an_uneven_draw_gives_its_energy_and_is_no_smaller(
    chemistry: Chemistry, celsius: float, days: float, kwh: float, share: float
) -> None:
    mean_w = 1000.0 * kwh / (24.0 * days)
    uneven = demand_of((0.2 * mean_w, 1.0 - share), ((1.0 - 0.2 * (1.0 - share)) * mean_w / share, share))
    steady = nominal_kwh(figure(kwh, "kWh"), 24.0 * days, chemistry, celsius, facts()).value
    size = nominal_kwh(figure(kwh, "kWh"), 24.0 * days, chemistry, celsius, facts(), draws=uneven).value
    assert size >= steady * (1.0 - 1e-12)
    given_kwh = usable_kwh(1000.0 * size, mean_w, chemistry, celsius, facts(), draws=uneven).value
    assert given_kwh == pytest.approx(kwh * 1.1, rel=1e-9)


@given(ANY, st.floats(-19.0, 45.0), st.floats(0.05, 14.0), st.floats(0.01, 50.0))
def test_a_bank_of_the_size_to_buy_gives_the_energy_with_its_margin(
    chemistry: Chemistry, celsius: float, days: float, kwh: float
) -> None:
    size = nominal_kwh(figure(kwh, "kWh"), 24.0 * days, chemistry, celsius, facts()).value
    given_kwh = usable_kwh(1000.0 * size, 1000.0 * kwh / (24.0 * days), chemistry, celsius, facts()).value
    assert given_kwh == pytest.approx(kwh * 1.1, rel=1e-9)


@given(ANY, st.floats(-19.0, 45.0), st.floats(0.05, 14.0), st.floats(0.01, 50.0), st.floats(1.0, 3.0))
def test_more_energy_never_takes_a_smaller_battery(
    chemistry: Chemistry, celsius: float, days: float, kwh: float, more: float
) -> None:
    def size(energy: float, at: float) -> float:
        return nominal_kwh(figure(energy, "kWh"), 24.0 * days, chemistry, at, facts()).value

    assert size(kwh * more, celsius) >= size(kwh, celsius)
    assert size(kwh, celsius - 1.0) >= size(kwh, celsius)


@given(ANY, st.floats(1.0, 1e5), st.floats(1.0, 1e4), st.floats(1.0, 3.0))
def test_a_bigger_bank_gives_more_and_a_heavier_draw_gets_less(
    chemistry: Chemistry, stored: float, watts: float, more: float
) -> None:
    least = usable_kwh(stored, watts, chemistry, 20.0, facts()).value
    assert usable_kwh(stored * more, watts, chemistry, 20.0, facts()).value >= least
    assert usable_kwh(stored, watts * more, chemistry, 20.0, facts()).value <= least * (1 + 1e-12)


def test_windows_of_temperature() -> None:
    assert [may_charge(Chemistry.LFP, at, facts()) for at in (-0.1, 0.0, 45.0, 45.1)] == [0, 1, 1, 0]
    assert [may_discharge(Chemistry.NMC, at, facts()) for at in (-20.1, -20.0, 60.1)] == [0, 1, 0]
    assert may_charge(Chemistry.AGM, -10.0, facts())
    assert usable_kwh(2000.0, 100.0, Chemistry.LFP, -25.0, facts()).value == 0.0


def test_one_leg_of_a_round_trip_is_its_root() -> None:
    # √0.70 = 0.84 for lead-acid, √0.95 = 0.97 for lithium; stated energy on discharge has this leg in it.
    def one_leg(chemistry: Chemistry, own: dict[str, float] | None = None) -> float:
        _, trip = charge_terms(chemistry)
        return math.sqrt(facts(own)[trip.key])

    assert one_leg(Chemistry.AGM) == pytest.approx(0.84, abs=0.005)
    assert one_leg(Chemistry.LFP, {"battery_round_trip_lithium": 0.95}) == pytest.approx(0.97, abs=0.006)


def test_charging_by_hand() -> None:
    # 2 kWh through charger 0.9 and round trip 0.96 with 500 W: 2000/(0.9·0.96·500) = 4.63 h.
    found = charge_hours(2.0, 500.0, Chemistry.LFP, facts())
    assert found is not None
    assert found.value == pytest.approx(4.6296, abs=1e-4)
    lead = charge_hours(2.0, 5000.0, Chemistry.AGM, facts())
    assert lead is not None
    assert lead.value == 10.0
    assert charge_hours(2.0, 0.0, Chemistry.LFP, facts()) is None
    # 3 kWh lithium at 0.3 of its capacity an hour: 900 W at the battery, 1000 W at the wall.
    assert most_charge_w(3000.0, Chemistry.LFP, facts(), 230.0).value == pytest.approx(1000.0)


def test_one_wall_circuit_bounds_the_charging_power() -> None:
    # 36 kWh lithium would take 0.3·36/0.9 = 12 kW. 15 A at 120 V give 0.8·15·120 = 1440 W for hours, at
    # 230 V 2760 W; a circuit of 32 A at 230 V 5888 W.
    def watts(mains_v: float, **own: float) -> float:
        return most_charge_w(36_000.0, Chemistry.LFP, facts(own), mains_v).value

    assert watts(120.0) == pytest.approx(1440.0)
    assert watts(230.0) == pytest.approx(2760.0)
    assert watts(230.0, battery_wall_circuit_a=32.0) == pytest.approx(5888.0)
    # 100 A of 230 V would give 18.4 kW: then the cells bound it.
    assert watts(230.0, battery_wall_circuit_a=100.0) == pytest.approx(12_000.0)

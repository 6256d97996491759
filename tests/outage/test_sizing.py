"""Sizing: the whole chain by hand, what must hold between its parts, and nothing from nothing."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.supply import Chemistry, EngineControl, Fuel
from hearthload.outage.sizing import Sizing, StoredSize, size
from hearthload.outage.sizing_generator import GeneratorSize
from hearthload.outage.steps import Figure
from hearthload.outage.sun import best_hours
from tests.outage.supply_cases import FREEZER_AND_ROUTER, demand_of, facts, plan, totals


def sized(days: float = 2.0, watts: float = 100.0, sd_kwh: float = 0.0, **given: object) -> Sizing:
    demand = demand_of((10.0, 0.6), (10.0 + watts, 0.4))
    found = size(totals(demand, days, sd_kwh=sd_kwh), plan(days=days, **given), facts())
    assert found is not None
    return found


def stored(sizing: Sizing, chemistry: Chemistry) -> StoredSize:
    return next(each for each in sizing.stored if each.chemistry is chemistry)


def generator(sizing: Sizing, fuel: Fuel, control: EngineControl) -> GeneratorSize:
    return next(each for each in sizing.generators if (each.fuel, each.control) == (fuel, control))


def test_the_whole_chain_by_hand() -> None:
    # Highest 110 W, 137.5 VA: continuous 137.5 W and 171.875 VA; the loss is that of a 137.5 W inverter:
    # idle 1.375 W, 1.03·50, 0.05·4900/137.5 = 1.78182: mean draw 54.6568 W; two days 2.62353 kWh.
    found = sized()
    assert found.inverter_w.value == pytest.approx(137.5)
    assert found.inverter_va.value == pytest.approx(171.875)
    assert found.drawn.mean_w.value == pytest.approx(54.6568, abs=1e-4)
    assert found.drawn.plan_kwh.value == pytest.approx(2.62353, abs=1e-5)
    # Lithium iron phosphate: 2.62353·1.1·1.1/0.9 = 3.5272 kWh; lead-acid needs more than twice as much.
    lithium, lead = stored(found, Chemistry.LFP), stored(found, Chemistry.FLOODED_LEAD)
    assert lithium.stored_kwh.value == pytest.approx(3.5272, abs=1e-4)
    # A full discharge lasts 48·1.1/0.5 h, more than 20: 2.62353·1.1/(0.5·0.8·0.97) = 7.4378 kWh.
    assert lead.stored_kwh.value == pytest.approx(7.4378, abs=1e-4)
    # At its rating: 1.375 + 1.03·137.5 + 0.05·137.5 = 149.875 W; 13.625 A from 11 V, fuse 17.03 A.
    assert found.direct[0].current_a.value == pytest.approx(13.625)
    assert found.direct[0].current_a.steps[-1].quantity.endswith("at the recommended inverter's rating")
    assert found.direct[0].fuse_a.value == pytest.approx(17.03125)
    assert found.direct[2].current_a.value == pytest.approx(13.625 / 4)
    assert found.suggested_v == 12.0
    # Charged at 0.3/h of its capacity: 3.5272/0.9·0.3 kW at the wall, 2.62353/(0.96·0.3·3.5272) h.
    assert lithium.recharge_h is not None
    assert lithium.recharge_h.value == pytest.approx(2.62353 / (0.96 * 0.3 * 3.5272), rel=1e-4)


def test_sun_of_the_plan_by_hand() -> None:
    # 1.31176 kWh a day, 3 sun hours, PR 0.73035: 1000·1.31176·1.3/(3·0.73035) = 778.3 W.
    found = sized(peak_sun_hours=3.0).sun
    assert found is not None
    assert found.array_w is not None
    assert found.array_w.value == pytest.approx(778.3, abs=0.1)
    # Lead-acid gives back 0.70 instead of 0.96: 1067.4 W; controllers of 1.25·P/12 V.
    assert found.lead_array_w is not None
    assert found.lead_array_w.value == pytest.approx(778.3 * 0.96 / 0.70, abs=0.1)
    assert found.controller_a is not None
    assert found.controller_a.value == pytest.approx(81.07, abs=0.02)
    assert found.lead_controller_a is not None
    assert found.lead_controller_a.value == pytest.approx(111.18, abs=0.02)
    # It brings 0.3 of a day's load over: the 2.62353 kWh of two days are back in 2/0.3 days.
    assert found.recharge_days is not None
    assert found.recharge_days.value == pytest.approx(2 / 0.3)
    assert (found.best_from_h, found.best_to_h) == (None, None)  # hours typed in, no latitude
    placed = sized(peak_sun_hours=3.0, latitude_deg=45.0).sun
    assert placed is not None
    assert (placed.best_from_h, placed.best_to_h) == best_hours(plan(latitude_deg=45.0), facts())
    assert sized().sun is None
    night = sized(latitude_deg=75.0, month=12).sun
    assert night is not None
    assert night.array_w is None
    wide = sized(latitude_deg=50.0, month=12).sun
    assert wide is not None
    assert wide.array_w is not None
    # Half of the estimated sun, as the step says, so twice the array by its middle.
    middle = 1000.0 * 1.31176 * 1.3 / (wide.sun_hours.value * wide.ratio.value)
    assert wide.array_w.value == pytest.approx(2.0 * middle, rel=1e-4)
    assert any("the low end of the estimate" in step.quantity for step in wide.array_w.steps)
    assert wide.recharging_w is not None
    again = 1000.0 * (1.31176 + 2.62353 / 5) / (0.5 * wide.sun_hours.value * wide.ratio.value)
    assert wide.recharging_w.value == pytest.approx(again, rel=1e-4)


def test_generator_of_the_plan_by_hand() -> None:
    # 1.25·137.5 VA = 171.9 W needed; the smallest petrol set of inverter type has 1 kW. Mean load 50 W, 5 %.
    found = generator(sized(), Fuel.PETROL, EngineControl.INVERTER)
    assert found.rating_w.value == 1000.0
    assert found.rating_w.steps[-2].value == pytest.approx(171.875)
    assert found.rating_w.steps[-1].quantity.endswith("the smallest set that is sold")
    assert found.steady.load_share.value == pytest.approx(0.05)
    # Round the clock: (0.1·1 + 0.45·0.05)·48 h = 5.88 L.
    assert found.steady.litres.value == pytest.approx(5.88)
    # Charging with 800 W of the set, more than 30 % of the capacity takes: 0.3·3527.2/0.9 = 1176 W, so with
    # 0.8 of the rating: 1311.76/(0.9·0.96·800) = 1.8978 h a day.
    assert found.charging is not None
    assert found.charging.hours_a_day.value == pytest.approx(1.8978, abs=1e-4)
    assert found.start_va.value == pytest.approx(137.5 * 3)


def test_no_generator_is_smaller_than_those_sold() -> None:
    ratings = {(each.fuel, each.control): each.rating_w.value for each in sized().generators}
    assert ratings == {
        (Fuel.PETROL, EngineControl.INVERTER): 1000.0,
        (Fuel.PETROL, EngineControl.FIXED_SPEED): 2000.0,
        (Fuel.DIESEL, EngineControl.FIXED_SPEED): 4000.0,
        (Fuel.PROPANE, EngineControl.FIXED_SPEED): 2000.0,
    }
    # The diesel's fuel is that of 4 kW: (0.1·4 + 0.3·0.05)·48 h = 19.92 L.
    assert generator(sized(), Fuel.DIESEL, EngineControl.FIXED_SPEED).steady.litres.value == pytest.approx(
        19.92
    )
    # 3.01 kW of loads: 3010/0.8·1.25 = 4703 W needed, for propane a ninth more; the smallest does not count.
    large = sized(watts=3000.0)
    diesel = generator(large, Fuel.DIESEL, EngineControl.FIXED_SPEED)
    assert diesel.rating_w.value == pytest.approx(4703.125)
    assert diesel.rating_w.steps[-1].quantity == "Generator rating to look for"
    gas = generator(large, Fuel.PROPANE, EngineControl.FIXED_SPEED)
    assert gas.rating_w.value == pytest.approx(4703.125 / 0.9)


def test_a_large_battery_is_charged_by_what_the_wall_gives() -> None:
    # 0.3/h of the energy that 3 kW of loads need is far above the circuit's 0.8·15·120 = 1440 W.
    demand = demand_of((10.0, 0.6), (3010.0, 0.4))
    found = size(totals(demand), plan(), facts(), mains_v=120.0)
    assert found is not None
    lithium = stored(found, Chemistry.LFP)
    assert lithium.charge_w.value == pytest.approx(1440.0)
    assert lithium.charge_w.steps[-1].quantity.startswith("The most it should be charged with")
    assert lithium.recharge_h is not None
    hours = 1000.0 * found.drawn.plan_kwh.value / (0.9 * 0.96 * 1440.0)
    assert lithium.recharge_h.value == pytest.approx(hours)
    assert hours > 40.0
    # Without a word about the mains they have 230 V: 2760 W.
    assert stored(sized(watts=3000.0), Chemistry.LFP).charge_w.value == pytest.approx(2760.0)


def figures(sizing: Sizing) -> list[Figure]:
    found = [sizing.inverter_w, sizing.inverter_va, sizing.drawn.plan_kwh]
    for each in sizing.stored:
        found += [each.stored_kwh, each.charge_w]
    for one in sizing.generators:
        found += [one.rating_w, one.start_va, one.steady.litres]
    return found


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 10.0), st.floats(1.0, 3000.0), st.floats(1.0, 3.0))
def test_more_load_or_more_days_never_takes_less(days: float, watts: float, more: float) -> None:
    base = [each.value for each in figures(sized(days, watts))]
    for other in (sized(days, watts * more), sized(days * more, watts)):
        for small, large in zip(base, figures(other), strict=True):
            assert large.value >= small * (1.0 - 1e-9)


def test_a_surer_plan_takes_a_larger_battery() -> None:
    wide, sure = stored(sized(sd_kwh=0.3), Chemistry.LFP), stored(sized(), Chemistry.LFP)
    assert wide.stored_kwh.value > sure.stored_kwh.value


def test_every_figure_comes_with_readable_steps() -> None:
    for each in figures(sized(peak_sun_hours=3.0, battery_c=-5.0, altitude_m=1500.0)):
        assert each.steps
        assert each.steps[-1].value == each.value
        for step in each.steps:
            assert step.quantity
            assert step.equation
            assert step.source


def test_a_cold_battery_says_what_it_may() -> None:
    cold = stored(sized(battery_c=-5.0), Chemistry.LFP)
    assert (cold.may_charge, cold.may_discharge) == (False, True)
    assert cold.stored_kwh.value > stored(sized(), Chemistry.LFP).stored_kwh.value


def test_lead_in_frost_says_that_it_freezes_and_what_is_not_known() -> None:
    mild, cold, lithium = (
        stored(sized(battery_c=celsius), chemistry)
        for celsius, chemistry in ((-2.0, Chemistry.AGM), (-10.0, Chemistry.AGM), (-10.0, Chemistry.LFP))
    )
    assert (mild.may_freeze, mild.not_known) == (True, "")
    assert (cold.may_freeze, cold.not_known) == (True, "how much it gives at −10 °C, from its maker")
    assert (lithium.may_freeze, lithium.not_known) == (False, "")
    warm = stored(sized(battery_c=10.0), Chemistry.AGM)
    assert (warm.may_freeze, warm.not_known) == (False, "")


def test_nothing_kept_on_has_no_size() -> None:
    assert size(totals(None), plan(), facts()) is None
    assert size(totals(FREEZER_AND_ROUTER), plan(days=0.0), facts()) is None
    unknown = size(totals(FREEZER_AND_ROUTER, not_known=("Well pump",)), plan(), facts())
    assert unknown is not None
    assert unknown.not_known == ("Well pump",)


def test_charging_a_lithium_battery_in_frost_is_not_possible() -> None:
    mild, cold = (
        generator(sized(battery_c=celsius), Fuel.PETROL, EngineControl.INVERTER).charging
        for celsius in (0.0, -0.5)
    )
    assert mild is not None
    assert cold is not None
    assert (mild.possible, mild.why_not) == (True, "")
    assert (cold.possible, cold.why_not) == (
        False,
        "the battery, lithium, may not be charged at −0.5 °C",
    )
    assert cold.hours_a_day.steps[0].quantity == "Temperature at which lithium cells may not be charged"


def test_height_takes_from_what_charges_and_what_the_load_is_measured_by() -> None:
    # 1677 m: 5 steps of 305 m above 152 m leave 0.85 of 1 kW; charging with 0.8 of that: 680 W,
    # 1311.76/(0.9·0.96·680) = 2.2327 h a day at 0.8 of what is left. Round the clock 50 W of 850 W.
    found = generator(sized(altitude_m=1677.0), Fuel.PETROL, EngineControl.INVERTER)
    assert found.charging is not None
    assert found.charging.hours_a_day.value == pytest.approx(2.2327, abs=1e-4)
    assert found.charging.load_share.value == pytest.approx(0.8)
    assert found.steady.load_share.value == pytest.approx(50.0 / 850.0)

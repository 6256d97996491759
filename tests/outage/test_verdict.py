"""Verdicts on batteries and generators: worked by hand, missing figures, nothing known, outlets."""

from __future__ import annotations

import pytest

from hearthload.domain.supply import Chemistry, Fuel, Supply, Waveform
from hearthload.outage.answers import LimitCode, Outcome, Verdict
from tests.outage.supply_cases import FREEZER_AND_ROUTER, demand_of, line, totals
from tests.outage.supply_drafts import array, battery, generator, judge, limit

CARRIES, SHORT, UNKNOWN = Outcome.CARRIES, Outcome.FALLS_SHORT, Outcome.NOT_KNOWN


def test_a_battery_by_hand() -> None:
    # Stated idle 10 W of 1000 W: an ordinary inverter, mean draw 61.745 W, 2.96376 kWh in two days.
    # Usable 5·0.9/1.1 = 4.0909 kWh: 24·4.0909/1.48188 = 66.25 h. Running 1.25·110 = 137.5 W of 1000 W.
    found = judge([Supply(1, battery())])
    assert found.outcome is CARRIES
    energy = limit(found, LimitCode.ENERGY)
    assert energy.needed is not None
    assert energy.needed.value == pytest.approx(2.96376)
    assert energy.offered == pytest.approx(4.0909, abs=1e-4)
    assert energy.margin == pytest.approx(4.0909 / 2.96376 - 1.0, abs=1e-4)
    running = limit(found, LimitCode.RUNNING_W)
    assert running.needed is not None
    assert (running.needed.value, running.offered) == (137.5, 1000.0)
    assert found.hours is not None
    assert found.hours.value == pytest.approx(66.255, abs=1e-2)
    assert found.fails_first is LimitCode.ENERGY


def test_four_days_are_too_long_and_the_energy_fails() -> None:
    found = judge([battery()], days=4.0)
    assert (found.outcome, found.fails_first) == (SHORT, LimitCode.ENERGY)
    assert limit(found, LimitCode.ENERGY).margin == pytest.approx(4.0909 / 5.92752 - 1.0, abs=1e-4)


@pytest.mark.parametrize(
    ("left_out", "code", "missing"),
    [
        ({"stored_wh": None}, LimitCode.ENERGY, "the battery's stored watt-hours"),
        ({"chemistry": Chemistry.NOT_KNOWN}, LimitCode.ENERGY, "the battery's chemistry"),
        ({"continuous_w": None}, LimitCode.RUNNING_W, "its continuous watts"),
        ({"start_va": None}, LimitCode.START_VA, "its starting volt-amperes, and for how many seconds"),
        ({"start_s": None}, LimitCode.START_VA, "for how many seconds it gives its start power"),
        ({"plug": "unknown"}, LimitCode.OUTLET_CURRENT, "the outlet's amps or its type"),
        ({"voltage_v": None}, LimitCode.VOLTAGE, "the voltage of its outlets"),
        ({"frequency_hz": None}, LimitCode.FREQUENCY, "its frequency"),
        ({"battery_v": 24.0}, LimitCode.BATTERY_CURRENT, "the battery's most amps on discharge"),
    ],
)
def test_what_is_not_stated_is_not_known(left_out: dict[str, object], code: LimitCode, missing: str) -> None:
    heavy = totals(FREEZER_AND_ROUTER, start_va=1500.0)
    found = judge([battery(**left_out)], heavy)
    assert (found.outcome, limit(found, code).outcome) == (UNKNOWN, UNKNOWN)
    assert limit(found, code).missing == missing
    assert judge([battery()], heavy).outcome is CARRIES


def test_the_whole_of_an_unknown_chemistry_may_already_fall_short() -> None:
    assert judge([battery(chemistry=Chemistry.NOT_KNOWN, stored_wh=2900.0)]).outcome is SHORT
    assert judge([battery(chemistry=Chemistry.NOT_KNOWN, stored_wh=3000.0)]).outcome is UNKNOWN


def test_watts_alone_bound_the_volt_amperes() -> None:
    # 137.5 VA running, 171.875 VA with the margin: 172 W are enough for sure, 171 W may be.
    small = {"continuous_va": None, "start_va": 1000.0}
    enough = judge([battery(continuous_w=172.0, **small)])
    assert limit(enough, LimitCode.RUNNING_VA).outcome is CARRIES
    unsure = limit(judge([battery(continuous_w=171.0, **small)]), LimitCode.RUNNING_VA)
    assert (unsure.outcome, unsure.missing) == (UNKNOWN, "its continuous volt-amperes")
    # Volt-amperes are the most that the watts can be.
    few = {"continuous_w": None, "start_va": 1000.0}
    assert limit(judge([battery(continuous_va=130.0, **few)]), LimitCode.RUNNING_W).outcome is SHORT


def test_starts() -> None:
    # The freezer starts at 412.5 VA for half a second.
    low = {"continuous_w": 200.0, "continuous_va": 200.0}

    def start(**given: object) -> Outcome:
        return limit(judge([battery(**(low | given))]), LimitCode.START_VA).outcome

    assert start(start_va=420.0, start_s=0.5) is CARRIES
    assert start(start_va=410.0, start_s=0.5) is SHORT
    assert start(start_va=420.0, start_s=0.02) is SHORT
    assert start(start_va=None, start_w=420.0, start_s=1.0) is CARRIES
    assert start(start_va=None, start_w=400.0, start_s=1.0) is UNKNOWN
    told = limit(judge([battery()]), LimitCode.START_VA, counts=False)
    assert told.about == "all that starts by itself, together"


def test_heat_takes_from_the_rating() -> None:
    # At 50 °C an inverter gives 1 − 0.015·20 = 0.7 of its rating: 190 W become 133 W, less than 137.5 W.
    warm = judge([battery(continuous_w=190.0)], battery_c=50.0)
    assert limit(warm, LimitCode.RUNNING_W).offered == pytest.approx(133.0)
    assert limit(warm, LimitCode.RUNNING_W).outcome is SHORT


def test_current_of_a_built_battery() -> None:
    # 10 + 1.03·110 + 0.05·12100/1000 = 123.9 W from 11 V: 11.26 A.
    tight = limit(judge([battery(battery_v=12.0, battery_limit_a=11.0)]), LimitCode.BATTERY_CURRENT)
    assert tight.needed is not None
    assert tight.needed.value == pytest.approx(123.905 / 11.0)
    assert tight.outcome is SHORT
    wide = judge([battery(battery_v=12.0, battery_limit_a=12.0)])
    assert limit(wide, LimitCode.BATTERY_CURRENT).outcome is CARRIES


def test_cells_too_cold_give_nothing() -> None:
    found = judge([battery()], battery_c=-25.0)
    assert limit(found, LimitCode.ENERGY).offered == 0.0
    assert found.hours is not None
    assert found.hours.value == 0.0


def test_lead_colder_than_is_known_never_carries_and_may_fall_short() -> None:
    # AGM of 20 kWh gives 20·0.5/1.52·0.8·0.97 = 5.105 kWh at −3.9 °C over more than 20 h; 2.964 are
    # needed. At −10 °C it gives less, nobody knows how much; 10 kWh, 2.553 at −3.9 °C, are too little anyhow.
    def at(celsius: float, stored_wh: float, own: dict[str, float] | None = None) -> Verdict:
        bank = battery(stored_wh=stored_wh, chemistry=Chemistry.AGM, battery_v=24.0, battery_limit_a=100.0)
        return judge([bank], own=own, battery_c=celsius)

    assert limit(at(-3.9, 20_000.0), LimitCode.ENERGY).offered == pytest.approx(5.105, abs=1e-3)
    assert at(-3.9, 20_000.0).outcome is CARRIES
    unknown = at(-10.0, 20_000.0)
    energy = limit(unknown, LimitCode.ENERGY)
    assert (unknown.outcome, unknown.hours) == (UNKNOWN, None)
    assert (energy.outcome, energy.offered) == (UNKNOWN, None)
    assert energy.missing == "how much it gives at −10 °C, from its maker"
    assert any(step.quantity.startswith("Temperature to reckon with") for step in energy.steps)
    short = limit(at(-10.0, 10_000.0), LimitCode.ENERGY)
    assert short.outcome is SHORT
    assert short.offered == pytest.approx(2.553, abs=1e-3)
    # Her maker's figure makes it known: 45 % at −20 °C.
    own = {"battery_lead_coldest_c": -20.0, "battery_lead_at_coldest": 0.45}
    assert at(-10.0, 20_000.0, own).outcome is CARRIES


def test_voltage_frequency_and_waveform_of_the_loads() -> None:
    cooler, lamp = line(volts=110.0), line("Lamp", watts=8.0, va=10.0, thermostatic=False, start_multiple=1.0)
    assert judge([battery()], lines=[cooler]).outcome is SHORT
    assert limit(judge([battery()], lines=[cooler]), LimitCode.VOLTAGE).about == "Chest freezer"
    assert limit(judge([battery(voltage_v=120.0)], lines=[cooler]), LimitCode.VOLTAGE).outcome is CARRIES
    assert limit(judge([battery(voltage_v=127.0)], lines=[cooler]), LimitCode.VOLTAGE).outcome is SHORT
    assert limit(judge([battery(frequency_hz=60.0)]), LimitCode.FREQUENCY).outcome is SHORT
    modified = battery(waveform=Waveform.MODIFIED_SINE, idle_w=None)
    told = limit(judge([modified]), LimitCode.WAVEFORM, counts=False)
    assert told.outcome is UNKNOWN
    breathing = line("Concentrator", medical=True)
    assert limit(judge([modified], lines=[breathing]), LimitCode.WAVEFORM).outcome is SHORT
    assert judge([battery()], lines=[breathing, lamp]).outcome is CARRIES
    unknown = judge([battery(waveform=Waveform.NOT_KNOWN)], lines=[breathing])
    assert (unknown.outcome, limit(unknown, LimitCode.WAVEFORM).outcome) == (UNKNOWN, UNKNOWN)


def test_outlets_carry_four_fifths_for_hours() -> None:
    # 1500 VA at 120 V are 12.5 A: within 15 A for an hour; for hours 15.6 A are asked of the outlet.
    def outcome(run_h: float, *, hard_wired: bool = False) -> list[Outcome]:
        heater = line("Heater", volts=120.0, watts=1500.0, va=1500.0, run_h=run_h, hard_wired=hard_wired)
        supply = battery(voltage_v=120.0, plug="nema_5_15", continuous_w=3000.0, continuous_va=3000.0)
        found = judge([supply], lines=[heater])
        return [each.outcome for each in found.limits if each.code is LimitCode.OUTLET_CURRENT]

    assert outcome(1.0) == [CARRIES]
    assert outcome(3.0) == [SHORT]
    assert outcome(3.0, hard_wired=True) == []


def test_unknown_loads_leave_open_what_the_known_ones_do_not_decide() -> None:
    what = totals(FREEZER_AND_ROUTER, not_known=("Well pump",))
    found = judge([battery()], what)
    assert found.outcome is UNKNOWN
    assert found.hours is None
    assert limit(found, LimitCode.ENERGY).missing == "watts or energy of Well pump"
    assert judge([battery(stored_wh=1000.0)], what).outcome is SHORT


def test_nothing_kept_on_and_no_member_are_not_known() -> None:
    for found in (judge([battery()], totals(None)), judge([])):
        assert (found.outcome, found.hours, found.fails_first) == (UNKNOWN, None, None)
        assert len(found.limits) == 1
        assert found.limits[0].missing


def test_a_generator_by_hand() -> None:
    # Starts at 412.5 VA within 2000 W. Two days at 50 W: (0.1·2 + 0.45·0.05)·48 = 10.68 L; the tank holds 4.
    found = judge([generator()])
    assert found.outcome is CARRIES
    assert found.hours is None
    fuel = limit(found, LimitCode.FUEL, counts=False)
    assert fuel.needed is not None
    assert fuel.needed.value == pytest.approx(10.68)
    assert (fuel.offered, fuel.outcome) == (4.0, SHORT)
    share = limit(found, LimitCode.MEAN_LOAD, counts=False)
    assert share.offered == pytest.approx(0.025)
    assert share.outcome is SHORT


def test_height_and_propane_take_from_a_generator() -> None:
    # 3202 m: 10 steps of 305 m above 152 m leave 0.7, propane 0.9 of it: 270 W give 170.1 W of 171.875 VA.
    high = generator(continuous_w=270.0, start_w=900.0, fuel=Fuel.PROPANE)
    found = judge([high], altitude_m=3202.0)
    assert limit(found, LimitCode.RUNNING_VA).offered == pytest.approx(170.1)
    assert found.outcome is SHORT
    assert judge([high]).outcome is CARRIES
    assert judge([generator(continuous_w=None)]).outcome is UNKNOWN


def test_an_array_alone_carries_nothing() -> None:
    for alone in (array(), array(grid_tied=True)):
        found = judge([alone], peak_sun_hours=5.0)
        assert (found.outcome, found.fails_first) == (SHORT, LimitCode.SUN)


def whole_and_steps(found: Verdict) -> list[str]:
    return [
        step.quantity
        for each in found.limits
        for step in (*each.steps, *(each.needed.steps if each.needed else ()))
    ]


def test_every_step_can_be_read() -> None:
    words = whole_and_steps(judge([battery(), array(), generator()], peak_sun_hours=3.0))
    assert len(words) > 20
    assert all(word[0].isupper() or word.startswith("given") for word in words)


def test_likely_power_stands_beside_the_highest() -> None:
    quiet = totals(demand_of((10.0, 0.995), (2000.0, 0.005)))
    found = limit(judge([battery()], quiet), LimitCode.RUNNING_W)
    assert found.outcome is SHORT
    assert any("hundredth" in step.quantity for step in found.steps)

"""Energy a day of one load by hand: measured, hours, uses, assumed; another room, another season."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Use
from hearthload.estimate.kinds import DEFAULTS
from hearthload.outage.answers import LoadInput, LoadLine, Note
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure
from tests.outage.appliances import KNOWN, drawn_loads, drawn_measured, line_of, measured

COLD = [Kind.REFRIGERATOR, Kind.FREEZER]
ESSENTIAL = Role.ESSENTIAL


def energy(line: LoadLine) -> Figure:
    assert line.one_daily is not None
    return line.one_daily


def fridge(**changes: object) -> LoadInput:
    found = measured(1.0, 0.05, room_c=20.0, running_w=100.0)
    load = LoadInput("Kitchen refrigerator", Kind.REFRIGERATOR, ESSENTIAL, measured=found)
    return replace(load, **changes)  # type: ignore[arg-type]


def test_as_measured_parts_the_meters_gain_from_the_rest() -> None:
    # u = 0.05, of it the gain 0.03·1.0: own √(0.05² − 0.03²) = 0.04. Ends 1·e^(±1.96·0.05) = 0.9066, 1.1030.
    line = line_of(fridge(measured=measured(1.0, 0.05, gain=0.03, day_sd=0.1)))
    assert line.own_u_kwh == pytest.approx(0.04)
    assert line.gain_u_kwh == pytest.approx(0.03)
    assert line.meter == "red"
    assert line.day_sd_kwh == pytest.approx(0.1)
    assert (energy(line).low, energy(line).high) == pytest.approx((0.90665, 1.10296), abs=1e-5)
    assert not line.assumed


def test_a_gain_larger_than_the_whole_leaves_nothing_of_its_own() -> None:
    line = line_of(fridge(measured=measured(1.0, 0.02, gain=0.03)))
    assert line.own_u_kwh == 0.0
    assert line.gain_u_kwh == pytest.approx(0.03)


def test_identical_appliances_share_one_measured_figure() -> None:
    one, three = line_of(fridge()), line_of(fridge(quantity=3))
    assert three.daily is not None
    assert three.daily.value == pytest.approx(3.0)
    assert three.own_u_kwh == pytest.approx(3.0 * one.own_u_kwh)
    assert three.day_sd_kwh == pytest.approx(3.0 * one.day_sd_kwh)
    assert energy(three).value == energy(one).value
    assert three.daily.steps[-1].equation == "X = q · x"


def test_hours_a_day() -> None:
    # (200 W · 5 h + 2 W · 19 h)/1000 = 1.038 kWh. Stated watts are ± 10 %: 0.1 · 1.0 = 0.1 kWh;
    # idle ± (0.15 + 0.05 · 2) W for 19 h = 0.00475 kWh.
    load = LoadInput(
        "Television",
        Kind.EVENING_ELECTRONICS,
        ESSENTIAL,
        use=Use.HOURS_A_DAY,
        hours_a_day=5.0,
        running_w=200.0,
        idle_w=2.0,
    )
    line = line_of(load)
    assert energy(line).value == pytest.approx(1.038)
    assert line.own_u_kwh == pytest.approx(math.hypot(0.1, 0.00475))
    assert line.day_sd_kwh == pytest.approx(0.1)
    # She entered hours and watts: assumed, but nothing is known only from a table.
    assert line.assumed
    assert line.duty == pytest.approx(5.0 / 24.0)


def test_hours_at_measured_watts_carry_the_meters_gain() -> None:
    # 100 W · 10 h = 1 kWh; spots ± 8 %, of it the meter's 1 %: own √(0.08² − 0.01²).
    found = measured(3.0, gain=0.01, running_w=100.0, idle_w=0.0)
    load = LoadInput(
        "Lamp", Kind.LAMP_TIMER, ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=10.0, measured=found
    )
    line = line_of(load)
    assert energy(line).value == pytest.approx(1.0)
    assert line.gain_u_kwh == pytest.approx(0.01)
    assert line.own_u_kwh == pytest.approx(math.sqrt(0.08**2 - 0.01**2))
    assert not line.assumed


def test_no_hours_leaves_the_idle_watts() -> None:
    load = LoadInput(
        "Set",
        Kind.EVENING_ELECTRONICS,
        ESSENTIAL,
        use=Use.HOURS_A_DAY,
        hours_a_day=0.0,
        running_w=90.0,
        idle_w=3.0,
    )
    assert energy(line_of(load)).value == pytest.approx(0.072)
    assert line_of(load).duty == 0.0


def test_uses_a_day() -> None:
    # 3 · 0.4 + 0.1 = 1.3 kWh; own: 3 · 0.05 = 0.15 less the gain 0.02 · 1.2 = 0.024, with standby 0.1 kWh =
    # 4.1667 W ± (0.15 + 0.2083) W · 24 h = 0.0086 kWh. A use scatters by 35 %: 0.35 · 0.4 · √3 = 0.2425.
    found = replace(measured(0.9, gain=0.02), use_kwh=0.4, use_u_kwh=0.05, standby_kwh=0.1)
    load = LoadInput(
        "Washer", Kind.BY_THE_LOAD, ESSENTIAL, use=Use.USES_A_DAY, uses_a_day=3.0, measured=found
    )
    line = line_of(load)
    assert energy(line).value == pytest.approx(1.3)
    assert line.gain_u_kwh == pytest.approx(0.024)
    assert line.own_u_kwh == pytest.approx(math.sqrt(0.15**2 - 0.024**2 + 0.0086**2), abs=1e-9)
    assert line.day_sd_kwh == pytest.approx(0.24249, abs=1e-5)


def test_her_own_figure_keeps_her_own_ends() -> None:
    # u = (2.4 − 0.8)/3.92 = 0.40816.
    load = LoadInput(
        "Heater",
        Kind.CLIMATE,
        ESSENTIAL,
        use=Use.ASSUMED,
        daily_kwh=1.5,
        daily_low_kwh=0.8,
        daily_high_kwh=2.4,
    )
    line = line_of(load, room_c=30.0)
    assert (energy(line).value, energy(line).low, energy(line).high) == (1.5, 0.8, 2.4)
    assert line.own_u_kwh == pytest.approx(1.6 / 3.92)
    assert line.assumed
    assert Note.ASSUMED_ENERGY in line.notes


def test_her_own_figure_without_ends_is_wide() -> None:
    line = line_of(LoadInput("Heater", Kind.CLIMATE, ESSENTIAL, use=Use.ASSUMED, daily_kwh=1.5))
    assert (energy(line).low, energy(line).high) == pytest.approx((1.0, 2.25))


def test_assumed_from_watts_and_the_rule_of_a_third() -> None:
    # 120 W · 8 h + 0 idle = 0.96 kWh: a third of the day plugged in. Hours 7 to 14, watts ± 10 %:
    # up e^√(ln²(14/8) + 0.196²) = 1.8093, down e^−√(ln²(8/7) + 0.196²) = 0.78886.
    load = LoadInput("Old freezer", Kind.REFRIGERATOR, ESSENTIAL, running_w=120.0, idle_w=0.0)
    line = line_of(load)
    up = math.exp(math.hypot(math.log(14 / 8), 0.196))
    down = math.exp(-math.hypot(math.log(8 / 7), 0.196))
    assert energy(line).value == pytest.approx(0.96)
    assert energy(line).high == pytest.approx(0.96 * up)
    assert energy(line).low == pytest.approx(0.96 * down)
    assert (up, down) == pytest.approx((1.8093, 0.78886), abs=1e-4)
    assert line.assumed


def test_assumed_from_the_range_of_its_kind() -> None:
    line = line_of(LoadInput("Freezer", Kind.FREEZER, ESSENTIAL))
    assert (energy(line).low, energy(line).high) == (0.5, 3.9)
    # The middle √(0.5·3.9) = 1.39642, the mean of a log-normal range above it by exp(s²/2), s = ln(7.8)/3.92.
    assert energy(line).value == pytest.approx(
        1.39642 * math.exp(0.5 * (math.log(7.8) / 3.92) ** 2), rel=1e-4
    )
    assert {Note.ASSUMED_ENERGY, Note.NO_WATTS} <= set(line.notes)
    assert line.running_w is None
    assert line.duty is None


@pytest.mark.parametrize(
    "load",
    [
        LoadInput("Box", Kind.NOT_SURE, ESSENTIAL),
        LoadInput("Concentrator", Kind.ALWAYS_ON, ESSENTIAL, medical=True),
        LoadInput("Set", Kind.EVENING_ELECTRONICS, ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=3.0),
        LoadInput("Washer", Kind.BY_THE_LOAD, ESSENTIAL, use=Use.USES_A_DAY, uses_a_day=1.0),
    ],
)
def test_what_nothing_is_known_of_stays_unknown(load: LoadInput) -> None:
    line = line_of(load)
    assert line.one_daily is None
    assert line.daily is None
    assert Note.NO_ENERGY in line.notes


def test_a_warmer_room() -> None:
    # 1.0 · 1.04^10 = 1.48024; u: 1.48024 · √(0.05² + (10 · 0.01)²) = 0.16550: ten kelvin bring ten per cent.
    line = line_of(fridge(), room_c=30.0)
    assert energy(line).value == pytest.approx(1.480244)
    assert line.own_u_kwh == pytest.approx(1.480244 * math.hypot(0.05, 0.1))
    assert line.day_sd_kwh == pytest.approx(0.1480244)


@pytest.mark.parametrize(
    ("measured_c", "plan_c", "factor", "told"),
    [
        # Held at 10 °C: 1.04^(10 − 20).
        (20.0, 4.0, 1.04**-10, True),
        (20.0, 10.0, 1.04**-10, False),
        # Measured in the cold: never a step further down, the usual one up.
        (5.0, 2.0, 1.0, True),
        (5.0, 5.0, 1.0, True),
        (5.0, 8.0, 1.04**3, True),
        (5.0, 12.0, 1.04**7, False),
    ],
)
def test_no_step_below_ten_degrees(measured_c: float, plan_c: float, factor: float, told: bool) -> None:
    found = measured(1.0, room_c=measured_c)
    line = line_of(fridge(measured=found), room_c=plan_c)
    assert energy(line).value == pytest.approx(factor)
    assert (Note.TOO_COLD in line.notes) == told
    assert (Note.MEASURED_COLD in line.notes) == (measured_c < 10.0 <= plan_c)


def test_a_room_that_was_not_noted_is_usual_and_less_sure() -> None:
    # T_m 20 ± 2.5 °C: at 20 °C nothing changes but u, by ln(1.04) · 2.5 = 9.8 %.
    line = line_of(fridge(measured=measured(1.0, 0.05)), room_c=20.0)
    assert energy(line).value == pytest.approx(1.0)
    assert line.own_u_kwh == pytest.approx(math.hypot(0.05, math.log(1.04) * 2.5))


def test_the_loads_own_room_comes_before_the_plans() -> None:
    assert energy(line_of(fridge(room_c=25.0), room_c=30.0)).value == pytest.approx(1.04**5)


def test_a_room_matters_to_cold_appliances_alone() -> None:
    load = fridge(kind=Kind.ALWAYS_ON)
    assert energy(line_of(load, room_c=30.0)) == energy(line_of(load))
    stated = fridge(use=Use.HOURS_A_DAY, hours_a_day=8.0)
    assert energy(line_of(stated, room_c=30.0)) == energy(line_of(stated))


def test_another_season_with_its_own_uncertainty() -> None:
    # 1.0 · 1.3; u = 1.3 · √(0.05² + 0.2²).
    line = line_of(fridge(season_factor=1.3, season_factor_u=0.2))
    assert energy(line).value == pytest.approx(1.3)
    assert line.own_u_kwh == pytest.approx(1.3 * math.hypot(0.05, 0.2))
    assert Note.ANOTHER_SEASON in line.notes


def test_another_season_of_unknown_size_takes_the_kinds_scatter() -> None:
    line = line_of(fridge(season_factor=1.0))
    assert line.own_u_kwh == pytest.approx(math.hypot(0.05, DEFAULTS[Kind.REFRIGERATOR].u_season))
    assert line_of(fridge()).own_u_kwh == pytest.approx(0.05)


@given(drawn_loads(), st.floats(-5.0, 40.0), st.floats(-5.0, 40.0))
def test_a_warmer_room_never_lowers_a_cold_appliance(load: LoadInput, one_c: float, other_c: float) -> None:
    cooler, warmer = sorted((one_c, other_c))
    for kind in COLD:
        cold = replace(load, kind=kind)
        before, after = line_of(cold, cooler).one_daily, line_of(cold, warmer).one_daily
        assert (before is None) == (after is None)
        if before is not None and after is not None:
            assert after.value >= before.value * (1.0 - 1e-12)


@given(drawn_measured(), st.floats(0.0, 24.0), st.floats(0.0, 24.0))
def test_more_hours_never_take_less(found: object, one_h: float, other_h: float) -> None:
    fewer, more = sorted((one_h, other_h))
    load = fridge(measured=found, use=Use.HOURS_A_DAY, running_w=150.0)
    less = energy(line_of(replace(load, hours_a_day=fewer)))
    assert less.value <= energy(line_of(replace(load, hours_a_day=more))).value + 1e-12


@given(drawn_loads(), st.none() | st.floats(-5.0, 40.0))
def test_a_line_is_whole(load: LoadInput, room_c: float | None) -> None:
    """Every line has ends in order, steps that end at its value, and uncertainties that are not negative."""
    line = line_of(load, room_c)
    for figure in (line.one_daily, line.daily, line.running_w, line.running_va, line.start_va):
        if figure is not None:
            assert figure.steps[-1].value == pytest.approx(figure.value)
            assert figure.steps[-1].unit == figure.unit
            assert all(step.source for step in figure.steps)
            if figure.low is not None and figure.high is not None:
                assert 0.0 <= figure.low <= figure.value <= figure.high * (1.0 + 1e-12)
    assert min(line.own_u_kwh, line.gain_u_kwh, line.day_sd_kwh) >= 0.0
    assert line.duty is None or 0.0 <= line.duty <= 1.0
    assert (line.one_daily is None) == (Note.NO_ENERGY in line.notes)
    assert (line.running_w is None) == (Note.NO_WATTS in line.notes)
    assert (Note.ASSUMED_ENERGY in line.notes) <= line.assumed


def test_own_alpha_of_a_plan() -> None:
    facts = Facts(KNOWN, {"alpha.refrigerator": 0.05})
    assert energy(line_of(fridge(), 30.0, facts)).value == pytest.approx(1.05**10)

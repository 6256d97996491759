"""Totals by hand: energy and its margin, running and starting power, and what they must always do."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm
from scipy.stats import t as student_t

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.errors import RefusedError
from hearthload.outage.answers import LoadInput, LoadLine, Totals
from hearthload.outage.demand import totals
from hearthload.outage.needs import hours_kwh, margin_of
from tests.outage.appliances import USUAL, drawn_loads, line_of, measured, plain

NINETY = 0.90


def total(*lines: LoadLine, days: float = 1.0, confidence: float = NINETY) -> Totals:
    return totals(lines, days, confidence, USUAL)


def load(name: str, daily_kwh: float, u_kwh: float, gain: float = 0.0, meter: str = "red") -> LoadLine:
    return line_of(
        LoadInput(
            name,
            Kind.NOT_SURE,
            Role.ESSENTIAL,
            running_w=500.0,
            measured=measured(daily_kwh, u_kwh, gain, meter),
        )
    )


def test_independent_parts_add_in_quadrature() -> None:
    # 1 ± 0.03 and 2 ± 0.04: 3 ± 0.05, ends 3·e^(±1.96·0.05/3).
    daily = total(load("A", 1.0, 0.03), load("B", 2.0, 0.04)).daily
    assert daily.value == pytest.approx(3.0)
    assert (daily.low, daily.high) == pytest.approx(
        (3.0 * math.exp(-0.098 / 3.0), 3.0 * math.exp(0.098 / 3.0))
    )


def test_a_meters_gain_adds_linearly_and_two_meters_in_quadrature() -> None:
    # All of u is gain: 0.03·1 and 0.03·2. One meter: 0.09. Two meters: √(0.03² + 0.06²) = 0.0671.
    one = margin_of([load("A", 1.0, 0.03, 0.03), load("B", 2.0, 0.06, 0.03)], 1.0, NINETY)
    own = [replace(line, day_sd_kwh=0.0) for line in (load("A", 1.0, 0.03, 0.03), load("B", 2.0, 0.06, 0.03))]
    assert margin_of(own, 1.0, NINETY).u_kwh == pytest.approx(0.09)
    assert one.u_kwh == pytest.approx(math.sqrt(0.09**2 + 0.1**2 + 0.2**2))
    two = [own[0], replace(own[1], meter="blue")]
    assert margin_of(two, 1.0, NINETY).u_kwh == pytest.approx(math.hypot(0.03, 0.06))


def test_energy_for_three_days_is_a_prediction() -> None:
    # e 1.0 ± 0.05 and s 0.1 a day, for three days: √((3·0.05)² + 3·0.1²) = √(0.0225 + 0.03) = 0.22913; 13
    # degrees of freedom: t(0.90) = 1.3502. 3 + 1.3502·0.22913 = 3.3094.
    plan = total(load("A", 1.0, 0.05), days=3.0).plan_kwh
    assert plan.value == pytest.approx(3.0)
    assert plan.high == pytest.approx(3.0 + student_t.ppf(0.90, 13) * math.sqrt(0.0525))
    assert plan.high == pytest.approx(3.3094, abs=1e-4)
    assert plan.low == pytest.approx(6.0 - 3.3094, abs=1e-4)


def test_identical_appliances_share_their_good_and_bad_days() -> None:
    # q = 2: d·q·e = 6; u √((3·2·0.05)² + 3·(2·0.1)²), twice that of one, not √2 times.
    one = load("A", 1.0, 0.05)
    two = line_of(replace(one.load, quantity=2))
    assert margin_of([two], 3.0, NINETY).kwh == pytest.approx(2.0 * margin_of([one], 3.0, NINETY).kwh)


def test_few_measured_days_of_one_load() -> None:
    # Two days measured: one degree of freedom, t(0.90) = 3.0777 of √(0.05² + 0.1²) = 0.1118.
    lines = [replace(load("A", 1.0, 0.05), freedom=1.0), replace(load("B", 1.0, 0.05), freedom=None)]
    alone = total(lines[0]).plan_kwh.high
    assert alone == pytest.approx(1.0 + 3.0777 * math.hypot(0.05, 0.1), abs=1e-4)
    # Beside a sure load: z·√2·0.1118 + (3.0777 − 1.2816)·0.1118, more than one freedom for both would say.
    both = margin_of(lines, 1.0, NINETY)
    z = float(norm.ppf(0.90))
    assert both.kwh == pytest.approx((z * math.sqrt(2.0) + 3.0777 - z) * math.hypot(0.05, 0.1), abs=1e-4)


def test_the_margin_holds_for_few_days_beside_sure_loads() -> None:
    """Drawn: the sum of a load with one degree of freedom and a normal one stays below in 90 % of cases.

    One effective number of degrees of freedom, 4 here with t = 1.53, would hold in 84 % only.
    """
    import numpy as np

    draws = np.random.default_rng(5)
    sums = draws.standard_t(1.0, 200_000) + draws.standard_normal(200_000)
    z = float(norm.ppf(0.90))
    held = float(np.mean(sums <= z * math.sqrt(2.0) + float(student_t.ppf(0.90, 1)) - z))
    one_freedom = float(np.mean(sums <= float(student_t.ppf(0.90, 4)) * math.sqrt(2.0)))
    assert 0.895 < held < 0.93
    assert one_freedom < 0.86


def test_assumed_figures_take_the_normal_factor() -> None:
    line = line_of(LoadInput("Freezer", Kind.FREEZER, Role.ESSENTIAL, running_w=100.0))
    assert line.freedom is None
    plan = total(line).plan_kwh
    u = math.hypot(line.own_u_kwh, line.day_sd_kwh)
    assert plan.high == pytest.approx(plan.value + 1.28155 * u, abs=1e-5)


def test_running_power_adds_up() -> None:
    # 100 + 2·60 W; 100/0.8 + 2·60/0.6 VA.
    found = total(
        plain("A", 1.0, 100.0, power_factor=0.8), plain("B", 0.5, 60.0, power_factor=0.6, quantity=2)
    )
    assert found.running_w.value == pytest.approx(220.0)
    assert found.running_va.value == pytest.approx(325.0)
    # Stated watts are ± 10 %: √(19.6² + (2·0.196·60)²) = 30.61.
    assert found.running_w.high == pytest.approx(220.0 + math.hypot(19.6, 23.52))


def test_the_worst_single_start() -> None:
    # Running 100 + 400 + 2·50 = 600 VA. Starts add: 5·100 = 500; 0.5·400 = 200; 6·50 = 300. Worst 1100 VA.
    found = total(
        plain("Fridge", 1.0, 100.0, start_multiple=6.0),
        plain("Fan", 1.0, 400.0, start_multiple=1.5),
        plain("Pump", 0.5, 50.0, start_multiple=7.0, quantity=2),
    )
    assert found.start_va.value == pytest.approx(1100.0)
    assert found.largest_start == "Fridge"


def test_all_thermostats_start_when_power_returns() -> None:
    # Running 100 + 2·80 + 500 = 760 VA; thermostats add 3·100 and 2·3·80 = 480: 1540. The fan's start: 1260.
    found = total(
        plain("Fridge", 1.0, 100.0, kind=Kind.REFRIGERATOR, start_multiple=4.0),
        plain("Freezers", 0.5, 80.0, kind=Kind.FREEZER, start_multiple=4.0, quantity=2),
        plain("Fan", 2.0, 500.0, start_multiple=2.0),
    )
    assert found.start_va.value == pytest.approx(1260.0)
    assert found.largest_start == "Fan"
    assert found.restart_va.value == pytest.approx(1540.0)


def test_a_worse_single_start_of_another_load_counts_at_the_return_too() -> None:
    found = total(plain("Pump", 1.0, 800.0, start_multiple=4.0), plain("Lamp", 0.1, 10.0))
    assert found.restart_va.value == found.start_va.value == pytest.approx(810.0 + 2400.0)


def test_a_defrost_heater_counts_as_running_not_as_starting() -> None:
    # Compressor 120 W at PF 0.7: start 4·171.43 = 685.71 VA. Heater 475 W is 475 VA. Running 475 W and VA;
    # at the start the compressor is on in place of the heater: 685.71 VA in all.
    fridge = LoadInput(
        "Fridge",
        Kind.REFRIGERATOR,
        Role.ESSENTIAL,
        cycling=Cycling.FROST_FREE,
        measured=measured(1.2, running_w=120.0),
    )
    found = total(line_of(fridge))
    assert found.running_w.value == 475.0
    assert (found.running_w.low, found.running_w.high) == pytest.approx((350.0, 600.0))
    assert found.running_w.steps[-2].quantity == "Defrost heater, Fridge"
    assert found.running_va.value == 475.0
    assert found.start_va.value == pytest.approx(685.714, abs=1e-3)


def test_loads_that_are_off_count_for_nothing() -> None:
    on = plain("A", 1.0, 100.0)
    assert total(on, plain("B", 5.0, 900.0, role=Role.OFF)) == total(on)


def test_nothing_kept_on() -> None:
    found = total()
    assert found.demand is None
    assert found.plan_kwh.high == 0.0
    assert found.running_w.value == found.start_va.value == found.restart_va.value == 0.0
    assert (found.largest_start, found.start_s) == ("", 0.0)


def test_what_is_not_known_is_named() -> None:
    unknown = line_of(LoadInput("Box", Kind.NOT_SURE, Role.WANTED))
    no_watts = line_of(LoadInput("Freezer", Kind.FREEZER, Role.WANTED))
    found = total(unknown, no_watts, plain("A", 1.0, 100.0))
    assert found.not_known == ("Box", "Freezer")
    assert found.assumed == ("Freezer",)


def test_a_confidence_below_a_half_is_refused() -> None:
    with pytest.raises(RefusedError, match="at least 50 %"):
        total(plain("A", 1.0, 100.0), confidence=0.3)


KEPT = (Role.ESSENTIAL, Role.WANTED)
LOADS = st.lists(drawn_loads(KEPT), min_size=1, max_size=6)


@settings(max_examples=60, deadline=None)
@given(LOADS, drawn_loads(KEPT), st.floats(0.1, 14.0), st.sampled_from([0.5, 0.8, 0.9, 0.99]))
def test_more_load_never_needs_less(
    loads: list[LoadInput], more: LoadInput, days: float, confidence: float
) -> None:
    lines = [line_of(one) for one in loads]
    before = total(*lines, days=days, confidence=confidence)
    after = total(*lines, line_of(more), days=days, confidence=confidence)
    assert before.plan_kwh.high is not None
    assert after.plan_kwh.high is not None
    assert after.plan_kwh.high >= before.plan_kwh.high - 1e-9
    assert after.daily.value >= before.daily.value - 1e-12
    for name in ("running_w", "running_va", "start_va", "restart_va"):
        assert getattr(after, name).value >= getattr(before, name).value - 1e-9


@settings(max_examples=60, deadline=None)
@given(LOADS, st.floats(0.05, 14.0), st.floats(0.05, 14.0))
def test_a_longer_outage_never_needs_less(loads: list[LoadInput], one_d: float, other_d: float) -> None:
    lines = [line_of(one) for one in loads]
    shorter, longer = sorted((one_d, other_d))
    needs = [total(*lines, days=days).plan_kwh.high for days in (shorter, longer)]
    assert needs[0] is not None
    assert needs[1] is not None
    assert needs[1] >= needs[0] - 1e-9


@settings(max_examples=60, deadline=None)
@given(LOADS)
def test_totals_are_whole(loads: list[LoadInput]) -> None:
    found = total(*map(line_of, loads))
    figures = (
        found.running_w,
        found.running_va,
        found.likely_w,
        found.start_va,
        found.restart_va,
    )
    for figure in figures:
        assert figure.steps[-1].value == pytest.approx(figure.value)
        assert figure.steps[-1].unit == figure.unit
        assert all(step.source and step.quantity and step.equation for step in figure.steps)
    assert found.plan_kwh.steps[-1].value == pytest.approx(found.plan_kwh.high)
    assert found.daily.unit == "kWh/d"
    assert found.plan_kwh.unit == "kWh"
    assert found.average_w == pytest.approx(found.daily.value * 1000.0 / 24.0)
    assert found.restart_va.value >= found.start_va.value >= found.running_va.value - 1e-9
    assert found.running_va.value >= found.running_w.value - 1e-9


def lamp(daily_kwh: float, watts: float, hours: float) -> LoadLine:
    load = LoadInput(
        "Lamp", Kind.LAMP_TIMER, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=hours, running_w=watts,
        idle_w=0.0, measured=measured(daily_kwh, running_w=watts, idle_w=0.0),
    )  # fmt: skip
    return line_of(load)


def test_a_short_outage_may_hold_all_of_a_day_s_use() -> None:
    # 60 W for 8 h a day are 0.48 kWh. 8 h of outage hold a third of a day on average, 0.16 kWh, and at worst
    # all 8 hours: 0.32 more. 4 h hold half of it at worst: 0.24 against 0.08, 0.16 more.
    line = lamp(0.48, 60.0, 8.0)
    assert hours_kwh(line, 8.0 / 24.0) == pytest.approx(0.32)
    assert hours_kwh(line, 4.0 / 24.0) == pytest.approx(0.16)
    # A day and a half hold one whole use, and at worst a second: 0.96 against 0.72.
    assert hours_kwh(line, 1.5) == pytest.approx(0.24)
    assert hours_kwh(line, 3.0) == 0.0
    found = totals([line], 8.0 / 24.0, 0.9, USUAL).plan_kwh
    assert found.high is not None
    assert found.value == pytest.approx(0.16)
    assert found.high >= 0.48


def test_what_runs_at_any_time_has_no_hours_of_use() -> None:
    assert hours_kwh(plain("Fridge", 1.0, 80.0), 0.4) == 0.0


def test_energy_that_asks_for_more_than_the_watts_raises_them() -> None:
    # 5 kWh a day are 208.3 W on average: more than the 100 W that were noted.
    line = plain("Box", 5.0, 100.0)
    assert line.running_w is not None
    assert line.running_w.value == pytest.approx(5000.0 / 24.0)
    assert line.duty == 1.0
    assert totals([line], 1.0, 0.9, USUAL).running_w.value == pytest.approx(5000.0 / 24.0)


def test_unknown_watts_are_at_least_the_mean_of_the_energy() -> None:
    unknown = line_of(LoadInput("Box", Kind.NOT_SURE, Role.ESSENTIAL, measured=measured(2.4)))
    found = totals([unknown, plain("A", 1.2, 200.0)], 1.0, 0.9, USUAL)
    assert found.running_w.value == pytest.approx(300.0)
    assert found.not_known == ("Box",)

"""The demand over time by hand: two-state loads convolved, the mean kept, the likely highest watts."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.outage.answers import Demand, LoadInput, LoadLine
from hearthload.outage.demand import totals
from hearthload.outage.spread import demand_of, quantile_w, states_of
from tests.outage.appliances import USUAL, drawn_loads, line_of, measured, plain


def spread_of(*lines: LoadLine) -> Demand:
    found = demand_of(lines, USUAL)
    assert found is not None
    return found


def mean_w(demand: Demand) -> float:
    return math.fsum(w * s for w, s in zip(demand.watts, demand.share, strict=True))


def at(demand: Demand, watts: float, cell: float) -> float:
    """Sum the share of time within one cell of some watts."""
    return sum(s for w, s in zip(demand.watts, demand.share, strict=True) if abs(w - watts) <= cell)


def test_one_load_has_two_states() -> None:
    # 1.2 kWh/d = 50 W of 100 W: half of the time.
    demand = spread_of(plain("A", 1.2, 100.0))
    assert demand.watts == pytest.approx((0.0, 100.0))
    assert demand.share == pytest.approx((0.5, 0.5))


def test_two_loads_have_four_states() -> None:
    # A 100 W half of the time; B 300 W a quarter of it: 0, 100, 300, 400 W with 3/8, 3/8, 1/8, 1/8.
    demand = spread_of(plain("A", 1.2, 100.0), plain("B", 1.8, 300.0))
    assert [at(demand, watts, 0.1) for watts in (0.0, 100.0, 300.0, 400.0)] == pytest.approx(
        [0.375, 0.375, 0.125, 0.125]
    )


def test_identical_appliances_run_each_for_itself() -> None:
    # Two at 50 %: 0, 100, 200 W with 1/4, 1/2, 1/4.
    demand = spread_of(plain("A", 1.2, 100.0, quantity=2))
    assert [at(demand, watts, 0.1) for watts in (0.0, 100.0, 200.0)] == pytest.approx([0.25, 0.5, 0.25])


def test_idle_watts_and_steady_loads_are_a_base() -> None:
    # 30 W all the time (0.72 kWh/d), and 2 W idle with 102 W running: (26 − 2)/100 = 24 % of the time.
    cold = line_of(
        LoadInput("F", Kind.FREEZER, Role.ESSENTIAL, measured=measured(0.624, running_w=102.0, idle_w=2.0))
    )
    demand = spread_of(plain("R", 0.72, 30.0), cold)
    assert demand.watts == pytest.approx((32.0, 132.0))
    assert demand.share == pytest.approx((0.76, 0.24))


def test_likely_watts_are_passed_in_a_hundredth_of_the_time() -> None:
    # A runs 2 %, B 20 %: both 0.4 %, A alone 1.6 %. At or below 100 W (B): 98 %; at or below 300 W: 99.6 %.
    lines = [plain("A", 0.144, 300.0), plain("B", 0.48, 100.0)]
    assert totals(lines, 1.0, 0.9, USUAL).likely_w.value == pytest.approx(300.0, abs=0.1)
    # A runs half a per cent, so B alone covers 99.5 %; yet A's 300 W must be carried.
    lines = [plain("A", 0.036, 300.0), plain("B", 0.48, 100.0)]
    assert totals(lines, 1.0, 0.9, USUAL).likely_w.value == pytest.approx(300.0, abs=0.1)


def test_a_defrost_heater_is_a_third_state() -> None:
    # 1.2 kWh/d = 50 W: a tenth through 475 W: 5/475 of the time; the rest through 120 W: 45/120.
    load = LoadInput(
        "Fridge",
        Kind.REFRIGERATOR,
        Role.ESSENTIAL,
        cycling=Cycling.FROST_FREE,
        measured=measured(1.2, running_w=120.0),
    )
    base, states = states_of(line_of(load), USUAL)
    assert base == 0.0
    assert states[0] == pytest.approx((120.0, 45.0 / 120.0))
    assert states[1] == pytest.approx((475.0, 5.0 / 475.0))
    assert mean_w(spread_of(line_of(load))) == pytest.approx(50.0)


def test_energy_wins_where_running_watts_are_too_few() -> None:
    # 2.4 kWh/d cannot go through 60 W: it draws 100 W all the time.
    assert spread_of(plain("A", 2.4, 60.0)) == Demand((100.0,), (1.0,))


def test_nothing_known_is_no_demand() -> None:
    assert demand_of([line_of(LoadInput("Box", Kind.NOT_SURE, Role.WANTED))], USUAL) is None
    assert demand_of([], USUAL) is None


def test_a_quantile_is_a_value_that_occurs() -> None:
    demand = Demand((10.0, 20.0, 30.0), (0.5, 0.49, 0.01))
    assert quantile_w(demand, 0.5) == 10.0
    assert quantile_w(demand, 0.99) == 20.0
    assert quantile_w(demand, 0.995) == 30.0


@settings(max_examples=60, deadline=None)
@given(st.lists(drawn_loads((Role.ESSENTIAL,)), min_size=1, max_size=6))
def test_the_mean_is_the_energy_of_the_load_list(loads: list[LoadInput]) -> None:
    lines = [line_of(load) for load in loads]
    demand = demand_of(lines, USUAL)
    found = totals(lines, 1.0, 0.9, USUAL)
    if demand is None:
        assert all(line.daily is None for line in lines)
        return
    assert math.fsum(demand.share) == pytest.approx(1.0)
    assert min(demand.share) > 0.0
    assert list(demand.watts) == sorted(demand.watts)
    assert 24.0 * mean_w(demand) / 1000.0 == pytest.approx(found.daily.value, rel=1e-9)


POWERS = st.lists(st.tuples(st.floats(1.0, 2000.0), st.floats(0.01, 0.99)), min_size=1, max_size=8)


@settings(max_examples=60, deadline=None)
@given(POWERS, st.floats(0.5, 0.999))
def test_quantiles_agree_with_all_states_counted(powers: list[tuple[float, float]], share: float) -> None:
    """The grid's quantile lies between the exact ones a little above and below, to one cell a load."""
    lines = [plain(f"{i}", 24.0 * p * d / 1000.0, p) for i, (p, d) in enumerate(powers)]
    exact = sorted(
        (
            sum(p for (p, _), on in zip(powers, ons, strict=True) if on),
            math.prod(d if on else 1.0 - d for (_, d), on in zip(powers, ons, strict=True)),
        )
        for ons in itertools.product((False, True), repeat=len(powers))
    )
    slack = len(powers) * sum(p for p, _ in powers) / 4096 + 1e-6
    found = quantile_w(spread_of(*lines), share)
    at_or_below = sum(s for w, s in exact if w <= found + slack)
    below = sum(s for w, s in exact if w < found - slack)
    assert at_or_below >= share - 1e-6
    assert below <= share + 1e-6


def test_a_heater_never_pushes_the_share_over_one() -> None:
    # 119.9 W of 120: compressor 107.91/120 = 0.8993, heater 11.99/475 = 0.0252; together below one. A heater
    # of 121 W would be on for 0.0991: the rest of the time, 0.9009, is all the compressor's.
    load = LoadInput(
        "Fridge",
        Kind.REFRIGERATOR,
        Role.ESSENTIAL,
        cycling=Cycling.FROST_FREE,
        measured=measured(0.1199 * 24, running_w=120.0),
    )
    _, states = states_of(line_of(load), USUAL)
    assert sum(state.share for state in states) <= 1.0
    assert sum(state.share * state.watts for state in states) == pytest.approx(119.9)
    small = replace(line_of(load), heater_w=121.0)
    _, states = states_of(small, USUAL)
    assert sum(state.share for state in states) <= 1.0 + 1e-12
    assert sum(state.share * state.watts for state in states) == pytest.approx(119.9)


def kettle(name: str, daily_kwh: float, running_w: float) -> LoadLine:
    load = LoadInput(
        name, Kind.KITCHEN, Role.WANTED, measured=measured(daily_kwh, running_w=running_w, idle_w=0.0)
    )
    return line_of(load)


def test_what_is_used_by_the_use_runs_while_somebody_is_up() -> None:
    # 2.4 kWh/d of 1000 W run a tenth of the day, by 16 waking hours 0.15 of them; 60 W half of all the time.
    # By day 0, 60, 1000, 1060 W with 0.425, 0.425, 0.075, 0.075; by night 0 and 60 W alone, half each.
    demand = demand_of([kettle("K", 2.4, 1000.0), plain("A", 0.72, 60.0)], USUAL, 16.0 / 24.0)
    assert demand is not None
    found = [at(demand, watts, 1.0) for watts in (0.0, 60.0, 1000.0, 1060.0)]
    assert found == pytest.approx([0.425 / 1.5 + 0.5 / 3.0, 0.425 / 1.5 + 0.5 / 3.0, 0.05, 0.05], abs=1e-6)
    assert mean_w(demand) == pytest.approx(130.0)


def test_what_the_day_does_not_hold_runs_at_night() -> None:
    # 19.2 kWh/d of 1000 W run 0.8 of the time: all of the waking half, and 0.6 of the other.
    demand = demand_of([kettle("K", 19.2, 1000.0)], USUAL, 0.5)
    assert demand is not None
    assert at(demand, 1000.0, 1.0) == pytest.approx(0.8)
    assert at(demand, 0.0, 1.0) == pytest.approx(0.2)


@given(st.lists(drawn_loads((Role.ESSENTIAL,)), min_size=1, max_size=5), st.floats(0.05, 1.0))
@settings(max_examples=40)
def test_the_hours_up_never_change_the_energy(loads: list[LoadInput], waking: float) -> None:
    lines = [line_of(load) for load in loads]
    whole, parted = demand_of(lines, USUAL), demand_of(lines, USUAL, waking)
    if whole is None or parted is None:
        assert whole is parted
        return
    assert mean_w(parted) == pytest.approx(mean_w(whole), rel=1e-9, abs=1e-9)
    assert math.fsum(parted.share) == pytest.approx(1.0)

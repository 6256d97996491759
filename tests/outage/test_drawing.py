"""What is drawn from a battery, and for how long it lasts, against cases worked by hand and by simulation."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.outage.drawing import Drawn, drawn_from_battery, hours_carried, peak_draw
from hearthload.outage.inverter import loss_of
from hearthload.outage.steps import Figure
from tests.outage.supply_cases import FREEZER_AND_ROUTER, demand_of, facts, figure, plan, totals


def drawn(days: float = 2.0, u_kwh: float = 0.0, sd_kwh: float = 0.0, others: float = 0.0) -> Drawn:
    what = totals(FREEZER_AND_ROUTER, days, u_kwh=u_kwh, sd_kwh=sd_kwh)
    loss = loss_of(1000.0, facts())
    return drawn_from_battery(what, FREEZER_AND_ROUTER, plan(days=days), loss, facts(), others_idle_w=others)


def hours(usable_kwh: float, what: Drawn) -> Figure:
    found = hours_carried(figure(usable_kwh, "kWh"), what, facts())
    assert found is not None
    return found


def test_energy_over_the_plan_by_hand() -> None:
    # Mean draw 61.745 W (10 idle), so 51.745/50 = 1.0349 for each unit of load. Two days of 1.2 kWh with
    # scatter 0.1: 2.4 + 1.2816·0.1·√2 = 2.5812 kWh. 0.024·10·2 + 1.0349·2.5812 = 3.1514 kWh.
    found = drawn(sd_kwh=0.1)
    assert found.mean_w.value == pytest.approx(61.745)
    assert found.daily_kwh.value == pytest.approx(1.48188)
    assert found.plan_kwh.value == pytest.approx(0.48 + 1.0349 * 2.581239, abs=1e-5)
    assert found.sd_kwh == pytest.approx(0.1 * 1.0349)


def test_the_direct_watts_have_the_mean_of_the_draw() -> None:
    # 10 + 1.03·10 + 0.05·100/1000 = 20.305 W for 0.6 of the time, 123.905 W for the rest; 8 W more each.
    found = drawn(others=8.0)
    assert found.draws.watts == pytest.approx((28.305, 131.905))
    assert 0.6 * found.draws.watts[0] + 0.4 * found.draws.watts[1] == pytest.approx(found.mean_w.value)


def test_the_margin_is_taken_apart_again() -> None:
    found = drawn(days=3.0, u_kwh=0.05, sd_kwh=0.12)
    assert found.u_kwh == pytest.approx(0.05 * 1.0349, rel=1e-6)
    assert found.sd_kwh == pytest.approx(0.12 * 1.0349, rel=1e-5)


def test_further_inverters_idle_too() -> None:
    assert drawn(others=8.0).mean_w.value == pytest.approx(69.745)
    assert drawn(others=8.0).plan_kwh.value - drawn().plan_kwh.value == pytest.approx(0.024 * 8 * 2)


def test_nothing_on_draws_the_idle_watts() -> None:
    off = demand_of((0.0, 1.0))
    found = drawn_from_battery(totals(off), off, plan(), loss_of(1000.0, facts()), facts())
    assert found.plan_kwh.value == pytest.approx(0.48)
    assert peak_draw(loss_of(1000.0, facts()), totals(off)) == pytest.approx(10.0)


def test_hours_by_hand() -> None:
    # 3 kWh at 1.48188 kWh a day: 48.587 h. Only the average day unsure, by u: E/(m ± 1.96 u) are the ends.
    found = hours(3.0, drawn(u_kwh=0.05))
    assert found.value == pytest.approx(24 * 3.0 / 1.48188)
    u = 0.05 * 1.0349
    assert found.low == pytest.approx(24 * 3.0 / (1.48188 + 1.959964 * u))
    assert found.high == pytest.approx(24 * 3.0 / (1.48188 - 1.959964 * u))
    sure = hours(3.0, drawn())
    assert [sure.low, sure.high] == pytest.approx([sure.value, sure.value])


def test_hours_against_simulated_days() -> None:
    # Average day drawn from its uncertainty, energy to time t from the scatter: the share of outages in which
    # the energy is used up before the lower end is 2.5 %, and before the higher 97.5 %.
    what = drawn(u_kwh=0.08, sd_kwh=0.15)
    found = hours(5.0, what)
    generator = np.random.default_rng(4)
    mean = what.daily_kwh.value + what.u_kwh * generator.standard_normal(200_000)
    assert found.low is not None
    assert found.high is not None
    for end, share in ((found.low, 0.025), (found.high, 0.975)):
        days = end / 24.0
        energy = mean * days + what.sd_kwh * math.sqrt(days) * generator.standard_normal(200_000)
        assert (energy > 5.0).mean() == pytest.approx(share, abs=0.002)


def test_an_average_day_that_is_hardly_known_leaves_the_end_open() -> None:
    found = hours(5.0, drawn(u_kwh=1.2))
    assert found.high is None
    assert found.low is not None
    assert 0.0 < found.low < found.value


@given(st.floats(0.0, 100.0), st.floats(0.0, 0.3), st.floats(0.0, 0.5), st.floats(1.0, 2.0))
def test_more_energy_lasts_longer(energy: float, u: float, sd: float, more: float) -> None:
    what = drawn(u_kwh=u, sd_kwh=sd)
    one, other = hours(energy, what), hours(energy * more, what)
    for first, second in ((one.low, other.low), (one.value, other.value), (one.high, other.high)):
        assert first is not None
        assert second is not None
        assert second >= first * (1.0 - 1e-9)
    assert one.low is not None
    assert one.high is not None
    assert one.low <= one.value * (1 + 1e-9)
    assert one.high >= one.value * (1 - 1e-9)

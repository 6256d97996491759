"""The inverter's loss, rating and current against tables and cases worked by hand."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.supply import Waveform
from hearthload.outage.inverter import (
    Quality,
    continuous_needed,
    dc_current,
    fuse,
    loss_of,
    mean_draw,
    rating_needed,
    suggested_v,
)
from tests.outage.supply_cases import FREEZER_AND_ROUTER, demand_of, facts, figure


@pytest.mark.parametrize(
    ("idle_w", "waveform", "percents"),
    [
        # Efficiencies at 5, 10, 25, 50 and 100 % load that follow from p0, k1, k2 of each quality.
        (5.0, Waveform.SINE, (89, 93, 95, 95, 94)),
        (None, Waveform.SINE, (81, 88, 92, 93, 92)),
        (None, Waveform.MODIFIED_SINE, (69, 80, 88, 90, 89)),
    ],
)
def test_efficiency_over_load(idle_w: float | None, waveform: Waveform, percents: tuple[int, ...]) -> None:
    loss = loss_of(1000.0, facts(), idle_w, waveform)
    loads = (50.0, 100.0, 250.0, 500.0, 1000.0)
    for watts, percent in zip(loads, percents, strict=True):
        assert 100.0 * watts / loss.draw_w(watts) == pytest.approx(percent, abs=0.5)


@pytest.mark.parametrize(
    ("idle_w", "quality"),
    [(5.0, Quality.GOOD), (10.0, Quality.ORDINARY), (30.0, Quality.CHEAP), (None, Quality.ORDINARY)],
)
def test_the_idle_draw_tells_the_quality(idle_w: float | None, quality: Quality) -> None:
    assert loss_of(1000.0, facts(), idle_w).quality is quality


def test_mean_draw_by_hand() -> None:
    # 1000 W ordinary: idle 10 W; mean 50 W; mean square 0.6·100 + 0.4·12100 = 4900 W².
    # 10 + 1.03·50 + 0.05·4900/1000 = 61.745 W.
    drawn = mean_draw(FREEZER_AND_ROUTER, loss_of(1000.0, facts()), facts())
    assert drawn.value == pytest.approx(61.745)
    assert [step.value for step in drawn.steps] == pytest.approx([10.0, 61.745])


def test_idle_of_a_day() -> None:
    # With nothing on, 10 W are 0.24 kWh a day and 30 W are 0.72 kWh.
    for idle, kwh in ((10.0, 0.24), (30.0, 0.72)):
        drawn = mean_draw(demand_of((0.0, 1.0)), loss_of(1000.0, facts(), idle), facts())
        assert drawn.value * 24.0 / 1000.0 == pytest.approx(kwh)
        assert drawn.steps[0].source == "stated"


@given(st.floats(1.0, 900.0), st.floats(1.0, 900.0), st.floats(0.05, 0.95))
def test_the_mean_of_the_draw_is_more_than_the_draw_of_the_mean(
    low: float, high: float, share: float
) -> None:
    low, high = sorted((low, high))
    loss = loss_of(1000.0, facts())
    drawn = mean_draw(demand_of((low, share), (high, 1.0 - share)), loss, facts()).value
    assert drawn >= loss.draw_w(share * low + (1.0 - share) * high) * (1.0 - 1e-12)


@pytest.mark.parametrize("battery_v", [12.0, 24.0, 48.0])
def test_direct_current_at_nine_tenths(battery_v: float) -> None:
    # I = P/(0.9·V_min) with 11, 22, 44 V.
    table = {
        500.0: (51, 25, 13),
        1000.0: (101, 51, 25),
        2000.0: (202, 101, 51),
        3000.0: (303, 152, 76),
    }
    column = (12.0, 24.0, 48.0).index(battery_v)
    for watts, amps in table.items():
        found = dc_current(watts, watts / 0.9, battery_v, facts())
        assert found.value == pytest.approx(amps[column], abs=0.6)
    assert fuse(dc_current(900.0, 1000.0, 12.0, facts()), facts()).value == pytest.approx(1.25 * 1000 / 11)


def test_rating_by_hand_in_a_hot_place() -> None:
    # 800 W · 1.25 = 1000 W; at 40 °C the rating is 1 − 0.015·10 = 0.85 of itself: 1176.5 W.
    running = figure(800.0, "W")
    assert continuous_needed(running, facts()).value == pytest.approx(1000.0)
    assert rating_needed(running, 40.0, facts()).value == pytest.approx(1000.0 / 0.85)
    assert rating_needed(running, 20.0, facts()).value == pytest.approx(1000.0)
    assert rating_needed(running, 500.0, facts()).value == pytest.approx(10_000.0)


def test_voltage_by_rating() -> None:
    assert [suggested_v(watts, facts()) for watts in (600.0, 1000.0, 2500.0, 5000.0)] == [12, 12, 24, 48]

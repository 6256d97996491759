"""The demo's physics against sums that a reader can do on paper."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.service.demo.cold import ColdBox
from hearthload.service.demo.habits import Kettle, poisson
from hearthload.service.demo.loads import LOADS
from hearthload.service.demo.trace import JOULES_PER_KWH, Cut, Pulse, Trace, mains_on_s, trace_of_pulses
from hearthload.service.demo.weather_loads import Boiler, CellarPump
from hearthload.service.demo.world import World, make_world, season_mean_c

NOVEMBER = date(2025, 11, 8)

# kWh a day: the plausible band of each appliance's row, and for the kettle six litres at 0.10 to 0.13 kWh.
PLAUSIBLE = {
    "Larder refrigerator": (0.25, 0.8),
    "Barn freezer": (0.5, 1.9),
    "Medicine refrigerator": (0.3, 1.2),
    "Boiler with circulator": (0.2, 2.5),
    "Router": (0.1, 0.5),
    "Cellar pump": (0.0, 10.0),
    "Dehumidifier": (2.0, 16.0),
    "Kettle": (0.3, 0.7),
    "Work laptop and screen": (0.05, 0.5),
}


def many_days(days: int, seed: str = "weather") -> World:
    return make_world(random.Random(seed), NOVEMBER, days, season_day=NOVEMBER)


def daily_kwh(trace: Trace) -> float:
    return trace.energy_kwh[-1] / ((trace.at_s[-1] - trace.at_s[0]) / 86400.0)


@pytest.mark.parametrize("name", ["Larder refrigerator", "Barn freezer", "Medicine refrigerator"])
def test_cold_box_draws_what_its_heat_balance_says(name: str) -> None:
    box, world = LOADS[name], many_days(120)
    assert isinstance(box, ColdBox)
    trace = box.trace(world, random.Random("doors"))
    hours = int((world.window[1] - world.window[0]) / 3600.0)
    room_c = sum(world.room_at(box.room, world.window[0] + 3600.0 * hour) for hour in range(hours)) / hours
    heat_w = box.loss_w_per_k * (room_c - box.set_c) + box.steady_heat_w
    heat_w += box.doors_per_day * box.door_j / 86400.0
    expected_w = box.idle_w + heat_w / box.cop
    if box.defrost is not None:
        per_run_s = box.defrost.heater_w * box.defrost.minutes * 60.0 / (box.defrost.every_run_h * 3600.0)
        run_share = heat_w / box.cop / box.run_w
        expected_w += run_share * per_run_s * (1.0 + box.defrost.into_box / box.cop)
    assert daily_kwh(trace) == pytest.approx(expected_w * 24.0 / 1000.0, rel=0.03)


def test_thermostat_runs_at_stated_watts_in_cycles_of_minutes_to_hours() -> None:
    box = LOADS["Larder refrigerator"]
    assert isinstance(box, ColdBox)
    trace = box.trace(many_days(20), random.Random("doors"))
    assert set(trace.power_w) == {box.idle_w, box.idle_w + box.run_w}
    starts = [at for at, watts in zip(trace.at_s, trace.power_w, strict=False) if watts > box.run_w]
    gaps = [later - earlier for earlier, later in pairwise(starts)]
    assert min(gaps) > 20 * 60
    assert max(gaps) < 4 * 3600


def test_freezer_takes_two_to_four_percent_more_a_kelvin() -> None:
    box = LOADS["Barn freezer"]
    assert isinstance(box, ColdBox)
    winter = make_world(random.Random(1), date(2025, 1, 1), 60, season_day=date(2025, 1, 20))
    summer = make_world(random.Random(1), date(2025, 7, 1), 60, season_day=date(2025, 7, 20))
    cold, warm = (daily_kwh(box.trace(world, random.Random(2))) for world in (winter, summer))
    kelvin = box.room.follows * (summer.season_c - winter.season_c)
    assert 0.02 <= math.log(warm / cold) / kelvin <= 0.04


def test_energy_follows_the_weather_from_day_to_day() -> None:
    box, world = LOADS["Barn freezer"], many_days(60)
    trace = box.trace(world, random.Random(2))
    nights = list(pairwise(world.midnights_s))
    energies = [trace.energy_until(end) - trace.energy_until(start) for start, end in nights]
    assert _correlation(energies[5:], list(world.outdoor_c[5:])) > 0.6


@pytest.mark.parametrize("name", sorted(LOADS))
def test_each_load_lies_in_the_plausible_band_of_its_row(name: str) -> None:
    low, high = PLAUSIBLE[name]
    assert low <= daily_kwh(LOADS[name].trace(many_days(200), random.Random(name))) <= high


def test_kettle_boils_by_the_heat_of_water() -> None:
    kettle = LOADS["Kettle"]
    assert isinstance(kettle, Kettle)
    assert kettle.energy_j(1.0) == pytest.approx(4186.0 * 89.0 / 0.88)
    assert 0.10 <= kettle.energy_j(1.0) / JOULES_PER_KWH <= 0.13
    trace = kettle.trace(many_days(400), random.Random("cups"))
    assert daily_kwh(trace) == pytest.approx(kettle.mean_daily_kwh(), rel=0.04)
    per_use_j = trace.energy_kwh[-1] * JOULES_PER_KWH / len(trace.uses_s)
    assert per_use_j == pytest.approx(kettle.energy_j((kettle.least_l + kettle.most_l) / 2), rel=0.03)


def test_pump_lifts_the_water_that_comes_in() -> None:
    pump, world = LOADS["Cellar pump"], many_days(90)
    assert isinstance(pump, CellarPump)
    trace = pump.trace(world, random.Random("pit"))
    inflow_l = sum(pump.seep_l_per_h + pump.catch_l_per_mm * soak for soak in world.soak_by_hour())
    stroke_kwh = pump.run_w * 60.0 * pump.stroke_l / pump.flow_l_per_min / JOULES_PER_KWH
    assert trace.energy_kwh[-1] == pytest.approx(inflow_l / pump.stroke_l * stroke_kwh, abs=2 * stroke_kwh)


def test_soaked_hillside_drains_what_rains() -> None:
    world = many_days(300)
    assert sum(world.soak_by_hour()) == pytest.approx(sum(world.rain_mm), rel=0.02)


def test_boiler_is_asked_for_the_heat_the_house_loses() -> None:
    boiler = LOADS["Boiler with circulator"]
    assert isinstance(boiler, Boiler)
    # 190 W/K · 15.5 K - 600 W = 2345 W, spread over 16 of 24 hours: 3517.5 W.
    assert boiler.heat_asked_w(3.0) == pytest.approx(3517.5)
    assert boiler.heat_asked_w(17.0) == 0.0
    summer = make_world(random.Random(3), date(2025, 7, 1), 10, season_day=date(2025, 7, 20))
    winter = make_world(random.Random(3), date(2026, 1, 1), 10, season_day=date(2026, 1, 20))
    warm, cold = (daily_kwh(boiler.trace(world, random.Random(4))) for world in (summer, winter))
    assert warm < 0.5 * cold


def test_season_is_coldest_in_january_and_warmest_in_july() -> None:
    assert season_mean_c(date(2025, 1, 20)) == pytest.approx(1.5)
    assert season_mean_c(date(2025, 7, 21)) == pytest.approx(14.5, abs=0.01)


def test_poisson_has_the_mean_and_the_variance_of_one() -> None:
    rng = random.Random(5)
    counts = [poisson(rng, 1.7) for _ in range(20_000)]
    mean = sum(counts) / len(counts)
    variance = sum((count - mean) ** 2 for count in counts) / len(counts)
    assert mean == pytest.approx(1.7, abs=0.03)
    assert variance == pytest.approx(1.7, abs=0.07)


moments = st.integers(0, 1000).map(float)


@st.composite
def stretches(draw: Callable[[st.SearchStrategy[float]], float]) -> tuple[float, float]:
    low, high = sorted((draw(moments), draw(moments)))
    return low, high


@given(
    st.lists(st.tuples(stretches(), st.integers(1, 3000)), max_size=8),
    st.lists(stretches(), max_size=2),
    moments,
)
def test_energy_is_the_sum_of_the_pulses_outside_the_cuts(
    drawn: list[tuple[tuple[float, float], int]], dark: list[tuple[float, float]], until_s: float
) -> None:
    cuts = [Cut(*stretch) for stretch in dark]
    pulses = [Pulse(*stretch, float(watts)) for stretch, watts in drawn]
    trace = trace_of_pulses((), pulses, (0.0, 1000.0), cuts)
    dark_seconds = [sum(cut.from_s <= second < cut.to_s for cut in cuts) > 0 for second in range(1000)]
    joules = sum(
        pulse.power_w
        for second in range(int(until_s))
        for pulse in pulses
        if pulse.from_s <= second < pulse.to_s and not dark_seconds[second]
    )
    assert trace.energy_until(until_s) * JOULES_PER_KWH == pytest.approx(joules, abs=1e-3)


def test_time_with_mains_leaves_out_the_cut() -> None:
    cuts = [Cut(100.0, 250.0)]
    assert mains_on_s(cuts, 0.0, 400.0) == 250.0
    assert mains_on_s(cuts, 120.0, 200.0) == 0.0
    assert mains_on_s(cuts, 300.0, 400.0) == 100.0


def test_a_moment_outside_the_trace_is_refused() -> None:
    trace = trace_of_pulses((), [Pulse(0.0, 5.0, 10.0)], (0.0, 10.0), ())
    with pytest.raises(ValueError, match="outside"):
        trace.energy_until(11.0)


def _correlation(left: list[float], right: list[float]) -> float:
    left_mean, right_mean = sum(left) / len(left), sum(right) / len(right)
    pairs = list(zip(left, right, strict=True))
    covariance = sum((a - left_mean) * (b - right_mean) for a, b in pairs)
    spread = math.sqrt(sum((a - left_mean) ** 2 for a in left) * sum((b - right_mean) ** 2 for b in right))
    return covariance / spread

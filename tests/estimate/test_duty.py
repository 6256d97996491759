"""Duty cycle by hand: which watts are running watts, how sure they are, and the share of time."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import t as student

from hearthload.domain.appliance import Kind
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import DutyBasis, DutyCycle, Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.duty import (
    Watts,
    idle_watts,
    running_from_nameplate,
    running_from_spots,
    share_running,
    split_spots,
    student_factor,
)
from hearthload.estimate.series import RunSeries, Series
from tests.estimate.measurements import every_morning, read

RUNNING, IDLE = RunState.RUNNING, RunState.IDLE
SURE = 1e6


def with_spots(series: Series, *spots: tuple[float, RunState | None]) -> Series:
    """Give the series with spot watts at its first readings."""
    run = series.runs[0]
    seen = [
        replace(one, power_w=spot[0], state=spot[1]) for one, spot in zip(run.snapshots, spots, strict=False)
    ]
    return replace(series, runs=(replace(run, snapshots=(*seen, *run.snapshots[len(seen) :])),))


def duty_of(series: Series) -> DutyCycle:
    found = estimate(series).duty_cycle
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("spots", "average_w", "running", "idle"),
    [
        # The largest ratio is 90/2.5 = 36, well over 3.
        ([(95.0, None), (2.0, None), (90.0, None), (2.5, None)], 40.0, [95.0, 90.0], [2.0, 2.5]),
        # 3.1 is over 3, 2.9 is not: then all show one state, and are running watts.
        ([(31.0, None), (10.0, None)], 10.0, [31.0], [10.0]),
        ([(29.0, None), (10.0, None)], 10.0, [29.0, 10.0], []),
        # Of two gaps over 3 the larger one parts: 100/20 = 5 against 20/5 = 4.
        ([(5.0, None), (20.0, None), (100.0, None)], 30.0, [100.0], [5.0, 20.0]),
        # From nothing to something is the largest gap of all.
        ([(0.0, None), (3.0, None), (80.0, None)], 30.0, [3.0, 80.0], [0.0]),
        # One state, clearly below the average: nothing that runs draws less than the average.
        ([(2.0, None), (2.2, None)], 40.0, [], [2.0, 2.2]),
        # Her word wins, ...
        ([(50.0, IDLE), (60.0, RUNNING)], 40.0, [60.0], [50.0]),
        # ... and what she named counts as a neighbour for the others: 100/2 parts, so 90 runs.
        ([(2.0, IDLE), (100.0, RUNNING), (90.0, None)], 40.0, [100.0, 90.0], [2.0]),
        # Watts like those she calls running run too, like those she calls idle idle too.
        ([(100.0, RUNNING), (95.0, None)], 400.0, [100.0, 95.0], []),
        ([(100.0, IDLE), (95.0, None)], 1.0, [], [100.0, 95.0]),
        ([], 40.0, [], []),
    ],
)
def test_spots_part_at_the_largest_ratio(
    spots: list[tuple[float, RunState | None]], average_w: float, running: list[float], idle: list[float]
) -> None:
    found_running, found_idle = split_spots(spots, average_w)
    assert (sorted(found_running), sorted(found_idle)) == (sorted(running), sorted(idle))


@given(
    st.lists(st.tuples(st.floats(0.0, 3000.0), st.sampled_from([None, RUNNING, IDLE])), max_size=12),
    st.floats(0.1, 500.0),
)
def test_no_spot_is_lost(spots: list[tuple[float, RunState | None]], average_w: float) -> None:
    running, idle = split_spots(spots, average_w)
    assert sorted(running + idle) == sorted(watts for watts, _ in spots)
    for state, found in ((RUNNING, running), (IDLE, idle)):
        named = [watts for watts, said in spots if said is state]
        assert all(named.count(watts) <= found.count(watts) for watts in named)


def test_running_watts_from_three_spots() -> None:
    # Mean 100; Σ squares 0 + 100 + 100 = 200; prior 4·(0.045·100)² = 81. s² = 281/(4 + 3 − 1) = 46.833,
    # u = √(46.833/3) = 3.9511 W with 3 + 3 degrees of freedom.
    found = running_from_spots([100.0, 110.0, 90.0])
    assert (found.value_w, found.u_w) == pytest.approx((100.0, math.sqrt(281.0 / 6.0 / 3.0)))
    assert (found.freedom, found.spots) == (6.0, 3)


def test_running_watts_from_one_spot() -> None:
    # Nothing but the prior's 4.5 %: s² = 4·(0.045·150)²/4, u = 6.75 W, 4 degrees of freedom.
    found = running_from_spots([150.0])
    assert (found.value_w, found.u_w, found.freedom) == pytest.approx((150.0, 6.75, 4.0))


def test_a_nameplate_is_a_maximum() -> None:
    # P = plate·(1 − |δ|), δ normal with 20 %: mean of |δ| is 0.2·√(2/π) = 0.159577, its standard
    # deviation 0.2·√(1 − 2/π) = 0.120562.
    found = running_from_nameplate(500.0)
    assert found.value_w == pytest.approx(420.21, abs=0.005)
    assert found.u_w == pytest.approx(60.281, abs=0.005)


@pytest.mark.parametrize(
    ("spots", "value_w", "u_w"),
    # The mean ± (0.15 W + 5 %); 1.0 ± 0.9 W where nobody looked.
    [([2.0, 4.0], 3.0, 0.30), ([0.0], 0.0, 0.15), ([], 1.0, 0.9)],
)
def test_idle_watts(spots: list[float], value_w: float, u_w: float) -> None:
    found = idle_watts(spots)
    assert (found.value_w, found.u_w) == pytest.approx((value_w, u_w))


def test_share_of_time_by_hand() -> None:
    # D = (41 − 1)/(101 − 1) = 0.4. u² = (2² + (0.4·5)² + (0.6·0.9)²)/100² = 8.2916e-4, u = 0.0287951.
    # All freedoms without end: t = 1.95996. Logit: ln(0.4/0.6) = −0.405465, reach 1.95996·0.0287951/0.24
    # = 0.235156; ends 1/(1 + e^(0.405465 ± 0.235156)) = 0.345106 and 0.457525.
    share = share_running(Watts(41.0, 2.0), Watts(101.0, 5.0), Watts(1.0, 0.9))
    assert share.value == pytest.approx(0.4)
    assert (share.low, share.high) == pytest.approx((0.345106, 0.457525), abs=1e-6)


def test_few_spots_widen_the_share() -> None:
    # As above with running watts of 4 degrees of freedom. Welch and Satterthwaite:
    # ν = u⁴/((0.4·5/100)⁴/4) = (8.2916e-4)²/4e-8 = 17.188, t(0.975; 17.188) = 2.10798.
    share = share_running(Watts(41.0, 2.0), Watts(101.0, 5.0, 4.0), Watts(1.0, 0.9))
    t = float(student.ppf(0.975, 17.188))
    low, high = (1.0 / (1.0 + math.exp(0.4054651 + sign * t * 0.0287951 / 0.24)) for sign in (1.0, -1.0))
    assert (share.low, share.high) == pytest.approx((low, high), abs=5e-5)


@pytest.mark.parametrize("freedom", [4.0, 5.0, 6.0, 8.5, 12.0, 30.0, 200.0, SURE])
def test_student_s_factor(freedom: float) -> None:
    assert student_factor(freedom) == pytest.approx(float(student.ppf(0.975, freedom)), rel=4e-4)


def test_a_share_near_one_ends_at_one() -> None:
    share = share_running(Watts(99.0, 3.0), Watts(101.0, 5.0), Watts(1.0, 0.5))
    assert share.value == pytest.approx(0.98)
    assert share.high == 1.0
    # u² = 3² + (0.98·5)² + (0.02·0.5)² per cent squared: the low end is 0.98 − 1.96·0.0574544.
    assert share.low == pytest.approx(0.98 - 1.959964 * 0.0574544, abs=1e-6)


def test_less_than_idle_is_a_share_of_nothing() -> None:
    share = share_running(Watts(0.5, 0.1), Watts(101.0, 5.0), Watts(1.0, 0.5))
    assert share.value == share.low == 0.0
    # u² = (0.1² + 0.5²)/100² at a share of nothing: what runs unseen is at least 1.96 u.
    assert 1.96 * math.sqrt(0.26) / 100.0 < share.high < 0.2


# Uncertainties as they occur: idle watts are never surer than 0.15 W, running ones never sure.
AVERAGE = st.builds(Watts, st.floats(0.0, 200.0), st.floats(0.0, 50.0))
RUNS_AT = st.builds(Watts, st.floats(2.0, 3000.0), st.floats(0.01, 300.0), st.floats(4.0, SURE))
IDLES_AT = st.builds(Watts, st.floats(0.0, 1.5), st.floats(0.15, 0.9))


@given(AVERAGE, RUNS_AT, IDLES_AT)
def test_a_share_stays_between_nothing_and_one(average: Watts, running: Watts, idle: Watts) -> None:
    share = share_running(average, running, idle)
    assert 0.0 <= share.low <= share.value <= share.high <= 1.0


def test_duty_cycle_of_a_steady_fridge() -> None:
    # 1.2 kWh a day is 50 W; three spots of 121 W and one of 1 W: D = 49/120 = 0.40833. The median differs
    # from 1.2 by less than a thousandth.
    energies = [round(1.2 * day, 2) for day in range(15)]
    series = every_morning(Kind.REFRIGERATOR, energies)
    duty = duty_of(with_spots(series, (121.0, None), (1.0, None), (121.0, None), (121.0, None)))
    assert (duty.running_w, duty.idle_w, duty.spots, duty.basis) == (121.0, 1.0, 3, DutyBasis.SPOTS)
    # Prior scatter alone: s² = 4·(0.045·121)²/6, over three spots.
    assert duty.running_u_w == pytest.approx(math.sqrt(4.0 * (0.045 * 121.0) ** 2 / 6.0 / 3.0))
    assert duty.share.value == pytest.approx(49.0 / 120.0, rel=2e-3)
    assert duty.share.low < 49.0 / 120.0 < duty.share.high


def test_one_meter_above_and_below_the_fraction_leaves_its_gain_out() -> None:
    energies = [round(1.2 * day, 2) for day in range(15)]
    series = with_spots(every_morning(Kind.REFRIGERATOR, energies), (121.0, None))
    assert width(duty_of(coarse(series)).share) == pytest.approx(width(duty_of(series).share), rel=1e-6)
    stated = replace(every_morning(Kind.REFRIGERATOR, energies), running_w=121.0)
    assert width(duty_of(coarse(stated)).share) > 1.1 * width(duty_of(stated).share)


def coarse(series: Series) -> Series:
    """Give the series as read from a meter that may err by 15 %."""
    return replace(series, runs=tuple(replace(run, gain_percent=15.0) for run in series.runs))


def width(interval: Interval) -> float:
    return interval.high - interval.low


@pytest.mark.parametrize(
    ("stated_w", "plate_w", "basis", "running_w", "running_u_w"),
    [
        (100.0, 150.0, DutyBasis.STATED, 100.0, 10.0),
        (None, 150.0, DutyBasis.NAMEPLATE, 126.0635, 18.0843),
        (-3.0, 150.0, DutyBasis.NAMEPLATE, 126.0635, 18.0843),
    ],
)
def test_without_spots_what_is_stated_serves_and_then_the_plate(
    stated_w: float | None, plate_w: float, basis: DutyBasis, running_w: float, running_u_w: float
) -> None:
    series = every_morning(Kind.REFRIGERATOR, [0.0, 1.1, 2.2, 3.3])
    duty = duty_of(replace(series, running_w=stated_w, nameplate_w=plate_w))
    assert (duty.basis, duty.spots) == (basis, 0)
    assert (duty.running_w, duty.running_u_w) == pytest.approx((running_w, running_u_w), abs=1e-4)


def test_without_running_watts_there_is_no_duty_cycle() -> None:
    series = every_morning(Kind.REFRIGERATOR, [0.0, 1.1, 2.2])
    assert estimate(series).duty_cycle is None
    assert estimate(with_spots(series, (math.nan, None), (-5.0, None))).duty_cycle is None
    # Running watts below the idle ones are a slip, not a machine.
    assert estimate(with_spots(series, (0.4, RUNNING))).duty_cycle is None
    assert estimate(with_spots(series, (5.0, RUNNING), (90.0, IDLE))).duty_cycle is None


def test_spots_before_the_first_span_give_no_share() -> None:
    run = RunSeries((replace(read(0, 1.0), power_w=120.0),))
    assert estimate(Series(Kind.REFRIGERATOR, (run,), running_w=100.0)).duty_cycle is None

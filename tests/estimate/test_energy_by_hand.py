"""Daily energy where it can be worked out without a matrix: two readings, and a load that never varies."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series
from tests.estimate.measurements import KINDS, answered, every_morning, series_of
from tests.estimate.reference import (
    TABLE,
    Row,
    memory,
    mixture_quantile,
    profile,
    scatter_prior,
    weekend_contrast,
)

GAIN = 0.0075
Z = [-4.0 + 0.75 * step for step in range(13)]

# `MONDAY` at 7:00 as a local wall day: 1970-01-05 was a Monday too.
MONDAY_D = 4.0 + 7.0 / 24.0


def posterior_of(series: Series) -> Posterior:
    posterior = estimate(series).posterior
    assert posterior is not None
    return posterior


def from_two_readings(
    row: Row, days: float, energy_kwh: float, step_kwh: float
) -> tuple[float, float, float]:
    """Give the answer from one span, all scalars.

    V = c²g_τ(T) + kd²b(T) + kw²w² + (q²/6)/μ0², a = T²/V, so μ̂ = T·d/V ÷ T²/V = d/T in every node and
    v = V/T². The evidence −½[ln V + ln(T²/V) + 0] = −ln T is the same for all nodes and drops out: a node
    weighs p_τ·t₃(z)·N(ln d/T; ln m0, v + ms²). As μ̂ is the same everywhere, both passes have one pivot.
    T allows for the weekend that the kind is expected to have.
    """
    w = weekend_contrast(MONDAY_D, MONDAY_D + days)
    length = days + row.weekend * w
    rate = max(energy_kwh, step_kwh / 2.0) / length
    a = row.ms**2 / (row.ms**2 + math.log(1.0 + (2.0 * row.c0**2 + 0.02 * row.kw**2) / length))
    pivot = rate**a * row.m0_kwh ** (1.0 - a)
    fixed = row.kd**2 * profile(days, row.profile) + row.kw**2 * w**2 + step_kwh**2 / 6.0 / pivot**2
    off = math.log(rate / row.m0_kwh)
    weights, means, deviations = [], [], []
    for p, tau in zip(row.p_tau, (0.0, 0.9, 4.0, 8.0), strict=True):
        for z in Z:
            c = row.c0 * math.exp(row.s_c * z)
            v = min((c**2 * memory(days, tau) + fixed) / length**2, 9.0)
            spread = v + row.ms**2
            weights.append(p * scatter_prior(z, row) * math.exp(-0.5 * off**2 / spread) / spread**0.5)
            means.append(math.log(row.m0_kwh) + off * row.ms**2 / spread)
            deviations.append(math.sqrt(v * row.ms**2 / spread + GAIN**2))
    median, low, high = (
        math.exp(mixture_quantile(share, weights, means, deviations)) for share in (0.5, 0.025, 0.975)
    )
    return median, low, high


@settings(max_examples=60)
@given(KINDS, st.floats(0.02, 30.0), st.integers(0, 2000), st.sampled_from([0.01, 0.1, 1.0]))
def test_two_readings_have_a_closed_form(kind: Kind, days: float, steps: int, step_kwh: float) -> None:
    minutes = round(days * 1440.0)
    energy = steps * step_kwh / 20.0
    series = series_of(kind, [(0, 3.0), (minutes / 1440.0, 3.0 + energy)], step_kwh=step_kwh)
    answer = answered(estimate(series))
    wanted = from_two_readings(TABLE[kind], minutes / 1440.0, energy, step_kwh)
    assert (answer.value, answer.low, answer.high) == pytest.approx(wanted, rel=1e-7)


def test_one_day_that_is_as_expected() -> None:
    # A refrigerator takes 1.00 kWh, its kind's m0, from Monday to Tuesday. Every node then has its centre
    # at ln 1 = 0, so the median is 1 kWh whatever the weights, and the ends lie even on the log scale.
    answer = answered(estimate(every_morning(Kind.REFRIGERATOR, [0.0, 1.0])))
    assert answer.value == pytest.approx(1.0, rel=1e-9)
    assert answer.low * answer.high == pytest.approx(1.0, rel=1e-9)


def test_one_node_on_the_back_of_an_envelope() -> None:
    # The same day in the node z = 0.5: c = 0.1·e^(0.40·0.5) = 0.122140, c² = 0.0149182. T = 1 day: g(1) = 1
    # for every τ, b(1) = 0, w = −2/7: kw²w² = 0.0016·0.0816327 = 0.0001306; Q = 2·0.01²/12 = 0.0000167,
    # μ0 = 1. v = 0.0149182 + 0.0001306 + 0.0000167 = 0.0150655; with the prior's variance of one
    # 1/(1/v + 1) = 0.0150655/1.0150655 = 0.0148419.
    posterior = posterior_of(every_morning(Kind.REFRIGERATOR, [0.0, 1.0]))
    found = [
        variance
        for c, variance in zip(posterior.c, posterior.variance, strict=True)
        if math.isclose(c, 0.122140, rel_tol=1e-5)
    ]
    assert found == pytest.approx([0.0148419] * 3, rel=1e-5)


def test_prior_and_reading_meet_by_their_variances() -> None:
    # 4 kWh in two days against m0 = 1 kWh/d, ms = 1: ln μ̂ = ln 2 = 0.693147. In the node τ = 0, z = 0.5:
    # a = 1/(1 + ln(1 + (2·0.01 + 0.02·0.0016)/2)) = 1/1.0099663 = 0.990132, ln μ0 = 0.686307,
    # μ0² = e^1.372614 = 3.945651. V = 2·0.0149182 + 0 + 0.0016·(4/7)² + 0.0000167/3.945651 = 0.0303631,
    # v = V/4 = 0.0075908; mean = ln 2/(1 + v) = 0.687925, variance v/(1 + v) = 0.0075336.
    posterior = posterior_of(series_of(Kind.REFRIGERATOR, [(0, 0.0), (2, 4.0)]))
    (at,) = (
        index
        for index, (c, tau) in enumerate(zip(posterior.c, posterior.tau_d, strict=True))
        if tau == 0.0 and math.isclose(c, 0.122140, rel_tol=1e-5)
    )
    assert posterior.mean_log[at] == pytest.approx(0.687925, abs=2e-6)
    assert posterior.variance[at] == pytest.approx(0.0075336, abs=2e-7)


def test_nothing_counted_is_at_most_half_a_step() -> None:
    # Ten days without a step of 0.01 kWh: ln μ̂ is that of q/2T = 0.0005 kWh/d, and with nothing but the
    # display's error, √(q²/6)/μ0/T > 1, the prior keeps the answer well above that.
    answer = answered(estimate(series_of(Kind.KITCHEN, [(0, 7.0), (10, 7.0)])))
    assert 0.0005 < answer.value < 0.01
    assert answer.low > 0.0


def test_two_readings_are_preliminary_and_three_are_not() -> None:
    assert estimate(every_morning(Kind.FREEZER, [1.0, 1.8])).preliminary
    assert not estimate(every_morning(Kind.FREEZER, [1.0, 1.8, 2.6])).preliminary


@pytest.mark.parametrize("energies", [[], [3.0]])
def test_fewer_than_two_readings_say_nothing(energies: list[float]) -> None:
    answer = estimate(every_morning(Kind.FREEZER, energies))
    assert (answer.readings, answer.spans, answer.days) == (len(energies), 0, 0.0)
    said = (answer.daily_kwh, answer.total_per_day_kwh, answer.posterior, answer.duty_cycle)
    assert said == (None, None, None, None)


def counted(truth_kwh: float, days: int) -> list[float]:
    """Give what a display with two decimals shows each morning of a load that never varies."""
    return [math.floor(100.0 * truth_kwh * day + 1e-9) / 100.0 for day in range(days + 1)]


@pytest.mark.parametrize("kind", list(Kind))
def test_a_constant_load_is_found_to_within_the_display(kind: Kind) -> None:
    # At the level its kind is expected at, so that the prior pulls nowhere. Each end of the fortnight is
    # cut off to a step, so energy over time is off by at most q/T, and so is the median; one of which rest
    # is expected at weekends finds none, which moves it by a little more.
    truth = 1.0003 * TABLE[kind].m0_kwh
    answer = answered(estimate(every_morning(kind, counted(truth, 14))))
    assert abs(answer.value - truth) <= 0.01 / 14.0 - 0.005 * TABLE[kind].weekend * truth
    assert answer.low < truth < answer.high


@pytest.mark.parametrize("kind", [Kind.REFRIGERATOR, Kind.FREEZER, Kind.ALWAYS_ON])
@pytest.mark.parametrize("watts", [4.0, 37.0, 900.0])
def test_a_steady_load_of_any_size_is_found(kind: Kind, watts: float) -> None:
    # Far from m0 the prior pulls by v/(v + ms²) of the way, with v well below a thousandth by now.
    truth = watts * 24.0 / 1000.0
    answer = answered(estimate(every_morning(kind, counted(truth, 14))))
    assert abs(answer.value - truth) <= 0.01 / 14.0 + 0.002 * truth
    assert answer.low < truth < answer.high


def test_the_interval_of_a_constant_load_shrinks_to_the_meter_s_gain() -> None:
    halves = []
    for days in (2, 4, 7, 14, 28):
        shown = [round(1.2 * day, 2) for day in range(days + 1)]
        halves.append(answered(estimate(every_morning(Kind.FREEZER, shown))).log_half_width)
    assert halves == sorted(halves, reverse=True)
    # Never below what the meter may err by as a whole, 1.96·0.75 %, and after four weeks near it.
    assert 1.96 * GAIN < halves[-1] < 1.5 * 1.96 * GAIN
    assert halves[0] > 4.0 * halves[-1]


def test_scatter_shrinks_the_interval_with_the_root_of_time() -> None:
    # Days of 0.7 and 1.3 kWh in turn, alternating: the spread of one day is 0.3 throughout, so from 8 to 32
    # days the half-width halves but for the meter's gain and what is learnt about the scatter itself.
    shown = [0.0]
    for day in range(32):
        shown.append(round(shown[-1] + (0.7 if day % 2 else 1.3), 2))
    short, long = (
        answered(estimate(every_morning(Kind.LAMP_TIMER, shown[:count]))).log_half_width for count in (9, 33)
    )
    assert 0.35 < long / short < 0.55


def test_stated_watts_move_what_is_expected_of_a_load_that_is_always_on() -> None:
    # 1000 W all day are 24 kWh instead of the kind's 0.25, and a coarse display that has not moved in six
    # hours says next to nothing against that.
    series = series_of(Kind.ALWAYS_ON, [(0, 0.0), (0.25, 0.0)], step_kwh=1.0)
    told = Series(series.kind, series.runs, running_w=1000.0)
    assert answered(estimate(told)).value > 3.0 * answered(estimate(series)).value

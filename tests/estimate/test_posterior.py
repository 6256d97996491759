"""The posterior's own answers: one node in closed form, several by their moments."""

from __future__ import annotations

import math

import pytest

from hearthload.estimate.answers import Interval
from hearthload.estimate.posterior import Posterior

Z95 = 1.959963984540054


def one_node(mean_log: float, variance: float, gain: float) -> Posterior:
    return Posterior((1.0,), (mean_log,), (variance,), (0.1,), (0.9,), gain, 7.0, 0.01)


def test_one_node_is_a_log_normal() -> None:
    # ln-sd √(0.03² + 0.04²) = 0.05.
    answer = one_node(math.log(2.0), 0.03**2, 0.04).daily_kwh()
    wanted = (2.0, 2.0 * math.exp(-0.05 * Z95), 2.0 * math.exp(0.05 * Z95))
    assert (answer.value, answer.low, answer.high) == pytest.approx(wanted, rel=1e-9)


def test_the_meter_s_gain_can_be_left_out() -> None:
    answer = one_node(0.0, 0.03**2, 0.04).daily_kwh(with_gain=False)
    assert answer.high == pytest.approx(math.exp(0.03 * Z95), rel=1e-9)


def test_moments_of_two_nodes_by_hand() -> None:
    # Weights 1/4 and 3/4 at 1 and 3: mean 2.5. Spread: 1/4·(0.1 + 1.5²) + 3/4·(0.2 + 0.5²) = 0.925.
    two = Posterior((0.25, 0.75), (1.0, 3.0), (0.1, 0.2), (0.1, 0.2), (0.0, 4.0), 0.5, 7.0, 0.01)
    assert two.log_moments(with_gain=False) == pytest.approx((2.5, math.sqrt(0.925)))
    assert two.log_moments() == pytest.approx((2.5, math.sqrt(0.925 + 0.25)))


def test_an_interval_s_widths() -> None:
    # From 0.8 to 1.25 the ends lie a factor 1.25 from 1: ± 25 %.
    interval = Interval(1.0, 0.8, 1.25)
    assert interval.log_half_width == pytest.approx(math.log(1.25))
    assert interval.relative_half_width == pytest.approx(0.25)


def test_from_zero_an_interval_is_as_wide_as_can_be() -> None:
    assert Interval(0.1, 0.0, 0.2).log_half_width == math.inf

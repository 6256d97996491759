"""Quantiles of normal mixtures against closed forms and against another library."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from hearthload.estimate.mixture import quantiles
from tests.estimate.reference import mixture_quantile

Z95 = 1.959963984540054

PARTS = st.lists(
    st.tuples(st.floats(1e-6, 10.0), st.floats(-20.0, 20.0), st.floats(1e-3, 10.0)), min_size=1, max_size=39
)
SHARES = st.floats(0.001, 0.999)


def share_below(at: float, parts: Sequence[tuple[float, float, float]]) -> float:
    weight, mean, deviation = np.array(parts).T
    return float(weight @ norm.cdf(at, mean, deviation) / weight.sum())


def found(share: float, parts: Sequence[tuple[float, float, float]]) -> float:
    weights, means, deviations = zip(*parts, strict=True)
    return quantiles([share], weights, means, deviations)[0]


def test_steps_that_would_walk_to_and_fro_between_two_humps_come_to_rest() -> None:
    """From 9.07 Halley's step leads to 13.16 and back: the bracket is halved instead."""
    weights = (1.150390625, 2.34375, 3.140625, 5.283203125, 6.0625, 8.96484375, 9.921875, 0.85546875)
    means = (0.0, 12.3984375, -9.0, 0.0, 0.0, 12.0, 11.828125, 0.0)
    deviations = (2.734375, 8.28125, 1.0, 2.0, 8.828125, 3.6488427074270815, 0.7, 1.0)
    parts = list(zip(weights, means, deviations, strict=True))
    share = 0.641493352887559
    assert share_below(found(share, parts), parts) == pytest.approx(share, abs=1e-9)


@given(st.floats(-1000.0, 1000.0), st.floats(1e-3, 100.0), st.floats(0.01, 5.0))
def test_a_single_normal(mean: float, deviation: float, weight: float) -> None:
    median, low, high = quantiles((0.5, 0.025, 0.975), [weight], [mean], [deviation])
    wanted = [mean, mean - Z95 * deviation, mean + Z95 * deviation]
    assert [median, low, high] == pytest.approx(wanted, rel=1e-10, abs=1e-10)


@pytest.mark.parametrize("share", [0.001, 0.025, 0.2, 0.5, 0.8, 0.975, 0.999])
@pytest.mark.parametrize(
    "parts",
    [
        [(0.5, 0.0, 1.0), (0.5, 0.0, 3.0)],  # one centre, two widths
        [(0.3, -1.0, 0.5), (0.7, 2.0, 0.8)],  # two humps
        [(0.5, -8.0, 0.1), (0.5, 8.0, 0.1)],  # two humps with nothing between
        [(3.0, 0.0, 1.0), (1.0, 0.5, 0.01)],  # a spike on a hill, weights that sum to four
        [(0.999, 0.0, 0.1), (0.001, 5.0, 40.0)],  # a wide skirt
    ],
)
def test_two_components(parts: list[tuple[float, float, float]], share: float) -> None:
    at = found(share, parts)
    assert share_below(at, parts) == pytest.approx(share, abs=1e-9)
    # Between two far humps the median may lie anywhere; everywhere else the root is one.
    if not (share == 0.5 and parts[0][1] == -8.0):
        assert at == pytest.approx(mixture_quantile(share, *zip(*parts, strict=True)), rel=1e-7, abs=1e-7)


def test_two_equal_halves_by_hand() -> None:
    # ½Φ(x + 1) + ½Φ(x − 1) is one half at nothing by symmetry; at 1 it is ½(Φ(2) + Φ(0)) = 0.738625.
    share = 0.5 * (0.5 * math.erfc(-2.0 / math.sqrt(2.0)) + 0.5)
    assert share == pytest.approx(0.738625, abs=1e-6)
    at = quantiles([0.5, share], [1.0, 1.0], [-1.0, 1.0], [1.0, 1.0])
    assert at == pytest.approx([0.0, 1.0], abs=1e-9)


@given(PARTS, SHARES)
def test_share_below_a_quantile_is_its_share(parts: list[tuple[float, float, float]], share: float) -> None:
    at = found(share, parts)
    # In empty country between humps the distribution function is flat, so it is the share that is held to.
    assert share_below(at, parts) == pytest.approx(share, abs=1e-8)


@given(PARTS, SHARES, SHARES)
def test_quantiles_rise_with_the_share(
    parts: list[tuple[float, float, float]], one: float, other: float
) -> None:
    low, high = sorted((one, other))
    at_low, at_high = (found(share, parts) for share in (low, high))
    assert at_low <= at_high + 1e-9


@given(PARTS, SHARES, st.floats(-5.0, 5.0))
def test_a_shift_of_all_shifts_the_quantile(
    parts: list[tuple[float, float, float]], share: float, by: float
) -> None:
    moved = [(weight, mean + by, deviation) for weight, mean, deviation in parts]
    assert share_below(found(share, parts) + by, moved) == pytest.approx(share, abs=1e-8)
    assert share_below(found(share, moved) - by, parts) == pytest.approx(share, abs=1e-8)


@given(PARTS, SHARES)
def test_what_weighs_nothing_moves_nothing(parts: list[tuple[float, float, float]], share: float) -> None:
    total = sum(weight for weight, _, _ in parts)
    with_ghost = [*parts, (1e-14 * total, 1e6, 1e-3)]
    assert share_below(found(share, with_ghost), parts) == pytest.approx(share, abs=1e-8)

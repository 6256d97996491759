"""A low and a high day of what the weather drives, and scatter that is unusual for its kind."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.oneday import one_day, varies_unusually
from hearthload.estimate.posterior import Posterior
from tests.estimate.measurements import KINDS, every_morning

LOW_Z, HIGH_Z = NormalDist().inv_cdf(0.10), NormalDist().inv_cdf(0.95)


def posterior(*nodes: tuple[float, float, float, float], gain: float = 0.0, days: float = 10.0) -> Posterior:
    """Give a posterior of nodes: weight, mean of the log, its variance, one day's scatter c."""
    weight, mean_log, variance, c = zip(*nodes, strict=True)
    return Posterior(weight, mean_log, variance, c, (0.0,) * len(nodes), gain, days, 0.01)


def test_of_a_level_that_is_known_the_days_alone_differ() -> None:
    spread = math.log(1.0 + 0.6**2)
    day = one_day(posterior((1.0, math.log(2.0), 0.0, 0.6)))
    middle, s = math.log(2.0) - spread / 2.0, math.sqrt(spread)
    assert day.low_kwh == pytest.approx(math.exp(middle + LOW_Z * s))
    assert day.high_kwh == pytest.approx(math.exp(middle + HIGH_Z * s))
    # One whose days never differ takes the same every day.
    same = one_day(posterior((1.0, math.log(2.0), 0.0, 0.0)))
    assert (same.low_kwh, same.high_kwh) == pytest.approx((2.0, 2.0))


def test_what_is_not_known_of_level_and_meter_is_added() -> None:
    day = one_day(posterior((1.0, 0.0, 0.04, 0.5), gain=0.03))
    spread = math.log(1.25)
    s = math.sqrt(spread + 0.04 + 0.03**2)
    assert day.low_kwh == pytest.approx(math.exp(-spread / 2.0 + LOW_Z * s))
    assert day.high_kwh == pytest.approx(math.exp(-spread / 2.0 + HIGH_Z * s))


nodes = st.lists(
    st.tuples(st.integers(1, 9), st.floats(-2.0, 2.0), st.floats(0.0, 0.5), st.floats(0.1, 2.0)),
    min_size=1,
    max_size=6,
)


@settings(max_examples=60)
@given(nodes)
def test_one_day_in_ten_takes_less_and_one_in_twenty_more(
    drawn: list[tuple[int, float, float, float]],
) -> None:
    total = sum(weight for weight, *_ in drawn)
    known = posterior(*((weight / total, *rest) for weight, *rest in drawn))  # type: ignore[arg-type]
    day = one_day(known)

    def below(energy_kwh: float) -> float:
        share = 0.0
        for weight, mean, variance, c in drawn:
            spread = math.log1p(c * c)
            each = NormalDist(mean - spread / 2.0, math.sqrt(variance + spread))
            share += weight / total * each.cdf(math.log(energy_kwh))
        return share

    assert below(day.low_kwh) == pytest.approx(0.10, abs=1e-6)
    assert below(day.high_kwh) == pytest.approx(0.95, abs=1e-6)


@pytest.mark.parametrize("kind", Kind)
def test_it_is_told_of_what_the_weather_drives_only(kind: Kind) -> None:
    told = estimate(every_morning(kind, [0.0, 1.0, 1.2, 3.0, 3.1])).one_day
    assert (told is not None) is (kind in {Kind.CLIMATE, Kind.PUMP})
    assert estimate(every_morning(kind, [1.0])).one_day is None


def test_wet_days_and_dry_days_of_a_pump() -> None:
    steps = [0.1, 0.0, 1.5, 0.2, 0.0, 0.1, 2.2, 0.3, 0.1, 0.0, 0.9, 0.1]
    answer = estimate(every_morning(Kind.PUMP, [sum(steps[:day]) for day in range(len(steps) + 1)]))
    assert answer.one_day is not None
    assert answer.daily_kwh is not None
    assert 0.0 < answer.one_day.low_kwh < 0.3 * answer.daily_kwh.value
    assert answer.one_day.high_kwh > 1.5 * answer.daily_kwh.value


def test_unusual_from_more_than_half_the_weight_beyond_two_deviations() -> None:
    fridge = DEFAULTS[Kind.REFRIGERATOR]
    limit = fridge.c0 * math.exp(2.0 * fridge.s_c)
    beyond, within = limit * 1.01, limit
    for share, unusual in ((0.49, False), (0.51, True)):
        mixed = posterior((share, 0.0, 0.01, beyond), (1.0 - share, 0.0, 0.01, within))
        assert varies_unusually(mixed, fridge) is unusual
    assert not varies_unusually(posterior((1.0, 0.0, 0.01, limit)), fridge)


def test_a_refrigerator_used_like_a_lamp_varies_unusually() -> None:
    wild = [0.2, 3.0, 0.4, 2.2, 0.1, 1.9]
    calm = [1.0, 1.1, 0.9, 1.05, 0.95, 1.0]
    for steps, unusual in ((wild, True), (calm, False)):
        energies = [sum(steps[:day]) for day in range(len(steps) + 1)]
        assert estimate(every_morning(Kind.REFRIGERATOR, energies)).unusual_scatter is unusual
    lamp = estimate(every_morning(Kind.BY_THE_LOAD, [sum(wild[:day]) for day in range(len(wild) + 1)]))
    assert not lamp.unusual_scatter


@given(KINDS)
def test_two_readings_say_nothing_of_scatter(kind: Kind) -> None:
    assert not estimate(every_morning(kind, [0.0, 9.0])).unusual_scatter

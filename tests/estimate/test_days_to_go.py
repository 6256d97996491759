"""Days to go against a plain scan, by hand, and as the calendar has it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import Interval, Lack
from hearthload.estimate.api import estimate
from hearthload.estimate.enough import LONGEST_FORECAST_D, days_to_go
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series
from tests.estimate.measurements import KINDS, series_of
from tests.estimate.reference import TABLE, Row, memory

STEP_D = 0.02
GRID_D = np.arange(0.0, 366.0 + STEP_D, STEP_D)


def mixture(
    c: list[float], weight: list[float], *, gain: float = 0.005, days: float = 4.0, tau_d: float = 0.9
) -> Posterior:
    """Give a posterior of nodes that differ in c and weight alone, at 1 kWh a day on a display of 0.01."""
    n = len(c)
    return Posterior(
        tuple(weight), (0.0,) * n, (0.01,) * n, tuple(c), (tau_d,) * n, gain, days, step_kwh=0.01
    )


def scanned(posterior: Posterior, row: Row, target: float) -> float:
    """Walk through a year in steps and give the first N at which the page's inequality holds."""
    total = posterior.days + GRID_D
    (c,), (tau,), (log_level,) = posterior.c, posterior.tau_d, posterior.mean_log
    walk = np.array([memory(float(s), tau) for s in total]) if tau else total
    square = c**2 * walk / total**2 + (0.05 * row.kd / total) ** 2 + 0.04 * row.kw**2 / total**2
    square += posterior.gain**2 + (posterior.step_kwh / math.exp(log_level)) ** 2 / 6.0 / total**2
    enough = np.flatnonzero(1.96 * np.sqrt(square) * 1.08 <= math.log(1.0 + target))
    return float(GRID_D[enough[0]]) if len(enough) else math.inf


NODES = st.builds(
    Posterior,
    st.just((1.0,)),
    st.tuples(st.floats(-5.0, 3.0)),
    st.just((0.01,)),
    st.tuples(st.floats(1e-3, 3.0)),
    st.tuples(st.sampled_from([0.0, 0.9, 4.0, 8.0])),
    gain=st.sampled_from([0.0, 0.0075, 0.02]),
    days=st.floats(0.05, 60.0),
    step_kwh=st.sampled_from([0.001, 0.01, 0.1, 1.0]),
)


@given(NODES, KINDS, st.sampled_from([0.03, 0.05, 0.1, 0.2, 0.3, 0.6]))
def test_one_node_agrees_with_a_scan(posterior: Posterior, kind: Kind, target: float) -> None:
    found = days_to_go(posterior, defaults_for(kind), target)
    wanted = scanned(posterior, TABLE[kind], target)
    if found is None:
        # Never, or only about when the year is over.
        assert wanted > GRID_D[-1] - 2.0 * STEP_D
        return
    assert found.low == found.value == found.high
    # The scan finds the first step at or after the root.
    assert wanted - STEP_D - 1e-6 <= found.value <= wanted + 1e-6


def test_memoryless_scatter_by_hand() -> None:
    # Pump (kw = 0), τ = 0, c = 0.5, no gain; kd = 0.2: (0.05·0.2)² = 1e-4, (0.01)²/6 = 1.667e-5. Wanted
    # S with 0.25·S + 1.16667e-4 = goal·S², goal = (ln 1.3/(1.96·1.08))² = (0.2623643/2.1168)² = 0.0153619.
    # S = (0.25 + √(0.0625 + 4·0.0153619·1.16667e-4))/(2·0.0153619) = 16.27447; N = S − 4 = 12.27447.
    node = mixture([0.5], [1.0], gain=0.0, tau_d=0.0)
    found = days_to_go(node, defaults_for(Kind.PUMP), 0.30)
    assert found is not None
    assert found.value == pytest.approx(12.2745, abs=2e-4)


def test_weighted_median_and_fifths_by_hand() -> None:
    # Nodes in order of days: weights 0.15, 0.6, 0.25, heaped up 0.15, 0.75, 1. The share 0.2 is reached by
    # the second, 0.5 by the second, 0.8 by the third. Given in another order, as nodes have none.
    defaults = defaults_for(Kind.FREEZER)
    fewer, some, more = (days_to_go(mixture([c], [1.0]), defaults, 0.10) for c in (0.10, 0.15, 0.20))
    assert fewer is not None
    assert some is not None
    assert more is not None
    assert 0.0 < fewer.value < some.value < more.value
    found = days_to_go(mixture([0.20, 0.10, 0.15], [0.25, 0.15, 0.6]), defaults, 0.10)
    assert found is not None
    wanted = (some.value, some.value, more.value)
    assert (found.value, found.low, found.high) == pytest.approx(wanted, rel=1e-12)


def test_a_node_that_never_gets_there_ends_the_range_at_a_year() -> None:
    found = days_to_go(mixture([0.15, 9.0], [0.7, 0.3]), defaults_for(Kind.FREEZER), 0.10)
    assert found is not None
    assert 0.0 < found.low == found.value < found.high == LONGEST_FORECAST_D == 366.0


def test_a_median_beyond_a_year_is_not_foreseen() -> None:
    assert days_to_go(mixture([0.15, 9.0], [0.3, 0.7]), defaults_for(Kind.FREEZER), 0.10) is None


def test_a_meter_coarser_than_the_target_never_gets_there() -> None:
    # ln 1.05/(1.96·1.08) = 0.023049: with a gain above that no number of days is enough.
    node = mixture([0.01], [1.0], gain=0.0231)
    assert days_to_go(node, defaults_for(Kind.ALWAYS_ON), 0.05) is None
    close = mixture([0.01], [1.0], gain=0.0225)
    assert days_to_go(close, defaults_for(Kind.ALWAYS_ON), 0.05) is not None


def test_enough_already_is_no_day_to_go() -> None:
    node = mixture([0.01], [1.0], days=20.0)
    assert days_to_go(node, defaults_for(Kind.FREEZER), 0.10) == Interval(0.0, 0.0, 0.0)


@given(st.floats(0.05, 1.0), st.floats(1.0, 30.0), st.floats(1.0, 30.0))
def test_days_gone_by_are_days_less_to_go(c: float, sooner: float, later: float) -> None:
    defaults = defaults_for(Kind.LAMP_TIMER)
    here, there = (days_to_go(mixture([c], [1.0], days=days), defaults, 0.20) for days in (sooner, later))
    if here is not None and there is not None and min(here.value, there.value) > 0.0:
        assert sooner + here.value == pytest.approx(later + there.value, rel=1e-6)


def test_the_calendar_may_ask_for_more_days_than_the_scatter() -> None:
    # Two days of a load that never varies, any width allowed: one day lacks of three.
    series = series_of(Kind.ALWAYS_ON, [(0, 0.0), (1, 0.2), (2, 0.4)])
    enough = estimate(Series(series.kind, series.runs, 100.0)).enough
    assert enough.lacks == (Lack.THREE_DAYS,)
    assert enough.days_to_go is not None
    ends = (enough.days_to_go.low, enough.days_to_go.value, enough.days_to_go.high)
    assert ends == pytest.approx((1.0, 1.0, 1.0))


@pytest.mark.parametrize(
    ("readings", "lack", "days"),
    [
        # Monday to Friday 7:00. Saturday begins in 17 h and 23 h of it are wanted: 40 h, 1.75 days in
        # whole quarters.
        ([(0, 0.0), (2, 0.5), (4, 1.0)], Lack.WEEKEND_DAY, 1.75),
        # Monday to Saturday 7:00: seven hours are over, 16 h are wanted: 0.75 days.
        ([(0, 0.0), (2, 0.5), (5, 1.2)], Lack.WEEKEND_DAY, 0.75),
    ],
)
def test_the_wait_for_the_weekend(readings: list[tuple[float, float]], lack: Lack, days: float) -> None:
    series = series_of(Kind.KITCHEN, readings)
    enough = estimate(Series(series.kind, series.runs, 100.0)).enough
    assert enough.lacks == (lack,)
    assert enough.days_to_go is not None
    assert enough.days_to_go.value == pytest.approx(days)


def test_the_wait_for_a_weekday() -> None:
    # Saturday 7:00 to Sunday 24:00, twice; from the second Sunday's end, Monday 0:00, on 23 h are wanted.
    runs = [[(first, 0.0), (first + 1, 1.0), (first + 41 / 24, 1.7)] for first in (5, 12)]
    series = series_of(Kind.KITCHEN, *runs)
    enough = estimate(Series(series.kind, series.runs, 100.0)).enough
    assert enough.lacks == (Lack.WEEKDAY,)
    assert enough.days_to_go is not None
    assert enough.days_to_go.value == pytest.approx(1.0)

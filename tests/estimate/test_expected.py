"""What the counter is expected to show: between its neighbours, and as the model predicts."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.stats import norm

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate.answers import Interval
from hearthload.estimate.api import estimate, expected_energy_kwh
from hearthload.estimate.series import RunSeries, Series, Snapshot
from tests.estimate import reference
from tests.estimate.measurements import MONDAY, answered, every_morning, read, series, series_of


def expected(measured: Series, day: float) -> Interval:
    found = expected_energy_kwh(measured, MONDAY + timedelta(days=day))
    assert found is not None
    return found


def test_nothing_is_expected_before_the_first_reading() -> None:
    measured = every_morning(Kind.FREEZER, [3.0, 3.8, 4.6])
    assert expected_energy_kwh(measured, MONDAY - timedelta(minutes=1)) is None
    assert expected_energy_kwh(Series(Kind.FREEZER, ()), MONDAY) is None


@pytest.mark.parametrize("day", [0, 1, 2])
def test_at_a_reading_its_own_value_is_expected(day: int) -> None:
    measured = every_morning(Kind.FREEZER, [3.0, 3.8, 4.6])
    assert expected(measured, day) == Interval(*[measured.runs[0].snapshots[day].energy_kwh] * 3)


def test_a_steady_load_goes_on_as_before() -> None:
    # 0.8 kWh a day for a fortnight; two and a half days on 2.0 kWh more.
    measured = every_morning(Kind.FREEZER, [round(0.8 * day, 2) for day in range(15)])
    ahead = expected(measured, 16.5)
    assert ahead.value == pytest.approx(11.2 + 2.0, abs=0.03)
    assert ahead.low < 13.2 < ahead.high
    # Habits, scatter and display, but not the half of the day's energy.
    assert 0.01 < ahead.high - ahead.low < 0.4


def test_after_a_reset_the_new_counter_is_expected() -> None:
    measured = series_of(Kind.FREEZER, [(0, 50.0), (1, 50.8), (2, 51.6), (3, 52.4)], [(3.5, 0.0), (4, 0.4)])
    assert expected(measured, 5).value == pytest.approx(1.2, abs=0.05)
    # In between the old run was still on, as far as anybody read.
    assert expected(measured, 3.25).value == pytest.approx(52.6, abs=0.05)


@pytest.mark.parametrize(
    ("rounding", "shown_kwh"),
    [(DisplayRounding.TRUNCATES, 3.5), (DisplayRounding.ROUNDS, 4.0), (DisplayRounding.UNKNOWN, 3.75)],
)
def test_after_an_exact_zero_the_display_hides_its_part(rounding: DisplayRounding, shown_kwh: float) -> None:
    # 1 kWh a day is known from ten days on a fine meter. On a coarse one set to nothing four days ago half
    # a step is hidden on average if it cuts off, nothing if it rounds, half of that where nobody knows.
    known = series_of(Kind.FREEZER, [(day, float(day)) for day in range(11)])
    coarse = RunSeries((read(10.2, 0.0),), 1.0, exact_start=True, rounding=rounding)
    both = replace(known, runs=(*known.runs, coarse))
    assert expected(both, 14.2).value == pytest.approx(shown_kwh, abs=0.05)


@settings(max_examples=80)
@given(series(), st.floats(0.0, 1.0), st.floats(-0.2, 1.4))
def test_it_stays_between_the_readings_around_it(drawn: Series, which: float, part: float) -> None:
    run = drawn.runs[int(which * (len(drawn.runs) - 1) + 0.5)]
    first, last = run.snapshots[0].taken_at, run.snapshots[-1].taken_at
    at = first + part * (last - first + timedelta(days=1))
    begun = [number for number, one in enumerate(drawn.runs) if one.snapshots[0].taken_at <= at]
    found = expected_energy_kwh(drawn, at)
    if not begun:
        assert found is None
        return
    shown = drawn.runs[begun[-1]].snapshots
    before = max(one.energy_kwh for one in shown if one.taken_at <= at)
    after = min((one.energy_kwh for one in shown if one.taken_at > at), default=math.inf)
    assert found is not None
    assert before <= found.low <= found.value <= found.high <= after


@settings(max_examples=40)
@given(st.sampled_from([Kind.REFRIGERATOR, Kind.FREEZER, Kind.ALWAYS_ON]), st.floats(0.1, 3.0))
def test_more_is_expected_the_longer_one_waits(kind: Kind, times: float) -> None:
    # Whole days ahead: within a day the time of day makes the range wider, not narrower.
    level = times * reference.TABLE[kind].m0_kwh
    measured = every_morning(kind, [round(level * day, 3) for day in range(9)], step_kwh=0.001)
    ahead = [expected(measured, day) for day in (9.0, 10.0, 12.0, 18.0)]
    for ends in zip(*((one.low, one.value, one.high) for one in ahead), strict=True):
        assert list(ends) == sorted(ends)
    widths = [one.high - one.low for one in ahead]
    assert widths == sorted(widths)


def test_the_order_of_rows_makes_no_difference() -> None:
    measured = every_morning(Kind.KITCHEN, [0.0, 0.3, 0.4, 0.9, 1.1])
    run = measured.runs[0]
    backward = replace(measured, runs=(replace(run, snapshots=run.snapshots[::-1]),))
    assert expected(backward, 2.4) == expected(measured, 2.4)


@dataclass(frozen=True)
class Ahead:
    """A mixture of normal distributions of the gain over a span ahead [kWh]."""

    weight: reference.Floats
    mean: reference.Floats
    deviation: reference.Floats

    def quantile(self, share: float) -> float:
        def excess(at: float) -> float:
            return float(self.weight @ norm.cdf(at, self.mean, self.deviation)) - share

        reach = 50.0 * float(self.deviation.max())
        low, high = float(self.mean.min()) - reach, float(self.mean.max()) + reach
        return float(brentq(excess, low, high, xtol=1e-12))


def predicted(measured: Series, days: float) -> Ahead:
    """Give the predictive distribution of the next gain by conditioning each node's normal distribution.

    With V over the spans and the one ahead, k its last column: given μ the gain has mean
    μ(T* − k'V⁻¹T) + k'V⁻¹d and variance μ0²(k** − k'V⁻¹k); log μ is normal in each node, and here
    summed over 401 points of it.
    """
    run = measured.runs[-1]
    last = run.snapshots[-1]
    more = Snapshot(last.taken_at + timedelta(days=days), last.energy_kwh)
    longer = replace(measured, runs=(*measured.runs[:-1], replace(run, snapshots=(*run.snapshots, more))))
    readings = reference.lay_out(longer)
    pivot, nodes = reference.pivot_and_posterior(measured)
    z = np.linspace(-6.0, 6.0, 401)
    density = norm.pdf(z) / norm.pdf(z).sum()
    parts = []
    for node, trial in zip(nodes, reference.trials(readings, reference.TABLE[measured.kind]), strict=True):
        whole = trial.scatter + readings.display_kwh2 / pivot**2
        by_k = np.linalg.solve(whole[:-1, :-1], whole[:-1, -1])
        level = np.exp(node.mean_log + math.sqrt(node.variance) * z)
        mean = level * (readings.days[-1] - by_k @ readings.days[:-1]) + by_k @ readings.energy_kwh[:-1]
        variance = whole[-1, -1] - by_k @ whole[:-1, -1]
        parts.append((node.weight * density, mean, np.full_like(z, pivot * math.sqrt(variance))))
    weight, mean, deviation = (np.concatenate(part) for part in zip(*parts, strict=True))
    return Ahead(weight, mean, deviation)


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("days", [0.4, 1.0, 3.0])
def test_it_is_the_model_s_prediction(kind: Kind, days: float) -> None:
    level = reference.TABLE[kind].m0_kwh
    times = [0.0, 1.2, 2.1, 3.4, 4.1, 5.3, 6.2]
    shown = [round(3.0 + level * one, 2) for one in times]
    measured = every_morning(kind, shown)
    model = predicted(measured, days)
    found = expected(measured, 6.0 + days)
    # The program sums log μ over seven points, which is good to a hundredth of the range.
    near = 0.01 * (found.high - found.low)
    for share, end in ((0.5, found.value), (0.025, found.low), (0.975, found.high)):
        assert end == pytest.approx(max(shown[-1] + model.quantile(share), shown[-1]), abs=near)


def test_most_next_readings_fall_within_what_was_expected() -> None:
    # Freezer days of 0.8 kWh with 8 % scatter: of 200 mornings after the eighth about 10 may miss.
    rng = np.random.default_rng(20260302)
    hits = 0
    for _ in range(200):
        shown = np.floor(100.0 * np.cumsum([0.0, *rng.normal(0.8, 0.064, 9)])) / 100.0
        ahead = expected(every_morning(Kind.FREEZER, shown[:-1].tolist()), 9.0)
        hits += ahead.low - 0.01 <= shown[-1] <= ahead.high + 0.01
    assert hits >= 180


def test_what_was_estimated_is_what_is_expected() -> None:
    measured = every_morning(Kind.ALWAYS_ON, [round(0.3 * day, 2) for day in range(11)])
    per_day = answered(estimate(measured)).value
    assert expected(measured, 20.0).value - 3.0 == pytest.approx(10.0 * per_day, rel=0.01)

"""The trend is what each morning's estimate was, and the first readings are those first in time."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.api import estimate, first_readings, trend
from hearthload.estimate.merging import MOST_SPANS
from hearthload.estimate.series import Series
from tests.estimate.measurements import every_morning, series, series_of


def three(interval: Interval | None) -> tuple[float, ...]:
    return () if interval is None else (interval.value, interval.low, interval.high)


def assert_same(found: Estimate, wanted: Estimate) -> None:
    """Check that two estimates say the same, but for rounding in the last digits."""
    assert (found.readings, found.spans, found.preliminary) == (
        wanted.readings,
        wanted.spans,
        wanted.preliminary,
    )
    assert found.days == pytest.approx(wanted.days)
    assert three(found.daily_kwh) == pytest.approx(three(wanted.daily_kwh), rel=1e-9)
    assert found.total_per_day_kwh == pytest.approx(wanted.total_per_day_kwh)
    assert found.enough.lacks == wanted.enough.lacks
    assert found.enough.half_width == pytest.approx(wanted.enough.half_width, rel=1e-9)
    assert three(found.enough.days_to_go) == pytest.approx(three(wanted.enough.days_to_go), rel=1e-6)


@settings(max_examples=30)
@given(series(), st.randoms(use_true_random=False))
def test_trend_is_the_estimate_of_the_first_readings(drawn: Series, chance: random.Random) -> None:
    readings = sum(len(run.snapshots) for run in drawn.runs)
    counts = list(range(readings + 1))
    # In whatever order the counts are asked for.
    chance.shuffle(counts)
    for count, found in zip(counts, trend(drawn, counts), strict=True):
        assert_same(found, estimate(first_readings(drawn, count)))


def test_trend_of_a_long_series_across_the_merging() -> None:
    measured = every_morning(Kind.FREEZER, [round(0.8 * day + day % 3 * 0.05, 2) for day in range(80)])
    counts = [2, MOST_SPANS, MOST_SPANS + 1, MOST_SPANS + 2, 80]
    for count, found in zip(counts, trend(measured, counts), strict=True):
        assert found.readings == count
        assert_same(found, estimate(first_readings(measured, count)))


def test_trend_after_all_readings_is_the_estimate() -> None:
    measured = series_of(Kind.KITCHEN, [(0, 1.0), (1, 1.4), (2, 1.6)], [(2.1, 0.0), (3, 0.3)])
    (found,) = trend(measured, [5])
    assert_same(found, estimate(measured))
    assert trend(measured, []) == []


def test_first_readings_go_run_after_run() -> None:
    measured = series_of(Kind.KITCHEN, [(0, 1.0), (1, 1.4), (2, 1.6)], [(2.1, 0.0), (3, 0.3)])
    for count in range(8):
        cut = first_readings(measured, count)
        assert [len(run.snapshots) for run in cut.runs] == [min(count, 3), min(max(count - 3, 0), 2)]
        assert (cut.kind, cut.runs[0].energy_step_kwh) == (measured.kind, measured.runs[0].energy_step_kwh)
    assert first_readings(measured, -1).runs[0].snapshots == ()


def test_first_readings_are_first_in_time_not_in_the_list() -> None:
    measured = every_morning(Kind.FREEZER, [0.0, 0.8, 1.6, 2.4])
    run = measured.runs[0]
    backward = replace(measured, runs=(replace(run, snapshots=run.snapshots[::-1]),))
    assert first_readings(backward, 2) == first_readings(measured, 2)


def test_each_morning_of_a_steady_load_is_narrower_than_the_one_before() -> None:
    measured = every_morning(Kind.REFRIGERATOR, [round(1.1 * day, 2) for day in range(22)])
    halves = [answer.enough.half_width for answer in trend(measured, range(2, 23))]
    assert halves == sorted(halves, reverse=True)
    assert halves[-1] < halves[0] / 5.0

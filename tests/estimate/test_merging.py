"""Merging forgets readings in between and nothing else."""

from __future__ import annotations

import math
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.covariance import Scatter, scatter_of
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.merging import MOST_SPANS, merged
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import Span, spans_of
from tests.estimate import reference
from tests.estimate.measurements import MONDAY, answered, every_morning, read, series


def hourly(count: int) -> Series:
    """Give a measurement with a reading every hour and a half, from an exact zero."""
    moments = [MONDAY + timedelta(hours=1.5 * at) for at in range(count)]
    readings = tuple(Snapshot(moment, round(0.07 * at**1.01, 2)) for at, moment in enumerate(moments))
    return Series(Kind.REFRIGERATOR, (RunSeries(readings, exact_start=True),))


def sums(
    spans: tuple[Span, ...], joined: tuple[Span, ...]
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """Give the matrix S that adds up the spans inside each joined one."""
    return np.array(
        [
            [float(long.run == one.run and long.from_s <= one.from_s < long.to_s) for one in spans]
            for long in joined
        ]
    )


def assert_summed(
    whole: Scatter, parts: Scatter, s: np.ndarray[tuple[int, int], np.dtype[np.float64]]
) -> None:
    """Check that every vector is S times and every matrix S · S' of the parts'."""
    assert whole.days == pytest.approx(s @ parts.days)
    assert whole.energy_kwh == pytest.approx(s @ parts.energy_kwh, abs=1e-9)
    assert whole.walk == pytest.approx(s @ parts.walk @ s.T, abs=1e-9)
    assert whole.habit == pytest.approx(s @ parts.habit @ s.T, abs=1e-9)
    assert whole.display_kwh2 == pytest.approx(s @ parts.display_kwh2 @ s.T, abs=1e-12)


def without_middles(measured: Series, joined: tuple[Span, ...]) -> Series:
    """Give the series with those readings alone at which a joined span begins or ends."""
    kept = {(one.run, end) for one in joined for end in (one.from_s, one.to_s)}
    runs = [
        RunSeries(
            tuple(one for one in run.snapshots if (number, one.taken_at.timestamp()) in kept),
            exact_start=run.exact_start,
        )
        for number, run in enumerate(measured.runs)
    ]
    return Series(measured.kind, tuple(runs))


@given(series(), st.integers(1, 12))
def test_the_answer_is_that_of_the_sums(drawn: Series, most: int) -> None:
    spans = spans_of(drawn)
    joined = merged(spans, most)
    assert len(joined) <= max(most, len({span.run for span in spans}))
    defaults = defaults_for(drawn.kind)
    assert_summed(scatter_of(joined, defaults), scatter_of(spans, defaults), sums(spans, joined))


@given(series(), st.integers(1, 12))
def test_no_span_is_lost_or_counted_twice(drawn: Series, most: int) -> None:
    spans = spans_of(drawn)
    assert sums(spans, merged(spans, most)).sum(axis=0).tolist() == [1.0] * len(spans)


def test_few_spans_stay_as_they_are() -> None:
    spans = spans_of(hourly(MOST_SPANS + 1))
    assert merged(spans) == spans


def test_spans_of_one_day_are_joined_first() -> None:
    # 16 readings a day for ten days: 159 spans, one for each day from the first reading on.
    joined = merged(spans_of(hourly(160)))
    assert len(joined) == 10
    assert [span.days for span in joined[:-1]] == pytest.approx([1.0] * 9)


def test_joints_stay_where_they_are_while_a_series_grows() -> None:
    # A hundred days merge by two and a hundred and one as well: the pairs are the same ones.
    shorter, longer = (
        merged(spans_of(every_morning(Kind.FREEZER, [0.8 * day for day in range(days + 1)])))
        for days in (100, 101)
    )
    assert len(shorter) == 50
    assert longer[:50] == shorter


@pytest.mark.parametrize("count", [MOST_SPANS + 2, 150, 333])
def test_a_long_series_is_answered_as_if_read_less_often(count: int) -> None:
    long = hourly(count)
    joined = merged(spans_of(long))
    fewer = without_middles(long, joined)
    assert len(spans_of(fewer)) == len(joined) <= MOST_SPANS < len(spans_of(long))
    wanted, answer = answered(estimate(fewer)), answered(estimate(long))
    assert (answer.value, answer.low, answer.high) == pytest.approx(
        (wanted.value, wanted.low, wanted.high), rel=1e-9
    )


def test_more_runs_than_spans_are_answered_too() -> None:
    # Reset every second morning, a hundred times: no two spans can be joined, so sums over several runs
    # are reckoned with. Days of 0.8, 0.9 and 1.0 kWh in turn; what is lost is a little of the scatter.
    runs = tuple(
        RunSeries((read(2 * at, 0.0), read(2 * at + 1, 0.8 + at % 3 / 10.0)), exact_start=True)
        for at in range(100)
    )
    series = Series(Kind.FREEZER, runs)
    answer = estimate(series)
    assert (answer.spans, answer.readings) == (100, 200)
    wanted = reference.daily_kwh(series)
    assert answered(answer).value == pytest.approx(wanted[0], rel=2e-3)
    assert answered(answer).log_half_width == pytest.approx(0.5 * math.log(wanted[2] / wanted[1]), rel=0.2)

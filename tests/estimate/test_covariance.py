"""The covariances by hand: memory, time of day, weekend, and the display's shared errors."""

from __future__ import annotations

import math
from datetime import datetime, timedelta, timezone

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad

from hearthload.domain.appliance import Kind
from hearthload.estimate.covariance import (
    profile_variance,
    scatter_of,
    walk_variance,
    weekend_days,
    weekend_excess,
)
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import spans_of
from tests.estimate import reference
from tests.estimate.measurements import every_morning, series, series_of

# Local wall days: 1970-01-01 was a Thursday, so day 2 was a Saturday and day 4 a Monday.
SATURDAY, MONDAY_0 = 2.0, 4.0


def excess(from_d: float, to_d: float) -> float:
    return float(weekend_excess(np.array([from_d]), np.array([to_d]))[0])


@given(st.floats(0.01, 50.0))
def test_one_day_is_the_unit_whatever_the_memory(tau_d: float) -> None:
    assert float(walk_variance(np.array(1.0), tau_d)) == pytest.approx(1.0, rel=1e-12)


def test_without_memory_the_variance_grows_with_time() -> None:
    assert walk_variance(np.array([0.0, 0.5, -3.0]), 0.0).tolist() == [0.0, 0.5, 3.0]


@pytest.mark.parametrize("tau_d", [0.9, 4.0, 8.0])
@pytest.mark.parametrize("lag_d", [0.2, 2.0, 9.0])
def test_memory_is_the_double_integral_of_its_correlation(lag_d: float, tau_d: float) -> None:
    # Var(∫ over h) of a process of variance 1 with correlation e^(−|s−t|/τ), over that of one day. Below
    # the diagonal the integrand is smooth; the other half is the same by symmetry.
    def grown(upper: float) -> float:
        inner = dblquad(lambda t, s: math.exp(-(s - t) / tau_d), 0.0, upper, 0.0, lambda s: s)
        return 2.0 * float(inner[0])

    assert float(walk_variance(np.array(lag_d), tau_d)) == pytest.approx(grown(lag_d) / grown(1.0), rel=1e-7)


@pytest.mark.parametrize(
    ("lag_d", "smooth", "rough"),
    [
        # r = 0.5: 4·0.25·0.25 = 0.25 and 0.5·0.5 = 0.25, the only place where both shapes agree but zero.
        (0.5, 0.25, 0.25),
        # r = 0.25: r(1−r) = 3/16, and 4·(3/16)² = 9/64.
        (0.25, 9.0 / 64.0, 3.0 / 16.0),
        (6.25, 9.0 / 64.0, 3.0 / 16.0),
        # Backward by a quarter of a day is forward by three quarters.
        (-0.25, 9.0 / 64.0, 3.0 / 16.0),
        (0.0, 0.0, 0.0),
        (7.0, 0.0, 0.0),
    ],
)
def test_time_of_day_by_hand(lag_d: float, smooth: float, rough: float) -> None:
    assert float(profile_variance(np.array(lag_d), rough=False)) == pytest.approx(smooth)
    assert float(profile_variance(np.array(lag_d), rough=True)) == pytest.approx(rough)


@pytest.mark.parametrize(
    ("from_d", "to_d", "wanted"),
    [
        (MONDAY_0, MONDAY_0 + 7.0, 0.0),  # a whole week has its share: 2 − 2/7·7
        (MONDAY_0 + 0.3, MONDAY_0 + 14.3, 0.0),
        (MONDAY_0 + 1.0, MONDAY_0 + 2.0, -2.0 / 7.0),  # Tuesday
        (SATURDAY, SATURDAY + 1.0, 5.0 / 7.0),  # Saturday: 1 − 2/7
        (SATURDAY + 1.0, SATURDAY + 2.0, 5.0 / 7.0),  # Sunday
        (SATURDAY - 0.5, SATURDAY + 0.5, 3.0 / 14.0),  # Friday noon to Saturday noon: 1/2 − 2/7
        (SATURDAY + 1.75, SATURDAY + 2.25, 0.25 - 1.0 / 7.0),  # Sunday 18:00 to Monday 6:00
        (MONDAY_0, SATURDAY + 7.0, -10.0 / 7.0),  # Monday to Friday: 0 − 2/7·5
    ],
)
def test_weekend_contrast_of_a_known_week(from_d: float, to_d: float, wanted: float) -> None:
    for weeks in (0.0, 7.0 * 2900.0):
        assert excess(from_d + weeks, to_d + weeks) == pytest.approx(wanted, abs=1e-9)


@given(st.floats(0.0, 30000.0), st.floats(0.0, 60.0))
def test_weekend_days_are_counted_weekend_by_weekend(start_d: float, length_d: float) -> None:
    end_d = start_d + length_d
    assert excess(start_d, end_d) == pytest.approx(reference.weekend_contrast(start_d, end_d), abs=1e-9)
    gone = float(weekend_days(np.array(end_d)) - weekend_days(np.array(start_d)))
    assert -1e-9 <= gone <= length_d + 1e-9


def test_the_weekend_is_that_of_the_wall_clock() -> None:
    # Friday 2026-03-06 20:00 UTC to Saturday 20:00 UTC. Ten hours east it is Saturday 6:00 to Sunday 6:00,
    # all weekend: w = 1 − 2/7; on the world's clock it would be 20/24 − 2/7.
    east = timezone(timedelta(hours=10))
    friday = datetime(2026, 3, 7, 6, 0, tzinfo=east)
    run = RunSeries((Snapshot(friday, 1.0), Snapshot(friday + timedelta(days=1), 2.0)))
    defaults = defaults_for(Kind.WORK_ELECTRONICS)
    scatter = scatter_of(spans_of(Series(Kind.WORK_ELECTRONICS, (run,))), defaults)
    # A whole day has no time-of-day part, so the habit is kw²·w² alone.
    assert float(scatter.habit[0, 0]) == pytest.approx((0.61 * 5.0 / 7.0) ** 2)
    # It counts for less than a day: 1 − 0.7·5/7 of one.
    assert scatter.days.tolist() == pytest.approx([0.5])


def test_a_change_of_the_clocks_shortens_the_day_but_not_the_morning() -> None:
    # Saturday 7:00 to Sunday 7:00 in the night of summer time: 23 h for the memory, a whole day for habits.
    before = datetime(2026, 3, 28, 7, 0, tzinfo=timezone(timedelta(hours=1)))
    after = datetime(2026, 3, 29, 7, 0, tzinfo=timezone(timedelta(hours=2)))
    run = RunSeries((Snapshot(before, 1.0), Snapshot(after, 2.0)))
    scatter = scatter_of(spans_of(Series(Kind.KITCHEN, (run,))), defaults_for(Kind.KITCHEN))
    assert scatter.days.tolist() == pytest.approx([23.0 / 24.0])
    assert float(scatter.walk[0, 0, 0]) == pytest.approx(23.0 / 24.0)
    assert float(scatter.habit[0, 0]) == pytest.approx((0.25 * 5.0 / 7.0) ** 2)


def test_a_span_looked_ahead_from_the_middle_shares_its_reading_all_the_same() -> None:
    # As predict asks: the span ahead comes last, whichever reading it goes out from.
    spans = spans_of(every_morning(Kind.FREEZER, [1.0, 1.8, 2.5, 3.4, 4.1], step_kwh=0.1))
    order = [0, 1, 3, 2]
    ordered = scatter_of(spans, defaults_for(Kind.FREEZER))
    mixed = scatter_of([spans[at] for at in order], defaults_for(Kind.FREEZER))
    assert mixed.display_kwh2 == pytest.approx(ordered.display_kwh2[np.ix_(order, order)], abs=1e-15)
    assert mixed.walk == pytest.approx(ordered.walk[:, order][:, :, order], abs=1e-9)


def test_days_that_the_meter_counted_short_stay_days() -> None:
    # Saturday 10:00 to 10:10 by the clock, four minutes by the meter: 4 − 0.7·5/7·10 minutes would be less
    # than none. At least nine tenths of a weekend day's half are left.
    spans = spans_of(series_of(Kind.WORK_ELECTRONICS, [(5.125, 0.0), (5.125 + 10.0 / 1440.0, 0.01)]))
    short = [spans[0]._replace(days=4.0 / 1440.0)]
    scatter = scatter_of(short, defaults_for(Kind.WORK_ELECTRONICS))
    assert scatter.days.tolist() == pytest.approx([0.45 * 4.0 / 1440.0])


def test_two_mornings_by_hand() -> None:
    spans = spans_of(every_morning(Kind.REFRIGERATOR, [1.0, 1.9, 3.0], step_kwh=0.1))
    scatter = scatter_of(spans, defaults_for(Kind.REFRIGERATOR))
    assert scatter.days.tolist() == pytest.approx([1.0, 1.0])
    assert scatter.energy_kwh.tolist() == pytest.approx([0.9, 1.1])
    none, short, long, unused = scatter.walk
    assert not unused.any()  # a refrigerator has no memory of eight days
    assert none.tolist() == [[1.0, 0.0], [0.0, 1.0]]
    # Neighbouring days: ½(g(2) + g(0) − 2g(1)) = ½g(2) − 1. With τ = 0.9, e^(−1/0.9) = 0.3291930 and
    # e^(−2/0.9) = 0.1083680: g(2) = (2/0.9 − 1 + 0.1083680)/(1/0.9 − 1 + 0.3291930) = 3.021980. With
    # τ = 4, e^(−1/4) = 0.7788008 and e^(−1/2) = 0.6065307: g(2) = 0.1065307/0.0288008 = 3.698881.
    assert short[0] == pytest.approx([1.0, 0.510990], abs=2e-6)
    assert long[1] == pytest.approx([0.849440, 1.0], abs=2e-6)
    # Monday and Tuesday: kw²·(2/7)² everywhere, and whole days have no time-of-day part.
    assert scatter.habit.ravel().tolist() == pytest.approx([(0.04 * 2.0 / 7.0) ** 2] * 4)
    # The reading between enters both spans, with opposite signs.
    square = 0.1**2 / 12.0
    assert scatter.display_kwh2.tolist() == [
        pytest.approx([2.0 * square, -square]),
        pytest.approx([-square, 2.0 * square]),
    ]


def test_a_reset_shares_no_reading_but_shares_the_weather() -> None:
    spans = spans_of(series_of(Kind.CLIMATE, [(0, 1.0), (1, 4.0)], [(1, 0.0), (2, 3.0)]))
    scatter = scatter_of(spans, defaults_for(Kind.CLIMATE))
    assert scatter.display_kwh2[0, 1] == 0.0
    assert scatter.walk[2][0, 1] == pytest.approx(0.849440, abs=2e-6)


# Dense matrices of up to 24 spans cost time; the answers made of them are compared elsewhere too.
@settings(max_examples=40)
@given(series())
def test_matrices_are_those_of_the_page(drawn: Series) -> None:
    readings, row = reference.lay_out(drawn), reference.TABLE[drawn.kind]
    scatter = scatter_of(spans_of(drawn), defaults_for(drawn.kind))
    assert scatter.days == pytest.approx(readings.days)
    assert scatter.energy_kwh == pytest.approx(readings.energy_kwh, abs=1e-9)
    assert scatter.display_kwh2 == pytest.approx(readings.display_kwh2, abs=1e-15)
    for trial in reference.trials(readings, row)[::6]:
        walk = scatter.walk[(0.0, 0.9, 4.0, 8.0).index(trial.tau_d)]
        assert trial.c**2 * walk + scatter.habit == pytest.approx(trial.scatter, rel=1e-8, abs=1e-9)

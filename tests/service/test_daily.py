"""The daily table: spans cut at local midnights, nothing lost, and weekdays once the week is known."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, datetime, timedelta, timezone
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import DailyTable
from hearthload.estimate.daily import table_of
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import Span, spans_of
from hearthload.service.daily import daily_table
from hearthload.service.edits.readings import change_reading, remove_reading
from tests.service.building import a_house, furnished, read_on

WINTER, SUMMER = timezone(timedelta(hours=1)), timezone(timedelta(hours=2))
MONDAY = datetime(2026, 3, 2, tzinfo=WINTER)
"""A Monday's midnight."""

Typed = tuple[float, float]
"""Hours after `MONDAY` and displayed energy [kWh]."""


def spans(*runs: Sequence[Typed]) -> tuple[Span, ...]:
    made = tuple(
        RunSeries(tuple(Snapshot(MONDAY + timedelta(hours=hours), energy) for hours, energy in run))
        for run in runs
    )
    return spans_of(Series(Kind.NOT_SURE, made))


def table(*runs: Sequence[Typed]) -> DailyTable:
    return table_of(spans(*runs))


def days(made: DailyTable) -> list[tuple[int, float, float]]:
    """Give the day of the month, energy rounded to a thousandth, and hours of each day."""
    return [(row.day.day, round(row.energy_kwh, 6), round(row.hours, 6)) for row in made.days]


def test_a_span_within_one_day_is_that_day_s() -> None:
    made = table([(7.0, 1.0), (19.0, 1.6)])
    assert days(made) == [(2, 0.6, 12.0)]
    assert made.days[0].day == date(2026, 3, 2)
    assert not made.days[0].spread


def test_a_span_is_cut_at_midnight_by_the_hours() -> None:
    # From 6:00 to 6:00: 18 hours of the first day, 6 of the second; then 18 of the second and 6 of the third.
    made = table([(6.0, 1.0), (30.0, 3.4), (54.0, 4.2)])
    assert days(made) == [(2, 1.8, 18.0), (3, 0.6 + 0.6, 24.0), (4, 0.2, 6.0)]


def test_readings_at_midnight_keep_their_days_to_themselves() -> None:
    made = table([(0.0, 1.0), (24.0, 2.0), (48.0, 5.0)])
    assert days(made) == [(2, 1.0, 24.0), (3, 3.0, 24.0)]


def test_a_long_span_is_spread_evenly_and_said_to_be() -> None:
    made = table([(12.0, 0.0), (84.0, 7.2)])
    assert days(made) == [(2, 1.2, 12.0), (3, 2.4, 24.0), (4, 2.4, 24.0), (5, 1.2, 12.0)]
    assert all(row.spread for row in made.days)


def test_a_day_is_spread_as_soon_as_some_of_it_is() -> None:
    made = table([(0.0, 0.0), (12.0, 1.0), (48.1, 2.0), (60.0, 3.0)])
    assert [row.spread for row in made.days] == [True, True, True]
    assert [row.spread for row in table([(0.0, 0.0), (36.0, 1.0)]).days] == [False, False]


def test_several_spans_and_runs_of_one_day_are_added() -> None:
    made = table([(6.0, 1.0), (8.0, 1.5), (10.0, 1.6)], [(10.5, 0.0), (12.0, 0.4)])
    assert days(made) == [(2, 1.0, 5.5)]


def test_days_without_readings_between_two_runs_are_left_out() -> None:
    made = table([(6.0, 1.0), (12.0, 2.0)], [(78.0, 0.0), (84.0, 3.0)])
    assert days(made) == [(2, 1.0, 6.0), (5, 3.0, 6.0)]


@pytest.mark.parametrize("runs", [[], [[]], [[(7.0, 1.0)]]])
def test_without_spans_there_are_no_days(runs: list[list[Typed]]) -> None:
    assert table(*runs) == DailyTable((), ())


def test_a_day_is_what_the_clock_on_the_wall_calls_one() -> None:
    """In spring the clock goes forward: from midnight to midnight are 23 hours, shown as 24 on the wall."""
    readings = (
        Snapshot(datetime(2026, 3, 28, tzinfo=WINTER), 0.0),
        Snapshot(datetime(2026, 3, 29, tzinfo=WINTER), 1.0),
        Snapshot(datetime(2026, 3, 30, tzinfo=SUMMER), 3.0),
        Snapshot(datetime(2026, 3, 31, tzinfo=SUMMER), 6.0),
    )
    made = table_of(spans_of(Series(Kind.NOT_SURE, (RunSeries(readings),))))
    assert [(row.day.day, round(row.energy_kwh, 6)) for row in made.days] == [(28, 1.0), (29, 2.0), (30, 3.0)]


def test_far_west_the_day_is_theirs() -> None:
    west = timezone(timedelta(hours=-9))
    readings = (
        Snapshot(datetime(2026, 3, 1, 22, tzinfo=west), 0.0),
        Snapshot(datetime(2026, 3, 2, 2, tzinfo=west), 4.0),
    )
    made = table_of(spans_of(Series(Kind.NOT_SURE, (RunSeries(readings),))))
    assert days(made) == [(1, 2.0, 2.0), (2, 2.0, 2.0)]


typed = st.lists(
    st.tuples(st.integers(1, 6000), st.integers(0, 900)),
    min_size=0,
    max_size=12,
)


@settings(max_examples=40)
@given(st.lists(typed, min_size=1, max_size=3), st.integers(0, 1439))
def test_the_days_together_hold_exactly_what_the_spans_hold(
    drawn: list[list[tuple[int, int]]], from_min: int
) -> None:
    hours, runs = from_min / 60.0, []
    for run in drawn:
        readings = [(hours, 0.0)]
        for minutes, hundredths in run:
            hours += minutes / 60.0
            readings.append((hours, readings[-1][1] + hundredths / 100.0))
        runs.append(readings)
        hours += 0.5
    made = table(*runs)
    energy = math.fsum(later[1] - earlier[1] for run in runs for earlier, later in pairwise(run))
    length = math.fsum(later[0] - earlier[0] for run in runs for earlier, later in pairwise(run))
    assert math.fsum(row.energy_kwh for row in made.days) == pytest.approx(energy, abs=1e-9)
    assert math.fsum(row.hours for row in made.days) == pytest.approx(length, abs=1e-4)
    assert all(row.hours <= 24.0 + 1e-4 for row in made.days)
    assert [row.day for row in made.days] == sorted({row.day for row in made.days})


def fortnight(*, clock_h: float = 0.0, weeks: int = 2) -> list[Typed]:
    """Give a reading a day: on weekday n (Monday 0) 1 + n/10 kWh in the first week, then 0.2 more a week."""
    readings = [(clock_h, 0.0)]
    for day in range(7 * weeks):
        step = 1.0 + day % 7 / 10 + 0.2 * (day // 7)
        readings.append((clock_h + 24.0 * (day + 1), round(readings[-1][1] + step, 6)))
    return readings


def test_the_weekdays_of_a_fortnight() -> None:
    rows = table(fortnight()).weekdays
    assert [row.weekday for row in rows] == list(range(7))
    for number, row in enumerate(rows):
        assert row.low_kwh == pytest.approx(1.0 + number / 10)
        assert row.high_kwh == pytest.approx(1.2 + number / 10)
        assert row.mean_kwh == pytest.approx(1.1 + number / 10)
        assert row.days == pytest.approx(2.0)


def test_morning_readings_share_each_day_with_the_one_before() -> None:
    # Read at 6:00: a day is 6 hours of the step that ends on it and 18 of the step that begins on it.
    rows = table(fortnight(clock_h=6.0)).weekdays
    tuesday = rows[1]
    assert tuesday.low_kwh == pytest.approx(0.25 * 1.0 + 0.75 * 1.1)
    assert tuesday.high_kwh == pytest.approx(0.25 * 1.2 + 0.75 * 1.3)
    # The first Monday has 18 hours only: no whole day, but it counts in the mean; so does the last's 6 hours.
    monday = rows[0]
    assert monday.days == pytest.approx(2.0)
    assert monday.low_kwh == monday.high_kwh == pytest.approx(0.25 * 1.6 + 0.75 * 1.2)
    assert monday.mean_kwh == pytest.approx((0.75 * 1.0 + 0.25 * 1.6 + 0.75 * 1.2 + 0.25 * 1.8) / 2.0)


def test_a_week_is_no_pattern_yet() -> None:
    assert table(fortnight(weeks=1)).weekdays == ()
    assert table(fortnight()[:-1]).weekdays == ()
    assert len(table(fortnight(weeks=3)).weekdays) == 7


def test_a_skipped_day_says_nothing_of_weekdays() -> None:
    skipped = [reading for reading in fortnight() if reading[0] != 24.0 * 9]
    made = table(skipped)
    assert made.weekdays == ()
    assert sum(row.energy_kwh for row in made.days) == pytest.approx(skipped[-1][1])
    # Three weeks in which one Wednesday was skipped: the others are enough.
    longer = [reading for reading in fortnight(weeks=3) if reading[0] != 24.0 * 9]
    rows = table(longer).weekdays
    assert [round(row.days, 6) for row in rows] == [3.0, 2.0, 2.0, 3.0, 3.0, 3.0, 3.0]
    assert rows[1].high_kwh == pytest.approx(1.1 + 0.4)


def test_of_a_measurement_in_the_logbook(tmp_path: Path) -> None:
    def furnish_nothing(_: object) -> None:
        return None

    with a_house(tmp_path, furnished(furnish_nothing)) as house:
        stay = house.started(house.appliance(), house.meter(), energy_kwh=1.0)
        assert daily_table(house.logbook, stay) == DailyTable((), ())
        second = house.read(stay, 1, 3.4)
        # From 7:30 to 7:30: 16.5 of 24 hours on the first day.
        assert [round(row.energy_kwh, 6) for row in daily_table(house.logbook, stay).days] == [1.65, 0.75]
        assert daily_table(house.logbook, stay).days[0].day == date(2025, 3, 3)
        change_reading(house.logbook, second, read_on(1, 1.0))
        assert [row.energy_kwh for row in daily_table(house.logbook, stay).days] == [0.0, 0.0]
        remove_reading(house.logbook, second)
        assert daily_table(house.logbook, stay).days == ()


def test_nothing_is_lost_when_the_clock_goes_back() -> None:
    readings = (
        Snapshot(datetime(2026, 10, 25, 2, 30, tzinfo=SUMMER), 1.0),
        Snapshot(datetime(2026, 10, 25, 2, 20, tzinfo=WINTER), 1.5),
        Snapshot(datetime(2026, 10, 25, 8, tzinfo=WINTER), 2.0),
    )
    made = table_of(spans_of(Series(Kind.NOT_SURE, (RunSeries(readings),))))
    assert sum(row.energy_kwh for row in made.days) == pytest.approx(1.0)

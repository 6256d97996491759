"""Chart answers as plain rows of numbers, scales and words; ticks on local days."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.estimate.answers import Interval
from hearthload.service.answers import ChartData, SpanBar, TrendPoint
from hearthload.window.readings.charts_data import curves_of, nearest, read_out, scales_of, summary, values_at
from hearthload.window.readings.charts_ticks import time_ticks

DAY_S = 86400.0
START_S = 1_795_500_000.0  # 24 November 2026, in the morning
HERE = datetime.fromtimestamp(START_S).astimezone()


def chart(days: int, *, break_at: int | None = None) -> ChartData:
    """Give a chart of one reading a day at 40 W, perhaps with counters that began anew at one of them."""
    times = tuple(START_S + DAY_S * day for day in range(days))
    spans = tuple(
        SpanBar(times[day - 1], times[day], 40.0, 0.96, 24.0) for day in range(1, days) if day != break_at
    )
    trend = tuple(TrendPoint(span.to_s, Interval(0.96, 0.96 / 1.2, 0.96 * 1.2)) for span in spans)
    measurement = Measurement(1, 1, 1, MeasurementState.RUNNING, HERE, None, None, "")
    breaks = () if break_at is None else (times[break_at],)
    known = 0.96 if trend else None
    low, high = (None, None) if known is None else (known / 1.1, known * 1.1)
    return ChartData("Larder refrigerator", measurement, trend, low, high, spans, times, breaks)


@pytest.fixture
def berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setenv("TZ", "Europe/Berlin")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


def test_every_span_is_two_ends_and_every_reading_a_point() -> None:
    curves = curves_of(chart(5, break_at=2))
    assert curves.span_s[:2] == [START_S, START_S + DAY_S]
    assert len(curves.span_s) == len(curves.span_w) == 6
    assert curves.point_s == [START_S + DAY_S * day for day in range(5)]
    assert all(isinstance(value, float) for value in (*curves.trend_s, *curves.low, *curves.span_w))


def test_a_lone_estimate_has_a_band_as_wide_as_its_span() -> None:
    curves = curves_of(chart(2))
    assert curves.trend_s == [START_S + DAY_S]
    assert curves.band_s == [START_S, START_S + DAY_S]
    assert len(curves.low) == len(curves.high) == 2


def test_scales_hold_what_matters() -> None:
    scales = scales_of(chart(9))
    assert scales.from_s < START_S
    assert scales.to_s > START_S + 8 * DAY_S
    assert scales.watts[0] == 0.0
    assert scales.watts[1] > 40.0
    assert scales.daily[0] <= 0.8
    assert scales.daily[1] >= 0.96 * 1.2


def test_a_very_wide_first_band_does_not_flatten_the_rest() -> None:
    data = chart(3)
    wide = TrendPoint(data.trend[0].at_s, Interval(0.96, 0.05, 20.0))
    scales = scales_of(ChartData("x", data.measurement, (wide, data.trend[1]), 0.87, 1.06, *_rest(data)))
    assert scales.daily[1] < 3.0


def _rest(data: ChartData) -> tuple[tuple[SpanBar, ...], tuple[float, ...], tuple[float, ...]]:
    return data.spans, data.readings_s, data.breaks_s


def test_read_out_and_summary_are_words() -> None:
    data = chart(5, break_at=2)
    said = read_out(data, 1, HERE).replace("\u00a0", " ")
    assert "40 W on average, 0.960 kWh in 24 h" in said
    assert "daily average 0.96 ± 0.18 kWh" in said
    assert "began anew" in read_out(data, 2, HERE).replace("\u00a0", " ")
    assert "first reading" in read_out(data, 0, HERE).replace("\u00a0", " ")
    assert values_at(data, 1) == (0.96, 40.0)
    assert values_at(data, 0) == (None, 40.0)
    assert "5 readings over 4 days" in summary(data)
    assert "± 10 %" in summary(data)
    assert "no daily average" in summary(chart(1))


def test_nearest_reading() -> None:
    times = (0.0, 10.0, 20.0)
    assert [nearest(times, at) for at in (-5.0, 4.0, 6.0, 99.0)] == [0, 0, 1, 2]
    assert nearest((), 1.0) is None
    assert nearest(times, float("nan")) is None


@pytest.mark.usefixtures("berlin")
def test_day_ticks_stay_at_midnight_across_the_clock_change() -> None:
    start = datetime(2026, 10, 23, 7, 30).timestamp()  # noqa: DTZ001 (local time is meant)
    ticks = time_ticks(start, start + 5 * DAY_S, 8)
    assert [tick.text for tick in ticks] == ["24 Oct", "25 Oct", "26 Oct", "27 Oct", "28 Oct"]
    assert {datetime.fromtimestamp(tick.at_s).hour for tick in ticks} == {0}  # noqa: DTZ006


@pytest.mark.usefixtures("berlin")
@pytest.mark.parametrize(
    ("days", "first"), [(1.0, "09:00"), (8.0, "21 Oct"), (60.0, "26 Oct"), (730.0, "Jan 2027")]
)
def test_ticks_from_a_day_to_two_years(days: float, first: str) -> None:
    start = datetime(2026, 10, 20, 7, 30).timestamp()  # noqa: DTZ001 (local time is meant)
    ticks = time_ticks(start, start + days * DAY_S, 8)
    assert ticks[0].text == first
    assert 3 <= len(ticks) <= 8


@given(st.floats(0.0, 2e9), st.floats(60.0, 3e8), st.integers(1, 20))
def test_ticks_are_inside_in_order_and_never_too_many(start: float, span: float, most: int) -> None:
    ticks = time_ticks(start, start + span, most)
    places = [tick.at_s for tick in ticks]
    assert len(ticks) <= most
    assert places == sorted(set(places))
    assert all(start <= place <= start + span for place in places)

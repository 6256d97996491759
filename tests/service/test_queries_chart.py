"""Both charts of a measurement: the daily figure as it settled, the target band, watts span by span."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.errors import RefusedError
from hearthload.estimate.answers import Interval, Lack
from hearthload.estimate.api import estimate, first_readings
from hearthload.service import queries
from hearthload.service.edits.appliances import change_appliance
from hearthload.service.edits.measurements import plan_measurement, reset_meter, swap_meter
from hearthload.service.edits.readings import change_reading
from hearthload.service.thinning import NEWEST, OLDER, thinned_counts
from tests.service.made_household import Household, created, opened
from tests.service.made_stays import at, draft

# Small differences from one day to the next, so that no two estimates are alike.
DAYS_KWH = (1.0, 1.2, 0.9, 1.1, 1.3, 0.8, 1.0)


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Household]:
    with opened(tmp_path) as household:
        yield household


def week(house: Household) -> int:
    """Measure a refrigerator for a week."""
    energies = [round(sum(DAYS_KWH[:day]), 2) for day in range(len(DAYS_KWH) + 1)]
    return house.measured("Refrigerator", *energies)


def as_it_stood(house: Household, stay: int, readings: int) -> Interval | None:
    """Estimate anew from the first readings only."""
    return estimate(first_readings(house.logbook.estimates.series(stay), readings)).daily_kwh


def assert_same(one: Interval, other: Interval | None) -> None:
    """Check that two intervals are one up to rounding: the trend shares work, the other was made alone."""
    assert other is not None
    ends = [other.value, other.low, other.high]
    assert [one.value, one.low, one.high] == pytest.approx(ends, rel=1e-9)


def test_the_trend_is_the_estimate_as_it_stood_after_each_reading(house: Household) -> None:
    stay = week(house)
    trend = queries.chart(house.logbook, stay).trend
    # After the first reading there is no figure yet, so the trend begins at the second.
    assert [point.at_s for point in trend] == [at(24.0 * day).timestamp() for day in range(1, 8)]
    for readings, point in enumerate(trend, start=2):
        assert_same(point.daily_kwh, as_it_stood(house, stay, readings))


def test_the_trend_ends_at_the_roster_s_figure(house: Household) -> None:
    stay = week(house)
    (row,) = queries.roster(house.logbook, at(200.0))
    assert row.estimate is not None
    assert queries.chart(house.logbook, stay).trend[-1].daily_kwh == row.estimate.daily_kwh


def test_the_trend_keeps_up_with_every_edit(house: Household) -> None:
    stay = week(house)
    queries.chart(house.logbook, stay)
    edits = (
        lambda: house.read(stay, 192.0, 9.0),
        lambda: house.read(stay, 60.0, 2.6),
        lambda: change_reading(
            house.logbook, queries.reading_rows(house.logbook, stay)[-2].reading.id, draft(25.0, 1.4)
        ),
        lambda: change_appliance(house.logbook, 1, ApplianceDraft("Refrigerator", Kind.FREEZER)),
        house.logbook.history.undo,
        house.logbook.history.undo,
    )
    for edit in edits:
        edit()
        trend = queries.chart(house.logbook, stay).trend
        rows = queries.reading_rows(house.logbook, stay)[::-1]
        assert [point.at_s for point in trend] == [row.reading.taken_at.timestamp() for row in rows[1:]]
        for readings, point in enumerate(trend, start=2):
            assert_same(point.daily_kwh, as_it_stood(house, stay, readings))


@pytest.mark.parametrize("target", [None, 0.05, 0.5])
def test_the_target_band_lies_around_the_present_figure(house: Household, target: float | None) -> None:
    stay = house.start(house.appliance("Refrigerator", target=target), house.meter("Grey meter"), 0.0)
    for day in (1, 2, 3):
        house.read(stay, 24.0 * day, 1.1 * day)
    chart = queries.chart(house.logbook, stay)
    now = chart.trend[-1].daily_kwh.value
    # A refrigerator's own target is ± 10 %; the band has the same width on a log scale either way.
    wanted = 0.10 if target is None else target
    assert chart.target_high_kwh == pytest.approx(now * (1.0 + wanted))
    assert chart.target_low_kwh == pytest.approx(now / (1.0 + wanted))


@pytest.mark.parametrize(("target", "fits"), [(0.02, False), (0.6, True)])
def test_an_interval_no_wider_than_the_band_is_narrow_enough(
    house: Household, target: float, fits: bool
) -> None:
    stay = week(house)
    change_appliance(house.logbook, 1, ApplianceDraft("Refrigerator", Kind.REFRIGERATOR, target=target))
    chart = queries.chart(house.logbook, stay)
    enough = house.logbook.estimates.estimate(stay).enough
    assert chart.target_low_kwh is not None
    assert chart.target_high_kwh is not None
    now = chart.trend[-1].daily_kwh
    assert (now.high / now.low <= chart.target_high_kwh / chart.target_low_kwh) is fits
    assert (Lack.NARROWER not in enough.lacks) is fits


def test_watts_span_by_span(house: Household) -> None:
    chart = queries.chart(house.logbook, week(house))
    assert [(bar.from_s, bar.to_s) for bar in chart.spans] == [
        (at(24.0 * day).timestamp(), at(24.0 * day + 24.0).timestamp()) for day in range(7)
    ]
    # 1.0 kWh in 24 h are 41.67 W.
    assert [bar.power_w for bar in chart.spans] == [pytest.approx(kwh * 1000.0 / 24.0) for kwh in DAYS_KWH]
    assert [bar.energy_kwh for bar in chart.spans] == [pytest.approx(kwh) for kwh in DAYS_KWH]
    assert [bar.span_h for bar in chart.spans] == [pytest.approx(24.0)] * 7


def test_a_reset_and_a_swap_are_breaks_that_no_span_crosses(house: Household) -> None:
    stay = house.measured("Refrigerator", 50.0, 51.0)
    reset_meter(house.logbook, stay, draft(26.0, 0.0), exact_zero=True)
    house.read(stay, 38.0, 0.6)
    swap_meter(house.logbook, stay, house.meter("White meter"), draft(40.0, 7.0), exact_zero=False)
    house.read(stay, 64.0, 8.2)
    chart = queries.chart(house.logbook, stay)
    assert chart.breaks_s == (at(26.0).timestamp(), at(40.0).timestamp())
    assert [(bar.from_s, bar.to_s) for bar in chart.spans] == [
        (at(0.0).timestamp(), at(24.0).timestamp()),
        (at(26.0).timestamp(), at(38.0).timestamp()),
        (at(40.0).timestamp(), at(64.0).timestamp()),
    ]
    assert chart.readings_s == tuple(at(hours).timestamp() for hours in (0.0, 24.0, 26.0, 38.0, 40.0, 64.0))
    # The first readings of the new runs add no span, and so no other figure.
    assert_same(chart.trend[1].daily_kwh, chart.trend[0].daily_kwh)


def test_one_reading_is_a_chart_without_a_figure(house: Household) -> None:
    chart = queries.chart(house.logbook, house.measured("Refrigerator", 50.0))
    assert chart.appliance_name == "Refrigerator"
    assert chart.readings_s == (at(0.0).timestamp(),)
    assert (chart.trend, chart.spans, chart.breaks_s) == ((), (), ())
    assert (chart.target_low_kwh, chart.target_high_kwh) == (None, None)


def test_a_plan_is_an_empty_chart(house: Household) -> None:
    plan = created(plan_measurement(house.logbook, house.appliance("Refrigerator"), None))
    chart = queries.chart(house.logbook, plan)
    assert chart.measurement.id == plan
    assert (chart.trend, chart.spans, chart.readings_s, chart.breaks_s) == ((), (), (), ())
    with pytest.raises(RefusedError, match="no measurement number 99"):
        queries.chart(house.logbook, 99)


def test_a_long_measurement_s_trend_stops_at_thinned_readings(house: Household) -> None:
    readings = NEWEST + OLDER + 5
    # Twice a day from 50 days before the first morning, so that all of it has been by now.
    stay = house.start(house.appliance("Refrigerator"), house.meter("Grey meter"), -1260.0)
    for number in range(1, readings):
        house.read(stay, -1260.0 + 12.0 * number, 0.5 * number)
    chart = queries.chart(house.logbook, stay)
    counts = thinned_counts(readings)
    assert len(chart.readings_s) == readings
    assert [point.at_s for point in chart.trend] == [
        chart.readings_s[count - 1] for count in counts if count > 1
    ]
    for count, point in list(zip([count for count in counts if count > 1], chart.trend, strict=True))[::20]:
        assert_same(point.daily_kwh, as_it_stood(house, stay, count))


def test_a_span_that_only_its_rounding_could_have_made_has_no_bar(house: Household) -> None:
    meter = house.meter("Grey meter", energy_step_kwh=0.1)
    stay = house.start(house.appliance("Refrigerator"), meter, 0.0, 0.0)
    for hours, energy_kwh in ((24.0, 0.9), (24.1, 1.0), (27.1, 1.0), (48.0, 1.8)):
        house.read(stay, hours, energy_kwh)
    chart = queries.chart(house.logbook, stay)
    # Six minutes of one step say nothing; neither do three hours without one, which could hold half of it.
    assert [round(bar.span_h, 1) for bar in chart.spans] == [24.0, 20.9]
    assert len(chart.readings_s) == 5


def test_a_short_span_that_tells_something_keeps_its_bar(house: Household) -> None:
    stay = house.start(house.appliance("Kettle"), house.meter("Grey meter", energy_step_kwh=0.01), 0.0, 0.0)
    for hours, energy_kwh in ((24.0, 1.0), (24.1, 1.2), (27.1, 1.2)):
        house.read(stay, hours, energy_kwh)
    bars = queries.chart(house.logbook, stay).spans
    assert [round(bar.power_w) for bar in bars] == [42, 2000, 0]

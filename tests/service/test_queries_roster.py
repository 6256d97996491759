"""The roster: which measurement speaks, whether it was read today, and the estimate beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.estimate.api import estimate
from hearthload.service import queries
from hearthload.service.edits.appliances import change_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import (
    finish_measurement,
    plan_measurement,
    set_aside_measurement,
    start_measurement,
)
from hearthload.service.edits.meters import change_meter
from hearthload.service.edits.readings import add_reading, remove_reading
from hearthload.service.logbook import create_logbook
from tests.service.made_household import Household, created, opened
from tests.service.made_stays import NOW, at


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Household]:
    with opened(tmp_path) as household:
        yield household


def finished(house: Household, appliance_id: int, meter_id: int, hours: float, days: int = 2) -> int:
    """Measure an appliance from a time on and finish."""
    stay = house.start(appliance_id, meter_id, hours, 0.0)
    for day in range(1, days + 1):
        house.read(stay, hours + 24.0 * day, float(day))
    finish_measurement(house.logbook, stay, at(hours + 24.0 * days))
    return stay


def test_without_a_measurement_there_is_only_the_appliance(house: Household) -> None:
    appliance_id = house.appliance("Router", Kind.ALWAYS_ON)
    row = house.row(appliance_id)
    assert (row.appliance.id, row.appliance.name) == (appliance_id, "Router")
    assert (row.measurement, row.state, row.meter, row.estimate, row.last_reading_at) == (None,) * 5
    assert row.read_today is False


def test_every_appliance_is_there_by_name_whatever_the_case(house: Household) -> None:
    for name in ("washer", "Router", "Ålamp", "barn freezer", "Über-lamp", "Toaster"):
        house.appliance(name)
    names = [row.appliance.name for row in queries.roster(house.logbook, NOW)]
    assert names[:4] == ["barn freezer", "Router", "Toaster", "washer"]
    assert set(names[4:]) == {"Ålamp", "Über-lamp"}
    assert [appliance.name for appliance in queries.appliances(house.logbook)] == names


def test_a_row_by_itself_is_the_row_of_the_roster(house: Household) -> None:
    house.measured("Larder refrigerator", 0.0, 1.0, 2.1)
    house.measured("Router", 0.0, 0.2, kind=Kind.ALWAYS_ON)
    for row in queries.roster(house.logbook, NOW):
        assert queries.roster_row(house.logbook, row.appliance.id, NOW) == row


def test_a_row_of_nothing_is_refused(house: Household) -> None:
    with pytest.raises(RefusedError, match="no appliance number 7"):
        queries.roster_row(house.logbook, 7, NOW)


def test_the_running_measurement_speaks_before_all_others(house: Household) -> None:
    appliance_id, meter_id = house.appliance("Freezer"), house.meter("Grey meter")
    finished(house, appliance_id, meter_id, 0.0)
    running = house.start(appliance_id, meter_id, 100.0)
    plan_measurement(house.logbook, appliance_id, None)
    row = house.row(appliance_id)
    assert row.measurement is not None
    assert (row.measurement.id, row.state) == (running, MeasurementState.RUNNING)
    assert row.meter is not None
    assert row.meter.name == "Grey meter"
    assert row.last_reading_at == at(100.0)


def test_of_finished_measurements_the_one_that_ended_last_speaks(house: Household) -> None:
    appliance_id, meter_id = house.appliance("Freezer"), house.meter("Grey meter")
    later = finished(house, appliance_id, meter_id, 100.0)
    # Entered afterwards from an old notebook: a later entry, but an earlier measurement.
    earlier = finished(house, appliance_id, meter_id, 0.0)
    plan_measurement(house.logbook, appliance_id, meter_id)
    assert earlier > later
    row = house.row(appliance_id)
    assert row.measurement is not None
    assert (row.measurement.id, row.state) == (later, MeasurementState.FINISHED)


def test_a_plan_speaks_before_what_was_set_aside(house: Household) -> None:
    appliance_id, meter_id = house.appliance("Freezer"), house.meter("Grey meter")
    aside = finished(house, appliance_id, meter_id, 0.0)
    set_aside_measurement(house.logbook, aside)
    plan = created(plan_measurement(house.logbook, appliance_id, None))
    row = house.row(appliance_id)
    assert row.measurement is not None
    assert (row.measurement.id, row.state, row.meter) == (plan, MeasurementState.PLANNED, None)
    assert (row.estimate, row.last_reading_at, row.read_today) == (None, None, False)


def test_what_was_set_aside_is_shown_but_says_nothing(house: Household) -> None:
    appliance_id, meter_id = house.appliance("Freezer"), house.meter("Grey meter")
    for hours in (100.0, 0.0):
        set_aside_measurement(house.logbook, finished(house, appliance_id, meter_id, hours))
    row = house.row(appliance_id)
    assert row.state is MeasurementState.SET_ASIDE
    assert row.last_reading_at == at(148.0)  # the one that ended last: 100 h and two days
    assert row.estimate is None


# A house one hour ahead of UTC, from the end of summer time on.
WINTER, SUMMER, WEST = (timezone(timedelta(hours=hours)) for hours in (1, 2, -5))


@pytest.mark.parametrize(
    ("taken", "now", "today"),
    [
        pytest.param(
            datetime(2026, 11, 23, 23, 59, tzinfo=WINTER),
            datetime(2026, 11, 24, 0, 1, tzinfo=WINTER),
            False,
            id="two minutes across midnight",
        ),
        pytest.param(
            datetime(2026, 11, 24, 0, 0, tzinfo=WINTER),
            datetime(2026, 11, 24, 23, 59, tzinfo=WINTER),
            True,
            id="from the first minute to the last",
        ),
        pytest.param(
            # 23:10 UTC of the day before, and 06:30 UTC: two days in UTC, one at home.
            datetime(2026, 11, 24, 0, 10, tzinfo=WINTER),
            datetime(2026, 11, 24, 7, 30, tzinfo=WINTER),
            True,
            id="two UTC days, one day at home",
        ),
        pytest.param(
            # 22:50 UTC and 23:10 UTC of one day: one day in UTC, two at home.
            datetime(2026, 11, 23, 23, 50, tzinfo=WINTER),
            datetime(2026, 11, 24, 0, 10, tzinfo=WINTER),
            False,
            id="one UTC day, two days at home",
        ),
        pytest.param(
            # The night the clocks go back: 22:30 UTC of the 24th is 00:30 on the 25th, in summer time still.
            datetime(2026, 10, 25, 0, 30, tzinfo=SUMMER),
            datetime(2026, 10, 25, 7, 30, tzinfo=WINTER),
            True,
            id="the night the clocks go back",
        ),
        pytest.param(
            datetime(2026, 10, 24, 23, 59, tzinfo=SUMMER),
            datetime(2026, 10, 25, 0, 0, tzinfo=WINTER),
            False,
            id="the evening before it",
        ),
        pytest.param(
            datetime(2026, 11, 24, 7, 30, tzinfo=WEST),
            datetime(2026, 11, 24, 20, 0, tzinfo=WEST),
            True,
            id="west of Greenwich, into the next UTC day",
        ),
    ],
)
def test_read_today_is_about_the_local_day(
    tmp_path: Path, taken: datetime, now: datetime, today: bool
) -> None:
    with create_logbook(tmp_path / "day.hearthload", clock=lambda: now) as logbook:
        house = Household(logbook)
        appliance_id = house.appliance("Freezer")
        first = ReadingDraft(taken - timedelta(days=3), 0.0)
        stay = created(
            start_measurement(logbook, appliance_id, house.meter("Grey meter"), first, exact_zero=False)
        )
        assert queries.roster_row(logbook, appliance_id, now).read_today is False
        add_reading(logbook, stay, ReadingDraft(taken, 3.0))
        assert queries.roster_row(logbook, appliance_id, now).read_today is today
        assert [stop.read_today for stop in queries.morning_round(logbook, now)] == [today]


def test_the_estimate_is_that_of_the_speaking_measurement_s_readings(house: Household) -> None:
    stay = house.measured("Larder refrigerator", 3.0, 4.0, 5.1, 6.0)
    (row,) = queries.roster(house.logbook, NOW)
    assert row.estimate is not None
    assert row.estimate == estimate(house.logbook.estimates.series(stay))
    # Plain energy over time: 3.0 kWh in three days.
    assert row.estimate.total_per_day_kwh == pytest.approx(1.0)
    assert (row.estimate.readings, row.estimate.spans) == (4, 3)
    assert row.estimate.days == pytest.approx(3.0)


def test_one_reading_has_an_estimate_without_a_figure(house: Household) -> None:
    house.measured("Larder refrigerator", 3.0)
    (row,) = queries.roster(house.logbook, NOW)
    assert row.estimate is not None
    assert (row.estimate.readings, row.estimate.daily_kwh) == (1, None)


def test_an_estimate_stays_the_same_object_until_something_it_rests_on_changes(house: Household) -> None:
    house.measured("Larder refrigerator", 3.0, 4.0, 5.1)
    other = house.measured("Freezer", 3.0, 4.0)
    known = {row.appliance.name: row for row in queries.roster(house.logbook, NOW)}
    larder = known["Larder refrigerator"]

    def again() -> bool:
        return house.row(larder.appliance.id).estimate is larder.estimate

    assert larder.estimate is not None
    assert again()
    house.read(other, 48.0, 5.0)
    change_appliance(
        house.logbook, larder.appliance.id, ApplianceDraft("Cold box", Kind.REFRIGERATOR, note="new")
    )
    set_household(house.logbook, replace(queries.household(house.logbook), price_per_kwh=0.3))
    assert larder.measurement is not None
    finish_measurement(house.logbook, larder.measurement.id, at(60.0))
    assert again()
    assert house.row(known["Freezer"].appliance.id).estimate != known["Freezer"].estimate


def test_an_estimate_is_made_anew_when_what_it_rests_on_changes(house: Household) -> None:
    stay = house.measured("Larder refrigerator", 3.0, 4.0, 5.1)
    (row,) = queries.roster(house.logbook, NOW)
    seen = [row.estimate]

    def differs() -> bool:
        seen.append(house.row(row.appliance.id).estimate)
        return seen[-1] not in seen[:-1]

    reading_id = house.read(stay, 72.0, 6.3)
    assert differs()
    change_appliance(house.logbook, row.appliance.id, ApplianceDraft("Larder refrigerator", Kind.FREEZER))
    assert differs()
    assert row.meter is not None
    change_meter(house.logbook, row.meter.id, MeterDraft(row.meter.name, gain_percent=5.0))
    assert differs()
    remove_reading(house.logbook, reading_id)
    assert differs()
    # Everything taken back: the estimate of the beginning again.
    for _ in range(4):
        house.logbook.history.undo()
    assert house.row(row.appliance.id).estimate == row.estimate

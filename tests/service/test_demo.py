"""The demo as a logbook: what a person finds in it, and that it holds what her own typing would have made."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from hearthload.domain.measurement import MeasurementState, RunCause
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.errors import KnownError
from hearthload.service import queries
from hearthload.service.answers import Weight
from hearthload.service.checks import check_reading
from hearthload.service.demo import build_demo
from hearthload.service.demo.mornings import simulate
from hearthload.service.demo.stays import PLANNED, SEED, STAYS
from hearthload.service.demo.world import local_moment
from hearthload.service.logbook import Logbook, open_logbook

TODAY = date(2025, 11, 26)
DRAFT_FIELDS = [name for name in ReadingDraft.__slots__ if name != "taken_at"]


@pytest.fixture
def now() -> datetime:
    return local_moment(TODAY, 9.0)


@pytest.fixture
def demo(tmp_path: Path, now: datetime) -> Iterator[Logbook]:
    with build_demo(tmp_path / "demo.hearthload", TODAY, now) as logbook:
        yield logbook


def draft_of(reading: Reading) -> ReadingDraft:
    values = {name: getattr(reading, name) for name in DRAFT_FIELDS}
    return ReadingDraft(taken_at=reading.taken_at, **values)


def test_every_state_is_there(demo: Logbook, now: datetime) -> None:
    rows = queries.roster(demo, now)
    states = [row.state for row in rows]
    assert states.count(MeasurementState.RUNNING) == 2
    assert states.count(MeasurementState.FINISHED) == 6
    assert states.count(MeasurementState.PLANNED) == len(PLANNED)
    assert states.count(MeasurementState.SET_ASIDE) == 1
    assert None in states
    assert all(row.measurement is None for row in rows if row.appliance.hard_wired)
    assert any(row.appliance.hard_wired for row in rows)
    assert [row.appliance.name for row in rows if row.appliance.medical] == ["Medicine refrigerator"]


def test_the_morning_round_has_one_stop_done_and_one_to_do(demo: Logbook, now: datetime) -> None:
    assert sorted(stop.read_today for stop in queries.morning_round(demo, now)) == [False, True]


def test_before_breakfast_the_whole_round_is_to_do(tmp_path: Path) -> None:
    early = local_moment(TODAY, 5.0)
    with build_demo(tmp_path / "early.hearthload", TODAY, early) as logbook:
        assert [stop.read_today for stop in queries.morning_round(logbook, early)] == [False, False]


def test_steady_appliances_are_well_measured_and_others_say_what_they_lack(
    demo: Logbook, now: datetime
) -> None:
    rows = {row.appliance.name: row for row in queries.roster(demo, now)}
    enough = {name: row.estimate.enough for name, row in rows.items() if row.estimate is not None}
    assert {name for name, said in enough.items() if said.well_measured} >= {
        "Router",
        "Larder refrigerator",
        "Barn freezer",
        "Medicine refrigerator",
    }
    assert enough["Work laptop and screen"].lacks
    assert enough["Boiler with circulator"].lacks


def test_no_reading_would_be_stopped_if_it_were_checked_again(demo: Logbook, now: datetime) -> None:
    held, checked = demo.held(), 0
    for measurement in held.measurements.values():
        record = held.record(measurement.id)
        appliance = held.appliance(measurement.appliance_id)
        meters = {run.id: held.meter(run.meter_id) for run in record.runs}
        for reading in record.readings:
            meter = meters[reading.run_id]
            complaints = check_reading(record, meter, appliance, draft_of(reading), now, ignoring=reading.id)
            assert [complaint for complaint in complaints if complaint.weight is Weight.STOPS] == []
            checked += 1
    assert checked > 60


def test_what_was_typed_is_what_is_kept(demo: Logbook, now: datetime) -> None:
    deeds = simulate(TODAY, now, SEED).deeds
    held = demo.held()
    names = {appliance.id: appliance.name for appliance in held.appliances.values()}
    kept = {
        names[measurement.appliance_id]: held.record(measurement.id)
        for measurement in held.measurements.values()
    }
    for stay in STAYS:
        typed = [deed for deed in deeds if deed.stay is stay]
        record = kept[stay.appliance]
        assert [draft_of(reading) for reading in record.readings] == [deed.draft for deed in typed]
        begun = [deed for deed in typed if deed.act.value in {"start", "reset"}]
        assert [run.began_at for run in record.runs] == [deed.draft.taken_at for deed in begun]
        assert [run.exact_start for run in record.runs] == [deed.exact_zero for deed in begun]
        assert {run.meter_id for run in record.runs} == {record.measurement.meter_id}
        if stay.until_day is not None:
            assert record.measurement.finished_at == typed[-1].draft.taken_at


def test_both_meters_were_begun_anew_once(demo: Logbook) -> None:
    held = demo.held()
    resets = [run for run in held.runs.values() if run.cause is RunCause.RESET]
    assert {held.meter(run.meter_id).name for run in resets} == {"White meter", "Old meter"}


def test_there_is_nothing_to_undo(demo: Logbook) -> None:
    assert demo.history.undo_name is None
    assert demo.history.redo_name is None


def test_it_is_a_logbook_like_any_other(demo: Logbook, now: datetime) -> None:
    rows = queries.roster(demo, now)
    demo.close()
    with open_logbook(demo.path) as again:
        assert not again.read_only
        assert queries.roster(again, now) == rows


@pytest.mark.parametrize(
    "today", [date(2024, 2, 29), date(2025, 3, 31), date(2025, 10, 27), date(2026, 1, 1)]
)
def test_it_can_be_built_for_any_day(tmp_path: Path, today: date) -> None:
    with build_demo(tmp_path / "demo.hearthload", today) as logbook:
        last = max(
            reading.taken_at
            for measurement in logbook.held().measurements.values()
            for reading in logbook.held().record(measurement.id).readings
        )
    assert timedelta(0) <= local_moment(today, 21.0) - last < timedelta(days=1)


def test_a_file_that_is_there_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "mine.hearthload"
    path.write_bytes(b"my own notes")
    with pytest.raises(KnownError):
        build_demo(path, TODAY)
    assert path.read_bytes() == b"my own notes"

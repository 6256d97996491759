"""Readings from a CSV file: whatever a spreadsheet makes of it, the same readings come out."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.service.exchange.estimate_csv import read_estimate_csv

HEADER = "appliance,kind,taken_at,energy_kwh"
PLAIN = f"""{HEADER}
Router,always_on,2026-11-23T07:30+01:00,5.0
Router,always_on,2026-11-24T07:30+01:00,5.2
"""
AHEAD = timezone(timedelta(hours=1))
ROUTER = Series(
    Kind.ALWAYS_ON,
    (
        RunSeries(
            (
                Snapshot(datetime(2026, 11, 23, 7, 30, tzinfo=AHEAD), 5.0),
                Snapshot(datetime(2026, 11, 24, 7, 30, tzinfo=AHEAD), 5.2),
            )
        ),
    ),
)


def read(folder: Path, text: str | bytes) -> list[tuple[str, Series]]:
    """Lay down a file and read it."""
    path = folder / "readings.csv"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return read_estimate_csv(path)


def run_of(folder: Path, text: str) -> RunSeries:
    """Give the one run of the one appliance in a file."""
    ((_, series),) = read(folder, text)
    (run,) = series.runs
    return run


def test_the_plainest_file(tmp_path: Path) -> None:
    assert read(tmp_path, PLAIN) == [("Router", ROUTER)]


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(PLAIN.removesuffix("\n"), id="no line end at the end"),
        pytest.param(PLAIN.replace("\n", "\r\n"), id="line ends of two characters"),
        pytest.param(PLAIN.replace("\n", "\r"), id="carriage returns alone"),
        pytest.param("\ufeff" + PLAIN, id="byte order mark"),
        pytest.param(
            "\ufeff" + PLAIN.replace(HEADER, '"appliance","kind","taken_at","energy_kwh"'), id="quoted header"
        ),
        pytest.param("\n\n" + PLAIN.replace("\n", "\n\n") + " \n,,,\n", id="empty lines"),
        pytest.param(PLAIN.replace(",", " , "), id="blanks around the commas"),
        pytest.param(PLAIN.replace(HEADER, "Appliance,KIND,Taken_At,Energy_kWh"), id="case of the columns"),
        pytest.param(PLAIN.replace("always_on", "Always_On", 1), id="case of the kind"),
        pytest.param(PLAIN.replace("T07:30+01:00", " 07:30:00.000+01:00"), id="a blank for the T"),
        pytest.param(PLAIN.replace("T07:30+01:00", "T0730+0100"), id="basic times"),
        pytest.param(PLAIN.replace("T07:30+01:00", "T06:30Z"), id="UTC"),
        pytest.param(PLAIN.replace("5.2", "+5.20"), id="a plus and a zero"),
        pytest.param(PLAIN.replace("5.2", "52e-1"), id="an exponent"),
        pytest.param(PLAIN.replace("\n", ",\n"), id="a comma too many"),
        pytest.param(PLAIN.replace("\n", ",,,,,,\n"), id="columns without a name"),
        pytest.param(PLAIN.replace("Router", '"Router"').replace("5.2", '"5.2"'), id="quotation marks"),
    ],
)
def test_the_same_readings_however_the_file_is_written(tmp_path: Path, text: str) -> None:
    assert read(tmp_path, text) == [("Router", ROUTER)]


def test_columns_may_stand_in_any_order(tmp_path: Path) -> None:
    cells = [line.split(",") for line in PLAIN.splitlines()]
    for order in ([3, 2, 1, 0], [2, 0, 3, 1], [1, 3, 0, 2]):
        text = "\n".join(",".join(line[column] for column in order) for line in cells)
        assert read(tmp_path, text) == [("Router", ROUTER)]


def test_columns_that_are_not_known_are_passed_over(tmp_path: Path) -> None:
    text = f"""note,{HEADER},room,note
not a number,Router,always_on,2026-11-23T07:30+01:00,5.0,"Study, upstairs",x
,Router,always_on,2026-11-24T07:30+01:00,5.2
"""
    assert read(tmp_path, text) == [("Router", ROUTER)]


@pytest.mark.parametrize(
    ("cell", "name"),
    [
        ("NA", "NA"),
        ("nan", "nan"),
        ("None", "None"),
        ("NULL", "NULL"),
        ("007", "007"),
        ("1e3", "1e3"),
        ("true", "true"),
        ("2026-11-24", "2026-11-24"),
        ('"Lamp, hall"', "Lamp, hall"),
        ('"The ""cold"" box"', 'The "cold" box'),
        ('6" pump', '6" pump'),
        ('"Lamp\nhall"', "Lamp\nhall"),
        ("=1+1", "=1+1"),
        ("#1", "#1"),
        ("Kühlschrank 冷", "Kühlschrank 冷"),
        ("  Barn  freezer ", "Barn  freezer"),
    ],
)
def test_a_name_is_text_whatever_it_looks_like(tmp_path: Path, cell: str, name: str) -> None:
    assert read(tmp_path, PLAIN.replace("Router", cell)) == [(name, ROUTER)]


def test_appliances_come_in_the_order_of_the_file(tmp_path: Path) -> None:
    lines = [
        f"{name},freezer,2026-11-2{day}T07:30+01:00,{day}"
        for day in (3, 4)
        for name in ("Zinc", "alder", "Birch", "ALDER", "007")
    ]
    found = read(tmp_path, "\n".join([HEADER, *lines]))
    # Names that differ in case only are two appliances here: nothing is guessed.
    assert [name for name, _ in found] == ["Zinc", "alder", "Birch", "ALDER", "007"]
    assert all([s.energy_kwh for s in series.runs[0].snapshots] == [3.0, 4.0] for _, series in found)


def test_a_header_alone_holds_no_appliance(tmp_path: Path) -> None:
    assert read(tmp_path, HEADER) == []
    assert read(tmp_path, HEADER + "\n\n,,,\n") == []


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_can_be_written(tmp_path: Path, kind: Kind) -> None:
    ((_, series),) = read(tmp_path, PLAIN.replace("always_on", kind.value))
    assert series.kind is kind


FULL = f"""{HEADER},elapsed_h,power_w,uses,run,energy_step_kwh,elapsed_step_h,gain_percent,exact_start
Freezer,freezer,2026-11-23T07:30+01:00,0,0,,,1,0.001,0.1,2.5,1
Freezer,freezer,2026-11-24T07:30+01:00,0.912,24.0,71.5,3,1,,,,
Freezer,freezer,2026-11-24T08:00+01:00,4.0,100,,,2,0.1,,1,
Freezer,freezer,2026-11-25T08:00+01:00,4.9,124.1,,0,2,,,,0
"""


def test_every_column_finds_its_place(tmp_path: Path) -> None:
    ((name, series),) = read(tmp_path, FULL)
    first = RunSeries(
        (
            Snapshot(datetime(2026, 11, 23, 7, 30, tzinfo=AHEAD), 0.0, 0.0),
            Snapshot(datetime(2026, 11, 24, 7, 30, tzinfo=AHEAD), 0.912, 24.0, 71.5, None, 3),
        ),
        energy_step_kwh=0.001,
        elapsed_step_h=0.1,
        gain_percent=2.5,
        exact_start=True,
    )
    second = RunSeries(
        (
            Snapshot(datetime(2026, 11, 24, 8, 0, tzinfo=AHEAD), 4.0, 100.0),
            Snapshot(datetime(2026, 11, 25, 8, 0, tzinfo=AHEAD), 4.9, 124.1, None, None, 0),
        ),
        energy_step_kwh=0.1,
        gain_percent=1.0,
    )
    assert (name, series) == ("Freezer", Series(Kind.FREEZER, (first, second)))


def test_what_is_not_said_of_a_meter_is_the_usual(tmp_path: Path) -> None:
    run = run_of(tmp_path, PLAIN)
    assert (run.energy_step_kwh, run.elapsed_step_h) == (0.01, 1 / 60)
    assert (run.gain_percent, run.exact_start) == (None, False)


def test_a_meter_s_nature_may_stand_on_any_row_of_its_run(tmp_path: Path) -> None:
    for place in (0, 1):
        cells = ["", ""]
        cells[place] = "0.1"
        lines = [line + f",{cell}" for line, cell in zip(PLAIN.splitlines()[1:], cells, strict=True)]
        assert run_of(tmp_path, "\n".join([f"{HEADER},energy_step_kwh", *lines])).energy_step_kwh == 0.1


@pytest.mark.parametrize(
    ("first", "second", "exact"),
    [
        ("1", "", True),
        ("1", "0", True),
        ("", "1", True),
        ("0", "0", False),
        ("", "", False),
        ("0", "", False),
    ],
)
def test_an_exact_start_is_what_the_rows_say(tmp_path: Path, first: str, second: str, exact: bool) -> None:
    text = f"""{HEADER},exact_start
Router,always_on,2026-11-23T07:30+01:00,0,{first}
Router,always_on,2026-11-24T07:30+01:00,0.2,{second}
"""
    assert run_of(tmp_path, text).exact_start is exact


def test_runs_come_by_their_numbers_and_without_one_all_is_one_run(tmp_path: Path) -> None:
    rows = [(1, 0.0, 20), (1, 1.0, 21), (3, 500.0, 22), (3, 501.0, 23), (7, 0.0, 24), (7, 1.0, 25)]
    lines = [f"Freezer,freezer,2026-11-{day}T07:30+01:00,{energy},{run}" for run, energy, day in rows]
    ((_, series),) = read(tmp_path, "\n".join([f"{HEADER},run", *reversed(lines)]))
    assert [[s.energy_kwh for s in run.snapshots] for run in series.runs] == [
        [0.0, 1.0],
        [500.0, 501.0],
        [0.0, 1.0],
    ]
    # An empty cell is run 0, the first.
    mixed = [lines[0].removesuffix(",1") + ",", *lines[2:4]]
    ((_, series),) = read(tmp_path, "\n".join([f"{HEADER},run", *mixed]))
    assert [len(run.snapshots) for run in series.runs] == [1, 2]


def test_a_new_run_may_begin_at_the_very_reading_of_the_old(tmp_path: Path) -> None:
    text = f"""{HEADER},run
Freezer,freezer,2026-11-23T07:30+01:00,4,1
Freezer,freezer,2026-11-24T07:30+01:00,5,1
Freezer,freezer,2026-11-24T07:30+01:00,0,2
"""
    ((_, series),) = read(tmp_path, text)
    assert [len(run.snapshots) for run in series.runs] == [2, 1]


def test_rows_in_any_order_are_the_same_readings(tmp_path: Path) -> None:
    header, *rows = (FULL + "Router,always_on,2026-11-23T09:00+01:00,7,,,,,,,,\n").splitlines()
    known = dict(read(tmp_path, "\n".join([header, *rows])))
    shuffler = random.Random(7)
    for _ in range(12):
        shuffler.shuffle(rows)
        assert dict(read(tmp_path, "\n".join([header, *rows]))) == known


def test_rows_of_one_instant_come_by_energy_and_then_by_hours(tmp_path: Path) -> None:
    cells = ["5.0,", "5.0,0", "5.0,0.1", "5.1,"]
    rows = [f"Router,always_on,2026-11-23T07:30+01:00,{cell}" for cell in cells]
    for order in ([0, 1, 2, 3], [3, 2, 1, 0], [2, 0, 3, 1]):
        run = run_of(tmp_path, "\n".join([f"{HEADER},elapsed_h", *(rows[place] for place in order)]))
        found = [(snapshot.energy_kwh, snapshot.elapsed_h) for snapshot in run.snapshots]
        assert found == [(5.0, None), (5.0, 0.0), (5.0, 0.1), (5.1, None)]


def test_times_are_put_in_order_by_the_moment_and_not_by_the_wall(tmp_path: Path) -> None:
    # 23:00 at five hours behind UTC is 04:00 UTC of the next day; 05:30 at one hour ahead is 04:30 UTC.
    text = f"""{HEADER}
Router,always_on,2026-11-24T05:30+01:00,5.2
Router,always_on,2026-11-23T23:00-05:00,5.1
Router,always_on,2026-11-24T04:45Z,5.3
"""
    snapshots = run_of(tmp_path, text).snapshots
    assert [snapshot.energy_kwh for snapshot in snapshots] == [5.1, 5.2, 5.3]
    assert [snapshot.taken_at.utcoffset() for snapshot in snapshots] == [
        timedelta(hours=-5),
        timedelta(hours=1),
        timedelta(0),
    ]


def test_times_without_offset_stay_as_written(tmp_path: Path) -> None:
    snapshots = run_of(tmp_path, PLAIN.replace("+01:00", "")).snapshots
    assert [snapshot.taken_at for snapshot in snapshots] == [
        datetime(2026, 11, 23, 7, 30, tzinfo=UTC),
        datetime(2026, 11, 24, 7, 30, tzinfo=UTC),
    ]


def test_each_appliance_may_have_offsets_or_not(tmp_path: Path) -> None:
    text = PLAIN + "Lamp,lamp_timer,2026-11-23T07:30,1\nLamp,lamp_timer,2026-11-24T07:30,1.1\n"
    assert [name for name, _ in read(tmp_path, text)] == ["Router", "Lamp"]

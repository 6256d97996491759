"""Bad input at the command line: one clear sentence each, nothing lost, nothing half-saved."""

from __future__ import annotations

import os
import shutil
import sqlite3
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.service import queries
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import create_logbook, open_logbook

if TYPE_CHECKING:
    from tests.whole.conftest import Hearthload

NAMES = ("Larder refrigerator", "Router", "Larder lamp")


@pytest.fixture
def logbook(tmp_path: Path) -> Path:
    """Lay down a logbook with three appliances, the first of them measured for two days."""
    path = tmp_path / "home.hearthload"
    made = create_logbook(path)
    kinds = (Kind.REFRIGERATOR, Kind.ALWAYS_ON, Kind.LAMP_TIMER)
    ids = [
        add_appliance(made, ApplianceDraft(name, kind)).created_id
        for name, kind in zip(NAMES, kinds, strict=True)
    ]
    meter_id = add_meter(made, MeterDraft("Grey meter")).created_id
    assert ids[0] is not None
    assert meter_id is not None
    began = datetime.now().astimezone().replace(microsecond=0) - timedelta(days=2)
    start_measurement(made, ids[0], meter_id, ReadingDraft(began, 0.0, 0.0), exact_zero=True)
    (choice,) = queries.measurements_of(made, ids[0])
    add_reading(made, choice.measurement.id, ReadingDraft(began + timedelta(days=1), 1.02, 24.0))
    made.close()
    return path


def content(path: Path) -> str:
    """Give everything that a logbook holds, as text."""
    with sqlite3.connect(f"file:{path}?mode=ro", uri=True) as connection:
        dump = "\n".join(connection.iterdump())
    connection.close()
    return dump


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["larder refrigerator", "twelve"], ["KWH", "twelve"]),
        (["larder refrigerator", ""], ["KWH"]),
        (["larder refrigerator", "-3"], ["KWH", "negative"]),
        (["larder refrigerator", "-3,5"], ["KWH", "negative"]),
        (["larder refrigerator", "nan"], ["KWH"]),
        (["larder refrigerator", "1e400"], ["KWH"]),
        (["larder refrigerator", "inf"], ["KWH"]),
        (["larder refrigerator", "１２"], ["KWH"]),
        (["larder refrigerator", "1_0"], ["KWH"]),
        (["larder refrigerator", "1.2.3"], ["KWH"]),
        (["larder refrigerator", "1.234,5"], ["KWH"]),
        (["larder refrigerator", "2", "soon"], ["HOURS"]),
        (["larder refrigerator", "2", "48", "--watts", "many"], ["--watts"]),
        (["larder refrigerator", "2", "48", "--at", "someday"], ["--at"]),
        (["larder refrigerator", "2", "48", "--at", "2199-01-01 07:30"], ["future"]),
        (["larder refrigerator", "2", "48", "--at", "2001-01-01 07:30"], ["before"]),
        (["larder refrigerator", "0.5", "2"], ["reset", "swap"]),
        (["larder refrigerator", "0.5", "48"], ["run backward", "not reset", "digit"]),
        (["larder refrigerator", "2", "3"], ["hours"]),
        (["toaster", "2"], ["toaster", "Larder refrigerator", "Router"]),
        (["ruter", "2"], ["ruter", "Router"]),
        (["larder", "2"], ["larder", "Larder refrigerator", "Larder lamp"]),
        (["router", "2"], ["Router", "not being measured"]),
        (["larder refrigerator"], ["KWH is missing"]),
        (["larder refrigerator", "2", "48", "extra"], ["extra"]),
        (["larder refrigerator", "2", "--loud"], ["--loud"]),
    ],
)
def test_a_bad_reading_is_refused_and_nothing_changes(
    hearthload: Hearthload, logbook: Path, words: list[str], says: list[str]
) -> None:
    before = content(logbook)
    hearthload("log", logbook, *words).refused(*says)
    assert content(logbook) == before
    assert [path.name for path in logbook.parent.iterdir()] == [logbook.name]


COMMANDS: tuple[list[str], ...] = (["show"], ["log"], ["new"], [])


def arguments(command: list[str], path: Path) -> list[str]:
    return [*command, str(path), *(["router", "1"] if command == ["log"] else [])]


@pytest.mark.parametrize("command", [["show"], ["log"]])
@pytest.mark.parametrize(
    "bytes_", [b"", b"not a logbook at all\n" * 50, b"SQLite format 3\0" + b"\xff" * 4096]
)
def test_a_file_that_is_not_a_logbook(
    hearthload: Hearthload, tmp_path: Path, command: list[str], bytes_: bytes
) -> None:
    path = tmp_path / "thing.hearthload"
    path.write_bytes(bytes_)
    hearthload(*arguments(command, path)).refused("thing.hearthload")
    assert path.read_bytes() == bytes_


@pytest.mark.parametrize("command", [["show"], ["log"]])
def test_another_program_s_database(hearthload: Hearthload, tmp_path: Path, command: list[str]) -> None:
    path = tmp_path / "other.hearthload"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE appliance (id INTEGER PRIMARY KEY)")
    connection.commit()
    connection.close()
    before = path.read_bytes()
    hearthload(*arguments(command, path)).refused("not a", "logbook")
    assert path.read_bytes() == before


@pytest.mark.parametrize("command", COMMANDS)
def test_a_folder(hearthload: Hearthload, tmp_path: Path, command: list[str]) -> None:
    hearthload(*arguments(command, tmp_path), QT_QPA_PLATFORM="offscreen").refused("folder")


@pytest.mark.parametrize("command", [["show"], ["log"], []])
def test_a_missing_file(hearthload: Hearthload, tmp_path: Path, command: list[str]) -> None:
    path = tmp_path / "nowhere.hearthload"
    hearthload(*arguments(command, path), QT_QPA_PLATFORM="offscreen").refused("nowhere.hearthload")
    assert not path.exists()


def test_new_does_not_overwrite(hearthload: Hearthload, logbook: Path) -> None:
    before = logbook.read_bytes()
    hearthload("new", logbook).refused("exists")
    assert logbook.read_bytes() == before


def test_new_in_a_folder_that_is_not_there(hearthload: Hearthload, tmp_path: Path) -> None:
    hearthload("new", tmp_path / "no" / "such" / "home.hearthload").refused("folder")


def without_the_right_to_override() -> list[str]:
    """Give a command prefix under which file modes hold for root too, who may otherwise write anything."""
    if os.name == "nt":
        pytest.skip("no file modes here")
    if os.geteuid() != 0:
        return []
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("root may write anything here")
    return [setpriv, "--bounding-set", "-dac_override"]


def test_a_read_only_file_can_be_shown_but_not_written(hearthload: Hearthload, logbook: Path) -> None:
    logbook.chmod(0o444)
    before, prefix = content(logbook), without_the_right_to_override()
    shown = hearthload("show", logbook, before=prefix)
    assert (shown.code, shown.err) == (0, "")
    assert "Larder refrigerator" in shown.out
    hearthload("log", logbook, "larder refrigerator", "2.0", "48", before=prefix).refused("cannot be changed")
    assert content(logbook) == before


@pytest.mark.parametrize("command", [["show"], ["log"]])
def test_a_newer_logbook(hearthload: Hearthload, logbook: Path, command: list[str]) -> None:
    connection = sqlite3.connect(logbook)
    connection.execute("PRAGMA user_version = 9999")
    connection.commit()
    connection.close()
    before = logbook.read_bytes()
    hearthload(*arguments(command, logbook)).refused("newer")
    assert logbook.read_bytes() == before


def test_a_damaged_logbook(hearthload: Hearthload, logbook: Path) -> None:
    whole = logbook.read_bytes()
    logbook.write_bytes(whole[: len(whole) // 2])
    answer = hearthload("show", logbook)
    answer.refused(logbook.name)


def test_the_logbook_of_these_tests_takes_a_good_reading(hearthload: Hearthload, logbook: Path) -> None:
    assert hearthload("log", logbook, "larder ref", "2,05", "48:00").code == 0
    opened = open_logbook(logbook)
    (appliance,) = [one for one in queries.appliances(opened) if one.name == NAMES[0]]
    (choice,) = queries.measurements_of(opened, appliance.id)
    assert choice.readings == 3
    opened.close()

"""Opening and making files: what is no logbook is refused in a sentence and left as it is."""

from __future__ import annotations

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from hearthload.domain.household import Household
from hearthload.store.connecting import APPLICATION_ID
from hearthload.store.faults import LogbookError
from hearthload.store.loading import Contents
from hearthload.store.opening import create_database, open_database
from hearthload.store.steps import all_steps
from tests.store.files import NOW, beside, dump, meddling
from tests.store.good_rows import GOOD, put


def refused(path: Path, code: str) -> str:
    """Check that a file is refused, by one sentence that names it; give the sentence."""
    with pytest.raises(LogbookError) as caught:
        open_database(path)
    sentence = str(caught.value)
    assert caught.value.code == code, sentence
    assert path.name in sentence
    assert sentence[0] in "“T"
    assert sentence.endswith(".")
    assert "\n" not in sentence
    return sentence


def left_alone(path: Path, code: str) -> str:
    """Check that a file is refused and not a byte of it or beside it changes."""
    before, others = path.read_bytes(), beside(path)
    sentence = refused(path, code)
    assert path.read_bytes() == before
    assert beside(path) == others
    return sentence


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\n",
        b"not a logbook at all\n" * 50,
        b"SQLite format 3\0",
        b"SQLite format 3\0" + b"\xff" * 4096,
        b"\0" * 4096,
        bytes(range(256)) * 64,
    ],
)
def test_something_else(path: Path, content: bytes) -> None:
    path.write_bytes(content)
    left_alone(path, "not_a_logbook")


@pytest.mark.parametrize("number", [0, APPLICATION_ID - 1, 0x7FFFFFFF])
def test_another_program_s_database(path: Path, number: int) -> None:
    with meddling(path) as other:
        other.execute("CREATE TABLE appliances (id INTEGER PRIMARY KEY)")
        other.execute(f"PRAGMA application_id = {number}")
        other.execute("PRAGMA user_version = 1")
    left_alone(path, "not_a_logbook")


def test_another_program_s_database_in_its_own_mode(path: Path) -> None:
    """A file that is read in WAL mode stays so: looking must not turn it into one of ours."""
    with meddling(path) as other:
        other.execute("PRAGMA journal_mode = WAL")
        other.execute("CREATE TABLE appliances (id INTEGER PRIMARY KEY)")
    before = path.read_bytes()
    refused(path, "not_a_logbook")
    assert path.read_bytes() == before
    with closing(sqlite3.connect(path)) as again:
        assert again.execute("PRAGMA journal_mode").fetchone() == ("wal",)


def test_a_folder(path: Path) -> None:
    path.mkdir()
    assert "folder" in refused(path, "folder")


def test_nothing_there(path: Path) -> None:
    assert "There is no file" in refused(path, "missing")
    assert not path.exists()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no such files here")
def test_a_pipe(path: Path) -> None:
    os.mkfifo(path)
    refused(path, "not_a_logbook")


def test_a_name_that_cannot_be(tmp_path: Path) -> None:
    for name in ("a\0b", "x" * 400):
        with pytest.raises(LogbookError):
            open_database(tmp_path / name)
        with pytest.raises(LogbookError):
            create_database(tmp_path / name, Household(), NOW)


def test_a_newer_file(fresh: Path) -> None:
    with meddling(fresh) as other:
        other.execute(f"PRAGMA user_version = {len(all_steps()) + 1}")
    sentence = left_alone(fresh, "newer")
    assert "newer Hearthload" in sentence
    assert str(len(all_steps()) + 1) in sentence


@pytest.mark.parametrize("version", [0, -1])
def test_a_file_of_ours_without_a_version(fresh: Path, version: int) -> None:
    with meddling(fresh) as other:
        other.execute(f"PRAGMA user_version = {version}")
    left_alone(fresh, "damaged")


@pytest.mark.parametrize("statement", ["DELETE FROM household", "DELETE FROM appliances"])
def test_a_file_that_lost_rows(fresh: Path, statement: str) -> None:
    """Another program with foreign keys off can take a parent away and leave its children."""
    with meddling(fresh) as other:
        for table in ("appliances", "appliances", "meters", "meters", "measurements"):
            count = other.execute(f"SELECT count(*) FROM {table}").fetchone()[0]  # noqa: S608
            put(other, table, {**GOOD[table], **({"name": f"{count}"} if "name" in GOOD[table] else {})})
        other.execute("PRAGMA foreign_keys = OFF")
        other.execute(statement)
    left_alone(fresh, "damaged")


@pytest.mark.parametrize(
    ("table", "column", "value"),
    [
        ("appliances", "kind", "spaceship"),
        ("readings", "taken_at", "2025-13-41T06:30:00Z"),
        ("runs", "began_at", "2025-02-29T06:30:00Z"),
    ],
)
def test_a_word_or_day_that_nobody_knows(fresh: Path, table: str, column: str, value: str) -> None:
    """The file allows kinds that come later and days that no month has; reading says so in a sentence."""
    with meddling(fresh) as other:
        for name in ("appliances", "appliances", "meters", "meters", "measurements", "runs", "readings"):
            count = other.execute(f"SELECT count(*) FROM {name}").fetchone()[0]  # noqa: S608
            more = {"name": f"{count}"} if "name" in GOOD[name] else {}
            put(other, name, {**GOOD[name], **more, **({column: value} if name == table else {})})
    opened, contents = open_database(fresh), []
    try:
        with pytest.raises(LogbookError, match="does not know") as caught:
            contents = [Contents(opened).appliances(), Contents(opened).runs(), Contents(opened).readings(1)]
    finally:
        opened.close()
    assert contents == []
    assert caught.value.code == "damaged"


NAMES = ["Köök 茶.hearthload", "100 %25 #1 & more.hearthload", " . hearthload", "no ending"]


@pytest.mark.parametrize("name", NAMES if os.name == "nt" else [*NAMES, 'what? "so" file:x.hearthload'])
def test_any_name_that_a_file_may_have(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    create_database(path, Household(name="Here"), NOW).close()
    assert [other.name for other in tmp_path.iterdir()] == [name]
    opened = open_database(path)
    assert Contents(opened).household().name == "Here"
    opened.close()


def test_a_path_from_here(fresh: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(fresh.parent)
    opened = open_database(Path(fresh.name))
    assert Contents(opened).household().name == "Mill lane"
    opened.close()


def test_a_new_file_is_never_written_over_another(fresh: Path) -> None:
    before = fresh.read_bytes()
    with pytest.raises(LogbookError, match="exists already") as caught:
        create_database(fresh, Household(), NOW)
    assert caught.value.code == "exists"
    assert fresh.read_bytes() == before


def test_a_new_file_needs_its_folder(path: Path) -> None:
    with pytest.raises(LogbookError, match="no folder") as caught:
        create_database(path.parent / "none" / "home.hearthload", Household(), NOW)
    assert caught.value.code == "missing"
    assert beside(path) == []


def test_a_closed_file_copied_elsewhere_is_the_same_logbook(fresh: Path, tmp_path: Path) -> None:
    opened = open_database(fresh)
    with opened.unit("add meter", NOW) as unit:
        unit.insert("meters", GOOD["meters"])
    opened.close()
    assert beside(fresh) == []
    copy = Path(shutil.copy(fresh, tmp_path / "elsewhere.hearthload"))
    assert dump(copy) == dump(fresh)
    opened = open_database(copy)
    assert [meter.name for meter in Contents(opened).meters()] == ["Green meter"]
    opened.close()

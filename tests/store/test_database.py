"""An open file: whole edits only, a journal that only grows, and what other programs see of it."""

from __future__ import annotations

import sqlite3
from datetime import timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy.exc import IntegrityError

from hearthload.domain.household import Household
from hearthload.store import journal
from hearthload.store.database import Database
from hearthload.store.loading import Contents
from hearthload.store.opening import create_database, open_database
from tests.store.files import NOW, beside, dump, journal_lines, kept_rows, looking, meddling, rows_by_journal
from tests.store.good_rows import BASE, GOOD


def test_an_edit_that_breaks_off_leaves_nothing(database: Database) -> None:
    before = dump(database.path)

    def break_off() -> None:
        with database.unit("add meter", NOW) as unit:
            unit.insert("meters", GOOD["meters"])
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        break_off()
    assert dump(database.path) == before
    assert beside(database.path) == []


def test_others_see_an_edit_only_when_it_is_whole(database: Database) -> None:
    with database.unit("add meter", NOW) as unit:
        unit.insert("meters", GOOD["meters"])
        assert kept_rows(database.path)["meters"] == {}
        assert len(Contents(database).meters()) == 1
    assert len(kept_rows(database.path)["meters"]) == 1


def test_the_journal_holds_every_image_with_name_and_moment(database: Database) -> None:
    at = NOW.astimezone(timezone(timedelta(hours=-3, minutes=-30)))
    with database.unit("fill", at) as unit:
        for table, row in BASE:
            unit.insert(table, row)
    with database.unit("remove", at + timedelta(days=1)) as removed:
        removed.delete("meters", [2])
    with database.reading() as connection:
        entries = list(journal.entries(connection))
    first, *rest = entries
    assert (first.edit, first.edited_at, first.image.table) == ("new logbook", NOW, "household")
    assert [entry.image for entry in rest] == [*unit.images, *removed.images]
    assert [entry.edit for entry in rest] == ["fill"] * len(BASE) + ["remove"]
    assert rest[0].edited_at == at
    assert rest[0].edited_at.utcoffset() == at.utcoffset()
    assert rest[-1].edited_at == at + timedelta(days=1)


def test_the_rows_follow_from_the_journal(database: Database) -> None:
    with database.unit("fill", NOW) as unit:
        for table, row in BASE:
            unit.insert(table, row)
    with database.unit("change", NOW) as changed:
        changed.update("readings", 1, {"energy_kwh": 2.0, "note": "“thé” 茶"})
        changed.delete("meters", [2])
    assert rows_by_journal(database.path) == kept_rows(database.path)


def test_played_back_edits_are_journaled_too(database: Database) -> None:
    with database.unit("add meter", NOW) as unit:
        unit.insert("meters", GOOD["meters"])
    (image,) = unit.images
    lines = journal_lines(database.path)
    database.replay("undo: add meter", NOW, [image.reversed()])
    assert journal_lines(database.path)[: len(lines)] == lines
    assert [line[1] for line in journal_lines(database.path)[len(lines) :]] == ["undo: add meter"]
    assert rows_by_journal(database.path) == kept_rows(database.path)


def test_the_version_changes_with_another_program_s_edits_only(database: Database) -> None:
    version = database.version()
    with database.unit("add meter", NOW) as unit:
        unit.insert("meters", GOOD["meters"])
    assert database.version() == version
    dump(database.path)
    assert database.version() == version
    with meddling(database.path) as other:
        other.execute("UPDATE household SET name = 'Elsewhere'")
    assert database.version() != version


def test_reading_does_not_keep_others_from_writing(database: Database) -> None:
    with database.reading(), meddling(database.path) as other:
        # IMMEDIATE takes the right to write; with no time to wait, a lock of ours would refuse it at once.
        other.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN IMMEDIATE")
        other.execute("ROLLBACK")


def test_an_edit_keeps_others_from_writing_from_its_beginning(database: Database) -> None:
    """Two programs that both read and then both write would each write over what the other just did."""
    with database.unit("nothing yet", NOW), meddling(database.path) as other:
        other.execute("PRAGMA busy_timeout = 0")
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")


def test_several_reads_see_one_state(database: Database) -> None:
    contents = Contents(database)
    with contents.steady():
        assert contents.household().name == "Mill lane"
        with meddling(database.path) as other:
            other.execute("PRAGMA busy_timeout = 0")
            with pytest.raises(sqlite3.OperationalError, match="locked"):
                other.execute("UPDATE household SET name = 'Elsewhere'")
        assert contents.household().name == "Mill lane"


def test_closing_twice_does_no_harm(database: Database) -> None:
    database.close()
    database.close()
    assert beside(database.path) == []


def test_a_household_that_the_file_refuses_leaves_no_file(path: Path) -> None:
    with pytest.raises(IntegrityError):
        create_database(path, Household(mains_voltage_v=-1.0), NOW)
    assert not path.exists()
    assert beside(path) == []


def test_a_new_file_holds_its_household_and_says_so_in_the_journal(path: Path) -> None:
    household = Household("Mill lane", 120.0, 60.0, "nema_5_15", 0.31, "CAD", "two\nlines")
    create_database(path, household, NOW).close()
    opened = open_database(path)
    assert Contents(opened).household() == household
    assert not opened.read_only
    opened.close()
    assert rows_by_journal(path) == kept_rows(path)
    with looking(path) as connection:
        assert connection.execute("SELECT count(*) FROM journal").fetchone()[0] == 1

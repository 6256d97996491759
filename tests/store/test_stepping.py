"""Bringing an older file up to date: copied first, all of a step or nothing, and once only."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError

from hearthload.store.database import Database
from hearthload.store.faults import LogbookError
from hearthload.store.opening import open_database
from hearthload.store.steps import Step, all_steps
from tests.store.files import NOW, beside, dump, looking
from tests.store.good_rows import BASE, GOOD

KNOWN = len(all_steps())
COPY = f"home.before-schema-{KNOWN + 1}.hearthload"


@pytest.fixture
def old(fresh: Path) -> Path:
    """Give a file of the present schema with rows in it; to a program with more steps it is an old one."""
    with closing(open_database(fresh)) as opened, opened.unit("fill", NOW) as unit:
        for table, row in BASE:
            unit.insert(table, row)
    return fresh


def add_a_column(connection: Connection) -> None:
    connection.exec_driver_sql("ALTER TABLE meters ADD COLUMN colour TEXT NOT NULL DEFAULT 'grey'")


def rebuild_meters(connection: Connection) -> None:
    """Rebuild a parent table, as SQLite wants it for changes that ALTER TABLE cannot make."""
    connection.exec_driver_sql("CREATE TABLE rebuilt AS SELECT * FROM meters")
    connection.exec_driver_sql("DELETE FROM meters")
    connection.exec_driver_sql("INSERT INTO meters SELECT * FROM rebuilt")
    connection.exec_driver_sql("DROP TABLE rebuilt")


def break_off(connection: Connection) -> None:
    add_a_column(connection)
    connection.exec_driver_sql("DELETE FROM readings")
    connection.exec_driver_sql("SELECT * FROM no_such_table")


def leave_children_behind(connection: Connection) -> None:
    connection.exec_driver_sql("DELETE FROM meters")


def stepped(path: Path, *steps: Step) -> Database:
    return open_database(path, (*all_steps(), *steps))


def pragma(path: Path, name: str) -> int:
    with looking(path) as connection:
        return int(connection.execute(f"PRAGMA {name}").fetchone()[0])


@pytest.fixture
def opened(old: Path) -> Iterator[Database]:
    with closing(stepped(old, add_a_column)) as database:
        yield database


def test_the_step_is_taken_after_a_copy(old: Path) -> None:
    before = dump(old)
    stepped(old, add_a_column).close()
    assert beside(old) == [COPY]
    assert dump(old.with_name(COPY)) == before
    assert pragma(old, "user_version") == KNOWN + 1
    assert pragma(old, "application_id") == pragma(old.with_name(COPY), "application_id")
    with looking(old) as connection:
        assert [row["colour"] for row in connection.execute("SELECT colour FROM meters")] == ["grey", "grey"]


def test_the_copy_is_a_logbook_that_opens(old: Path) -> None:
    stepped(old, add_a_column).close()
    open_database(old.with_name(COPY)).close()


def test_a_step_is_taken_once(old: Path) -> None:
    stepped(old, add_a_column).close()
    after = dump(old)
    stepped(old, add_a_column).close()
    assert dump(old) == after
    assert beside(old) == [COPY]


def test_a_new_file_is_not_copied(fresh: Path) -> None:
    assert beside(fresh) == []


def test_two_steps_at_once_make_one_copy(old: Path) -> None:
    before = dump(old)

    def second(connection: Connection) -> None:
        connection.exec_driver_sql("UPDATE meters SET colour = 'red'")

    stepped(old, add_a_column, second).close()
    assert pragma(old, "user_version") == KNOWN + 2
    assert beside(old) == [COPY]
    assert dump(old.with_name(COPY)) == before


def test_a_copy_is_never_written_over(old: Path) -> None:
    old.with_name(COPY).write_text("hers", encoding="utf-8")
    stepped(old, add_a_column).close()
    assert beside(old) == [f"home.before-schema-{KNOWN + 1}-2.hearthload", COPY]
    assert old.with_name(COPY).read_text(encoding="utf-8") == "hers"


def test_keys_are_watched_again_after_the_step(opened: Database) -> None:
    with opened.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1


def test_edits_go_on_after_the_step(opened: Database) -> None:
    with opened.unit("add meter", NOW) as unit:
        unit.insert("meters", GOOD["meters"])
    with looking(opened.path) as connection:
        assert connection.execute("SELECT count(*) FROM meters").fetchone()[0] == 3


def test_rebuilding_a_parent_keeps_its_children(old: Path) -> None:
    before = dump(old)
    stepped(old, rebuild_meters).close()
    assert dump(old).replace(f", {KNOWN + 1}]", f", {KNOWN}]", 1) == before


def test_a_step_that_breaks_off_leaves_the_file_as_it_was(old: Path) -> None:
    before, content = dump(old), old.read_bytes()
    with pytest.raises(OperationalError, match="no_such_table"):
        stepped(old, break_off)
    assert old.read_bytes() == content
    assert dump(old.with_name(COPY)) == before
    open_database(old).close()


def test_a_second_step_that_breaks_off_leaves_the_first(old: Path) -> None:
    """Each step is a transaction of its own: the next start goes on from where this one came to."""

    def second(connection: Connection) -> None:
        connection.exec_driver_sql("SELECT * FROM no_such_table")

    with pytest.raises(OperationalError):
        stepped(old, add_a_column, second)
    assert pragma(old, "user_version") == KNOWN + 1
    stepped(old, add_a_column).close()


def test_a_step_that_would_lose_a_parent_is_refused(old: Path) -> None:
    content = old.read_bytes()
    with pytest.raises(LogbookError) as caught:
        stepped(old, leave_children_behind)
    assert caught.value.code == "damaged"
    assert old.read_bytes() == content


def test_a_file_of_a_program_with_more_steps_is_refused_by_this_one(old: Path) -> None:
    stepped(old, add_a_column).close()
    content = old.read_bytes()
    with pytest.raises(LogbookError, match="newer Hearthload"):
        open_database(old)
    assert old.read_bytes() == content

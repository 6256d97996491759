"""Opening and creating logbook files; whatever stands in the way is said in plain words."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from datetime import datetime
from pathlib import Path

from hearthload.domain.household import Household
from hearthload.store.connecting import APPLICATION_ID, connect, may_be_written, number_of
from hearthload.store.database import Database
from hearthload.store.faults import LogbookError, damaged, in_plain_words, not_a_logbook, primary_code
from hearthload.store.rows import HOUSEHOLD_KEY, household_row
from hearthload.store.stepping import bring_up_to_date
from hearthload.store.steps import Step, all_steps
from hearthload.store.tables import metadata


def open_database(path: Path, steps: Sequence[Step] | None = None) -> Database:
    """Open a logbook file; read-only where it may not be written.

    The file is never opened by any other means than SQLite: closing another handle would drop SQLite's locks.
    """
    known = all_steps() if steps is None else steps
    _refuse_what_is_no_file(path)
    read_only = not may_be_written(path)
    with in_plain_words(path):
        raw = _connect_to_logbook(path, "ro" if read_only else "rw")
        try:
            _check_version(path, raw, len(known), read_only=read_only)
            bring_up_to_date(path, raw, known)
            _check_health(path, raw)
            if steps is None:
                _check_tables(path, raw)
        except BaseException:
            raw.close()
            raise
    return Database(path, raw, read_only=read_only)


def create_database(path: Path, household: Household, at: datetime, *, lasting: bool = True) -> Database:
    """Make a new logbook file; a file that is there already is never written over.

    With `lasting` False the disk is not waited for: for a file that gets its name only when it is whole.
    """
    _make_empty_file(path)
    try:
        with in_plain_words(path):
            raw = connect(path, "rw")
            try:
                raw.execute("PRAGMA journal_mode = DELETE")
                if not lasting:
                    raw.execute("PRAGMA synchronous = OFF")
                bring_up_to_date(path, raw, all_steps())
            except BaseException:
                raw.close()
                raise
        database = Database(path, raw, read_only=False)
        try:
            with database.unit("new logbook", at) as unit:
                unit.insert("household", {"id": HOUSEHOLD_KEY, **household_row(household)})
        except BaseException:
            database.close()
            raise
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return database


def _refuse_what_is_no_file(path: Path) -> None:
    try:
        if path.is_dir():
            raise LogbookError(f"“{path.name}” is a folder, not a logbook.", code="folder")
        if not path.exists():
            raise LogbookError(f"There is no file “{path}”.", code="missing")
        if not path.is_file():
            raise LogbookError(f"“{path.name}” is not a file that can hold a logbook.", code="not_a_logbook")
        if path.stat().st_size == 0:
            raise LogbookError(f"“{path.name}” is empty: it is not a logbook.", code="not_a_logbook")
    except (OSError, ValueError) as error:
        raise LogbookError(f"“{path}” cannot be opened: {_reason(error)}.", code="cannot_open") from error


def _make_empty_file(path: Path) -> None:
    try:
        # O_EXCL: exactly one program makes the file. It is closed before SQLite first opens it.
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
    except FileExistsError as error:
        raise LogbookError(
            f"“{path.name}” exists already. Open it, or choose another name.", code="exists"
        ) from error
    except FileNotFoundError as error:
        raise LogbookError(f"There is no folder “{path.absolute().parent}”.", code="missing") from error
    except (OSError, ValueError) as error:
        raise LogbookError(f"“{path}” cannot be made: {_reason(error)}.", code="cannot_open") from error


def _reason(error: Exception) -> str:
    text = error.strerror if isinstance(error, OSError) else None
    return (text or str(error)).lower()


def _connect_to_logbook(path: Path, mode: str) -> sqlite3.Connection:
    if not _looks_like_ours(path):
        raise not_a_logbook(path)
    return connect(path, mode)


def _looks_like_ours(path: Path) -> bool:
    """Look at the file without the right to write, so that another program's file stays as it is."""
    try:
        with closing(connect(path, "ro")) as look:
            return number_of(look, "application_id") == APPLICATION_ID
    except sqlite3.OperationalError as error:
        # After a crash a rollback journal lies beside the file, and only a writer may play it back.
        if primary_code(error) in {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN}:
            return True
        raise


def _check_version(path: Path, raw: sqlite3.Connection, known: int, *, read_only: bool) -> None:
    if number_of(raw, "application_id") != APPLICATION_ID:
        raise not_a_logbook(path)
    schema = number_of(raw, "user_version")
    if schema > known:
        raise LogbookError(
            f"“{path.name}” was saved by a newer Hearthload (its schema is {schema}, this one knows up to "
            f"{known}). It was left as it is; open it with the newer program.",
            code="newer",
        )
    if schema < 1:
        raise damaged(path)
    if schema < known and read_only:
        raise LogbookError(
            f"“{path.name}” was saved by an older Hearthload and must be brought up to date, but may only be "
            "read where it is. Copy it to a folder of yours and open the copy.",
            code="read_only",
        )


def _check_health(path: Path, raw: sqlite3.Connection) -> None:
    """Look for torn or missing pages and loose keys: 0.5 ms at 2,000 rows, 41 ms at 100,000."""
    size = number_of(raw, "page_count") * number_of(raw, "page_size")
    answer = raw.execute("PRAGMA integrity_check(1)").fetchone()[0]
    try:
        loose = raw.execute("PRAGMA foreign_key_check").fetchone()
        household = raw.execute("SELECT count(*) FROM household").fetchone()[0]
    except sqlite3.OperationalError as error:
        if primary_code(error) == sqlite3.SQLITE_ERROR:  # a table is not what it should be
            raise damaged(path) from error
        raise
    if answer != "ok" or loose is not None or household != 1 or path.stat().st_size != size:
        raise damaged(path)


def _check_tables(path: Path, raw: sqlite3.Connection) -> None:
    """Look whether tables and columns are what the file's version says."""
    try:
        for table in metadata.sorted_tables:
            raw.execute(f"SELECT {', '.join(table.columns.keys())} FROM {table.name} LIMIT 0")  # noqa: S608
    except sqlite3.OperationalError as error:
        raise damaged(path) from error

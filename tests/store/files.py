"""What a logbook file holds, read with SQLite alone: beside the program, not through it."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

NOW = datetime(2025, 3, 3, 7, 30, tzinfo=timezone(timedelta(hours=1)))
"""A moment for the journal of these tests: a Monday morning."""

NUMBERS = ("application_id", "user_version")

Rows = dict[str, dict[int, dict[str, Any]]]
"""Table, key, column: what all the kept tables hold."""


@contextmanager
def looking(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a connection that can only look."""
    connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    connection.row_factory = sqlite3.Row
    try:
        yield connection
    finally:
        connection.close()


@contextmanager
def meddling(path: Path) -> Iterator[sqlite3.Connection]:
    """Give a connection that changes the file behind the program's back; what it did is kept."""
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        yield connection
    finally:
        connection.close()


def dump(path: Path) -> str:
    """Give everything that a file holds, journal and schema included, as text."""
    with looking(path) as connection:
        numbers = [connection.execute(f"PRAGMA {name}").fetchone()[0] for name in NUMBERS]
        return "\n".join([str(numbers), *connection.iterdump()])


def tables_of(connection: sqlite3.Connection) -> list[str]:
    """Name the tables whose rows the journal tells of: all but the journal itself."""
    listed = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY rowid")
    return [name for (name,) in listed if name != "journal" and not name.startswith("sqlite_")]


def kept_rows(path: Path) -> Rows:
    """Give the rows of all kept tables."""
    with looking(path) as connection:
        return {
            table: {row["id"]: dict(row) for row in connection.execute(f"SELECT * FROM {table} ORDER BY id")}  # noqa: S608
            for table in tables_of(connection)
        }


def journal_lines(path: Path) -> list[tuple[Any, ...]]:
    """Give the journal from its beginning."""
    with looking(path) as connection:
        return [tuple(row) for row in connection.execute("SELECT * FROM journal ORDER BY id")]


def rows_by_journal(path: Path) -> Rows:
    """Give the rows that follow from the journal alone: its images laid one over the other."""
    with looking(path) as connection:
        rows: Rows = {table: {} for table in tables_of(connection)}
        for line in connection.execute("SELECT table_name, row_key, before, after FROM journal ORDER BY id"):
            table, key, before, after = line
            stood = rows[table].pop(key, None)
            assert stood == (None if before is None else json.loads(before)), (table, key)
            if after is not None:
                rows[table][key] = json.loads(after)
    return {table: dict(sorted(kept.items())) for table, kept in rows.items()}


def beside(path: Path) -> list[str]:
    """Name everything else in the file's folder."""
    return sorted(other.name for other in path.parent.iterdir() if other != path)

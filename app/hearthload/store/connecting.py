"""Connections to a logbook file, set up as a logbook wants them."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

APPLICATION_ID = 0x59C971C9
"""Marks a SQLite file as a logbook; drawn at random once, for good."""

BUSY_WAIT_S = 3.0
"""How long to wait for another program that is saving just now."""


def connect(path: Path, mode: str) -> sqlite3.Connection:
    """Connect to an existing file, mode "rw" or "ro", without touching what is in it."""
    address = f"{path.absolute().as_uri()}?mode={mode}"
    # isolation_level None: SQLAlchemy begins and ends each transaction, Python adds none of its own.
    connection = sqlite3.connect(address, uri=True, isolation_level=None, timeout=BUSY_WAIT_S)
    try:
        connection.execute("PRAGMA foreign_keys = ON")
        # EXTRA also syncs the folder after the journal is gone: a power cut leaves the old state or the new.
        connection.execute("PRAGMA synchronous = EXTRA")
        connection.execute("PRAGMA trusted_schema = OFF")
    except BaseException:
        connection.close()
        raise
    return connection


def number_of(connection: sqlite3.Connection, pragma: str) -> int:
    """Read a pragma that is a whole number."""
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def may_be_written(path: Path) -> bool:
    """Tell whether the file may be changed: itself, and its folder for the rollback journal beside it."""
    return os.access(path, os.W_OK) and os.access(path.absolute().parent, os.W_OK)

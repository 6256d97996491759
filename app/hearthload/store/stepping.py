"""Bringing a logbook's schema up to date, step by step, after copying it."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from pathlib import Path

from sqlalchemy import Connection, create_engine
from sqlalchemy.pool import StaticPool

from hearthload.store.backup import copy_before_step
from hearthload.store.connecting import APPLICATION_ID, number_of
from hearthload.store.faults import damaged
from hearthload.store.steps import Step


def bring_up_to_date(path: Path, raw: sqlite3.Connection, steps: Sequence[Step]) -> None:
    """Run the steps that the file has not had yet; a file that has any content is copied first."""
    schema = number_of(raw, "user_version")
    if schema >= len(steps):
        return
    if schema > 0:
        copy_before_step(raw, path, schema + 1)
    # With foreign keys on, a step that rebuilds a parent table would take the children's rows with it.
    # The setting is deaf inside a transaction, so it goes before BEGIN.
    raw.execute("PRAGMA foreign_keys = OFF")
    engine = create_engine("sqlite://", creator=lambda: raw, poolclass=StaticPool)
    with engine.connect() as connection:
        for number in range(schema + 1, len(steps) + 1):
            _run(path, connection, number, steps[number - 1])
    raw.execute("PRAGMA foreign_keys = ON")


def _run(path: Path, connection: Connection, number: int, step: Step) -> None:
    connection.exec_driver_sql("BEGIN IMMEDIATE")
    try:
        # Another window may have taken the step while this one waited for the right to write.
        if connection.exec_driver_sql("PRAGMA user_version").scalar_one() == number - 1:
            step(connection)
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version = {number}")
            _refuse_loose_keys(path, connection)
        connection.commit()
    except BaseException:
        connection.rollback()
        raise


def _refuse_loose_keys(path: Path, connection: Connection) -> None:
    if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
        raise damaged(path)

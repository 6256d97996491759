"""An open logbook file: reads, and one transaction per edit."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, create_engine, event
from sqlalchemy.exc import IntegrityError
from sqlalchemy.pool import StaticPool

from hearthload.store import journal
from hearthload.store.connecting import number_of
from hearthload.store.faults import ChangedSinceError, in_plain_words
from hearthload.store.images import RowImage
from hearthload.store.unit import Unit


class Database:
    """One logbook file through one connection, used from one thread."""

    def __init__(self, path: Path, raw: sqlite3.Connection, *, read_only: bool) -> None:
        self.path = path
        self.read_only = read_only
        self._raw = raw
        self._writing = False
        self._engine = create_engine("sqlite://", creator=lambda: raw, poolclass=StaticPool)
        event.listen(self._engine, "begin", self._begin)
        self._connection = self._engine.connect()

    def close(self) -> None:
        """Close the file; closing twice does no harm."""
        self._connection.close()
        self._engine.dispose()
        self._raw.close()

    def version(self) -> int:
        """Give a number that changes whenever another program changes the file."""
        with in_plain_words(self.path):
            return number_of(self._raw, "data_version")

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Give the connection for reading, inside the edit's transaction when one is open."""
        with in_plain_words(self.path):
            if self._connection.in_transaction():
                yield self._connection
            else:
                with self._connection.begin():
                    yield self._connection

    @contextmanager
    def unit(self, name: str, at: datetime) -> Iterator[Unit]:
        """Run one edit as one transaction: all of it is kept, with its journal, or nothing is."""
        with in_plain_words(self.path), self._writes(), self._connection.begin():
            unit = Unit(self._connection, name)
            yield unit
            journal.append(self._connection, unit.name, at, unit.images)

    def replay(self, name: str, at: datetime, images: Sequence[RowImage]) -> None:
        """Apply images of an earlier edit as one transaction, journaled under its own name.

        Raises `ChangedSinceError` when the logbook no longer stands as the images say.
        """
        try:
            with self.unit(name, at) as unit:
                unit.apply(images)
        except IntegrityError as error:
            raise ChangedSinceError from error

    @contextmanager
    def _writes(self) -> Iterator[None]:
        self._writing = True
        try:
            yield
        finally:
            self._writing = False
            if self._raw.in_transaction:  # COMMIT itself failed, after which SQLAlchemy does not roll back
                self._raw.rollback()

    def _begin(self, connection: Connection) -> None:
        # IMMEDIATE takes the right to write at once: two programs cannot both read, then both write.
        connection.exec_driver_sql("BEGIN IMMEDIATE" if self._writing else "BEGIN")

"""The open logbook: its file, what it holds, its history, and the one way to edit it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self

from hearthload.domain.household import Household
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.estimates import Estimates
from hearthload.service.history import History
from hearthload.service.noticing import changes_of
from hearthload.store.images import RowImage

if TYPE_CHECKING:
    from hearthload.store.database import Database
    from hearthload.store.unit import Unit

Clock = Callable[[], datetime]


def local_now() -> datetime:
    """Give the present moment with the local offset."""
    return datetime.now().astimezone()


class Edit:
    """One edit while it is being made: what the logbook holds, and the unit that changes its rows."""

    def __init__(self, caches: Caches, unit: Unit, now: datetime) -> None:
        self.held = caches
        self.unit = unit
        self.now = now
        self.created_id: int | None = None
        self._changes: Changes | None = None

    def about(self, name: str) -> None:
        """Say what the edit concerns, once that is known: "add reading" becomes "add reading: Router"."""
        self.unit.name = f"{self.unit.name}: {name}"

    @property
    def changes(self) -> Changes:
        """Give what the edit changed, once it is saved."""
        if self._changes is None:
            raise RuntimeError("the edit is not saved yet")
        return self._changes

    def saved(self, changes: Changes) -> None:
        """Take the news of what was saved."""
        self._changes = changes


class Logbook:
    """One household's open logbook, used from one thread.

    `clock` tells the present moment, with the local offset, to edits and to the journal; whoever runs by
    another clock (a test, the demo, a session with its own) sets it.
    """

    def __init__(self, database: Database, caches: Caches, clock: Clock) -> None:
        self._database = database
        self.clock = clock
        self.caches = caches
        self._reloads_told = caches.reloads
        self.estimates = Estimates(caches)
        self.history = History(self)

    @property
    def path(self) -> Path:
        """Give the logbook's file."""
        return self._database.path

    @property
    def read_only(self) -> bool:
        """Tell whether the logbook can only be looked at."""
        return self._database.read_only

    def held(self) -> Caches:
        """Give what the logbook holds now, read anew when another program changed the file."""
        self.caches.refresh()
        return self.caches

    def changed_elsewhere(self) -> bool:
        """Look whether another program changed the file since this was last asked."""
        self.caches.refresh()
        changed = self.caches.reloads != self._reloads_told
        self._reloads_told = self.caches.reloads
        return changed

    @contextmanager
    def edit(self, name: str) -> Iterator[Edit]:
        """Make one edit in one transaction: all of it is saved with its journal, or nothing is."""
        self._refuse_if_read_only()
        now = self.clock()
        with self._database.unit(name, now) as unit:
            self.caches.refresh()
            edit = Edit(self.caches, unit, now)
            yield edit
        edit.saved(self._absorb(unit.name, unit.images, edit.created_id))
        if unit.images:
            self.history.note(unit.name, unit.images)

    def replay(self, journal_name: str, name: str, images: tuple[RowImage, ...]) -> Changes:
        """Bring rows from their images before to those after, as one journaled transaction."""
        self._refuse_if_read_only()
        self.caches.refresh()
        self._database.replay(journal_name, self.clock(), images)
        return self._absorb(name, images, None)

    def close(self) -> None:
        """Close the file; closing twice does no harm."""
        self._database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def _absorb(self, name: str, images: tuple[RowImage, ...], created_id: int | None) -> Changes:
        changes = changes_of(name, images, self.caches, created_id)
        self.caches.absorb(images)
        return changes

    def _refuse_if_read_only(self) -> None:
        if self.read_only:
            raise RefusedError(
                f"“{self.path.name}” is shown but cannot be changed: it is read-only where it is. Copy it "
                "to a folder of yours and open the copy.",
                code="read_only",
            )


def open_logbook(path: Path, *, clock: Clock = local_now) -> Logbook:
    """Open a logbook file; read-only where it may not be written. Raises KnownError in plain words."""
    from hearthload.store.opening import open_database  # noqa: PLC0415 (SQLAlchemy: never before first paint)

    return _logbook(open_database(path), clock)


def create_logbook(
    path: Path, household: Household | None = None, *, clock: Clock = local_now, lasting: bool = True
) -> Logbook:
    """Make a new logbook file and open it; a file that is there already is never written over.

    With `lasting` False the disk is not waited for: for a file that gets its name only when it is whole.
    """
    from hearthload.store.opening import create_database  # noqa: PLC0415 (SQLAlchemy: never before first paint)

    return _logbook(create_database(path, household or Household(), clock(), lasting=lasting), clock)


def _logbook(database: Database, clock: Clock) -> Logbook:
    from hearthload.store.loading import Contents  # noqa: PLC0415 (SQLAlchemy: never before first paint)

    try:
        return Logbook(database, Caches(Contents(database)), clock)
    except BaseException:
        database.close()
        raise

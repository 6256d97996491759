"""The session: the open logbook, the clock, and the one place from which pages learn what changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from PySide6.QtCore import QObject, Signal

from hearthload.errors import KnownError, RefusedError

if TYPE_CHECKING:
    from hearthload.domain.household import Household
    from hearthload.service.changes import Changes
    from hearthload.service.logbook import Logbook

Rest = ParamSpec("Rest")
Edit = Callable[Concatenate["Logbook", Rest], "Changes"]


def local_now() -> datetime:
    """Give the present moment with the local offset."""
    return datetime.now().astimezone()


class Session(QObject):
    """What every page shares: the open logbook, the clock, edits with undo, and the news of changes.

    `changed` carries a `Changes`; `refused` a `RefusedError` (what was asked for is not possible as it
    stands); `troubled` a `KnownError` (the surroundings' fault); `said` a sentence for the status line;
    `switched` the path of the logbook that was just opened, None when it was closed. `plan_id` is the outage
    plan that was chosen last on any page, None before one was.
    """

    changed = Signal(object)
    refused = Signal(object)
    troubled = Signal(object)
    said = Signal(str)
    switched = Signal(object)

    def __init__(self, clock: Callable[[], datetime] = local_now, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._clock = clock
        self._logbook: Logbook | None = None
        self._refusal_handler: Callable[[RefusedError], None] | None = None
        self.plan_id: int | None = None

    def now(self) -> datetime:
        """Give the present moment by the session's clock, with the local offset."""
        return self._clock()

    @property
    def is_open(self) -> bool:
        """Tell whether a logbook is open."""
        return self._logbook is not None

    @property
    def logbook(self) -> Logbook:
        """Give the open logbook; asking for it while none is open is a bug."""
        if self._logbook is None:
            raise RuntimeError("no logbook is open")
        return self._logbook

    @property
    def undo_name(self) -> str | None:
        """Give the name of the edit that undo would take back, None when there is none."""
        return None if self._logbook is None else self._logbook.history.undo_name

    @property
    def redo_name(self) -> str | None:
        """Give the name of the edit that redo would bring again, None when there is none."""
        return None if self._logbook is None else self._logbook.history.redo_name

    def attach(self, logbook: Logbook) -> None:
        """Take a logbook that is already open and close the one before it."""
        before, self._logbook = self._logbook, logbook
        self.plan_id = None
        logbook.clock = self._clock
        if before is not None and before is not logbook:
            self._leave(before)
        self.switched.emit(logbook.path)

    def open(self, path: Path) -> bool:
        """Open a logbook file in place of the present one; tell whether that worked."""
        from hearthload.service.logbook import open_logbook  # noqa: PLC0415 (after first paint)

        return self._attach_from(lambda: open_logbook(path))

    def create(self, path: Path, household: Household) -> bool:
        """Make a new logbook file and open it in place of the present one; tell whether that worked."""
        from hearthload.service.logbook import create_logbook  # noqa: PLC0415 (after first paint)

        return self._attach_from(lambda: create_logbook(path, household))

    def close(self) -> None:
        """Close the logbook, if one is open."""
        if self._logbook is not None:
            self._leave(self._logbook)
            self._logbook = None
            self.switched.emit(None)

    def _leave(self, logbook: Logbook) -> None:
        """Close a logbook and note how its roster stood, for a quicker look the next time."""
        from hearthload.service.glance import keep_glance  # noqa: PLC0415 (after first paint)
        from hearthload.service.queries import roster  # noqa: PLC0415 (after first paint)

        try:
            rows = roster(logbook, self.now())
        except KnownError:  # its file is gone or damaged: there is nothing to note
            rows = ()
        logbook.close()
        keep_glance(logbook.path, rows)

    def do(self, edit: Edit[Rest], *args: Rest.args, **kwargs: Rest.kwargs) -> Changes | None:
        """Run one edit on the logbook and tell everybody; None when it was refused or the disk said no."""
        changes = self._tried(lambda: edit(self.logbook, *args, **kwargs))
        if changes is not None:
            self.said.emit(f"Saved ({changes.name}). Ctrl+Z takes it back.")
        return changes

    @contextmanager
    def refusals_to(self, handler: Callable[[RefusedError], None]) -> Iterator[None]:
        """While this lasts, tell refusals to a form that says them beside its field, not to everybody."""
        before, self._refusal_handler = self._refusal_handler, handler
        try:
            yield
        finally:
            self._refusal_handler = before

    def undo(self) -> Changes | None:
        """Take back the last edit."""
        if self.undo_name is None:
            return None
        changes = self._tried(self.logbook.history.undo)
        if changes is not None:
            self.said.emit(f"Taken back ({changes.name}). Ctrl+Shift+Z brings it again.")
        return changes

    def redo(self) -> Changes | None:
        """Bring again the edit that was last taken back."""
        if self.redo_name is None:
            return None
        changes = self._tried(self.logbook.history.redo)
        if changes is not None:
            self.said.emit(f"Done again ({changes.name}). Ctrl+Z takes it back.")
        return changes

    def look_again(self) -> None:
        """Tell everybody when another program changed the file in the meantime."""
        if self._logbook is not None and self._changed_elsewhere(self._logbook):
            from hearthload.service.changes import Changes, Topic  # noqa: PLC0415 (after first paint)

            self.changed.emit(Changes("changed by another program", frozenset(Topic)))

    def _changed_elsewhere(self, logbook: Logbook) -> bool:
        try:
            return logbook.changed_elsewhere()
        except KnownError as error:  # its file was taken away
            self.troubled.emit(error)
            return False

    def _tried(self, step: Callable[[], Changes]) -> Changes | None:
        try:
            changes = step()
        except RefusedError as error:
            (self._refusal_handler or self.refused.emit)(error)
            return None
        except KnownError as error:
            self.troubled.emit(error)
            return None
        self.changed.emit(changes)
        return changes

    def _attach_from(self, opening: Callable[[], Logbook]) -> bool:
        try:
            logbook = opening()
        except KnownError as error:
            self.troubled.emit(error)
            return False
        self.attach(logbook)
        return True

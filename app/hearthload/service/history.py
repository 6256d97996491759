"""Undo and redo within a session, as far back as it goes, by name."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.store.faults import ChangedSinceError
from hearthload.store.images import RowImage

if TYPE_CHECKING:
    from hearthload.service.logbook import Logbook


@dataclass(frozen=True, slots=True)
class Done:
    """One edit that was made: its name and the images of the rows it changed."""

    name: str
    images: tuple[RowImage, ...]


class History:
    """The edits made since the logbook was opened; each can be taken back and brought again."""

    def __init__(self, logbook: Logbook) -> None:
        self._logbook = logbook
        self._undo: list[Done] = []
        self._redo: list[Done] = []

    @property
    def undo_name(self) -> str | None:
        """Give the name of the edit that undo would take back, None when there is none."""
        return self._undo[-1].name if self._undo else None

    @property
    def redo_name(self) -> str | None:
        """Give the name of the edit that redo would bring again, None when there is none."""
        return self._redo[-1].name if self._redo else None

    def note(self, name: str, images: tuple[RowImage, ...]) -> None:
        """Remember an edit that was just made; what was taken back before it cannot be brought again."""
        self._undo.append(Done(name, images))
        self._redo.clear()

    def undo(self) -> Changes:
        """Take back the last edit; the changes carry that edit's name."""
        if not self._undo:
            raise RefusedError("There is nothing to take back.", code="nothing_to_undo")
        done = self._undo[-1]
        # Children come after their parents in an edit, so the way back runs from its end.
        backwards = tuple(image.reversed() for image in reversed(done.images))
        changes = self._replay("undo", done.name, backwards, self._undo)
        self._redo.append(self._undo.pop())
        return changes

    def redo(self) -> Changes:
        """Bring again the edit that was last taken back; the changes carry that edit's name."""
        if not self._redo:
            raise RefusedError("There is nothing to bring again.", code="nothing_to_redo")
        done = self._redo[-1]
        changes = self._replay("redo", done.name, done.images, self._redo)
        self._undo.append(self._redo.pop())
        return changes

    def _replay(self, way: str, name: str, images: tuple[RowImage, ...], stack: list[Done]) -> Changes:
        try:
            return self._logbook.replay(f"{way}: {name}", name, images)
        except ChangedSinceError as error:
            # Whatever lies deeper rests on rows that are not there any more either.
            stack.clear()
            raise RefusedError(
                f"“{name}” can no longer be changed back or forth: another window or program changed the "
                "logbook in the meantime. Nothing was changed now.",
                code="changed_since",
            ) from error

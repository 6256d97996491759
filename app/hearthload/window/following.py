"""Panels that follow the logbook: at once, when they come into sight again, or right after the next paint."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame

FRAME_MS: Final = 20
"""By then what was asked for before is painted: a window gathers its updates for a few milliseconds."""


class Following(QFrame):
    """A panel whose `refresh` asks the logbook again; `stale` while what it shows may be out of date."""

    stale = False

    def refresh(self) -> None:
        """Ask again and show what is so now, or only note that it is `stale` while out of sight."""
        raise NotImplementedError

    def follow_later(self) -> None:
        """Refresh once roster and charts are painted: words beside them may come a moment later."""
        self.stale = True
        QTimer.singleShot(FRAME_MS, self, self.catch_up)

    def catch_up(self) -> None:
        """Refresh what went stale, unless it is out of sight."""
        if self.stale and self.isVisible():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while hidden."""
        super().showEvent(event)
        if self.stale:
            self.refresh()

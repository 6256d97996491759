"""Whether a press of the save button confirms a doubt: only where it was there to be read before."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QPushButton

from hearthload.window.readings.entry_face import SAVE_ANYWAY


class Confirmation(QObject):
    """Watches the save button. A click that leaves a field lets its complaint appear under the pointer."""

    def __init__(self, button: QPushButton) -> None:
        super().__init__(button)
        self._button = button
        self._unseen = False
        self.given = False
        button.pressed.connect(self._press)

    def appeared(self) -> None:
        """Note that complaints appeared just now; they count as read once the present event is over."""
        self._unseen = True
        QTimer.singleShot(0, self.seen)

    def seen(self) -> None:
        """Note that what is said has been seen."""
        self._unseen = False

    def _press(self) -> None:
        self.given = self._button.text() == SAVE_ANYWAY and not self._unseen

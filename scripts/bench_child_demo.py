"""Opens the demo in the real window and says when it was first painted and when its roster could be read."""

from __future__ import annotations

import sys
import time

from PySide6.QtCore import QEvent, QObject, QTimer
from PySide6.QtWidgets import QApplication, QTableView

from hearthload.commands.parser import parse
from hearthload.main import Start

HEAVY = ("pandas", "scipy.stats", "pvlib")
ROSTER = "Appliances"


class Watch(QObject):
    """Says the moments of a start, and ends it when the roster's names and estimates have been painted."""

    def __init__(self, start: Start) -> None:
        super().__init__(start)
        self._start = start
        self._roster: QTableView | None = None
        start.painted.connect(self.say_first_paint)
        start.ready.connect(self.await_roster)

    def say_first_paint(self) -> None:
        """Tell of the first paint, and which heavy packages are there already."""
        say("first_paint")
        print(f"heavy {','.join(name for name in HEAVY if name in sys.modules) or '-'}", flush=True)

    def await_roster(self) -> None:
        """Tell that the logbook is open, and look at each paint of the roster from now on."""
        say("logbook_open")
        tables = self._start.window.findChildren(QTableView)
        self._roster = next(table for table in tables if table.accessibleName() == ROSTER)
        self._roster.viewport().installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - as Qt spells it
        """Leave once a paint of the filled roster is over."""
        if event.type() == QEvent.Type.Paint and self._is_filled():
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self.leave)
        return False

    def leave(self) -> None:
        """Tell that the roster can be read, and end the program."""
        say("roster_readable")
        QApplication.quit()

    def _is_filled(self) -> bool:
        """Tell whether the roster has a row with a figure: one whose daily energy shows a number."""
        model = None if self._roster is None else self._roster.model()
        if model is None or model.rowCount() == 0:
            return False
        texts = [str(model.index(row, 2).data() or "") for row in range(model.rowCount())]
        return any(character.isdigit() for text in texts for character in text)


def say(what: str) -> None:
    """Print a moment [ns] of the clock that parent and child share."""
    print(f"{what} {time.monotonic_ns()}", flush=True)


def show_demo() -> int:
    """Start as `hearthload --demo` does, with a watch on the paints."""
    parse(["--demo"])
    start = Start(None, demo=True)
    Watch(start)
    return start.run()


if __name__ == "__main__":
    sys.exit(show_demo())

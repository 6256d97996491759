"""Opens the demo in the real window and says when it was first painted and when its roster could be read."""

from __future__ import annotations

import sys
import time

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QStackedWidget, QTableView

from hearthload.commands.parser import parse
from hearthload.main import Start

HEAVY = ("pandas", "scipy.stats", "pvlib")
ROSTER = "Appliances"
PAINTED = QEvent.Type(QEvent.registerEventType())


class Watch(QObject):
    """Says the moments of a start, and ends it when the roster's names and estimates have been painted."""

    def __init__(self, start: Start) -> None:
        super().__init__(start)
        self._start = start
        self._readable = self._open = False
        self._rosters: list[QTableView] = []
        start.painted.connect(self.say_first_paint)
        start.painted.connect(self.await_roster)
        start.ready.connect(self.say_open)

    def say_first_paint(self) -> None:
        """Tell of the first paint, and which heavy packages are there already."""
        say("first_paint")
        print(f"heavy {','.join(name for name in HEAVY if name in sys.modules) or '-'}", flush=True)

    def await_roster(self) -> None:
        """Look out for pages that are added from now on.

        A filter on the whole application would make every object that Qt itself made known to Python, which
        takes longer than the roster.
        """
        for stack in self._start.window.findChildren(QStackedWidget):
            stack.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - as Qt spells it
        """Watch the rosters of added pages; tell when one with figures is painted for the first time."""
        if event.type() == QEvent.Type.ChildAdded:
            for roster in self._start.window.findChildren(QTableView):
                if roster.accessibleName() == ROSTER and roster not in self._rosters:
                    self._rosters.append(roster)
                    roster.viewport().installEventFilter(self)
        elif event.type() == QEvent.Type.Paint and not self._readable and _is_filled(watched.parent()):
            self._readable = True
            # A timer would come after the one that opens the logbook; a posted event comes before.
            QCoreApplication.postEvent(self, QEvent(PAINTED), Qt.EventPriority.HighEventPriority.value)
        return False

    def customEvent(self, event: QEvent) -> None:  # noqa: N802 - as Qt spells it
        """Take the news that the roster's paint has reached the window."""
        if event.type() == PAINTED:
            self.say_readable()

    def say_readable(self) -> None:
        """Tell that the roster can be read."""
        say("roster_readable")
        self._leave_when_done()

    def say_open(self) -> None:
        """Tell that the logbook is open."""
        say("logbook_open")
        self._open = True
        self._leave_when_done()

    def _leave_when_done(self) -> None:
        if self._open and self._readable:
            QTimer.singleShot(0, self._start.window.close)


def _is_filled(widget: QObject | None) -> bool:
    """Tell whether this is the roster with a row whose daily energy shows a number."""
    if not isinstance(widget, QTableView) or widget.accessibleName() != ROSTER:
        return False
    model = widget.model()
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

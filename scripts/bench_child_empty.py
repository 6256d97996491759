"""A bare Qt window with a table that says when its first paint was done: what the program is held against."""

from __future__ import annotations

import sys
import time

from PySide6.QtCore import QTimer
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication, QMainWindow, QTableWidget, QTableWidgetItem

ROWS, COLUMNS = 14, 7


class Table(QTableWidget):
    """A table that tells the moment after its first paint, then ends the program."""

    painted = False

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802 - as Qt spells it
        """Paint, and look at the clock once the paint has reached the window."""
        super().paintEvent(event)
        if not self.painted:
            self.painted = True
            QTimer.singleShot(0, self.say_and_leave)

    def say_and_leave(self) -> None:
        """Print the moment and quit."""
        print(f"first_paint {time.monotonic_ns()}", flush=True)
        QApplication.quit()


def show_window() -> int:
    """Show the window until it has been painted."""
    app = QApplication(sys.argv)
    window = QMainWindow()
    table = Table(ROWS, COLUMNS)
    for row in range(ROWS):
        for column in range(COLUMNS):
            table.setItem(row, column, QTableWidgetItem(f"{row} {column}"))
    window.setCentralWidget(table)
    window.resize(1280, 800)
    window.show()
    return app.exec()


if __name__ == "__main__":
    sys.exit(show_window())

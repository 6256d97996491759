"""The head of the roster: the page's title, how the morning stands, and the button for a new appliance."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.service.roster_answers import RosterRow
from hearthload.window.parts import button, label, title_row


def standing(rows: Sequence[RosterRow]) -> str:
    """Say how many appliances there are, how many are measured, and how many meters wait for a reading."""
    running = [row for row in rows if row.state is MeasurementState.RUNNING]
    waiting = sum(not row.read_today for row in running)
    many = "1 appliance" if len(rows) == 1 else f"{len(rows)} appliances"
    if not running:
        return f"{many}, none on a meter now"
    today = "all read today" if waiting == 0 else f"{waiting} to read today"
    return f"{many}, {len(running)} on a meter, {today}"


class RosterHead(QWidget):
    """Title, standing and the button to add."""

    add_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = label("Readings", "title", self)
        self.standing = label("", "muted", self)
        self.add_button = button("Add appliance", "", self)
        self.add_button.setToolTip("Add an appliance (Ctrl+Shift+A)")
        self.add_button.clicked.connect(self.add_wanted)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(title_row(self.title, self.add_button))
        column.addWidget(self.standing)

    def show_rows(self, rows: Sequence[RosterRow]) -> None:
        """Say how the roster stands."""
        self.standing.setText(standing(rows))

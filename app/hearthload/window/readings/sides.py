"""The two sides of the Readings page: the roster at the left, what is chosen in it at the right."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.window.readings.roster import RosterPanel
from hearthload.window.readings.roster_head import RosterHead
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID

WIDEST_PX: Final = 130 * GRID
"""A roster wider than this is nothing but gaps between its columns."""

FIRST_SHARES: Final = (52, 48)
"""How roster and measurement share the width until the person moves the line between them."""


class Sides:
    """Lays a page out in two sides with a line between them that can be moved."""

    def __init__(self, right: QWidget, page: QWidget) -> None:
        self.left = QWidget(page)
        self.left.setMaximumWidth(WIDEST_PX)
        self.head = RosterHead(self.left)
        self.roster = RosterPanel(self.left)
        column = QVBoxLayout(self.left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.head)
        column.addWidget(self.roster, stretch=1)
        self.splitter = SideBySide(page, (self.left, right), FIRST_SHARES)

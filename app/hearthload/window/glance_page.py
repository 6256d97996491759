"""The roster as it stood last, shown while the logbook is being opened; it can be read, not used."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from hearthload.service.roster_answers import RosterRow
from hearthload.window.readings.sides import Sides


class GlancePage(QWidget):
    """Looks like the Readings page with nothing at its right side yet."""

    def __init__(self, rows: Sequence[RosterRow], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sides = Sides(QWidget(self), self)
        self.sides.head.show_rows(rows)
        self.sides.roster.set_rows(rows)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        for part in self.findChildren(QWidget):
            part.setFocusPolicy(Qt.FocusPolicy.NoFocus)

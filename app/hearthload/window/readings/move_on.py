"""The line after a finished measurement: its meter is free, and which appliance it may go to next."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.service.answers import MeasurementChoice
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.theme import GRID


class MoveOnLine(QWidget):
    """Offers the next appliance for a free meter; `wanted` carries its number and the meter's."""

    wanted = Signal(int, int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._target: tuple[int, int] | None = None
        self.words = label("", "muted", self)
        self.link = button("", "link", self)
        self.link.clicked.connect(self._go)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID // 2)
        row.addWidget(self.words)
        row.addWidget(self.link)
        row.addStretch(1)
        self.hide()

    def show_choice(self, shown: MeasurementChoice | None) -> None:
        """Offer to move the meter of a finished measurement on, where it is free and an appliance waits."""
        self._target = None
        finished = shown is not None and shown.measurement.state is MeasurementState.FINISHED
        if shown is not None and finished and shown.measurement.meter_id is not None:
            self._offer(shown.measurement.meter_id, shown.meter_name)
        self.setVisible(self._target is not None)

    def _offer(self, meter_id: int, meter_name: str) -> None:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        following = queries.next_for_meter(self._session.logbook, meter_id)
        if following is not None:
            self._target = (following.id, meter_id)
            self.words.setText(f"{meter_name} is free.")
            self.link.setText(f"Move it on to {following.name}".replace("&", "&&"))

    def _go(self, _checked: bool = False) -> None:
        if self._target is not None:
            self.wanted.emit(*self._target)

"""The right side of the Readings page: one measurement, from its standing down to its single readings."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from hearthload.service import queries
from hearthload.service.roster_answers import RosterRow
from hearthload.window.readings.appliance_head import ApplianceHead
from hearthload.window.readings.charts import ChartPanel
from hearthload.window.readings.days import DaysPanel
from hearthload.window.readings.entry import EntryPanel
from hearthload.window.readings.lower import LowerHalf
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.table import ReadingTable
from hearthload.window.session import Session
from hearthload.window.theme import GRID

WIDEST_PX = 196 * GRID


class WorkPanel(QScrollArea):
    """Shows the same measurement in every part; `measurement_wanted` passes on what a part wants shown."""

    change_wanted = Signal()
    remove_wanted = Signal()
    measurement_wanted = Signal(int)
    explanation_wanted = Signal(int)
    moving_on_wanted = Signal(int, int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._appliance_id: int | None = None
        self._measurement_id: int | None = None
        self.head = ApplianceHead(self)
        self.measure = MeasureBar(session, self)
        self.entry = EntryPanel(session, self)
        self.charts = ChartPanel(session, self)
        self.table = ReadingTable(session, self)
        self.days = DaysPanel(session, self)
        self._lay_out()
        self.head.change_wanted.connect(self.change_wanted)
        self.head.remove_wanted.connect(self.remove_wanted)
        self.measure.measurement_wanted.connect(self.measurement_wanted)
        self.measure.explanation_wanted.connect(self.explanation_wanted)
        self.measure.acted.connect(self.focus_first)
        self.measure.move_on.wanted.connect(self.moving_on_wanted)
        self.entry.measurement_wanted.connect(self.measurement_wanted)

    def show_row(self, row: RosterRow | None) -> None:
        """Show an appliance: the measurement chosen for it while it is there, else the one that speaks."""
        self.head.show_appliance(None if row is None else row.appliance)
        if row is None:
            self._appliance_id = None
            self.measure.show_appliance(None)
            self._show(None)
            return
        same = row.appliance.id == self._appliance_id
        self._appliance_id = row.appliance.id
        speaking = None if row.measurement is None else row.measurement.id
        if same and self._measurement_id is not None and self._measurement_id != speaking:
            choices = queries.measurements_of(self._session.logbook, row.appliance.id)
            if any(choice.measurement.id == self._measurement_id for choice in choices):
                speaking = self._measurement_id
        if not same or speaking != self._measurement_id:
            self._show_in_bar(speaking)
            self._show(speaking)

    def show_measurement(self, measurement_id: int) -> None:
        """Show one measurement of the appliance that is shown."""
        self.measure.show_measurement(measurement_id)
        self._show(measurement_id)

    def focus_first(self) -> None:
        """Put the cursor where the work goes on: the counter, else the first thing that can be done."""
        if self.entry.isVisible():
            self.entry.form.focus_field("energy_kwh")
            return
        offered = [self.measure.buttons[action] for action in self.measure.possible]
        for each in offered[:1]:
            each.setFocus(Qt.FocusReason.OtherFocusReason)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show charts and readings together where there is room."""
        super().resizeEvent(event)
        self.details.fit(self.viewport().height())

    def _show_in_bar(self, measurement_id: int | None) -> None:
        if measurement_id is None:
            self.measure.show_appliance(self._appliance_id)
        else:
            self.measure.show_measurement(measurement_id)

    def _show(self, measurement_id: int | None) -> None:
        self._measurement_id = measurement_id
        self.entry.show_measurement(measurement_id)
        self.charts.show_measurement(measurement_id)
        self.table.show_measurement(measurement_id)
        self.days.show_measurement(measurement_id)

    def _lay_out(self) -> None:
        self.details = LowerHalf(self.charts, self.table, self.days, self)
        inside = QWidget(self)
        inside.setMaximumWidth(WIDEST_PX)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        for part in (self.head, self.measure, self.entry):
            column.addWidget(part)
        column.addWidget(self.details, stretch=1)
        self.setWidget(inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

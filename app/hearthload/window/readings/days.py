"""The days panel: the energy of each local day, and the pattern over the week where it is known."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Final

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QVBoxLayout, QWidget

from hearthload.domain.figures import format_decimals
from hearthload.errors import RefusedError
from hearthload.estimate.answers import DailyTable, DayRow, WeekdayRow
from hearthload.service.changes import Changes
from hearthload.window.following import Following
from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.parts import label
from hearthload.window.readings.entry_words import LONG_WEEKDAYS, day_words
from hearthload.window.session import Session
from hearthload.window.text_table import TextColumn, TextTable
from hearthload.window.theme import GRID

DAY_COLUMNS: Final = (
    TextColumn("Day", 120, is_figure=False),
    TextColumn("kWh", 72),
    TextColumn("Covered", 88),
    TextColumn("", 120, is_figure=False),
)
WEEK_COLUMNS: Final = (
    TextColumn("Weekday", 104, is_figure=False),
    TextColumn("kWh a day", 88),
    TextColumn("Least to most", 120),
    TextColumn("Days", 56),
)

HOW = (
    "What ran between two readings is spread evenly over the time between them, so a day is told apart from "
    "its neighbours only as well as the readings stand at its ends."
)
EMPTY = "The second reading gives the first days."
NO_WEEK = "The pattern over the week shows once each weekday was covered twice, by readings a day apart."
SPREAD = "from a longer span"
LEAST_ROWS = 6
SIDE_BY_SIDE_PX = 640
"""From this width on both tables stand beside each other [px]."""

DECIMALS = 2
FINE_BELOW_KWH = 0.1
"""Days below this on average are printed with one decimal more [kWh]."""


class DaysPanel(Following):
    """Both tables of one measurement, the newest day first."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "sheet")
        self._session = session
        self._measurement_id: int | None = None
        self.days = TextTable(DAY_COLUMNS, "Energy day by day", self)
        self.weekdays = TextTable(WEEK_COLUMNS, "Pattern over the week", self)
        self.no_week = label(NO_WEEK, "muted", self, wrap=True)
        self.how = label(HOW, "muted", self, wrap=True)
        self._lay_out()
        session.changed.connect(self._changed)
        session.switched.connect(self._switched)
        self.refresh()

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show another measurement's days."""
        if measurement_id != self._measurement_id:
            self._measurement_id = measurement_id
            self.refresh()

    def refresh(self) -> None:
        """Ask again, once the panel is in sight."""
        if self._measurement_id is not None and not self.isVisible():
            self.stale = True
            return
        self.stale = False
        table = self._asked()
        days = () if table is None else table.days
        weekdays = () if table is None else table.weekdays
        decimals = _decimals(days)
        now = self._session.now()
        self.days.texts.set_rows(
            [(day_words_of(row, now.year), *_figures(row, decimals)) for row in reversed(days)]
        )
        self.weekdays.texts.set_rows([_week_cells(row, decimals) for row in weekdays])
        self.weekdays.setVisible(bool(weekdays))
        self.no_week.setVisible(bool(days) and not weekdays)
        self.how.setText(HOW if days else EMPTY)

    def _asked(self) -> DailyTable | None:
        if self._measurement_id is None or not self._session.is_open:
            return None
        from hearthload.service.daily import daily_table  # noqa: PLC0415 (pandas: when first looked at)

        try:
            return daily_table(self._session.logbook, self._measurement_id)
        except RefusedError:  # its measurement was taken back by undo
            return None

    def _changed(self, changes: Changes) -> None:
        if self._measurement_id in changes.measurement_ids or changes.meter_ids or changes.about_all:
            self.refresh()

    def _switched(self, _path: object) -> None:
        self._measurement_id = None
        self.refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand side by side where there is room."""
        super().resizeEvent(event)
        wide = self.width() >= SIDE_BY_SIDE_PX
        self._tables.setDirection(
            QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom
        )

    def _lay_out(self) -> None:
        self._tables = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._tables.setSpacing(GRID * 2)
        for table in (self.days, self.weekdays):
            table.setFrameShape(QFrame.Shape.NoFrame)
            table.setMinimumHeight(LEAST_ROWS * ROW_PX)
            self._tables.addWidget(table, 1)
        page = QVBoxLayout(self)
        page.setContentsMargins(GRID, GRID, GRID, GRID)
        page.setSpacing(GRID // 2)
        page.addLayout(self._tables, 1)
        page.addWidget(self.no_week)
        page.addWidget(self.how)


def day_words_of(row: DayRow, this_year: int) -> str:
    """Give a day as "Tue 24 Nov", with the year when it is another one."""
    noon = datetime(row.day.year, row.day.month, row.day.day, 12, tzinfo=UTC)
    return day_words(noon, datetime(this_year, 1, 1, tzinfo=UTC))


def _figures(row: DayRow, decimals: int) -> tuple[str, str, str]:
    covered = f"{row.hours:.0f} h"
    return format_decimals(row.energy_kwh, decimals), covered, SPREAD if row.spread else ""


def _week_cells(row: WeekdayRow, decimals: int) -> tuple[str, str, str, str]:
    low, high = format_decimals(row.low_kwh, decimals), format_decimals(row.high_kwh, decimals)
    ends = low if low == high else f"{low} to {high}"
    return LONG_WEEKDAYS[row.weekday], format_decimals(row.mean_kwh, decimals), ends, f"{row.days:.1f}"


def _decimals(days: tuple[DayRow, ...]) -> int:
    """Print so many decimals that a usual day shows two digits."""
    whole = sum(row.hours for row in days) / 24.0
    mean = sum(row.energy_kwh for row in days) / whole if whole else 0.0
    return DECIMALS + (mean < FINE_BELOW_KWH)

"""The Meters page: every meter, where it is and since when, and what it may carry."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.answers import MeterRow
from hearthload.service.changes import Changes
from hearthload.service.edits.meters import remove_meter
from hearthload.window.meters.meter_detail import MeterDetail
from hearthload.window.meters.meter_form import MeterSheet
from hearthload.window.meters.meter_table import MeterTable
from hearthload.window.navigation import Page
from hearthload.window.parts import button, label, title_row
from hearthload.window.session import Session
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID

FIRST_SHARES = (56, 44)
"""How the list and the chosen meter share the width until the person moves the line between them."""


class MetersPage(Page):
    """The list at the left; the chosen meter, or the sheet to change it, at the right."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._stale = True
        self._build()
        session.changed.connect(self._changed)
        session.switched.connect(self._changed)
        self.refresh()

    def add_meter(self) -> None:
        """Open the empty meter sheet."""
        self._right.setCurrentWidget(self.sheet)
        self.sheet.begin_add()

    def change_meter(self) -> None:
        """Open the sheet of the chosen meter."""
        row = self.chosen()
        if row is not None:
            self._right.setCurrentWidget(self.sheet)
            self.sheet.begin_change(row.meter)

    def remove_meter(self) -> None:
        """Remove the chosen meter; one that measured something stays, and the page says so."""
        row = self.chosen()
        if row is not None:
            with self._session.refusals_to(self._say_refusal):
                self._session.do(remove_meter, row.meter.id)

    def chosen(self) -> MeterRow | None:
        """Give the chosen meter's row."""
        index = self.table.currentIndex()
        return self.table.meters.rows[index.row()] if index.isValid() else None

    def refresh(self) -> None:
        """Ask for the meters again."""
        self._stale = False
        chosen = self.chosen()
        self.table.meters.set_rows(queries.meters(self._session.logbook))
        rows = self.table.meters.rows
        self._choose(None if chosen is None else chosen.meter.id)
        self._empty.setVisible(not rows)
        self.table.setVisible(bool(rows))
        free = sum(row.running is None for row in rows)
        many = "1 meter" if len(rows) == 1 else f"{len(rows)} meters"
        self._standing.setText(f"{many}, {free} free" if rows else "no meter yet")
        self._show_chosen()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while hidden."""
        super().showEvent(event)
        if self._stale and self._session.is_open:
            self.refresh()

    def _changed(self, news: Changes | object) -> None:
        del news
        if self.isVisible() and self._session.is_open:
            self.refresh()
        else:
            self._stale = True

    def _choose(self, meter_id: int | None) -> None:
        ids = [row.meter.id for row in self.table.meters.rows]
        if ids:
            self.table.selectRow(ids.index(meter_id) if meter_id in ids else 0)

    def _show_chosen(self, _index: QModelIndex | None = None) -> None:
        self.detail.show_meter(self.chosen(), self._session.now())

    def _say_refusal(self, error: RefusedError) -> None:
        self.detail.complain(error)

    def _close_sheet(self, saved: object) -> None:
        self._right.setCurrentWidget(self.detail)
        if isinstance(saved, int):
            self._choose(saved)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        if isinstance(saved, int) and not queries.is_measuring_begun(self._session.logbook):
            self.task_wanted.emit("first_steps")

    def _build(self) -> None:
        self.table = MeterTable(self._session.now, self)
        self.sheet = MeterSheet(self._session, self)
        self.detail = MeterDetail(self)
        self._right = QStackedWidget(self)
        self._right.addWidget(self.detail)
        self._right.addWidget(self.sheet)
        self.splitter = SideBySide(self, (self._build_left(), self._right), FIRST_SHARES)
        self.table.selectionModel().currentRowChanged.connect(self._show_chosen)
        self.sheet.closed.connect(self._close_sheet)
        self.detail.change_wanted.connect(self.change_meter)
        self.detail.remove_wanted.connect(self.remove_meter)

    def _build_left(self) -> QWidget:
        left = QWidget(self)
        self._standing = label("", "muted", left)
        self.add_button = button("Add meter", "", left)
        self.add_button.setToolTip("Add a meter (Ctrl+Shift+M)")
        self.add_button.clicked.connect(self.add_meter)
        head = QVBoxLayout()
        head.setSpacing(0)
        head.addLayout(title_row(label("Meters", "title", left), self.add_button))
        head.addWidget(self._standing)
        self._empty = label(
            "Add the plug-in meter that you own or borrow. What it can carry and how finely it shows decide "
            "which appliances it can measure, and how soon.", "", left, wrap=True,
        )  # fmt: skip
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addLayout(head)
        column.addWidget(self._empty)
        column.addWidget(self.table, stretch=1)
        column.addStretch(0)
        left.setMaximumWidth(120 * GRID)
        return left

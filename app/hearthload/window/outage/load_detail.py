"""The chosen load at the right of the list: its settings, what must be said about it, and its arithmetic."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from hearthload.domain.plan import Plan
from hearthload.window.outage.arithmetic import FigureArithmetic
from hearthload.window.outage.load_form import LoadForm
from hearthload.window.outage.load_hints import circuit_words, notes_said, row_steps
from hearthload.window.outage.tabs import Tabs
from hearthload.window.parts import TitleLabel, button, label, title_row
from hearthload.window.session import Session
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanRow

SETTINGS: Final = "Settings"
ARITHMETIC: Final = "Arithmetic"


class LoadDetail(QWidget):
    """Shows one load; `back_wanted` asks for the cursor to go back to the list."""

    back_wanted = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._row: PlanRow | None = None
        self.name = TitleLabel(self)
        self.form = LoadForm(session, self)
        self.save_button = button("Save", "primary", self)
        self.save_button.setToolTip("Enter")
        self.undo_button = button("Put back", "", self)
        self.undo_button.setToolTip("Show what is kept again (Esc)")
        self.notes = label("", "small", self, wrap=True)
        self.circuit = label("", "muted", self, wrap=True)
        self.arithmetic = FigureArithmetic(self)
        self.arithmetic.panel.title.hide()  # the appliance's name stands above already
        self.arithmetic.setContentsMargins(0, GRID, 0, 0)
        self.tabs = Tabs((SETTINGS, ARITHMETIC), self)
        self._lay_out()
        self.save_button.clicked.connect(self.form.save)
        self.undo_button.clicked.connect(self.form.put_back)
        self.form.saved.connect(self.back_wanted)
        self.form.left.connect(self.back_wanted)
        self.tabs.chosen.connect(self._choose)

    def show_row(self, row: PlanRow | None, plan: Plan) -> None:
        """Show a load, or nothing."""
        if row is not None and (self._row is None or self._row.load.id != row.load.id):
            self.scroller.verticalScrollBar().setValue(0)
        self._row = row
        self._inside.setVisible(row is not None)
        if row is None:
            return
        self.name.setText(row.appliance.name)
        self.form.show_load(row, plan)
        self.notes.setText("\n".join(notes_said(row)))
        self.notes.setVisible(bool(row.line.notes))
        self.circuit.setText(circuit_words(row))
        self._show_arithmetic()

    def begin(self) -> None:
        """Put the cursor into the first field."""
        self.tabs.choose(SETTINGS)
        self.form.role.setFocus(Qt.FocusReason.TabFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back to the list."""
        if event.key() == Qt.Key.Key_Escape:
            self.back_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _choose(self, name: str) -> None:
        self._stack.setCurrentIndex(0 if name == SETTINGS else 1)
        self._show_arithmetic()

    def _show_arithmetic(self) -> None:
        """Write the arithmetic only while it is looked at."""
        if self._row is not None and self.tabs.name == ARITHMETIC:
            self.arithmetic.show_steps(self._row.appliance.name, row_steps(self._row))

    def _lay_out(self) -> None:
        self._inside = QWidget(self)
        self._stack = QStackedWidget(self)
        self._stack.addWidget(self._settings())
        self._stack.addWidget(self.arithmetic)
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(GRID, 0, GRID * 2, GRID)
        column.setSpacing(0)
        column.addLayout(title_row(self.name))
        column.addWidget(self.tabs)
        column.addWidget(self._stack, stretch=1)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(self._inside)
        self._order()

    def _order(self) -> None:
        """Let Tab go as it is read: tabs, fields from the top, buttons, arithmetic."""
        fields = [row.editor for row in self.form.rows.values()]
        stops = [*self.tabs.tabs.values(), *fields, self.save_button, self.undo_button]
        stops += [self.arithmetic.panel.lines, self.arithmetic.more_button]
        for one, after in pairwise(stops):
            self.setTabOrder(one, after)

    def _settings(self) -> QWidget:
        inside = QWidget()
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(0, GRID, GRID, GRID)
        rows.setSpacing(GRID)
        rows.addWidget(self.notes)
        rows.addWidget(self.form)
        rows.addWidget(self.circuit)
        rows.addStretch(1)
        self.scroller = QScrollArea(self)
        self.scroller.setWidget(inside)
        self.scroller.setWidgetResizable(True)
        self.scroller.setFrameShape(QFrame.Shape.NoFrame)
        self.scroller.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.scroller.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        buttons = QHBoxLayout()
        buttons.setContentsMargins(0, GRID, 0, 0)
        buttons.setSpacing(GRID)
        buttons.addWidget(self.save_button)
        buttons.addWidget(self.undo_button)
        buttons.addStretch(1)
        made = QWidget(self)
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.scroller, stretch=1)
        column.addLayout(buttons)
        return made

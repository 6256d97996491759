"""The figures of the trade that a plan rests on, and the small form that sets one of them for this plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hearthload.domain.typed import TypedError, parse_number
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, Weight
from hearthload.window.form import Form
from hearthload.window.outage.fact_rows import fact_name, fact_rows, fact_words, outside_words
from hearthload.window.outage.figure_table import FigureRow, FigureTable, Headers
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID
from hearthload.window.typing_in import Typed, written

if TYPE_CHECKING:
    from hearthload.service.outage_answers import FactRow, PlanAnswer

SHARES = (66, 34)


class FactForm(QWidget):
    """Sets one figure for the plan, or gives it back; `saved` tells of either."""

    saved = Signal()
    left = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._plan_id: int | None = None
        self.row: FactRow | None = None
        self.name = label("", "lead", self, wrap=True)
        self.words = label("", "muted", self, wrap=True)
        self.form = Form(self, field_width=18 * GRID, shares=(1, 1))
        self.line = self.form.add_line("value", "In this plan")
        self.save_button = button("Save", "primary", self)
        self.back_button = button("Give back", "", self)
        self.back_button.setToolTip("Take the trade's own figure again")
        self._lay_out()
        self.save_button.clicked.connect(self.save)
        self.back_button.clicked.connect(self.give_back)
        self.form.accepted.connect(self.save)
        self.form.left.connect(self._leave)
        self.line.textEdited.connect(self._typed)

    def show_fact(self, plan_id: int, row: FactRow | None) -> None:
        """Show a figure; what is typed stays while the same one stands as it stood."""
        same = row is not None and self.row is not None and (plan_id, row) == (self._plan_id, self.row)
        self._plan_id, self.row = plan_id, row
        self.setVisible(row is not None)
        if row is None or same:
            return
        fact = row.fact
        self.name.setText(fact_name(row))
        self.words.setText(fact_words(row))
        self.form.rows["value"].beside.setText(fact.unit)
        self.line.setAccessibleName(f"{fact_name(row)} ({fact.unit})" if fact.unit else fact_name(row))
        self.back_button.setEnabled(row.is_own)
        self._fill()

    def save(self) -> None:
        """Set the figure that was typed; an empty line gives it back."""
        if self.row is None:
            return
        typed = Typed(self.form)
        value = typed.signed("value")
        if typed.good:
            self._set(value)
        else:
            self.form.focus_first_complaint()

    def give_back(self) -> None:
        """Take the trade's own figure again."""
        if self.row is not None and self.row.is_own:
            self._set(None)

    def _set(self, value: float | None) -> None:
        from hearthload.service.edits.plans import set_plan_figure  # noqa: PLC0415 (after first paint)

        if self.row is None or self._plan_id is None:
            return
        if value == (self.row.value if self.row.is_own else None):
            self._session.said.emit("Nothing was changed.")
            self._say_outside()
            self.saved.emit()
            return
        with self._session.refusals_to(self._say_refusal):
            done = self._session.do(set_plan_figure, self._plan_id, self.row.fact.key, value)
        if done is None:
            self.form.focus_first_complaint()
        else:
            self.saved.emit()

    def _fill(self) -> None:
        self.line.setText(written(self.row.value) if self.row is not None and self.row.is_own else "")
        self.line.setPlaceholderText("" if self.row is None else f"{self.row.fact.value:.6g}")
        self._say_outside()

    def _say_outside(self) -> None:
        """Say under the field that what stands in it is outside of what is usual; it may be saved."""
        said = ""
        if self.row is not None:
            try:
                value = parse_number(self.line.text(), allow_negative=True)
            except TypedError:  # nothing, or nothing to go by as yet: saving says so
                pass
            else:
                said = outside_words(self.row, value)
        complaint = Complaint("value", "unusual", Weight.WARNS, said)
        self.form.rows["value"].show_complaints((complaint,) if said else ())
        self.line.setAccessibleDescription(said)

    def _leave(self) -> None:
        self._fill()
        self.left.emit()

    def _typed(self, _text: str) -> None:
        self._say_outside()

    def _say_refusal(self, error: RefusedError) -> None:
        self.form.rows["value"].complain(str(error), error.code)

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.setSpacing(GRID)
        buttons.addWidget(self.save_button)
        buttons.addWidget(self.back_button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID, GRID * 2, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.name)
        column.addWidget(self.words)
        column.addWidget(self.form)
        column.addLayout(buttons)
        column.addStretch(1)


class FactsSection(QWidget):
    """All figures by room at the left, the chosen one at the right; Enter goes there and saves."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._answer: PlanAnswer | None = None
        headers = Headers("Figure of the trade", ("In force", "Usual range"))
        self.filter_box = QLineEdit(self)
        self.filter_box.setPlaceholderText("Filter by name, source or unit")
        self.filter_box.setAccessibleName("Filter the figures of the trade by name, source or unit")
        self.filter_box.setClearButtonEnabled(True)
        self.nothing = label("No figure matches the filter.", "muted", self)
        self.nothing.hide()
        self.table = FigureTable(headers, "Figures of the trade", self)
        self.fact = FactForm(session, self)
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.setSpacing(GRID)
        column.addWidget(self.filter_box)
        column.addWidget(self.nothing)
        column.addWidget(self.table, stretch=1)
        self.splitter = SideBySide(self, (left, self.fact), SHARES)
        self.splitter.setObjectName("facts")
        self.filter_box.textChanged.connect(self._show_rows)
        self.table.chosen.connect(self._show_fact)
        self.fact.saved.connect(self._go_back)
        self.fact.left.connect(self._go_back)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show the figures that a plan rests on."""
        self._answer = answer
        self._show_rows()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in the table goes to the figure; Esc clears the filter, Down and Enter leave its box."""
        enters = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if event.key() == Qt.Key.Key_Escape and self.filter_box.text():
            self.filter_box.clear()
        elif self.filter_box.hasFocus() and (enters or event.key() == Qt.Key.Key_Down):
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)
        elif enters and self.table.hasFocus():
            self.fact.line.setFocus(Qt.FocusReason.TabFocusReason)
            self.fact.line.selectAll()
        else:
            super().keyPressEvent(event)

    def _show_rows(self, _text: str = "") -> None:
        if self._answer is None:
            return
        rows = fact_rows(self._answer.facts, self.filter_box.text())
        self.nothing.setVisible(not rows)
        self.table.show_rows(rows)
        self._show_fact(self.table.row)

    def _show_fact(self, row: FigureRow | None) -> None:
        if self._answer is None:
            return
        found = {each.fact.key: each for each in self._answer.facts}
        self.fact.show_fact(self._answer.plan.id, None if row is None else found.get(row.key))

    def _go_back(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

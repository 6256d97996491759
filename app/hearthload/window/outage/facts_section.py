"""The figures of the trade that a plan rests on, and the small form that sets one of them for this plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.errors import RefusedError
from hearthload.window.arithmetic import TYPICAL, TYPICAL_MARK
from hearthload.window.form import Form
from hearthload.window.outage.figure_table import FigureRow, FigureTable, Headers
from hearthload.window.outage.outage_words import ROOMS
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.split import SideBySide
from hearthload.window.theme import GRID
from hearthload.window.typing_in import Typed, written

if TYPE_CHECKING:
    from hearthload.service.outage_answers import FactRow, PlanAnswer

SHARES = (66, 34)
OWN = "● yours"


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
        self.name.setText(fact.name)
        self.words.setText(fact_words(row))
        self.form.rows["value"].beside.setText(fact.unit)
        self.line.setAccessibleName(f"{fact.name} ({fact.unit})" if fact.unit else fact.name)
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
            self.saved.emit()
            return
        with self._session.refusals_to(self._say_refusal):
            done = self._session.do(set_plan_figure, self._plan_id, self.row.fact.key, value)
        if done is None:
            self.form.focus_first_complaint()
        else:
            self.saved.emit()

    def _fill(self) -> None:
        self.form.clear_complaints()
        self.line.setText(written(self.row.value) if self.row is not None and self.row.is_own else "")
        self.line.setPlaceholderText("" if self.row is None else f"{self.row.fact.value:.6g}")

    def _leave(self) -> None:
        self._fill()
        self.left.emit()

    def _typed(self, _text: str) -> None:
        self.form.rows["value"].clear()

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
        headers = Headers("Figure of the trade", ("In force", "Usual range"), widths=(72, 104, 64))
        self.table = FigureTable(headers, "Figures of the trade", self)
        self.fact = FactForm(session, self)
        left = QWidget(self)
        column = QVBoxLayout(left)
        column.setContentsMargins(GRID * 2, GRID, GRID, GRID)
        column.addWidget(self.table)
        self.splitter = SideBySide(self, (left, self.fact), SHARES)
        self.splitter.setObjectName("facts")
        self.table.chosen.connect(self._show_fact)
        self.fact.saved.connect(self._go_back)
        self.fact.left.connect(self._go_back)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show the figures that a plan rests on."""
        self._answer = answer
        self.table.show_rows(fact_rows(answer.facts))
        self._show_fact(self.table.row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in the table goes to the figure."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.table.hasFocus():
            self.fact.line.setFocus(Qt.FocusReason.TabFocusReason)
            self.fact.line.selectAll()
        else:
            super().keyPressEvent(event)

    def _show_fact(self, row: FigureRow | None) -> None:
        if self._answer is None:
            return
        found = {each.fact.key: each for each in self._answer.facts}
        self.fact.show_fact(self._answer.plan.id, None if row is None else found.get(row.key))

    def _go_back(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)


def fact_rows(facts: tuple[FactRow, ...]) -> tuple[FigureRow, ...]:
    """Give the figures as rows, a heading over each room."""
    found: list[FigureRow] = []
    rooms = dict.fromkeys(row.fact.room for row in facts)
    for room in rooms:
        found.append(FigureRow(f"head {room}", ROOMS.get(room, room.capitalize())))
        found += [_row(each) for each in facts if each.fact.room == room]
    return tuple(found)


def _row(row: FactRow) -> FigureRow:
    fact = row.fact
    usual = f"{fact.low:g}" if fact.low == fact.high else f"{fact.low:g} to {fact.high:g}"
    mark = f"{OWN} · " if row.is_own else f"{TYPICAL_MARK} {TYPICAL} · " if fact.typical else ""
    name = fact.name[:1].upper() + fact.name[1:]
    return FigureRow(fact.key, name, (f"{row.value:.6g}", usual), fact.unit, f"{mark}{fact.source}")


def fact_words(row: FactRow) -> str:
    """Say where a figure comes from and what may be typed."""
    fact = row.fact
    unit = f" {fact.unit}" if fact.unit else ""
    checked = " It is common practice and was not checked against a standard." if fact.typical else ""
    own = f" You set it to {row.value:.6g}{unit} in this plan." if row.is_own else ""
    return (
        f"The trade's figure: {fact.value:.6g}{unit}, usually {fact.low:g} to {fact.high:g}{unit}. "
        f"Source: {fact.source}.{checked}{own} What may be typed: {fact.least:g} to {fact.most:g}{unit}."
    )

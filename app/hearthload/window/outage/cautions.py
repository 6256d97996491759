"""The cautions of a plan: the medical one always in sight, the others a press away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.service.answers import Weight
from hearthload.window.complaints import DoubtMark
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer


class MedicalCaution(QWidget):
    """Stands above everything while the plan keeps something on that keeps somebody alive or healthy."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = label("", "small", self, wrap=True)
        mark = DoubtMark(Weight.STOPS, self)
        mark.setAccessibleName("caution")
        row = QHBoxLayout(self)
        row.setContentsMargins(GRID * 2, 0, GRID * 2, 0)
        row.setSpacing(GRID)
        row.addWidget(mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.words, 1)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Say it where the plan calls for it; it is the first of the cautions then."""
        self.words.setText(answer.cautions[0] if answer.medical and answer.cautions else "")


class CautionFoot(QWidget):
    """The last caution, that a plan is an estimate, with a button that shows the others.

    Where batteries and generators are spoken of, the caution about carbon monoxide stands beside it.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.last = label("", "muted", self, wrap=True)
        self.others = label("", "muted", self, wrap=True)
        self.more_button = button("", "link", self)
        self.more_button.setCheckable(True)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.last, 1)
        row.addWidget(self.more_button, 0, Qt.AlignmentFlag.AlignBottom)
        column = QVBoxLayout(self)
        column.setContentsMargins(GRID * 2, 0, GRID * 2, GRID)
        column.setSpacing(0)
        column.addWidget(self.others)
        column.addLayout(row)
        self.others.hide()
        self.more_button.toggled.connect(self._show_others)

    def show_answer(self, answer: PlanAnswer, *, of_supplies: bool = False) -> None:
        """Say the cautions of the loads, and those of what carries them where that is in sight."""
        others, last = answer.cautions[int(answer.medical) : -1], answer.cautions[-1:]
        if of_supplies and answer.sizing is not None:
            from hearthload.service import outage_cautions as said  # noqa: PLC0415 (after first paint)

            last = (said.GENERATOR, *last)
            others = (said.BACK_FEED, said.LITHIUM, said.LEAD_GAS, *others)
        self.last.setText("\n".join(last))
        self.others.setText("\n".join(others))
        self.more_button.setVisible(bool(others))
        self.more_button.setChecked(self.more_button.isChecked() and bool(others))
        self._count = len(others)
        self._show_others(self.more_button.isChecked())

    def _show_others(self, shown: bool) -> None:
        self.others.setVisible(shown)
        many = "1 more caution" if self._count == 1 else f"{self._count} more cautions"
        self.more_button.setText("Fewer cautions" if shown else many)
        self.more_button.updateGeometry()

    _count = 0

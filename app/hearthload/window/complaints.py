"""Complaints said in place: under the field that they concern, with a mark, a sentence and likely fixes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from hearthload.service.answers import Complaint, Fix, Weight
from hearthload.window.flow import FlowLayout
from hearthload.window.theme import GRID, current_theme


@dataclass(frozen=True, slots=True)
class FixWanted:
    """The person chose a fix: which complaint it answers and which fix it is."""

    complaint: Complaint
    fix: Fix


class DoubtMark(QWidget):
    """The mark of a doubt: a triangle for what may be saved anyway, a filled one for what may not."""

    def __init__(self, weight: Weight, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._weight = weight
        self.setFixedSize(QSize(14, 14))
        self.setAccessibleName("cannot be saved" if weight is Weight.STOPS else "doubtful")

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw the triangle."""
        colour = current_theme().colour("doubt")
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colour, 1.6))
        painter.setBrush(colour if self._weight is Weight.STOPS else Qt.BrushStyle.NoBrush)
        painter.drawPolygon(QPolygonF([QPointF(7, 2), QPointF(12.5, 12), QPointF(1.5, 12)]))


class ComplaintLines(QWidget):
    """The complaints about one field; takes no room when there are none."""

    fix_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._complaints: tuple[Complaint, ...] = ()
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 2, 0, 2)
        self._lines.setSpacing(2)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.setVisible(False)

    @property
    def complaints(self) -> tuple[Complaint, ...]:
        """Give the complaints that are shown."""
        return self._complaints

    @property
    def text(self) -> str:
        """Give the sentences that are shown, for reading aloud and for tests."""
        return " ".join(complaint.sentence for complaint in self._complaints)

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Show these complaints instead of those before."""
        if tuple(complaints) == self._complaints:
            return
        self._complaints = tuple(complaints)
        while (item := self._lines.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.hide()
                old.deleteLater()
        for complaint in self._complaints:
            self._lines.addWidget(self._line(complaint))
        self.setAccessibleName(self.text)
        self.setVisible(bool(self._complaints))

    def _line(self, complaint: Complaint) -> QWidget:
        line = QWidget(self)
        row = QHBoxLayout(line)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(DoubtMark(complaint.weight, line), alignment=Qt.AlignmentFlag.AlignTop)
        sentence = QLabel(complaint.sentence, line)
        sentence.setProperty("look", "doubt")
        sentence.setWordWrap(True)
        told = QVBoxLayout()
        told.setSpacing(2)
        told.addWidget(sentence)
        if complaint.fixes:
            told.addLayout(self._fixes(complaint, line))
        row.addLayout(told, stretch=1)
        return line

    def _fixes(self, complaint: Complaint, line: QWidget) -> FlowLayout:
        """Put the likely fixes side by side under the sentence, which needs the width for itself."""
        fixes = FlowLayout()
        for fix in complaint.fixes:
            button = QPushButton(fix.label, line)
            button.setProperty("look", "link")
            button.setAutoDefault(True)
            button.clicked.connect(partial(self._choose, complaint, fix))
            fixes.addWidget(button)
        return fixes

    def _choose(self, complaint: Complaint, fix: Fix, _checked: bool = False) -> None:
        self.fix_wanted.emit(FixWanted(complaint, fix))

"""What a fresh logbook shows: what to do first, each step with the button that does it, and the demo."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hearthload.window.fonts import text_font
from hearthload.window.parts import button, label
from hearthload.window.readings.glyph import paint_tick
from hearthload.window.theme import GRID, current_theme

WIDEST_PX = 80 * GRID

WHY_METER = (
    "What it can carry and how finely it shows: its leaflet or its back says so. "
    "Most lines can be left as they are."
)
WHY_APPLIANCES = (
    "First those that matter when the grid is down: what keeps food, medicine, warmth, water, "
    "and word from outside."
)
WHY_START = (
    "Put the meter between the socket and the appliance and type what it shows. "
    "Tomorrow morning type it again."
)


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a fresh logbook is: meters, appliances, and whether anything was measured yet."""

    meters: int
    appliances: int
    measured: bool


class StepMark(QWidget):
    """The number of a step in a ring, or a tick once it is done."""

    def __init__(self, number: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._number = number
        self.done = False
        self.setFixedSize(QSize(28, 28))

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw the ring with its number or tick."""
        theme = current_theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(theme.colour("muted" if self.done else "accent"), 1.5))
        painter.drawEllipse(QRectF(2, 2, 24, 24))
        if self.done:
            paint_tick(painter, QPointF(9, 15), theme.colour("muted"))
            return
        painter.setFont(text_font(bold=True))
        painter.drawText(self.rect(), Qt.AlignmentFlag.AlignCenter, str(self._number))


class Step(QWidget):
    """One step: its mark, what to do and why, and the button that does it."""

    def __init__(self, number: int, title: str, why: str, action: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.mark = StepMark(number, self)
        self.title: QLabel = label(title, "lead", self)
        self.why: QLabel = label(why, "muted", self, wrap=True)
        self.button: QPushButton = button(action, "", self)
        words = QVBoxLayout()
        words.setSpacing(2)
        words.addWidget(self.title)
        words.addWidget(self.why)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, GRID, 0, GRID)
        row.setSpacing(GRID * 2)
        row.addWidget(self.mark, alignment=Qt.AlignmentFlag.AlignTop)
        row.addLayout(words, stretch=1)
        row.addWidget(self.button, alignment=Qt.AlignmentFlag.AlignVCenter)

    def show_state(self, *, done: bool, now: bool) -> None:
        """Show whether the step is done and whether it is the one to do now."""
        self.mark.done = done
        self.mark.update()
        self.setAccessibleName(f"{self.title.text()}: done" if done else self.title.text())
        look = "primary" if now else ""
        if self.button.property("look") != look:
            self.button.setProperty("look", look)
            self.button.style().unpolish(self.button)
            self.button.style().polish(self.button)


class FirstSteps(QWidget):
    """Three steps from an empty logbook to the first reading; the demo beside them."""

    task_wanted = Signal(str)
    appliance_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.meter = Step(1, "Add your meter", WHY_METER, "Add a meter", self)
        self.appliance = Step(2, "Add your appliances", WHY_APPLIANCES, "Add an appliance", self)
        self.start = Step(3, "Plug in and take the first reading", WHY_START, "Start measuring", self)
        self.demo = button("Open the demo", "link", self)
        self.mains = label("", "muted", self)
        self.household = button("Change", "link", self)
        self.appliance.button.clicked.connect(self.appliance_wanted)
        for source, task in (
            (self.meter.button, "add_meter"),
            (self.start.button, "start_measuring"),
            (self.demo, "open_demo"),
            (self.household, "show_household"),
        ):
            source.clicked.connect(partial(self._want, task))
        self._lay_out()

    def focus_next(self) -> None:
        """Put the cursor on the button of the step to do now."""
        steps = (self.meter, self.appliance, self.start)
        wanted = next((step for step in steps if not step.mark.done), self.start)
        wanted.button.setFocus(Qt.FocusReason.OtherFocusReason)

    def show_mains(self, words: str) -> None:
        """Say which mains voltage the household is taken to have."""
        self.mains.setText(words)

    def show_progress(self, progress: Progress) -> None:
        """Tick what is done and put the next button forward."""
        met, listed = progress.meters > 0, progress.appliances > 0
        self.meter.show_state(done=met, now=not met)
        self.appliance.show_state(done=listed, now=met and not listed)
        self.start.show_state(done=progress.measured, now=met and listed)
        self.start.button.setEnabled(met and listed)
        self.appliance.button.setText("Add another" if listed else "Add an appliance")
        self.meter.button.setText("Add another" if met else "Add a meter")

    def _want(self, task: str, _checked: bool = False) -> None:
        self.task_wanted.emit(task)

    def _lay_out(self) -> None:
        inside = QWidget(self)
        inside.setMaximumWidth(WIDEST_PX)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 2, GRID * 2, GRID * 2, GRID * 2)
        column.setSpacing(GRID)
        column.addWidget(label("What to do first", "title", inside))
        for step in (self.meter, self.appliance, self.start):
            rule = QFrame(inside)
            rule.setProperty("look", "hairline")
            rule.setFixedHeight(1)
            column.addWidget(rule)
            column.addWidget(step)
        column.addSpacing(GRID)
        look_round = label("Would you rather look round first?", "muted", inside)
        for words, link in ((self.mains, self.household), (look_round, self.demo)):
            line = QHBoxLayout()
            line.setSpacing(GRID // 2)
            line.addWidget(words)
            line.addWidget(link)
            line.addStretch(1)
            column.addLayout(line)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addStretch(1)
        across = QHBoxLayout()
        across.addStretch(1)
        across.addWidget(inside, stretch=100)
        across.addStretch(1)
        outer.addLayout(across)
        outer.addStretch(2)

"""The arithmetic of a chosen figure: the step that gives it first, then those that go into it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.outage.steps import Step
from hearthload.window.arithmetic import ArithmeticPanel
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID

NOTHING: Final = "Choose a figure: its arithmetic stands here, line by line."
MOST_STEPS: Final = 30
"""So many lines are written at once, so that going through figures stays quick; a press shows the rest."""
NO_STEPS: Final = "There is no arithmetic behind it."


class FigureArithmetic(QWidget):
    """Shows the steps of one figure, with a sentence above them where something must be said."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown: tuple[str, tuple[Step, ...], str] | None = None
        self._whole = False
        self.words = label("", "small", self, wrap=True)
        self.panel = ArithmeticPanel(self)
        self.more_button = button("", "link", self)
        self.more_button.hide()
        self.more_button.clicked.connect(self.show_all)
        self.setFocusProxy(self.panel.lines)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.words)
        column.addWidget(self.panel, stretch=1)
        column.addWidget(self.more_button)
        self.show_nothing()

    @property
    def title(self) -> str:
        """Give what the arithmetic is of."""
        return self.panel.title.text()

    @property
    def steps(self) -> tuple[Step, ...]:
        """Give all steps, those that only a press shows included."""
        return () if self._shown is None else self._shown[1]

    def show_steps(
        self, title: str, steps: Iterable[Step], lead: str = "", result: float | None = None
    ) -> None:
        """Show another figure's arithmetic, or the same one's where it has changed."""
        ordered = result_first(tuple(steps), result)
        if (title, ordered, lead) == self._shown:
            return
        if self._shown is None or title != self._shown[0]:
            self._whole = False
        self._shown = (title, ordered, lead)
        self._write()
        self._say(lead or ("" if ordered else NO_STEPS))

    def show_nothing(self) -> None:
        """Say what to choose."""
        self._shown = None
        self._write()
        self._say(NOTHING)

    def show_all(self) -> None:
        """Write the lines that were left out too."""
        self._whole = True
        self._write()
        self.enter()

    def has_cursor(self) -> bool:
        """Tell whether the cursor is in the arithmetic."""
        return self.panel.lines.hasFocus()

    def enter(self) -> None:
        """Put the cursor into the arithmetic, where keys scroll it."""
        self.panel.lines.setFocus(Qt.FocusReason.TabFocusReason)

    def _write(self) -> None:
        shown = self.steps if self._whole else self.steps[:MOST_STEPS]
        self.panel.show_steps("" if self._shown is None else self._shown[0], shown)
        left = len(self.steps) - len(shown)
        self.more_button.setVisible(left > 0)
        self.more_button.setText(f"Show {left} more lines" if left != 1 else "Show one more line")

    def _say(self, words: str) -> None:
        self.words.setText(words)
        self.words.setVisible(bool(words))


def result_first(steps: tuple[Step, ...], result: float | None) -> tuple[Step, ...]:
    """Put the step that gives a figure before those that go into it."""
    places = [at for at, step in enumerate(steps) if result is not None and step.value == result]
    if not places:
        return steps
    at = places[-1]
    return (steps[at], *steps[:at], *steps[at + 1 :])

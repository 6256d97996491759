"""A list to choose one value from, wide and high enough for its words when it opens."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import Qt
from PySide6.QtGui import QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QComboBox, QStyle, QStyleOptionComboBox, QStylePainter, QWidget

from hearthload.window.theme import GRID

Value = TypeVar("Value")

MOST_ROWS = 12
"""A longer list scrolls."""


class Choice(QComboBox, Generic[Value]):
    """Shows one of several values in words; the wheel turns it only while it has the focus."""

    def __init__(self, choices: Sequence[tuple[Value, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._values: list[Value] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMaxVisibleItems(MOST_ROWS)
        self.set_choices(choices)

    @property
    def value(self) -> Value:
        """Give the chosen value."""
        return self._values[self.currentIndex()]

    def set_choices(self, choices: Sequence[tuple[Value, str]]) -> None:
        """Offer other values, each with its words."""
        self.clear()
        self._values = [value for value, _ in choices]
        self.addItems([words for _, words in choices])

    def choose(self, value: Value) -> None:
        """Choose a value that is in the list."""
        self.setCurrentIndex(self._values.index(value))

    def showPopup(self) -> None:
        """Open the list no narrower than its longest words."""
        rows = self.view()
        bar = rows.verticalScrollBar().sizeHint().width() if self.count() > MOST_ROWS else 0
        needed = rows.sizeHintForColumn(0) + bar + 2 * GRID
        rows.setMinimumWidth(min(needed, self.screen().availableGeometry().width() - 2 * GRID))
        super().showPopup()

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - as Qt gives it
        """Paint the chosen words, shortened by an ellipsis where there is no room for all of them."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, part, self).width()
        whole = self.currentText()
        option.currentText = self.fontMetrics().elidedText(whole, Qt.TextElideMode.ElideRight, room)
        self.setToolTip("" if option.currentText == whole else whole)
        painter = QStylePainter(self)
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn only while focused; else let the page scroll."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

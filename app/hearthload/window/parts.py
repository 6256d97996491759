"""Makers of the smallest parts that every page uses: labels and buttons in the stylesheet's dresses."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QShortcutEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QWidget

from hearthload.window.theme import GRID
from hearthload.window.wrapped_label import WrappedLabel


def label(text: str, look: str = "", parent: QWidget | None = None, *, wrap: bool = False) -> QLabel:
    """Make a label in one of the stylesheet's dresses; plain text only, so that names stay as typed."""
    made = WrappedLabel(text, parent) if wrap else QLabel(text, parent)
    made.setTextFormat(Qt.TextFormat.PlainText)
    if look:
        made.setProperty("look", look)
    return made


def button(text: str, look: str = "", parent: QWidget | None = None) -> QPushButton:
    """Make a button that Enter presses while it has the focus."""
    made = _PromptButton(parent)
    made.setText(text)
    made.setAutoDefault(True)
    made.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    if look:
        made.setProperty("look", look)
    return made


class _PromptButton(QPushButton):
    """A button whose Alt key acts at once; Qt waits a tenth of a second, and keys typed then go astray."""

    def event(self, event: QEvent) -> bool:
        """Click without the wait."""
        if isinstance(event, QShortcutEvent) and not event.isAmbiguous():
            self.click()
            return True
        return super().event(event)


class TitleLabel(QLabel):
    """A page's title in one line, shortened where the page is narrow; the whole of it is its tool tip."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("look", "title")

    def minimumSizeHint(self) -> QSize:
        """Be content with little width."""
        return QSize(12 * GRID, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002 - as Qt gives it
        """Paint as much of the title as there is room for."""
        box = self.contentsRect()
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, box.width())
        self.setToolTip("" if shown == self.text() else self.text())
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)


def title_row(title: QLabel, *buttons: QPushButton) -> QHBoxLayout:
    """Set a title and its buttons in one row, as high on every side of every page."""
    title.setFixedHeight(5 * GRID)
    row = QHBoxLayout()
    row.setSpacing(0)
    row.addWidget(title, 1)
    for each in buttons:
        row.addWidget(each, 0, Qt.AlignmentFlag.AlignVCenter)
    return row

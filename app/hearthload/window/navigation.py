"""The bar at the left edge: one tab a page, chosen by a click, by arrow keys or by Ctrl and a digit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QFrame, QVBoxLayout, QWidget

from hearthload.window.fonts import small_font
from hearthload.window.icons import Drawing
from hearthload.window.painting import fill
from hearthload.window.session import Session
from hearthload.window.theme import GRID, current_theme, theme_news

TAB_PX = QSize(10 * GRID, 9 * GRID)


class Page(QWidget):
    """What a page of the window is: a widget that may want a task done that is not its own.

    `task_wanted` carries the task's name, a method of `tasks.Tasks`.
    """

    task_wanted = Signal(str)


@dataclass(frozen=True, slots=True)
class PageSpec:
    """One page: its key, its title, what it is for, and how it is made when it is first shown."""

    key: str
    title: str
    purpose: str
    make: Callable[[Session], Page]


class PageTab(QAbstractButton):
    """A tab of the bar: a drawing, a word, and a rule at its edge while its page is shown."""

    def __init__(self, spec: PageSpec, number: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.key = spec.key
        self._drawing = Drawing(spec.key)
        self.setText(spec.title)
        self.setCheckable(True)
        self.setToolTip(f"{spec.purpose} (Ctrl+{number})")
        self.setAccessibleName(spec.title)
        self.setAccessibleDescription(spec.purpose)
        self.setFixedSize(TAB_PX)
        theme_news().changed.connect(self._repaint)

    def sizeHint(self) -> QSize:
        """Give the size of every tab."""
        return TAB_PX

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw the tab."""
        theme = current_theme()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self.isChecked():
            fill(painter, self.rect(), theme.colour("chosen"))
            fill(painter, QRect(0, 0, 3, self.height()), theme.colour("accent"))
        elif self.underMouse():
            fill(painter, self.rect(), theme.colour("hover"))
        colour = theme.colour("ink" if self.isChecked() else "muted")
        self._drawing.paint(painter, QRectF(self.width() / 2 - 13, 12, 26, 26), colour)
        painter.setFont(small_font(bold=self.isChecked()))
        painter.setPen(colour)
        painter.drawText(self.rect().adjusted(0, 42, 0, -8), Qt.AlignmentFlag.AlignCenter, self.text())
        if self.hasFocus():
            painter.setPen(theme.colour("accent"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(self.rect().adjusted(3, 3, -4, -4))

    def _repaint(self, _theme: object) -> None:
        self.update()


class PageBar(QFrame):
    """All tabs; `wanted` carries the key of the page that was chosen."""

    wanted = Signal(str)

    def __init__(self, pages: tuple[PageSpec, ...], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "bar")
        self.setAccessibleName("Pages")
        self._group = QButtonGroup(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.tabs: dict[str, PageTab] = {}
        for number, spec in enumerate(pages, start=1):
            tab = PageTab(spec, number, self)
            self._group.addButton(tab)
            column.addWidget(tab)
            self.tabs[spec.key] = tab
        column.addStretch(1)
        self._group.buttonClicked.connect(self._clicked)

    def show_chosen(self, key: str) -> None:
        """Mark the page that is shown; none for a page without a tab."""
        self._group.setExclusive(False)
        for tab in self.tabs.values():
            tab.setChecked(tab.key == key)
        self._group.setExclusive(True)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter chooses the tab that has the focus."""
        focused = self.focusWidget()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and isinstance(focused, PageTab):
            focused.click()
        else:
            super().keyPressEvent(event)

    def _clicked(self, tab: QAbstractButton) -> None:
        if isinstance(tab, PageTab):
            self.wanted.emit(tab.key)

"""What every table of single lines has in common: whole rows chosen, no grid, one height for all rows."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QPalette
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.theme import theme_news


def _viewport() -> QWidget:
    """Give a table's viewport, like the one that it comes with.

    That one Python would have to find out about among all kinds of widgets that there are, which makes every
    one of them known: it takes longer than filling the roster.
    """
    made = QWidget()
    made.setObjectName("qt_scrollarea_viewport")
    made.setBackgroundRole(QPalette.ColorRole.Base)
    made.setAutoFillBackground(True)
    made.setAttribute(Qt.WidgetAttribute.WA_AcceptTouchEvents)
    return made


class LinesTable(QTableView):
    """A table to look at and choose from; Enter and Esc are the page's."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setViewport(_viewport())
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        down, across = self.verticalHeader(), self.horizontalHeader()
        down.hide()
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(ROW_PX)
        across.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        across.setFixedHeight(ROW_PX)
        across.setHighlightSections(False)
        theme_news().changed.connect(self._repaint)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Enter and Esc to the page."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Escape):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def _repaint(self, _theme: object) -> None:
        self.viewport().update()

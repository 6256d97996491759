"""Help in place: the keys, the cautions, and about this program, from Markdown pages in assets/help."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import (
    QKeyEvent,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextDocument,
    QTextFrameFormat,
    QTextTable,
)
from PySide6.QtWidgets import QFrame, QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from hearthload import __version__
from hearthload.resources import asset
from hearthload.window.fonts import text_font, title_font
from hearthload.window.parts import TitleLabel, button, title_row
from hearthload.window.theme import GRID, current_theme, theme_news

TITLES: Final = {
    "keyboard": "Keyboard",
    "numbers": "How the numbers are made",
    "cautions": "Cautions",
    "size": "The size file",
    "about": "About Hearthload",
}
WIDEST_PX: Final = 96 * GRID
FIRST_COLUMN_PX: Final = 20 * GRID


class HelpPage(QWidget):
    """One help page at a time with a way back."""

    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._shown = False
        self.title = TitleLabel(self)
        self.back = button("Back", "", self)
        self.back.setToolTip("Esc")
        self.back.clicked.connect(self.left)
        self.text = QTextBrowser(self)
        self.text.setFrameShape(QFrame.Shape.NoFrame)
        self.text.setOpenExternalLinks(False)
        self.text.viewport().setAutoFillBackground(False)
        inside = QWidget(self)
        inside.setMaximumWidth(WIDEST_PX)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        self.head = title_row(self.title, self.back)
        column.addLayout(self.head)
        column.addWidget(self.text, stretch=1)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(inside, stretch=1)
        outer.addStretch(0)
        theme_news().changed.connect(self._themed)

    def show_help(self, name: str) -> None:
        """Show one page, such as "keyboard"."""
        page = asset(f"help/{name}.md").read_text(encoding="utf-8")
        self.show_text(TITLES[name], page.replace("{version}", __version__))

    def show_text(self, title: str, markdown: str) -> None:
        """Show a page of text under its title."""
        self._shown = True
        self.title.setText(title)
        self.text.setMarkdown(markdown)
        dress(self.text.document())
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _themed(self, _theme: object) -> None:
        if self._shown:
            dress(self.text.document())


def dress(document: QTextDocument) -> None:
    """Give a page from Markdown the window's headings, and tables with hairlines only."""
    document.setDocumentMargin(0)
    block = document.begin()
    while block.isValid():
        cursor = QTextCursor(block)
        layout = QTextBlockFormat()
        level = block.blockFormat().headingLevel()
        if level:
            layout.setTopMargin(2 * GRID)
            layout.setBottomMargin(GRID)
            # Not BlockUnderCursor: that reaches into the block before, which would get the heading's margins.
            cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor)
            cursor.mergeCharFormat(_heading(level))
        elif cursor.currentTable() is None:
            layout.setBottomMargin(GRID)
        cursor.mergeBlockFormat(layout)
        block = block.next()
    for frame in document.rootFrame().childFrames():
        if isinstance(frame, QTextTable):
            _dress_table(frame)


def _heading(level: int) -> QTextCharFormat:
    """Give the dress of a heading: the titles' typeface for the upper levels, bold text below."""
    look = QTextCharFormat()
    look.setFont(title_font() if level <= 2 else text_font(bold=True))
    return look


def _dress_table(table: QTextTable) -> None:
    layout = table.format()
    layout.setBorder(1)
    layout.setBorderCollapse(True)
    layout.setBorderStyle(QTextFrameFormat.BorderStyle.BorderStyle_None)
    layout.setBorderBrush(current_theme().colour("hairline"))
    layout.setCellPadding(GRID // 2)
    layout.setCellSpacing(0)
    layout.setBottomMargin(GRID)
    table.setFormat(layout)
    for row in range(table.rows()):
        for column in range(table.columns()):
            _dress_cell(table, row, column)


def _dress_cell(table: QTextTable, row: int, column: int) -> None:
    """Give a cell its hairline below and enough room in the first column."""
    cell = table.cellAt(row, column)
    look = cell.format().toTableCellFormat()
    look.setTopBorder(0)
    look.setLeftBorder(0)
    look.setRightBorder(0)
    look.setBottomBorder(1)
    look.setBottomBorderStyle(QTextFrameFormat.BorderStyle.BorderStyle_Solid)
    look.setBottomBorderBrush(current_theme().colour("hairline"))
    look.setRightPadding(3 * GRID)
    cell.setFormat(look)

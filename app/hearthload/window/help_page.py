"""Help in place: the keys, the cautions, and about this program, from Markdown pages in assets/help."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QTextBrowser, QVBoxLayout, QWidget

from hearthload import __version__
from hearthload.resources import asset
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID

TITLES: Final = {"keyboard": "Keyboard", "cautions": "Cautions", "about": "About Hearthload"}


class HelpPage(QWidget):
    """One help page at a time with a way back."""

    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = label("", "title", self)
        self.back = button("Back", "", self)
        self.back.setToolTip("Esc")
        self.back.clicked.connect(self.left)
        self.text = QTextBrowser(self)
        self.text.setFrameShape(QFrame.Shape.NoFrame)
        self.text.setOpenExternalLinks(False)
        self.text.setMaximumWidth(96 * GRID)
        self.text.viewport().setAutoFillBackground(False)
        top = QHBoxLayout()
        top.addWidget(self.title)
        top.addStretch(1)
        top.addWidget(self.back)
        inside = QWidget(self)
        inside.setMaximumWidth(96 * GRID)
        column = QVBoxLayout(inside)
        column.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addLayout(top)
        column.addWidget(self.text, stretch=1)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(inside)
        outer.addStretch(0)

    def show_help(self, name: str) -> None:
        """Show one page, such as "keyboard"."""
        self.title.setText(TITLES[name])
        page = asset(f"help/{name}.md").read_text(encoding="utf-8")
        self.text.setMarkdown(page.replace("{version}", __version__))
        self.back.setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc goes back."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

"""Makers of the smallest parts that every page uses: labels and buttons in the stylesheet's dresses."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QWidget


def label(text: str, look: str = "", parent: QWidget | None = None, *, wrap: bool = False) -> QLabel:
    """Make a label in one of the stylesheet's dresses; plain text only, so that names stay as typed."""
    made = QLabel(text, parent)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setWordWrap(wrap)
    if look:
        made.setProperty("look", look)
    return made


def button(text: str, look: str = "", parent: QWidget | None = None) -> QPushButton:
    """Make a button that Enter presses while it has the focus."""
    made = QPushButton(text, parent)
    made.setAutoDefault(True)
    made.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
    if look:
        made.setProperty("look", look)
    return made

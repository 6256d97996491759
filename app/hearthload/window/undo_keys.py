"""Ctrl+Z in a line that has nothing of its own to take back goes to the logbook instead."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget


class UndoKeys(QObject):
    """Watches the line that has the focus, and only that one."""

    def __init__(self, app: QApplication, parent: QObject | None = None) -> None:
        super().__init__(parent)
        app.focusChanged.connect(self._follow)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep a line from claiming an undo or redo that it cannot do."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(watched, QLineEdit):
            return False
        if not isinstance(event, QKeyEvent):
            return False
        undo = event.matches(QKeySequence.StandardKey.Undo) and not watched.isUndoAvailable()
        redo = event.matches(QKeySequence.StandardKey.Redo) and not watched.isRedoAvailable()
        if undo or redo:
            event.ignore()
            return True
        return False

    def _follow(self, old: QWidget | None, new: QWidget | None) -> None:
        if isinstance(old, QLineEdit):
            old.removeEventFilter(self)
        if isinstance(new, QLineEdit):
            new.installEventFilter(self)

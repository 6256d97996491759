"""The moment at which a person first sees the window; whatever is slow waits for it."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QTimer, Signal
from PySide6.QtWidgets import QWidget


class FirstPaint(QObject):
    """Tells, once, that a widget has been painted for the first time."""

    happened = Signal()

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self._widget = widget
        widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: ARG002 - as Qt gives it
        """Watch for the paint event; what waits for it runs after the event is over."""
        if event.type() == QEvent.Type.Paint:
            self._widget.removeEventFilter(self)
            QTimer.singleShot(0, self.happened.emit)
        return False

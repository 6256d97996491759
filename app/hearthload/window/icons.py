"""Line drawings from assets/icons in the colours of the theme."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QColor, QPainter
from PySide6.QtSvg import QSvgRenderer

from hearthload.resources import asset

if TYPE_CHECKING:
    from PySide6.QtGui import QIcon


class Drawing:
    """One line drawing; its "currentColor" becomes the colour that it is painted in."""

    def __init__(self, name: str) -> None:
        self._source = asset(f"icons/{name}.svg").read_bytes()
        self._renderers: dict[str, QSvgRenderer] = {}

    def paint(self, painter: QPainter, box: QRectF, colour: QColor) -> None:
        """Paint the drawing into a box."""
        key = colour.name()
        if key not in self._renderers:
            self._renderers[key] = QSvgRenderer(
                QByteArray(self._source.replace(b"currentColor", key.encode()))
            )
        self._renderers[key].render(painter, box)


def window_icon() -> QIcon:
    """Give the program's own icon for title bars and task bars."""
    from PySide6.QtGui import QIcon, QPixmap  # noqa: PLC0415 (after first paint)

    icon = QIcon()
    for size in (16, 32, 64, 128):
        pixmap = QPixmap(size, size)
        pixmap.fill(QColor(0, 0, 0, 0))
        painter = QPainter(pixmap)
        QSvgRenderer(str(asset("icons/hearthload.svg"))).render(painter, QRectF(0, 0, size, size))
        painter.end()
        icon.addPixmap(pixmap)
    return icon

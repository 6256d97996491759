"""A layout that sets widgets side by side and goes on in a further line where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget

from hearthload.window.theme import GRID


class FlowLayout(QLayout):
    """Lines of widgets, each at its own size; hidden ones take no room."""

    def __init__(self, parent: QWidget | None = None, spacing: int = GRID) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setSpacing(spacing)
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem, /) -> None:
        """Add an item at the end."""
        self._items.append(item)

    def count(self) -> int:
        """Count the items."""
        return len(self._items)

    def itemAt(self, index: int, /) -> QLayoutItem | None:
        """Give an item by its place."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int, /) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Want no more room than is needed."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Tell that the height follows from the width."""
        return True

    def heightForWidth(self, width: int, /) -> int:
        """Give the height of all lines at a width [px]."""
        return self._arranged(QRect(0, 0, width, 0), move=False)

    def sizeHint(self) -> QSize:
        """Want one line, as long as it takes."""
        sizes = [item.sizeHint() for item in self._shown()]
        width = sum(size.width() for size in sizes) + self.spacing() * max(len(sizes) - 1, 0)
        return QSize(width, max((size.height() for size in sizes), default=0))

    def minimumSize(self) -> QSize:
        """Give the size of the widest item: a line holds at least one."""
        sizes = [item.minimumSize() for item in self._shown()]
        return QSize(
            max((size.width() for size in sizes), default=0),
            max((size.height() for size in sizes), default=0),
        )

    def setGeometry(self, box: QRect, /) -> None:
        """Set the items into a box."""
        super().setGeometry(box)
        self._arranged(box, move=True)

    def _shown(self) -> list[QLayoutItem]:
        return [item for item in self._items if not item.isEmpty()]

    def _arranged(self, box: QRect, *, move: bool) -> int:
        """Go through the lines and give their height in all [px]; what is lower stands in a line's middle."""
        top = box.top()
        for line in self._lines(box.width()):
            height = max(item.sizeHint().height() for item in line)
            left = box.left()
            for item in line if move else ():
                size = item.sizeHint()
                item.setGeometry(QRect(QPoint(left, top + (height - size.height()) // 2), size))
                left += size.width() + self.spacing()
            top += height + self.spacing()
        return max(top - self.spacing() - box.top(), 0)

    def _lines(self, width: int) -> list[list[QLayoutItem]]:
        """Share the items out over lines of a width [px]; a line holds at least one."""
        lines: list[list[QLayoutItem]] = []
        used = 0
        for item in self._shown():
            wanted = item.sizeHint().width()
            if not lines or used + self.spacing() + wanted > width:
                lines.append([])
                used = -self.spacing()
            lines[-1].append(item)
            used += self.spacing() + wanted
        return lines

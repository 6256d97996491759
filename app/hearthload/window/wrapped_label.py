"""A label of several lines that breaks between its parts, so that no line begins or ends in a dot."""

from __future__ import annotations

import re
from typing import Final

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QWidget

DOT: Final = re.compile(r"[ \u00a0]+·[ \u00a0]+")
"""What stands between the parts of a line: a dot with room at both sides."""

MOST_HEIGHTS: Final = 100
"""Heights kept; a layout asks for the same few widths again and again."""


class WrappedLabel(QLabel):
    """A label of several lines; where its parts, set apart by dots, do not fit one, no line ends in a dot."""

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._whole = text
        self._heights: dict[tuple[str, int, str], int] = {}
        self.setWordWrap(True)
        self.setText(text)

    def text(self) -> str:
        """Give the text as it was set, in one line."""
        return self._whole

    def setText(self, text: str, /) -> None:
        """Show another text."""
        self._whole = text
        self.setAccessibleName(text if DOT.search(text) else "")
        super().setText(self._broken(self.contentsRect().width()))
        self.updateGeometry()

    def hasHeightForWidth(self) -> bool:
        """Tell that the height follows from the width."""
        return True

    def heightForWidth(self, width: int, /) -> int:
        """Give the height of the text at a width [px]."""
        key = (self._whole, width, self.font().key())
        if key not in self._heights:
            if len(self._heights) >= MOST_HEIGHTS:
                self._heights.clear()
            self._heights[key] = self._height_at(width)
        return self._heights[key]

    def _height_at(self, width: int) -> int:
        if not DOT.search(self._whole):
            return super().heightForWidth(width)
        sides, box = self.contentsMargins(), QRect(0, 0, width, 10_000)
        box = box.marginsRemoved(sides)
        shown = self._broken(box.width())
        lines = self.fontMetrics().boundingRect(box, Qt.TextFlag.TextWordWrap, shown)
        return lines.height() + sides.top() + sides.bottom()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break the lines anew."""
        super().resizeEvent(event)
        shown = self._broken(self.contentsRect().width())
        if shown != super().text():
            super().setText(shown)

    def _broken(self, width: int) -> str:
        """Put as many parts into each line as fit, and the dots between them only."""
        lines = [""]
        for part in _with_dots(self._whole):
            joined = lines[-1] + part
            if self.fontMetrics().horizontalAdvance(joined) <= width:
                lines[-1] = joined
            else:
                lines.append(DOT.sub("", part))
        return "\n".join(line for line in lines if line)


def _with_dots(text: str) -> list[str]:
    """Cut a text into its parts, each but the first with the dot before it."""
    starts = [found.start() for found in DOT.finditer(text)]
    return [text[start:end] for start, end in zip([0, *starts], [*starts, len(text)], strict=True)]

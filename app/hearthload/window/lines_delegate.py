"""Paints cells of one or two lines: text, a muted line under it, a hairline under the row."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QAbstractItemView, QStyledItemDelegate, QStyleOptionViewItem

from hearthload.window.colours import Theme
from hearthload.window.fonts import small_font, text_font
from hearthload.window.painting import fill
from hearthload.window.theme import GRID, current_theme

SECOND_ROLE = Qt.ItemDataRole.UserRole + 3
"""The muted line under a cell's text."""

ROW_PX = 5 * GRID
LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter

Dress = tuple[QFont, QColor, Qt.AlignmentFlag]
Index = QModelIndex | QPersistentModelIndex


class LinesDelegate(QStyledItemDelegate):
    """The painter of our tables; a subclass paints other things into some columns.

    `pad` is the room at each side of a cell [px]; the stylesheet gives the header the same.
    """

    pad = GRID

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._text = text_font()
        self._small = small_font()
        self._metrics = {id(font): QFontMetrics(font) for font in (self._text, self._small)}

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002
        """Give every row the same height."""
        return QSize(ROW_PX, ROW_PX)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one cell."""
        theme = current_theme()
        painter.save()
        self._paint_ground(
            painter, option.rect, theme, chosen=_is_chosen(option, index), first=index.column() == 0
        )
        before = GRID if index.column() == 0 else self.pad
        self.paint_content(painter, option.rect.adjusted(before, 0, -self.pad, -1), index, theme)
        painter.restore()

    def paint_content(self, painter: QPainter, box: QRect, index: Index, theme: Theme) -> None:
        """Paint what the cell says into its box."""
        self.paint_lines(painter, box, index, theme)

    def paint_lines(self, painter: QPainter, box: QRect, index: Index, theme: Theme, indent: int = 0) -> None:
        """Paint the text and, where there is one, the muted line under it, set in by `indent` [px]."""
        alignment = index.data(Qt.ItemDataRole.TextAlignmentRole)
        side = alignment if isinstance(alignment, Qt.AlignmentFlag) else LEFT
        text, below = str(index.data() or ""), str(index.data(SECOND_ROLE) or "")
        ink = self.ink(index, theme)
        if not below:
            self._line(painter, box, text, (self._text, ink, side))
            return
        half = box.height() // 2
        top = QRect(box.left(), box.top() + 2, box.width(), half)
        self._line(painter, top, text, (self._text, ink, side))
        under = QRect(box.left() + indent, box.top() + half, box.width() - indent, half - 2)
        self._line(painter, under, below, (self._small, theme.colour("muted"), side))

    def ink(self, index: Index, theme: Theme) -> QColor:  # noqa: ARG002 - a subclass tells cells apart
        """Give the colour of a cell's text."""
        return theme.colour("ink")

    @staticmethod
    def _paint_ground(painter: QPainter, box: QRect, theme: Theme, *, chosen: bool, first: bool) -> None:
        if chosen:
            fill(painter, box, theme.colour("chosen"))
        fill(painter, QRect(box.left(), box.bottom(), box.width(), 1), theme.colour("hairline"))
        if chosen and first:
            fill(painter, QRect(box.left(), box.top(), 3, box.height()), theme.colour("accent"))

    def _line(self, painter: QPainter, box: QRect, text: str, dress: Dress) -> None:
        font, colour, side = dress
        metrics = self._metrics[id(font)]
        if metrics.horizontalAdvance(text) > box.width():
            text = metrics.elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawText(box, side, text)


def _is_chosen(option: QStyleOptionViewItem, index: Index) -> bool:
    """Tell whether a row is chosen; asked of the view, for the style's own enums take long to load."""
    view = option.widget
    if not isinstance(view, QAbstractItemView):
        return False
    chosen = view.selectionModel()
    return chosen is not None and chosen.isRowSelected(index.row(), index.parent())

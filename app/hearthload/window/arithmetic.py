"""The arithmetic behind a figure, line by line: result, equation, what goes in, and the source."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from html import escape
from typing import Final

from PySide6.QtCore import QSize
from PySide6.QtGui import QFontMetrics, QResizeEvent, QTextBlockFormat, QTextCursor
from PySide6.QtWidgets import QFrame, QTextBrowser, QVBoxLayout, QWidget

from hearthload.domain.figures import DASH, decimals_for, format_decimals
from hearthload.outage.steps import Input, Step
from hearthload.window.colours import Theme
from hearthload.window.fonts import SMALL_PX, TEXT_PX, small_font, text_font
from hearthload.window.parts import label
from hearthload.window.theme import GRID, current_theme, theme_news

_LONGEST_SYMBOL: Final = 6
DIGITS: Final = 4
"""Significant digits of a number in the arithmetic: enough to follow it with a pocket calculator."""
TYPICAL: Final = "typical, not checked"
"""Said of a step in which some constant is common practice only."""
TYPICAL_MARK: Final = "\u25b3"
"""A triangle, the shape of a doubt."""
_SPARE_PX: Final = 4
"""A figure breaks in two where its column is narrower by a hair [px]."""
_SUBSCRIPT: Final = re.compile(r"_(\w+)")


class ArithmeticPanel(QWidget):
    """Shows steps under a title; scrolls by itself, and its text can be chosen and copied."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._steps: tuple[Step, ...] = ()
        self.title = label("", "lead", self, wrap=True)
        self.lines = _Lines(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.title)
        column.addWidget(self.lines, stretch=1)
        theme_news().changed.connect(self._themed)

    @property
    def steps(self) -> tuple[Step, ...]:
        """Give the steps that are shown."""
        return self._steps

    @property
    def text(self) -> str:
        """Give all that is shown as plain text."""
        return self.lines.toPlainText()

    def show_steps(self, title: str, steps: Sequence[Step]) -> None:
        """Show these steps in their order, from the top."""
        self._steps = tuple(steps)
        self.title.setText(title)
        self.lines.setAccessibleName(f"Arithmetic: {title}" if title else "Arithmetic")
        self._write()

    def clear(self) -> None:
        """Show nothing."""
        self.show_steps("", ())

    def _write(self) -> None:
        self.lines.show_page(page_of(self._steps, current_theme()))

    def _themed(self, _theme: object) -> None:
        self._write()


class _Lines(QTextBrowser):
    """A text to read that stands on the page's own paper."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        self.viewport().setAutoFillBackground(False)
        self.document().setDocumentMargin(0)
        self.document().setDefaultFont(text_font())
        self.setAccessibleName("Arithmetic")
        self._at_top = True
        self.verticalScrollBar().actionTriggered.connect(self._scrolled)

    def show_page(self, page: str) -> None:
        """Show a page of hypertext from its top."""
        self.setHtml(page)
        self.moveCursor(QTextCursor.MoveOperation.Start)
        # Qt puts an empty line before a table: let it be as low as can be.
        low = QTextBlockFormat()
        low.setLineHeight(1.0, QTextBlockFormat.LineHeightTypes.FixedHeight.value)
        self.textCursor().mergeBlockFormat(low)
        self._at_top = True
        self.verticalScrollBar().setValue(0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stay at the top unless the person scrolled; Qt scrolls to the cursor while it is squeezed."""
        super().resizeEvent(event)
        if self._at_top:
            self.verticalScrollBar().setValue(0)

    def _scrolled(self, _action: int) -> None:
        self._at_top = False

    def minimumSizeHint(self) -> QSize:
        """Be content with a few lines."""
        return QSize(24 * GRID, 12 * GRID)


def page_of(steps: Sequence[Step], theme: Theme) -> str:
    """Give the steps as a page of hypertext: one ledger, figures in a column at the right.

    That column is as wide as its widest figure, so that the words at its left have all the rest.
    """
    px = figures_px(steps)
    rows = "".join(_rows_of(step, theme, px) for step in steps)
    return f'<table width="100%" cellspacing="0" cellpadding="0">{rows}</table>' if rows else ""


def figures_px(steps: Sequence[Step]) -> int:
    """Give how wide the column of figures must be [px]."""
    large, small = QFontMetrics(text_font(bold=True)), QFontMetrics(small_font())
    widths = [large.horizontalAdvance(with_unit(step.value, step.unit)) for step in steps]
    widths += [
        small.horizontalAdvance(with_unit(each.value, each.unit)) for step in steps for each in step.inputs
    ]
    return max(widths, default=0) + 2 * GRID + _SPARE_PX


def step_number(value: float) -> str:
    """Print a number of the arithmetic: four digits that count, whole numbers whole, no zeros at the end."""
    if math.isinf(value):
        return "∞" if value > 0.0 else "−∞"
    if math.isnan(value):
        return DASH
    text = format_decimals(value, max(0, decimals_for(value, DIGITS)))
    return (text.rstrip("0").rstrip(".") if "." in text else text).replace("-", "−")


def with_unit(value: float, unit: str) -> str:
    """Print a number with its unit, which stays with it."""
    return f"{step_number(value)}\u00a0{unit}" if unit else step_number(value)


def _says_nothing(equation: str) -> bool:
    """Tell whether an equation is a bare symbol: of a figure that was measured or typed."""
    return len(equation) <= _LONGEST_SYMBOL and not any(sign in equation for sign in "=·+−/Σ")


def _rows_of(step: Step, theme: Theme, px: int) -> str:
    head = f"color:{theme.ink}; font-size:{TEXT_PX}px"
    small = f"color:{theme.muted}; font-size:{SMALL_PX}px"
    rule = f"border-top:1px solid {theme.hairline}"
    top = _row(
        f'<span style="{head}; font-weight:600">{escape(step.quantity)}</span>',
        f'<span style="{head}; font-weight:600">{escape(with_unit(step.value, step.unit))}</span>',
        f"{rule}; padding-top:{GRID}px",
        px,
    )
    equation = (
        "" if _says_nothing(step.equation) else f'<span style="{head}">{_lowered(step.equation)}</span>'
    )
    inputs = "".join(_input_row(each, small, px) for each in step.inputs)
    source = f"Source: {escape(step.source)}"
    if step.typical:
        mark = f'<span style="color:{theme.doubt}">{TYPICAL_MARK}</span>'
        source += f" &nbsp;·&nbsp; {mark}&nbsp;{TYPICAL}"
    last = f'<span style="{small}">{source}</span>'
    under = _row(equation, "", "padding-top:2px") if equation else ""
    return top + under + inputs + _row(last, "", f"padding-bottom:{GRID}px")


def _input_row(each: Input, small: str, px: int) -> str:
    symbol = f"{_lowered(each.symbol)}, " if each.symbol else ""
    left = f'<span style="{small}">{symbol}{escape(each.name)}</span>'
    return _row(left, f'<span style="{small}">{escape(with_unit(each.value, each.unit))}</span>', "", px)


def _row(left: str, right: str, dress: str, px: int = 0) -> str:
    """Make a row of the ledger; words without a figure beside them take the whole width."""
    if not right:
        return f'<tr><td colspan="2" style="{dress}">{left}</td></tr>'
    gap = f"padding-left:{2 * GRID}px"
    return (
        f'<tr><td style="{dress}">{left}</td>'
        f'<td width="{px}" align="right" style="{dress}; {gap}">{right}</td></tr>'
    )


def _lowered(symbols: str) -> str:
    """Set what follows an underscore lower, as it is printed in books."""
    return _SUBSCRIPT.sub(r"<sub>\1</sub>", escape(symbols))

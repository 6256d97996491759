"""The arithmetic of a figure, line by line: what comes out, by which equation, from what, and whence."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import Final

from PySide6.QtWidgets import QFrame, QTextBrowser, QWidget

from hearthload.domain.figures import DASH, format_number
from hearthload.outage.steps import Input, Step
from hearthload.window.fonts import SMALL_PX, TEXT_PX
from hearthload.window.outage.outage_words import TYPICAL
from hearthload.window.theme import GRID, Theme, current_theme, theme_news

DIGITS: Final = 4
"""A line of arithmetic shows one digit more than figures do, so that it can be followed by hand."""
NOTHING: Final = "Choose a figure: its arithmetic stands here, line by line."


class ArithmeticView(QTextBrowser):
    """Shows the steps of one figure as text that can be read, scrolled and copied by keyboard."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = ""
        self.steps: tuple[Step, ...] = ()
        self._lead = ""
        self._result: float | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        self.setAccessibleName("Arithmetic")
        self.viewport().setAutoFillBackground(False)
        self.document().setDocumentMargin(GRID)
        theme_news().changed.connect(self._themed)
        self._write()

    def show_steps(
        self, title: str, steps: Iterable[Step], lead: str = "", result: float | None = None
    ) -> None:
        """Show the arithmetic of another figure, from its beginning; the same one stays where it is.

        The step that gives `result` comes first, those that go into it after it.
        """
        fresh = (title, tuple(steps), lead, result)
        if fresh == (self.title, self.steps, self._lead, self._result):
            return
        keep = title == self.title
        place = self.verticalScrollBar().value()
        self.title, self.steps, self._lead, self._result = fresh
        self._write()
        self.verticalScrollBar().setValue(place if keep else 0)

    def show_nothing(self) -> None:
        """Say what to choose."""
        self.show_steps("", ())

    def _write(self) -> None:
        theme = current_theme()
        self.document().setDefaultStyleSheet(_style(theme))
        self.setHtml(page_of(self.title, result_first(self.steps, self._result), self._lead))
        self.setAccessibleDescription(self.title or NOTHING)

    def _themed(self, _theme: Theme) -> None:
        self._write()


def page_of(title: str, steps: Iterable[Step], lead: str = "") -> str:
    """Write the whole arithmetic as HTML; names stay as typed."""
    if not title:
        return f'<p class="small">{NOTHING}</p>'
    parts = [f'<p class="title">{escape(title)}</p>']
    if lead:
        parts.append(f"<p>{escape(lead)}</p>")
    lines = [_step(step) for step in steps]
    return "".join([*parts, *(lines or ['<p class="small">There is no arithmetic behind it.</p>'])])


def result_first(steps: tuple[Step, ...], result: float | None) -> tuple[Step, ...]:
    """Put the step that gives a figure before those that go into it."""
    if result is None:
        return steps
    places = [at for at, step in enumerate(steps) if step.value == result]
    if not places:
        return steps
    at = places[-1]
    return (steps[at], *steps[:at], *steps[at + 1 :])


def value_text(value: float, unit: str) -> str:
    """Print one value of a line of arithmetic with its unit."""
    text = "0" if value == 0.0 else format_number(value, DIGITS)
    return f"{text} {unit}".strip() if text != DASH else "without end"


def _step(step: Step) -> str:
    inputs = "".join(_input(each) for each in step.inputs)
    source = escape(step.source) + (f" · ◇ {TYPICAL}" if step.typical else "")
    return (
        f'<p class="what">{escape(step.quantity)}</p>'
        f'<p class="sum">{escape(step.equation)} = <b>{escape(value_text(step.value, step.unit))}</b></p>'
        + (f'<table cellspacing="0" cellpadding="0">{inputs}</table>' if inputs else "")
        + f'<p class="small">{source}</p>'
    )


def _input(each: Input) -> str:
    return (
        f'<tr><td class="in">{escape(each.symbol)}</td><td class="in">{escape(each.name)}</td>'
        f'<td class="in" align="right">{escape(value_text(each.value, each.unit))}</td></tr>'
    )


def _style(theme: Theme) -> str:
    return f"""
    p {{ font-size: {TEXT_PX}px; margin: 0; color: {theme.ink}; }}
    p.title {{ font-weight: 600; margin-bottom: {GRID}px; }}
    p.what {{ margin-top: {GRID}px; font-weight: 600; font-size: {SMALL_PX}px; }}
    p.sum {{ margin-top: 2px; }}
    p.small {{ font-size: {SMALL_PX}px; color: {theme.muted}; margin-bottom: {GRID}px; }}
    td.in {{ font-size: {SMALL_PX}px; color: {theme.ink}; padding-right: {2 * GRID}px; }}
    """

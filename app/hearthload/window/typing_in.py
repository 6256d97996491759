"""Reads the lines of a form: numbers with either decimal mark, each refusal said under its field."""

from __future__ import annotations

from PySide6.QtWidgets import QLineEdit

from hearthload.domain.typed import TypedError, parse_number
from hearthload.window.form import Form


class Typed:
    """What was typed into a form; `good` tells whether every line could be taken."""

    def __init__(self, form: Form) -> None:
        self._form = form
        self.good = True
        form.clear_complaints()

    def text(self, name: str) -> str:
        """Give a line's text without surrounding blanks."""
        editor = self._form.rows[name].editor
        return editor.text().strip() if isinstance(editor, QLineEdit) else ""

    def required(self, name: str, sentence: str) -> str:
        """Give a line's text; an empty one is refused with the sentence."""
        text = self.text(name)
        if not text:
            self.refuse(name, "empty", sentence)
        return text

    def number(self, name: str) -> float | None:
        """Give a line's number, None when nothing is typed."""
        return self._number(name) if self.text(name) else None

    def positive(self, name: str) -> float | None:
        """Give a line's number above zero, None when nothing is typed."""
        value = self.number(name)
        if value is not None and value <= 0.0:
            self.refuse(
                name, "not_positive", "This must be more than zero; leave it empty if you do not know."
            )
            return None
        return value

    def positive_or(self, name: str, default: float) -> float:
        """Give a line's number above zero, or the default when nothing is typed."""
        value = self.positive(name)
        return default if value is None else value

    def signed(self, name: str, unit: str = "") -> float | None:
        """Give a line's number, which may be below zero, None when nothing is typed."""
        return self._number(name, unit, allow_negative=True) if self.text(name) else None

    def refuse(self, name: str, code: str, sentence: str) -> None:
        """Say why a line cannot be taken."""
        self.good = False
        self._form.rows[name].complain(sentence, code)

    def _number(self, name: str, unit: str = "", *, allow_negative: bool = False) -> float | None:
        try:
            return parse_number(self.text(name), allow_negative=allow_negative, unit=unit)
        except TypedError as error:
            self.refuse(name, error.code, str(error))
            return None


def written(value: float | None) -> str:
    """Write a number into a line as it would be typed, nothing for None."""
    return "" if value is None else f"{value:.10g}"

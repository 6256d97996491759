"""How an estimate came about, as a page beside the roster; its equations unfold at a press."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtWidgets import QWidget

from hearthload.window.help_page import HelpPage
from hearthload.window.parts import button
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.explain import Explanation

SHOW: Final = "Show the e&quations"
HIDE: Final = "Hide the e&quations"


class ExplanationPage(HelpPage):
    """Shows the words of an explanation; the equations are folded away each time it opens."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._told: Explanation | None = None
        self.fold = button(SHOW, "link", self)
        self.fold.setCheckable(True)
        self.fold.toggled.connect(self._fold)
        self.head.setSpacing(GRID)
        self.head.insertWidget(1, self.fold)

    def show_explanation(self, told: Explanation) -> None:
        """Show an explanation from its top, without its equations."""
        self._told = told
        self.fold.setVisible(bool(told.equations))
        self.fold.setChecked(False)
        self._write(told)

    def _fold(self, opened: bool) -> None:
        self.fold.setText(HIDE if opened else SHOW)
        if self._told is not None:
            self._write(self._told)
            self.fold.setFocus()

    def _write(self, told: Explanation) -> None:
        from hearthload.service.explain import EQUATIONS, as_markdown  # noqa: PLC0415 (numpy: when asked for)

        opened = self.fold.isChecked()
        self.show_text(told.title, as_markdown(told, equations=opened))
        if opened:
            self._scroll_to(EQUATIONS)

    def _scroll_to(self, words: str) -> None:
        document = self.text.document()
        heading = document.find(words).block()
        top = document.documentLayout().blockBoundingRect(heading).top()
        self.text.verticalScrollBar().setValue(round(top))

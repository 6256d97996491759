"""What to look for when buying or borrowing: battery, inverter, cable, sun, generator and fuel."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtWidgets import QWidget

from hearthload.window.outage.figure_table import Headers
from hearthload.window.outage.figures_section import FiguresSection
from hearthload.window.outage.needs_rows import needs_rows
from hearthload.window.outage.outage_words import gaps_words

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

NOTHING: Final = "Nothing is kept on in this plan: under Loads, make an appliance essential or wanted."


class NeedsSection(FiguresSection):
    """The sizing of a plan as one table."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Headers("What to look for", ("Figure",)), "What to look for", parent)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show what a plan asks for."""
        sizing = answer.sizing
        rows = needs_rows(answer)
        self.say(*((NOTHING,) if sizing is None else gaps_words(sizing.not_known, sizing.assumed)))
        self.table.setVisible(bool(rows))
        self.table.show_rows(rows)

"""The totals of a plan with their arithmetic, and the chart of the demand below them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from hearthload.window.outage.demand_panel import DemandPanel
from hearthload.window.outage.figure_table import Headers
from hearthload.window.outage.figures_section import FiguresSection
from hearthload.window.outage.outage_words import gaps_words
from hearthload.window.outage.totals_rows import totals_rows

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

TABLE_SHARE, CHART_SHARE = 2, 1


class TotalsSection(FiguresSection):
    """What the loads that are kept on take together."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(Headers("All loads that are kept on", ("Figure",)), "Totals", parent)
        self.demand = DemandPanel(self)
        self.left.setStretchFactor(self.table, TABLE_SHARE)
        self.left.addWidget(self.demand, stretch=CHART_SHARE)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Show a plan's totals."""
        totals = answer.totals
        self.say(*gaps_words(totals.not_known, totals.assumed))
        self.table.show_rows(totals_rows(answer))
        self.demand.show_totals(totals)

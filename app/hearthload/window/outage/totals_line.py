"""The plan's totals in one line of links, in sight wherever one is on the page; each opens its arithmetic."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QWidget

from hearthload.domain.figures import format_days
from hearthload.window.flow import FlowLayout
from hearthload.window.outage.outage_words import figure_text, is_short, number_text
from hearthload.window.outage.totals_rows import (
    DAILY,
    EXPECTED,
    HOLD,
    LIKELY,
    RUNNING_W,
    START,
    hold_kwh,
    seldom_words,
)
from hearthload.window.parts import button, label
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

SHOWN: Final = (DAILY, HOLD, RUNNING_W, LIKELY, START)


class TotalsLine(QWidget):
    """The figures that matter most; `wanted` carries the key of the one to open."""

    wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.links: dict[str, QPushButton] = {}
        self._opened: dict[str, str] = {}
        self.gaps = label("", "muted", self)
        flow = FlowLayout(self, 2 * GRID)
        for key in SHOWN:
            link = button("", "link", self)
            link.setToolTip("Open its arithmetic")
            link.clicked.connect(partial(self._clicked, key))
            self.links[key] = link
            flow.addWidget(link)
        flow.addWidget(self.gaps)

    def show_answer(self, answer: PlanAnswer) -> None:
        """Write the figures anew."""
        self._opened = {DAILY: EXPECTED} if is_short(answer.plan) else {}
        for key, words in totals_words(answer).items():
            if self.links[key].text() != words:
                self.links[key].setText(words)
                self.links[key].updateGeometry()
        self.gaps.setText(short_gaps(answer))
        self.gaps.setVisible(bool(self.gaps.text()))

    def _clicked(self, key: str, _checked: bool = False) -> None:
        self.wanted.emit(self._opened.get(key, key))


def totals_words(answer: PlanAnswer) -> dict[str, str]:
    """Say each figure in few words."""
    totals = answer.totals
    whole = format_days(answer.plan.days)
    energy = (
        f"{number_text(totals.plan_kwh.value, 'kWh')} kWh in {whole}"
        if is_short(answer.plan)
        else f"{figure_text(totals.daily)} kWh a day"
    )
    return {
        DAILY: energy,
        HOLD: f"{number_text(hold_kwh(totals.plan_kwh), 'kWh')} kWh to hold for {whole}",
        RUNNING_W: f"{number_text(totals.running_w.value, 'W')} W all running",
        LIKELY: f"{number_text(totals.likely_w.value, 'W')} W or less, {seldom_words(answer)}",
        START: f"{number_text(totals.start_va.value, 'VA')} VA starting",
    }


def short_gaps(answer: PlanAnswer) -> str:
    """Count the loads that the totals are short of, and those that they assume."""
    missing, taken = len(answer.totals.not_known), len(answer.totals.assumed)
    parts = (f"△ {missing} not known" if missing else "", f"◇ {taken} assumed" if taken else "")
    return ", ".join(part for part in parts if part)

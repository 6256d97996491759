"""The arithmetic panel: every line of a figure with its numbers, units and source; names stay as typed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QApplication

from hearthload.outage.steps import Input, Step
from hearthload.window.arithmetic import TYPICAL, TYPICAL_MARK, ArithmeticPanel, step_number, with_unit
from hearthload.window.colours import DARK, LIGHT
from hearthload.window.fonts import text_font
from hearthload.window.theme import GRID, apply_theme
from tests.window import hands
from tests.window.hands import show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

ENERGY = Step(
    "Energy over the outage",
    "E_d = d · E",
    (Input("days", "d", 3.0, "d"), Input("energy a day", "E", 1.234567, "kWh/d")),
    3.703701,
    "kWh",
    "sum",
    typical=False,
)
START = Step("Start <of> A & B", "S = m·P", (), 2700.0, "VA", "common practice", typical=True)


@pytest.fixture
def panel(qtbot: QtBot) -> ArithmeticPanel:
    made = ArithmeticPanel()
    show(qtbot, made, 500, 400)
    return made


@pytest.mark.parametrize(
    ("value", "printed"),
    [
        (3.703701, "3.704"), (0.8, "0.8"), (230.0, "230"), (12345.6, "12346"), (0.0, "0"),
        (-0.25, "−0.25"), (0.00012345, "0.000123"), (math.inf, "∞"), (math.nan, "–"), (1.0, "1"),
    ],
)  # fmt: skip
def test_numbers_keep_four_digits_and_no_zeros_at_the_end(value: float, printed: str) -> None:
    assert step_number(value) == printed


def test_a_unit_stays_with_its_number() -> None:
    assert with_unit(2700.0, "VA") == "2700\u00a0VA"
    assert with_unit(0.8, "") == "0.8"


def test_a_step_is_shown_with_all_that_goes_into_it(panel: ArithmeticPanel) -> None:
    panel.show_steps("Energy", [ENERGY])
    assert panel.title.text() == "Energy"
    shown = [line.replace("\u00a0", " ") for line in panel.text.split("\n") if line]
    assert shown == [
        "Energy over the outage", "3.704 kWh", "Ed = d · E",
        "d, days", "3 d", "E, energy a day", "1.235 kWh/d", "Source: sum",
    ]  # fmt: skip


def test_names_stay_as_typed_and_typical_figures_say_so(panel: ArithmeticPanel) -> None:
    panel.show_steps("Start", [ENERGY, START])
    assert "Start <of> A & B" in panel.text
    assert panel.text.count(TYPICAL) == 1
    assert panel.steps == (ENERGY, START)
    assert panel.text.index(TYPICAL) > panel.text.index("common practice")


def test_the_mark_can_be_drawn(qapp: QApplication) -> None:
    del qapp
    metrics = QFontMetrics(text_font())
    assert all(metrics.inFontUcs4(ord(letter)) for letter in f"{TYPICAL_MARK}Σ·√η∞−≤≥")


def test_clearing_leaves_nothing(panel: ArithmeticPanel) -> None:
    panel.show_steps("Energy", [ENERGY])
    panel.clear()
    assert (panel.text.strip(), panel.title.text(), panel.steps) == ("", "", ())


def test_another_theme_recolours_what_is_shown(panel: ArithmeticPanel, qapp: QApplication) -> None:
    panel.show_steps("Energy", [ENERGY])
    assert LIGHT.ink.lower() in panel.lines.toHtml()
    apply_theme(qapp, dark=True)
    try:
        assert DARK.ink.lower() in panel.lines.toHtml()
        assert LIGHT.ink.lower() not in panel.lines.toHtml()
    finally:
        apply_theme(qapp, dark=False)


def test_it_opens_at_the_top(panel: ArithmeticPanel) -> None:
    panel.show_steps("Many", [START] * 40)
    bar = panel.lines.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    panel.show_steps("Many again", [START] * 41)
    assert bar.value() == 0


def test_a_panel_that_was_squeezed_still_opens_at_the_top(panel: ArithmeticPanel) -> None:
    panel.resize(100, 60)
    panel.show_steps("Many", [START] * 40)
    panel.resize(500, 400)
    assert panel.lines.verticalScrollBar().value() == 0


def test_a_panel_that_was_scrolled_stays_there(panel: ArithmeticPanel) -> None:
    panel.show_steps("Many", [START] * 40)
    panel.lines.setFocus()
    hands.press(Qt.Key.Key_PageDown)
    there = panel.lines.verticalScrollBar().value()
    assert there > 0
    panel.resize(500, 380)
    assert panel.lines.verticalScrollBar().value() == there


def test_words_take_all_the_width_that_figures_leave(panel: ArithmeticPanel) -> None:
    long = Step(
        "Energy from the battery over the outage, at the plan's confidence",
        "E_dc=P_idle·24·d/1000+s·E/(η_charger·η_battery·η_inverter·η_cable·η_everything)",
        (Input("energy of the loads at the plan's confidence", "E", 1.06, "kWh"),),
        1.159,
        "kWh",
        "common practice for freezers",
        typical=True,
    )
    panel.resize(400, 300)
    panel.show_steps("Long", (long, ENERGY))
    widest = QFontMetrics(text_font(bold=True)).horizontalAdvance(with_unit(1.159, "kWh"))
    document = panel.lines.document()
    free = document.textWidth() - widest - 4 * GRID
    found = {}
    block = document.begin()
    while block.isValid():
        layout = block.layout()
        found[block.text()] = (layout.lineCount(), layout.lineAt(0).width())
        block = block.next()
    assert found[long.quantity][1] >= free
    assert found["E, energy of the loads at the plan's confidence"][0] == 1
    assert all(found[with_unit(step.value, step.unit)][0] == 1 for step in (long, ENERGY))

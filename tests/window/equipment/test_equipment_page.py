"""The Equipment page: empty states, the plan it is held against, verdicts as answered, arithmetic, undo."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.household import Household
from hearthload.domain.plan import PlanLoadDraft, Use
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.outage.answers import LimitCode, Outcome
from hearthload.service import queries_plans
from hearthload.service.edits.plans import remove_plan, set_plan_load
from hearthload.service.logbook import create_logbook
from hearthload.service.outage_verdict_words import verdict_sentence
from hearthload.window.equipment.detail_tabs import ARITHMETIC, BOTH_PX, LEAVE_OFF, LIMITS
from hearthload.window.equipment.limit_model import Column as LimitColumn
from hearthload.window.equipment.page import EquipmentPage
from hearthload.window.equipment.supply_detail import RECKONING
from hearthload.window.equipment.supply_table import WIDTHS
from hearthload.window.theme import apply_theme
from tests.window import hands
from tests.window.equipment.gear import BLANK, ENGINE, PANELS, STRONG, WEAK, answers, owned, planned
from tests.window.filling import House
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape


def reckoned(page: EquipmentPage, qtbot: QtBot) -> None:
    """Wait until every row has its verdict."""
    qtbot.waitUntil(lambda: all(row.answer is not None for row in page.table.supplies.rows))


def choose(page: EquipmentPage, name: str) -> None:
    names = [row.supply.name for row in page.table.supplies.rows]
    page.table.selectRow(names.index(name))


def texts(page: EquipmentPage) -> list[str]:
    return [found.text() for found in page.findChildren(QLabel) if found.isVisible()]


# --- nothing there yet ---


def test_an_empty_page_says_what_to_enter(page: EquipmentPage, house: House) -> None:
    assert page.head.no_equipment.isVisible()
    assert page.head.add_button.property("look") == "primary"
    assert not page.table.isVisible()
    assert page.head.standing.text() == "none yet"
    owned(house, STRONG)
    assert page.table.isVisible()
    assert not page.head.no_equipment.isVisible()
    assert page.head.standing.text() == "1 entered"


def test_without_a_plan_a_button_leads_to_where_plans_are_made(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    owned(house, STRONG)
    assert page.head.no_plan.isVisible()
    assert not page.head.choice.isVisible()
    assert page.detail.sentence.text() == "There is no outage plan yet to check it against."
    assert not page.detail.tabs.isVisible()
    with qtbot.waitSignal(page.task_wanted) as wanted:
        hands.click(page.head.plan_button)
    assert wanted.args == ["show_outage"]
    planned(house)
    assert not page.head.no_plan.isVisible()
    assert page.head.choice.currentText() == "Winter storm, 3 days"
    reckoned(page, qtbot)
    assert page.detail.tabs.isVisible()


def test_a_plan_that_is_removed_takes_its_verdicts_along(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    plan_id = planned(house)
    owned(house, STRONG)
    reckoned(page, qtbot)
    house.session.do(remove_plan, plan_id)
    assert page.head.no_plan.isVisible()
    assert [row.answer for row in page.table.supplies.rows] == [None]
    assert not page.cautions.isVisible()


# --- verdicts ---


def test_the_verdicts_are_those_of_the_answers(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    plan_id = planned(house)
    owned(house, STRONG, WEAK, BLANK, ENGINE, PANELS)
    reckoned(page, qtbot)
    (plan,) = queries_plans.plans(house.session.logbook)
    for name, answer in answers(house, plan_id).items():
        choose(page, name)
        assert page.detail.name.text() == name
        assert page.detail.sentence.text() == verdict_sentence(answer, plan)
        assert page.detail.mark.outcome is answer.verdict.outcome
        shown = [limit for limit in page.detail.limits.limits.rows if limit is not None]
        assert sorted(shown, key=repr) == sorted(answer.verdict.limits, key=repr)
        assert page.cautions.sentences == answer.cautions
    assert page.head.standing.text() == "5 entered, 2 carry the plan"


def test_cautions_stand_beside_the_verdict(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    planned(house)
    owned(house, ENGINE)
    reckoned(page, qtbot)
    said = " ".join(text for text in texts(page) if text in page.cautions.sentences)
    assert "carbon-monoxide" in said
    assert "back-feeding" in said


def test_another_plan_gives_other_verdicts(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    planned(house, "Long one", days=30.0)
    planned(house, "Short one", days=1.0)
    owned(house, STRONG)
    reckoned(page, qtbot)
    assert page.head.choice.currentText() == "Long one, 30 days"
    assert page.detail.mark.outcome is Outcome.FALLS_SHORT
    page.head.choice.setFocus()
    hands.press(Qt.Key.Key_Down)
    qtbot.waitUntil(lambda: page.detail.mark.outcome is Outcome.CARRIES)
    assert page.detail.sentence.text() == "Carries the plan's loads for all 24 h."
    # A change elsewhere keeps the chosen plan.
    owned(house, WEAK)
    assert page.head.choice.currentText() == "Short one, 1 day"


def test_a_changed_figure_changes_the_verdict_and_undo_brings_it_back(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    planned(house)
    owned(house, STRONG)
    reckoned(page, qtbot)
    assert page.detail.mark.outcome is Outcome.CARRIES
    hands.click(page.detail.change_button)
    line = page.sheet.form.rows["stored_wh"].editor
    hands.fill(line, "2000")
    hands.press(ENTER)
    qtbot.waitUntil(lambda: page.detail.mark.outcome is Outcome.FALLS_SHORT)
    house.session.undo()
    qtbot.waitUntil(lambda: page.detail.mark.outcome is Outcome.CARRIES)


def test_the_plan_chosen_here_is_told_and_one_chosen_elsewhere_is_shown(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    first, second = planned(house, "Long one", days=30.0), planned(house, "Short one", days=1.0)
    owned(house, STRONG)
    reckoned(page, qtbot)
    assert page.head.plan is not None
    assert (page.head.plan.id, house.session.plan_id) == (first, None)
    page.head.choice.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert house.session.plan_id == second
    page.hide()
    house.session.plan_id = first
    page.show()
    assert page.head.plan.name == "Long one"
    qtbot.waitUntil(lambda: page.detail.mark.outcome is Outcome.FALLS_SHORT)


def test_a_chosen_plan_that_is_gone_leaves_the_one_that_was_shown(page: EquipmentPage, house: House) -> None:
    planned(house, "Long one", days=30.0)
    second = planned(house, "Short one", days=1.0)
    page.head.choice.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert page.head.plan is not None
    assert page.head.plan.id == second
    house.session.plan_id = 999
    page.hide()
    page.show()
    assert page.head.plan.id == second
    house.session.do(remove_plan, second)
    assert page.head.plan.name == "Long one"


# --- limits and their arithmetic ---


def test_enter_on_a_limit_opens_its_arithmetic(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    planned(house)
    owned(house, WEAK)
    reckoned(page, qtbot)
    page.detail.limits.setFocus()
    limit = page.detail.limits.limit()
    assert limit is not None
    assert limit.code is LimitCode.ENERGY
    assert limit.needed is not None
    hands.press(ENTER)
    assert page.detail.tabs.chosen == ARITHMETIC
    assert focused() is page.detail.arithmetic.lines
    steps = page.detail.arithmetic.steps
    assert set(limit.needed.steps) | set(limit.steps) <= set(steps)
    # With the energy comes how long it lasts.
    assert steps[-1].quantity == "Hours that the usable energy lasts"
    hands.press(ESCAPE)
    assert page.detail.tabs.chosen == LIMITS
    assert focused() is page.detail.limits
    hands.press(Qt.Key.Key_Down)
    below = page.detail.limits.limit()
    assert below is not None
    assert below.code is not LimitCode.ENERGY
    assert page.detail.arithmetic.title.text().startswith("Running watts: ")


def test_arrows_step_over_the_heading(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    planned(house)
    owned(house, ENGINE)
    reckoned(page, qtbot)
    table = page.detail.limits
    heading = table.limits.heading_row
    assert heading is not None
    table.setFocus()
    hands.press(Qt.Key.Key_Down, times=heading)
    assert table.currentIndex().row() == heading + 1


def test_the_chosen_limit_says_the_whole_of_what_to_look_up(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    planned(house)
    owned(house, BLANK)
    reckoned(page, qtbot)
    page.detail.limits.setFocus()
    for _ in range(page.detail.limits.limits.rowCount() - 2):
        limit = page.detail.limits.limit()
        assert limit is not None
        if limit.outcome is Outcome.NOT_KNOWN:
            assert page.detail.about.isVisible()
            assert page.detail.about.text().endswith(f"look up: {limit.missing}")
            assert limit.about in page.detail.about.text()
        hands.press(Qt.Key.Key_Down)


def test_a_limit_without_figures_says_so(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    planned(house)
    owned(house, PANELS)
    reckoned(page, qtbot)
    page.detail.limits.setFocus()
    hands.press(ENTER)
    assert page.detail.arithmetic.steps == ()
    assert "a battery with an inverter" in page.detail.arithmetic.title.text()


def test_a_tall_page_shows_limits_and_arithmetic_together(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    planned(house)
    owned(house, STRONG)
    reckoned(page, qtbot)
    assert not page.detail.arithmetic.isVisible()
    page.resize(1200, BOTH_PX + 300)
    qtbot.waitUntil(page.detail.arithmetic.isVisible)
    assert page.detail.limits.isVisible()
    assert not page.detail.tabs.tabs[ARITHMETIC].isVisible()
    hands.click(page.detail.tabs.tabs[LEAVE_OFF])
    assert page.detail.leave_off.isVisible()
    assert not page.detail.arithmetic.isVisible()


# --- other logbooks ---


def test_another_logbook_keeps_nothing_of_the_first(
    page: EquipmentPage, house: House, qtbot: QtBot, tmp_path: Path
) -> None:
    planned(house)
    owned(house, STRONG)
    reckoned(page, qtbot)
    house.session.attach(create_logbook(tmp_path / "other.hearthload", Household()))
    assert page.table.supplies.rowCount() == 0
    assert page.head.no_equipment.isVisible()
    planned(house)
    # The same number as in the first logbook, but another thing.
    owned(house, BLANK)
    assert [row.answer for row in page.table.supplies.rows] == [None]
    assert page.detail.sentence.text() == RECKONING
    reckoned(page, qtbot)
    assert page.detail.mark.outcome is Outcome.NOT_KNOWN


# --- removing ---


def test_a_supply_is_removed_and_comes_back(page: EquipmentPage, house: House) -> None:
    owned(house, STRONG, WEAK)
    choose(page, WEAK.name)
    hands.click(page.detail.remove_button)
    assert [row.supply.name for row in page.table.supplies.rows] == [STRONG.name]
    assert page.detail.name.text() == STRONG.name
    house.session.undo()
    assert [row.supply.name for row in page.table.supplies.rows] == [STRONG.name, WEAK.name]


def test_a_part_of_a_combination_stays_and_the_page_says_why(page: EquipmentPage, house: House) -> None:
    members = tuple(owned(house, STRONG, PANELS))
    owned(house, SupplyDraft("Both", SupplyKind.COMBINATION, members=members))
    choose(page, STRONG.name)
    hands.click(page.detail.remove_button)
    assert page.detail.complaints.isVisible()
    assert "is part of “Both”" in page.detail.complaints.text
    assert len(page.table.supplies.rows) == 3
    choose(page, "Both")
    assert not page.detail.complaints.isVisible()
    hands.click(page.detail.remove_button)
    assert len(page.table.supplies.rows) == 2


# --- room ---


def cut_off(page: EquipmentPage) -> list[LimitColumn]:
    """Give the columns of the limits that are narrower than their words."""
    table = page.detail.limits
    shown = [each for each in LimitColumn if not table.isColumnHidden(each)]
    return [each for each in shown if table.columnWidth(each) < table.needed_px(each)]


@pytest.mark.parametrize(("width", "height"), [(936, 620), (1192, 720)])
def test_the_columns_fit_the_smallest_window(
    page: EquipmentPage, house: House, qtbot: QtBot, *, width: int, height: int
) -> None:
    planned(house)
    owned(house, STRONG, WEAK, BLANK, ENGINE, PANELS)
    reckoned(page, qtbot)
    page.resize(width, height)
    qtbot.waitUntil(lambda: page.width() == width)
    assert sum(WIDTHS.values()) <= page.table.viewport().width()
    assert not page.table.horizontalScrollBar().isVisible()
    table = page.detail.limits
    for name in (STRONG.name, WEAK.name, BLANK.name, ENGINE.name, PANELS.name):
        choose(page, name)
        qtbot.waitUntil(lambda: table.horizontalScrollBar().maximum() == 0)
        assert cut_off(page) == []


def test_where_a_load_is_not_known_its_words_still_fit_the_smallest_window(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    plan_id = planned(house)
    pump = house.appliance("Pump", Kind.NOT_SURE)
    house.session.do(
        set_plan_load, plan_id, PlanLoadDraft(pump, Role.ESSENTIAL, use=Use.ASSUMED, daily_kwh=0.1)
    )
    owned(house, STRONG)
    reckoned(page, qtbot)
    page.resize(936, 620)
    qtbot.waitUntil(lambda: page.width() == 936)
    table = page.detail.limits
    needed = [
        str(table.limits.index(row, LimitColumn.NEEDED).data()) for row in range(table.limits.rowCount())
    ]
    assert any(words.startswith("at least ") for words in needed)
    qtbot.waitUntil(lambda: table.horizontalScrollBar().maximum() == 0)
    # No limit has a margin then, so its column makes room for the words.
    assert table.isColumnHidden(LimitColumn.MARGIN)
    assert cut_off(page) == []
    page.resize(1400, 620)
    qtbot.waitUntil(lambda: not table.isColumnHidden(LimitColumn.MARGIN))
    assert page.detail.mark.outcome is Outcome.NOT_KNOWN


def test_both_themes_paint_the_list(
    page: EquipmentPage, house: House, qtbot: QtBot, qapp: QApplication
) -> None:
    planned(house)
    owned(house, STRONG, WEAK, BLANK)
    reckoned(page, qtbot)
    light = page.table.grab().toImage()
    apply_theme(qapp, dark=True)
    try:
        assert page.table.grab().toImage() != light
    finally:
        apply_theme(qapp, dark=False)
    assert page.table.grab().toImage() == light

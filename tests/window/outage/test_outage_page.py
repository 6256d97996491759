"""The page as a whole: empty states, which plan is shown, cautions, totals that open their arithmetic."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import Use
from hearthload.service import outage_cautions as said
from hearthload.service.edits.appliances import remove_appliance
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import create_logbook
from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.outage.page import COMPARE, CORD, FACTS, LOADS, NEEDS, SECTIONS, TOTALS, OutagePage
from hearthload.window.outage.totals_rows import DAILY, HOLD, START
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session
from hearthload.window.theme import apply_theme
from tests.service.made_plans import BATTERY
from tests.window import hands
from tests.window.hands import focused, show
from tests.window.outage.conftest import Planned

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

SMALLEST = (896, 640)
"""What is left for the page in the smallest window."""


def test_without_a_plan_the_page_says_what_to_do(page: OutagePage) -> None:
    assert page.empty_words.isVisible()
    assert page.empty_words.text().startswith("Plan an outage:")
    assert page.empty_button.isVisible()
    hidden = (page.tabs, page.totals_line, page.foot, page.medical, page.standing)
    assert not any(part.isVisible() for part in hidden)
    assert not page.bar.remove_button.isVisible()


def test_without_an_appliance_it_leads_to_the_readings(
    session: Session, planned: Planned, qtbot: QtBot
) -> None:
    window = MainWindow(session, Memory({}))
    window.furnish()
    show(qtbot, window, 1280, 800)
    planned.plan()
    page = window.show_page("outage")
    assert isinstance(page, OutagePage)
    assert page.loads.empty.isVisible()
    assert not page.loads.table.isVisible()
    hands.click(page.loads.appliance_button)
    assert isinstance(window.shown, ReadingsPage)
    assert window.shown.sheet.isVisible()


def test_ctrl_3_opens_the_page(session: Session, qtbot: QtBot) -> None:
    window = MainWindow(session, Memory({}))
    window.furnish()
    show(qtbot, window, 1280, 800)
    window.show_page("readings")
    hands.press(Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    assert isinstance(window.shown, OutagePage)


def test_tabs_are_chosen_by_keys_and_only_the_one_in_sight_is_written(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    sections = {LOADS: page.loads, TOTALS: page.totals, NEEDS: page.needs, FACTS: page.facts, CORD: page.cord}
    page.tabs.tabs[LOADS].setFocus()
    for name in SECTIONS[1:]:
        hands.press(Qt.Key.Key_Right)
        assert page.section == name
        assert sections[name].isVisible()
        assert focused() is page.tabs.tabs[name]
    before = page.needs.table.figures.rows
    planned.set(storm, planned.answer(storm).rows[1].appliance.id, quantity=9)
    assert page.needs.table.figures.rows == before
    page.choose_section(NEEDS)
    assert page.needs.table.figures.rows != before


def test_another_plan_is_chosen(page: OutagePage, planned: Planned, storm: int) -> None:
    other = planned.plan("Afternoon", days=0.25, month=7)
    assert page.bar.choice.value == storm
    page.bar.choice.setFocus()
    hands.press(Qt.Key.Key_Up)
    assert page.bar.choice.value == other
    assert page.answer is not None
    assert page.answer.plan.id == other
    assert page.standing.text().startswith("6 h in July")


def test_the_plan_is_the_one_chosen_last_on_any_page(page: OutagePage, planned: Planned, storm: int) -> None:
    other = planned.plan("Afternoon", days=0.25, month=7)
    session = planned.session
    assert session.plan_id is None
    page.choose_plan(other)
    assert session.plan_id == other
    page.hide()
    session.plan_id = storm
    page.show()
    assert page.bar.choice.value == storm
    assert page.answer is not None
    assert page.answer.plan.id == storm
    session.plan_id = 999_999  # a plan that is no more
    planned.set(storm, planned.answer(storm).rows[0].appliance.id, quantity=2)
    assert page.bar.choice.value == storm


def test_a_plan_that_was_just_added_is_the_chosen_one(page: OutagePage, planned: Planned, storm: int) -> None:
    page.add_plan()
    page.sheet.form.set_texts(name="Holiday")
    page.sheet.save()
    assert page.answer is not None
    assert page.answer.plan.name == "Holiday"
    assert planned.session.plan_id == page.answer.plan.id != storm


def test_a_sheet_keeps_its_own_plan(page: OutagePage, planned: Planned, storm: int) -> None:
    other = planned.plan("Afternoon")
    page.choose_plan(storm)
    page.change_plan()
    page.hide()
    planned.session.plan_id = other
    page.show()
    assert page.answer is not None
    assert page.answer.plan.id == storm
    page.sheet.cancel()
    assert page.answer.plan.id == other


def test_each_total_opens_its_arithmetic(page: OutagePage, planned: Planned, storm: int) -> None:
    totals = planned.answer(storm).totals
    for key, figure in ((DAILY, totals.daily), (HOLD, totals.plan_kwh), (START, totals.start_va)):
        page.choose_section(LOADS)
        hands.click(page.totals_line.links[key])
        assert page.section == TOTALS
        assert page.totals.table.row is not None
        assert page.totals.table.row.key == key
        assert set(page.totals.arithmetic.steps) == set(figure.steps)
        assert focused() is page.totals.table


def test_totals_follow_an_edit(page: OutagePage, planned: Planned, storm: int) -> None:
    words = page.totals_line.links[DAILY].text()
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(storm, lamp, use=Use.ASSUMED, daily_kwh=5.0, daily_low_kwh=4.0, daily_high_kwh=6.0)
    assert page.totals_line.links[DAILY].text() != words
    assumed = len(planned.answer(storm).totals.assumed)
    assert f"◇ {assumed} assumed" in page.totals_line.gaps.text()
    planned.session.undo()
    assert page.totals_line.links[DAILY].text() == words


def test_the_medical_caution_is_always_in_sight(page: OutagePage, planned: Planned, storm: int) -> None:
    assert not page.medical.isVisible()
    aid = planned.house.appliance("Breathing aid", Kind.NOT_SURE, medical=True, nameplate_w=50.0)
    planned.set(storm, aid, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=8.0)
    for name in (*SECTIONS, COMPARE):
        page.choose_section(name)
        assert page.medical.isVisible()
        assert "keeps somebody alive" in page.medical.words.text()
    page.change_plan()
    assert page.medical.isVisible()
    page.sheet.cancel()
    planned.set(storm, aid, Role.OFF)
    assert not page.medical.isVisible()


def test_the_other_cautions_are_a_press_away(page: OutagePage, planned: Planned, storm: int) -> None:
    cautions = planned.answer(storm).cautions
    assert len(cautions) > 1
    assert page.foot.last.text() == cautions[-1]
    assert not page.foot.others.isVisible()
    hands.click(page.foot.more_button)
    assert page.foot.others.isVisible()
    assert page.foot.others.text() == "\n".join(cautions[:-1])


@pytest.mark.parametrize("section", [NEEDS, COMPARE])
def test_where_supplies_are_spoken_of_their_cautions_stand(
    page: OutagePage, planned: Planned, storm: int, qtbot: QtBot, section: str
) -> None:
    planned.plan("Another")
    page.choose_plan(storm)
    assert "carbon-monoxide" not in page.foot.last.text()
    page.resize(*SMALLEST)
    page.choose_section(section)
    assert page.foot.last.isVisible()
    assert page.foot.last.text().startswith(said.GENERATOR)
    hands.click(page.foot.more_button)
    for caution in (said.LEAD_GAS, said.LITHIUM, said.BACK_FEED):
        assert caution in page.foot.others.text()
    table = page.needs.table if section == NEEDS else page.compare.table
    qtbot.waitUntil(lambda: page.width() == SMALLEST[0])
    assert table.viewport().height() > 3 * ROW_PX
    assert page.minimumSizeHint().height() <= SMALLEST[1]
    page.choose_section(TOTALS)
    assert said.LITHIUM not in page.foot.others.text()


def test_nothing_kept_on_needs_no_caution_about_supplies(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    for row in planned.answer(storm).rows:
        planned.set(storm, row.appliance.id, Role.OFF)
    page.choose_section(NEEDS)
    assert "carbon-monoxide" not in page.foot.last.text() + page.foot.others.text()


def test_compare_looks_like_its_neighbours_until_it_is_chosen(page: OutagePage, storm: int) -> None:
    assert storm
    bar = page.bar
    assert bar.compare_button.property("look") == bar.copy_button.property("look") == "quiet"
    page.choose_section(COMPARE)
    assert bar.compare_button.property("look") == ""
    bar.compare_button.click()
    assert page.section == COMPARE
    page.choose_section(LOADS)
    assert bar.compare_button.property("look") == "quiet"
    assert not bar.compare_button.isChecked()


def test_a_supply_is_no_news_here(page: OutagePage, planned: Planned, storm: int) -> None:
    assert storm
    before = page.answer
    planned.session.do(add_supply, BATTERY)
    assert page.answer is before
    planned.session.do(remove_appliance, planned.house.appliance("Kettle", Kind.KITCHEN))
    assert page.answer is not before


def test_a_hidden_page_catches_up(page: OutagePage, planned: Planned, storm: int) -> None:
    page.hide()
    planned.set(storm, planned.answer(storm).rows[0].appliance.id, quantity=2)
    page.show()
    assert page.loads.table.loads.rows[0].load.quantity == 2


def test_another_logbook_shows_its_own_plans(
    page: OutagePage, planned: Planned, storm: int, tmp_path: Path
) -> None:
    assert storm
    planned.session.attach(create_logbook(tmp_path / "other.hearthload"))
    assert page.empty_button.isVisible()
    assert page.bar.choice.count() == 0


def test_the_dark_theme_dresses_every_section(
    page: OutagePage, storm: int, qtbot: QtBot, dressed: QApplication
) -> None:
    assert storm
    page.choose_section(TOTALS)
    qtbot.waitUntil(lambda: page.totals.demand.plot is not None)
    before = page.grab().toImage().pixelColor(3, 300)
    apply_theme(dressed, dark=True)
    after = page.grab().toImage().pixelColor(3, 300)
    assert after.lightness() < before.lightness()
    assert page.totals.demand.plot is not None
    assert page.totals.demand.plot.backgroundBrush().color().lightness() < 80


@pytest.mark.parametrize(("width", "height"), [(896, 640), (1200, 740)])
def test_nothing_is_cut_off(
    page: OutagePage, planned: Planned, storm: int, qtbot: QtBot, *, width: int, height: int
) -> None:
    aid = planned.house.appliance("Breathing aid", Kind.NOT_SURE, medical=True, nameplate_w=50.0)
    planned.set(storm, aid, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=8.0)
    page.resize(width, height)
    qtbot.waitUntil(lambda: page.width() == width)
    for name in (*SECTIONS, COMPARE):
        page.choose_section(name)
        least = page.minimumSizeHint()
        assert (least.width() <= width, least.height() <= height) == (True, True), (name, least)
    bar = page.bar
    assert bar.add_button.geometry().right() <= bar.width()
    assert not bar.compare_button.geometry().intersects(bar.add_button.geometry())

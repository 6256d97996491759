"""Totals, the demand's curve and what to look for show the answer's numbers, each with its arithmetic."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics

from hearthload.domain.appliance import Role
from hearthload.domain.figures import format_plus_minus
from hearthload.domain.plan import Use
from hearthload.domain.supply import Fuel
from hearthload.outage.answers import Demand
from hearthload.outage.catalogue import facts_in_force
from hearthload.outage.fuel import FuelLine, round_the_clock
from hearthload.outage.steps import Step
from hearthload.service.edits.plans import set_plan_figure
from hearthload.window.arithmetic import step_number
from hearthload.window.fonts import text_font
from hearthload.window.outage.arithmetic import MOST_STEPS, FigureArithmetic, result_first
from hearthload.window.outage.arithmetic import NOTHING as NOTHING_CHOSEN
from hearthload.window.outage.demand_panel import NOTHING, hours_at_least, staircase
from hearthload.window.outage.needs_rows import needs_rows
from hearthload.window.outage.needs_section import NOTHING as NOTHING_KEPT
from hearthload.window.outage.outage_words import hours_in, number_text
from hearthload.window.outage.page import NEEDS, TOTALS, OutagePage
from hearthload.window.outage.running_rows import Way, running_rows
from hearthload.window.outage.totals_rows import (
    DAILY,
    EXPECTED,
    HOLD,
    LIKELY,
    RUNNING_W,
    seldom_words,
    totals_rows,
)
from hearthload.window.theme import GRID
from tests.window import hands
from tests.window.hands import focused, show
from tests.window.outage.conftest import Planned

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

STEPS = (
    Step("a", "x", (), 1.0, "W", "sum", typical=False),
    Step("b", "x", (), 2.0, "W", "sum", typical=False),
)


def all_off(planned: Planned, storm: int) -> None:
    for row in planned.answer(storm).rows:
        planned.set(storm, row.appliance.id, Role.OFF)


def test_rows_are_the_answers_figures(planned: Planned, storm: int) -> None:
    answer = planned.answer(storm)
    rows = {row.key: row for row in totals_rows(answer)}
    daily, whole = answer.totals.daily, answer.totals.plan_kwh
    assert daily.low is not None
    assert daily.high is not None
    assert whole.high is not None
    assert rows[DAILY].values == (format_plus_minus(daily.value, daily.low, daily.high),)
    assert float(rows[EXPECTED].values[0]) == pytest.approx(whole.value, rel=0.005)
    assert float(rows[HOLD].values[0]) == pytest.approx(whole.high, rel=0.005)
    assert "90 %" in rows[HOLD].below
    assert all(row.steps for row in rows.values())


def test_each_row_shows_its_arithmetic_with_its_numbers(page: OutagePage, storm: int) -> None:
    assert storm
    page.choose_section(TOTALS)
    table, arithmetic = page.totals.table, page.totals.arithmetic
    table.setFocus()
    for at, row in enumerate(table.figures.rows):
        assert table.row == row
        assert set(arithmetic.steps) == set(row.steps)
        assert arithmetic.steps[0].value == row.result
        assert arithmetic.title.startswith(f"{row.what}: {row.values[0]}")
        text = arithmetic.panel.text
        assert all(step_number(step.value) in text for step in row.steps)
        assert all(step.source in text for step in row.steps)
        if at + 1 < len(table.figures.rows):
            hands.press(Qt.Key.Key_Down)
    hands.press(Qt.Key.Key_Return)
    assert arithmetic.has_cursor()
    hands.press(Qt.Key.Key_Escape)
    assert focused() is table


def test_the_result_comes_first() -> None:
    assert [step.quantity for step in result_first(STEPS, 2.0)] == ["b", "a"]
    assert result_first(STEPS, 7.0) == result_first(STEPS, None) == STEPS


def test_a_long_arithmetic_is_written_in_two_goes(dressed: QApplication, qtbot: QtBot) -> None:  # noqa: ARG001
    view = FigureArithmetic()
    show(qtbot, view, 500, 400)
    many = tuple(Step(f"line {at}", "x", (), float(at), "W", "sum", typical=False) for at in range(40))
    view.show_steps("Many", many, result=39.0)
    assert view.steps == (many[39], *many[:39])
    assert view.panel.steps == view.steps[:MOST_STEPS]
    assert view.more_button.text() == "Show 10 more lines"
    hands.click(view.more_button)
    assert view.panel.steps == view.steps
    assert not view.more_button.isVisible()
    assert view.has_cursor()
    view.show_steps("Few", many[:3])
    assert view.panel.steps == many[:3]
    view.show_steps("Many more", many[:31])
    assert view.more_button.text() == "Show one more line"
    view.show_nothing()
    assert view.panel.text.strip() == ""


def test_gaps_are_named(page: OutagePage, planned: Planned, storm: int) -> None:
    planned.set(storm, planned.answer(storm).rows[1].appliance.id, Role.WANTED)
    riddle = planned.house.appliance("Riddle")
    planned.set(storm, riddle, Role.ESSENTIAL)
    totals = planned.answer(storm).totals
    page.choose_section(TOTALS)
    assert totals.not_known
    assert all(name in page.totals.words.text() for name in (*totals.not_known, *totals.assumed))
    assert "not known" in page.totals_line.gaps.text()


def test_the_staircase_by_hand() -> None:
    """10 W for half of the time, 100 W for a quarter, 400 W for a quarter: 24 h cut at 6 h and 12 h."""
    demand = Demand((10.0, 100.0, 400.0), (0.5, 0.25, 0.25))
    hours, watts = staircase(demand)
    assert list(zip(hours, watts, strict=True)) == [
        (0.0, 400.0), (6.0, 400.0), (6.0, 100.0), (12.0, 100.0), (12.0, 10.0), (24.0, 10.0)
    ]  # fmt: skip
    assert [hours_at_least(demand, watts) for watts in (10.0, 11.0, 100.0, 400.0, 401.0)] == [
        24.0, 12.0, 12.0, 6.0, 0.0
    ]  # fmt: skip


def test_the_area_under_the_staircase_is_the_daily_energy(planned: Planned, storm: int) -> None:
    totals = planned.answer(storm).totals
    assert totals.demand is not None
    hours, watts = staircase(totals.demand)
    area = sum((hours[at + 1] - hours[at]) * watts[at] for at in range(0, len(hours), 2))
    assert area / 1000.0 == pytest.approx(totals.daily.value, rel=1e-6)


def test_the_chart_marks_average_and_highest(
    page: OutagePage, planned: Planned, storm: int, qtbot: QtBot
) -> None:
    page.choose_section(TOTALS)
    qtbot.waitUntil(lambda: page.totals.demand.plot is not None)
    plot, totals = page.totals.demand.plot, planned.answer(storm).totals
    assert plot is not None
    assert totals.demand is not None
    assert plot.average.value() == pytest.approx(totals.average_w)
    assert plot.highest.value() == pytest.approx(totals.running_w.value)
    hours, watts = staircase(totals.demand)
    drawn = plot.curve.getData()
    assert list(drawn[0]) == pytest.approx(hours)
    assert list(drawn[1]) == pytest.approx(watts)
    assert plot.accessibleDescription() == page.totals.demand.words.text()
    all_off(planned, storm)
    assert page.totals.demand.words.text() == NOTHING
    assert not plot.isVisible()


def test_what_to_look_for_is_the_sizing(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(NEEDS)
    answer = planned.answer(storm)
    sizing = answer.sizing
    assert sizing is not None
    rows = {row.key: row for row in page.needs.table.figures.rows}
    for stored in sizing.stored:
        row = rows[f"stored {stored.chemistry}"]
        assert float(row.values[0]) == pytest.approx(stored.stored_kwh.value, rel=0.005)
        assert set(stored.stored_kwh.steps) <= set(row.steps)
    assert rows["inverter_w"].steps == sizing.inverter_w.steps
    assert rows["inverter_start"].below == f"for {sizing.start_s:g} s"
    for direct in sizing.direct:
        assert rows[f"direct {direct.battery_v:g} V"].result == direct.current_a.value
        assert rows[f"fuse {direct.battery_v:g} V"].result == direct.fuse_a.value
    assert sizing.sun is not None
    assert sizing.sun.array_w is not None
    assert rows["array"].result == sizing.sun.array_w.value
    for each in sizing.generators:
        row = rows[f"{each.fuel} {each.control} steady"]
        assert (row.result, row.unit) == (each.steady.litres.value, "L")
        assert each.charging is None or f"{each.fuel} {each.control} charging" in rows
        assert "fire authority" in row.lead
    units = {row.unit for row in rows.values() if not row.is_heading}
    assert {"kWh", "W", "VA", "A", "L"} <= units


def test_a_cold_battery_is_barred(planned: Planned, storm: int) -> None:
    cold = planned.plan("Cold", battery_c=-25.0)
    assert storm
    answer = planned.answer(cold)
    rows = {row.key: row for row in needs_rows(answer)}
    assert answer.sizing is not None
    barred = [each for each in answer.sizing.stored if not (each.may_charge and each.may_discharge)]
    assert barred
    for each in answer.sizing.stored:
        said = "must not be" in rows[f"stored {each.chemistry}"].below
        assert said == (each in barred)


def test_without_place_and_sun_the_array_is_not_known(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_plan(planned.plan("Nowhere"))
    page.choose_section(NEEDS)
    row = next(row for row in page.needs.table.figures.rows if row.key == "sun")
    assert (row.values, row.below.startswith("type the plan's latitude")) == (("not known",), True)
    page.needs.table.choose("sun")
    assert page.needs.arithmetic.steps == ()
    assert page.needs.arithmetic.words.text() == "There is no arithmetic behind it."
    assert storm


def test_nothing_kept_on_asks_for_nothing(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(NEEDS)
    all_off(planned, storm)
    assert page.needs.words.text() == NOTHING_KEPT
    assert not page.needs.table.isVisible()
    assert page.needs.arithmetic.words.text() == NOTHING_CHOSEN


def test_typical_figures_are_marked(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(NEEDS)
    page.needs.table.choose("inverter_w")
    sizing = planned.answer(storm).sizing
    assert sizing is not None
    typical = sum(step.typical for step in sizing.inverter_w.steps)
    text = page.needs.arithmetic.panel.text.replace("\u00a0", " ")
    assert text.count("typical, not checked") == typical > 0


def test_totals_name_what_the_highest_is(planned: Planned, storm: int) -> None:
    rows = {row.key: row for row in totals_rows(planned.answer(storm))}
    assert rows[RUNNING_W].unit == "W"


# --- generators ---


def test_a_generators_upkeep_is_shown(planned: Planned, storm: int) -> None:
    long = planned.plan("Long", days=14.0)
    assert storm
    answer = planned.answer(long)
    assert answer.sizing is not None
    rows = {row.key: row for row in needs_rows(answer)}
    assert any(
        each.steady.oil_changes > 0 and each.steady.containers > 1 for each in answer.sizing.generators
    )
    for each in answer.sizing.generators:
        for way, running in (("steady", each.steady), ("charging", each.charging)):
            key = f"{each.fuel} {each.control} {way}"
            if running is None or not running.possible:
                assert f"{key} oil" not in rows
                continue
            assert rows[f"{key} containers"].values == (str(running.containers),)
            assert rows[f"{key} oil"].values == (str(running.oil_changes),)
            filling = rows[f"{key} filling"]
            rate = number_text(running.litres_per_hour.value, "L/h")
            assert (filling.values, filling.unit) == (("not known",), "")
            assert filling.below == f"its tank's litres ÷ {rate} L an hour"
            assert filling.steps == running.litres_per_hour.steps
    cylinders = rows["propane fixed_speed steady containers"]
    assert cylinders.what == "Cylinders, round the clock"
    assert cylinders.below == "of 17.8 L each, for the whole outage"
    assert rows["petrol inverter steady oil"].below == "first after 20 h, then every 75 h"


def test_a_tank_that_is_known_says_how_long_a_filling_lasts(planned: Planned, storm: int) -> None:
    """12 L at 1 kW rated, 0.3 L/h unloaded and 0.4 L/kWh at 500 W: 0.5 L/h, so 24 h; 3 days take 36 L."""
    facts = facts_in_force({})
    line = FuelLine(1000.0, 0.3, 0.4, ())
    running = round_the_clock(line, 500.0, 3.0, facts, tank_l=12.0)
    found = running_rows(Way("x", "round the clock", Fuel.PETROL, ""), running, planned.answer(storm))
    rows = {row.key: row for row in found}
    assert (rows["x filling"].values, rows["x filling"].unit) == (("24.0",), "h")
    assert rows["x"].values == ("36.0",)
    assert rows["x containers"].values == ("2",)
    assert rows["x oil"].values == ("1",)


# --- plans shorter than a day ---


def test_a_short_plan_speaks_of_its_own_hours(page: OutagePage, planned: Planned, storm: int) -> None:
    """Four hours are a sixth of a day: round the clock is 4 h, and charging a sixth of a day's hours."""
    short = planned.plan("Short", days=4.0 / 24.0, latitude_deg=48.0)
    assert storm
    answer = planned.answer(short)
    rows = {row.key: row for row in needs_rows(answer)}
    assert answer.sizing is not None
    assert rows["petrol inverter steady"].below.startswith("4 h in this outage at ")
    some = next(each.charging for each in answer.sizing.generators if each.charging is not None)
    assert hours_in(some.hours_a_day.value, answer.plan) == pytest.approx(some.hours_a_day.value / 6.0)
    for row in rows.values():
        assert " a day at " not in row.below
    totals = {row.key: row for row in totals_rows(answer)}
    assert totals[EXPECTED].what == "Energy in 4 h"
    page.choose_plan(short)
    link = page.totals_line.links[DAILY]
    assert link.text() == f"{number_text(answer.totals.plan_kwh.value, 'kWh')} kWh in 4 h"
    hands.click(link)
    assert page.totals.table.row is not None
    assert page.totals.table.row.key == EXPECTED
    page.choose_plan(storm)
    assert link.text().endswith(" kWh a day")
    hands.click(link)
    assert page.totals.table.row.key == DAILY


def test_no_more_hours_than_there_are(planned: Planned, storm: int) -> None:
    plan = planned.answer(planned.plan("Short", days=4.0 / 24.0)).plan
    assert hours_in(30.0, plan) == pytest.approx(4.0)
    assert hours_in(30.0, planned.answer(storm).plan) == 24.0


# --- the power that is seldom passed ---


def test_what_is_seldom_passed_is_not_taken_for_the_most(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    """A hundredth of a day is 14.4 min, of four hours 2.4 min, of 40 min less than one."""
    words = page.totals_line.links[LIKELY].text()
    assert words.endswith(" W or less, all but 14 min a day")
    rows = {row.key: row for row in totals_rows(planned.answer(storm))}
    assert (rows[LIKELY].what, rows[LIKELY].below) == (
        "Power seldom passed", "or less, all but 14 min a day"
    )  # fmt: skip
    assert not any("likely" in f"{row.what} {row.below}".casefold() for row in rows.values())
    short = planned.answer(planned.plan("Short", days=4.0 / 24.0))
    assert seldom_words(short) == "all but 2 min in 4 h"
    hour = planned.answer(planned.plan("Hour", days=1.0 / 24.0))
    assert seldom_words(hour) == "all but less than a minute in 1 h"
    planned.session.do(set_plan_figure, storm, "likely_share", 0.95)
    assert seldom_words(planned.answer(storm)) == "all but 1 h 12 min a day"


def test_all_digits_of_a_total_are_in_its_tool_tip(planned: Planned, storm: int) -> None:
    answer = planned.answer(storm)
    daily = answer.totals.daily
    (exact,) = next(row for row in totals_rows(answer) if row.key == DAILY).exact
    value, low, high = (
        float(part) for part in exact.translate({40: "", 41: ""}).replace(" to ", " ").split()
    )
    assert (value, low, high) == pytest.approx((daily.value, daily.low, daily.high), rel=1e-9)


@pytest.mark.parametrize("width", [896, 1150])
def test_no_figure_is_cut_off(
    page: OutagePage, planned: Planned, storm: int, qtbot: QtBot, width: int
) -> None:
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(
        storm, lamp, running_w=1120.0, use=Use.ASSUMED, daily_kwh=3.0, daily_low_kwh=1.0, daily_high_kwh=9.0
    )
    page.resize(width, 660)
    metrics = QFontMetrics(text_font())
    for name, section in ((TOTALS, page.totals), (NEEDS, page.needs)):
        page.choose_section(name)
        qtbot.waitUntil(lambda: page.width() == width)
        for row in section.table.figures.rows:
            for column, value in enumerate((*row.values, row.unit), start=1):
                assert metrics.horizontalAdvance(value) + 2 * GRID <= section.table.columnWidth(column), row

"""Totals, the demand's curve and what to look for show the answer's numbers, each with its arithmetic."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.domain.appliance import Role
from hearthload.domain.figures import format_plus_minus
from hearthload.outage.answers import Demand
from hearthload.outage.steps import Step
from hearthload.window.arithmetic import step_number
from hearthload.window.outage.arithmetic import MOST_STEPS, FigureArithmetic, result_first
from hearthload.window.outage.arithmetic import NOTHING as NOTHING_CHOSEN
from hearthload.window.outage.demand_panel import NOTHING, hours_at_least, staircase
from hearthload.window.outage.needs_rows import needs_rows
from hearthload.window.outage.needs_section import NOTHING as NOTHING_KEPT
from hearthload.window.outage.page import NEEDS, TOTALS, OutagePage
from hearthload.window.outage.totals_rows import DAILY, EXPECTED, HOLD, RUNNING_W, totals_rows
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

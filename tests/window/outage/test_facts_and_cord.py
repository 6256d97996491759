"""Figures of the trade set for a plan and given back; cords worked out; each by keyboard."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import QLineEdit

from hearthload.service.answers import Weight
from hearthload.service.outages import cord_answer, cord_gauges
from hearthload.service.queries_plans import plan_figures
from hearthload.window.fonts import text_font
from hearthload.window.form import Form
from hearthload.window.outage.fact_rows import outside_words
from hearthload.window.outage.page import CORD, FACTS, OutagePage
from hearthload.window.theme import GRID
from tests.window import hands
from tests.window.hands import focused
from tests.window.outage.conftest import Planned

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE = Qt.Key.Key_Return, Qt.Key.Key_Escape
KEY = "cord_running_drop"


def line(form: Form, name: str) -> QLineEdit:
    editor = form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def cells(page: OutagePage, key: str) -> tuple[tuple[str, ...], str]:
    row = next(row for row in page.facts.table.figures.rows if row.key == key)
    return row.values, row.below


# --- figures of the trade ---


def test_every_figure_is_there_by_room(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(FACTS)
    facts = planned.answer(storm).facts
    rows = page.facts.table.figures.rows
    assert {row.key for row in rows if not row.is_heading} == {each.fact.key for each in facts}
    heads = [row.what for row in rows if row.is_heading]
    assert heads == ["Loads", "Inverter", "Battery", "Sun", "Generator and fuel", "Cords"]
    for each in facts:
        values, below = cells(page, each.fact.key)
        assert float(values[0]) == pytest.approx(each.value, rel=0.005)
        assert len(values[0].replace(".", "").strip("0")) <= 3 or each.value >= 1000.0
        assert ("typical, not checked" in below) == each.fact.typical
        assert each.fact.source in below


def test_a_figure_is_set_by_keyboard_and_given_back(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(FACTS)
    page.facts.table.choose(KEY)
    page.facts.table.setFocus()
    before = planned.answer(storm)
    assert not page.facts.fact.back_button.isEnabled()
    hands.press(ENTER)
    assert focused() is page.facts.fact.line
    hands.write("0,02")
    hands.press(ENTER)
    assert plan_figures(planned.session.logbook, storm) == {KEY: 0.02}
    assert focused() is page.facts.table
    assert cells(page, KEY)[0][0] == "0.02"
    assert cells(page, KEY)[1].startswith("● yours")
    assert "You set it to 0.02" in page.facts.fact.words.text()
    hands.click(page.facts.fact.back_button)
    assert plan_figures(planned.session.logbook, storm) == {}
    assert planned.answer(storm).facts == before.facts
    planned.session.undo()
    assert plan_figures(planned.session.logbook, storm) == {KEY: 0.02}
    assert page.facts.fact.line.text() == "0.02"
    planned.session.undo()
    assert page.facts.fact.line.text() == ""


@pytest.mark.parametrize(("typed", "sentence"), [("much", "is not a number"), ("5", "must lie between")])
def test_a_figure_out_of_its_range_is_refused(
    page: OutagePage, planned: Planned, storm: int, typed: str, sentence: str
) -> None:
    page.choose_section(FACTS)
    page.facts.table.choose(KEY)
    hands.fill(page.facts.fact.line, typed)
    hands.press(ENTER)
    assert sentence in page.facts.fact.form.rows["value"].complaints.text
    assert plan_figures(planned.session.logbook, storm) == {}
    assert focused() is page.facts.fact.line
    hands.press(ESCAPE)
    assert page.facts.fact.line.text() == ""
    assert focused() is page.facts.table


def test_an_empty_line_gives_back_and_the_same_again_is_no_edit(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    page.choose_section(FACTS)
    page.facts.table.choose(KEY)
    name = planned.session.undo_name
    page.facts.fact.save()
    assert planned.session.undo_name == name
    hands.fill(page.facts.fact.line, "0.04")
    hands.press(ENTER)
    hands.fill(page.facts.fact.line, "")
    hands.press(ENTER)
    assert plan_figures(planned.session.logbook, storm) == {}


def test_digits_that_say_nothing_stand_in_the_tool_tip_only(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    page.choose_section(FACTS)
    model = page.facts.table.figures
    places = {row.key: at for at, row in enumerate(model.rows)}
    rounded = [each for each in planned.answer(storm).facts if len(f"{each.value:.6g}") > 5]
    assert rounded
    for each in rounded:
        cell = model.index(places[each.fact.key], 1)
        assert len(cell.data()) < len(f"{each.value:.6g}")
        exact = str(cell.data(Qt.ItemDataRole.ToolTipRole)).removeprefix("In force: ").split()[0]
        assert float(exact) == pytest.approx(each.value, rel=1e-9)


@pytest.mark.parametrize("width", [896, 1150])
def test_no_figure_is_cut_off(page: OutagePage, storm: int, qtbot: QtBot, width: int) -> None:
    assert storm
    page.resize(width, 660)
    page.choose_section(FACTS)
    qtbot.waitUntil(lambda: page.width() == width)
    table, metrics = page.facts.table, QFontMetrics(text_font())
    for row in table.figures.rows:
        for column, value in enumerate((*row.values, row.unit), start=1):
            assert metrics.horizontalAdvance(value) + 2 * GRID <= table.columnWidth(column), row


def test_outside_of_what_is_usual_is_said_while_typing_and_after(
    page: OutagePage, planned: Planned, storm: int
) -> None:
    page.choose_section(FACTS)
    fact = next(each.fact for each in planned.answer(storm).facts if each.fact.key == KEY)
    assert fact.high < 0.09 < fact.most
    said = f"outside what is usual ({fact.low:g} to {fact.high:g})"
    page.facts.table.choose(KEY)
    row = page.facts.fact.form.rows["value"]
    hands.fill(page.facts.fact.line, f"{fact.high:g}")
    assert row.complaints.text == ""
    hands.fill(page.facts.fact.line, "0,09")
    assert row.complaints.isVisible()
    assert row.complaints.text == said
    assert row.complaints.complaints[0].weight is Weight.WARNS
    hands.press(ENTER)
    assert plan_figures(planned.session.logbook, storm) == {KEY: 0.09}
    assert said in cells(page, KEY)[1]
    assert row.complaints.text == said
    page.facts.fact.save()  # nothing was changed
    assert row.complaints.text == said
    hands.click(page.facts.fact.back_button)
    assert "outside" not in cells(page, KEY)[1]
    assert row.complaints.text == ""


def test_an_end_of_the_usual_range_is_inside_it(planned: Planned, storm: int) -> None:
    for each in planned.answer(storm).facts:
        low, high = each.fact.low, each.fact.high
        for inside in (low, high, float(f"{low:.6g}"), float(f"{high:.6g}"), each.value):
            assert outside_words(each, inside) == "", each.fact.key
        beyond = high + max(0.01 * abs(high), 0.01)
        assert outside_words(each, beyond).startswith("outside what is usual (")


def test_figures_are_filtered_with_their_headings(
    page: OutagePage, planned: Planned, storm: int, qtbot: QtBot
) -> None:
    page.choose_section(FACTS)
    table, box = page.facts.table, page.facts.filter_box
    whole = table.figures.rows
    hands.fill(box, "CORD drop")
    shown = table.figures.rows
    assert [row.what for row in shown if row.is_heading] == ["Cords"]
    names = [row for row in shown if not row.is_heading]
    assert KEY in {row.key for row in names}
    assert 0 < len(names) < 15
    qtbot.wait(50)  # what Qt puts off
    assert table.horizontalHeader().length() == table.viewport().width()
    assert not table.horizontalScrollBar().isVisible()
    assert all("drop" in f"{row.what} {row.below}".casefold() for row in names)
    hands.press(Qt.Key.Key_Down)
    assert focused() is table
    assert table.row == names[0]
    assert page.facts.fact.row is not None
    assert page.facts.fact.row.fact.key == names[0].key
    hands.press(ESCAPE)
    assert table.figures.rows == whole
    hands.fill(box, "no such figure")
    assert table.figures.rows == ()
    assert page.facts.nothing.isVisible()
    assert not page.facts.fact.isVisible()
    hands.press(ESCAPE)
    assert box.text() == ""
    assert not page.facts.nothing.isVisible()
    assert planned.answer(storm)


def test_a_name_at_the_right_begins_with_a_capital(page: OutagePage, planned: Planned, storm: int) -> None:
    page.choose_section(FACTS)
    low = [each.fact for each in planned.answer(storm).facts if each.fact.name[0].islower()]
    assert low
    page.facts.table.choose(low[0].key)
    name = page.facts.fact.name.text()
    assert name == low[0].name[0].upper() + low[0].name[1:]
    assert page.facts.fact.line.accessibleName().startswith(name)


# --- cords ---


def work_out(page: OutagePage, **typed: str) -> None:
    page.choose_section(CORD)
    for name, text in typed.items():
        hands.fill(line(page.cord.form, name), text)
    hands.press(ENTER)


def test_a_cord_is_worked_out_by_keyboard(page: OutagePage, planned: Planned, storm: int) -> None:
    assert not page.cord.table.isVisible()
    work_out(page, watts="1100", length_m="40", start_multiple="4")
    assert line(page.cord.form, "volts").text() == "230"
    assert page.cord.gauge.value == "mm2_1.5"
    expected = cord_answer(
        "mm2_1.5", watts=1100.0, volts=230.0, length_m=40.0, start_multiple=4.0,
        plan_id=storm, logbook=planned.session.logbook,
    )  # fmt: skip
    rows = {row.key: row for row in page.cord.table.figures.rows}
    assert rows["running"].values == (f"{100.0 * expected.running_drop.value:.1f}", "3.0")
    assert expected.starting_drop is not None
    assert rows["starting"].values == (f"{100.0 * expected.starting_drop.value:.1f}", "15.0")
    assert rows["carries"].values == (f"{1100.0 / 230.0:.2f}", "16.0")
    assert float(rows["longest"].values[0]) == pytest.approx(expected.longest_m.value, rel=0.005)
    assert page.cord.verdict.text() == "1.5 mm² does."
    assert set(page.cord.arithmetic.steps) == set(expected.running_drop.steps)


def test_a_thin_cord_names_the_size_that_does(page: OutagePage, storm: int) -> None:
    """2000 W at 230 V are 8.7 A: more than 0.75 mm² may carry; 25 m of 1 mm² lose 4.3 %, of 1.5 mm² 2.9 %."""
    assert storm
    page.choose_section(CORD)
    page.cord.gauge.choose("mm2_0.75")
    work_out(page, watts="2000", length_m="25")
    assert page.cord.verdict.text() == "△ 0.75 mm² is not enough: take 1.5 mm² or thicker."
    assert "starting" not in {row.key for row in page.cord.table.figures.rows}


def test_a_thick_cord_is_not_known(page: OutagePage, storm: int) -> None:
    assert storm
    page.choose_section(CORD)
    page.cord.gauge.choose("mm2_10")
    work_out(page, watts="100", length_m="5")
    assert "look up the cable's own current rating" in page.cord.verdict.text()
    row = next(row for row in page.cord.table.figures.rows if row.key == "carries")
    assert row.values[1] == "not known"


def test_a_long_run_carries_less(page: OutagePage, storm: int) -> None:
    assert storm
    work_out(page, watts="3300", length_m="5")
    assert page.cord.verdict.text() == "1.5 mm² does."
    page.cord.long_run.setFocus()
    hands.press(Qt.Key.Key_Space)
    hands.press(ENTER)
    assert "is not enough: take 2.5 mm²" in page.cord.verdict.text()


def test_the_cord_goes_by_the_plans_figures(page: OutagePage, planned: Planned, storm: int) -> None:
    work_out(page, watts="1100", length_m="40")
    page.choose_section(FACTS)
    page.facts.table.choose(KEY)
    hands.fill(page.facts.fact.line, "0.01")
    hands.press(ENTER)
    page.choose_section(CORD)
    assert page.cord.table.figures.rows[0].values[1] == "1.0"
    assert "is not enough" in page.cord.verdict.text()
    assert planned.answer(storm)


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("watts", "", "Type the load's watts."),
        ("watts", "0", "must be more than zero"),
        ("volts", "x", "is not a number"),
        ("length_m", "", "Type its length."),
        ("power_factor", "1.5", "The power factor must be"),
        ("start_multiple", "50", "The start multiple must lie"),
    ],
)
def test_what_cannot_be_taken_is_said_under_its_field(
    page: OutagePage, storm: int, field: str, typed: str, sentence: str
) -> None:
    assert storm
    work_out(page, **({"watts": "100", "length_m": "5"} | {field: typed}))
    lines = page.cord.form.rows[field].complaints
    assert lines.isVisible()
    assert sentence in lines.text
    assert page.cord.answer is None
    assert not page.cord.table.isVisible()
    assert focused() is line(page.cord.form, field)


def test_every_size_is_offered(page: OutagePage, storm: int) -> None:
    assert storm
    page.choose_section(CORD)
    offered = [page.cord.gauge.itemText(at) for at in range(page.cord.gauge.count())]
    assert offered == [name for _, name in cord_gauges()]

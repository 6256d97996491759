"""Figures of the trade set for a plan and given back; cords worked out; each by keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from hearthload.service.outages import cord_answer, cord_gauges
from hearthload.service.queries_plans import plan_figures
from hearthload.window.form import Form
from hearthload.window.outage.page import CORD, FACTS, OutagePage
from tests.window import hands
from tests.window.hands import focused
from tests.window.outage.conftest import Planned

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
        assert float(values[0]) == pytest.approx(each.value, rel=1e-5)
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
    assert page.cord.verdict.text() == "△ 0.75 mm² is not enough: take 1.5 mm² at least, or a shorter cord."
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

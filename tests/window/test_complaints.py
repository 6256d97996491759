"""Complaints in place: a sentence and a mark each, fixes as buttons, no room when there is nothing to say."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.window.complaints import ComplaintLines, DoubtMark, FixWanted
from hearthload.window.form import Form
from tests.window import hands
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

pytestmark = pytest.mark.usefixtures("dressed")

SLIP = Fix("Make it 6.00 kWh", FixAction.SET_VALUE, 6.0)
RESET = Fix("The meter was reset", FixAction.METER_RESET)
FELL = Complaint("energy_kwh", "energy_fell", Weight.STOPS, "It cannot run backward.", (SLIP, RESET))
ODD = Complaint("elapsed_h", "hours_against_clock", Weight.WARNS, "The clock says otherwise.")


@pytest.fixture
def lines(qtbot: QtBot) -> Iterator[ComplaintLines]:
    page = QWidget()
    column = QVBoxLayout(page)
    made = ComplaintLines(page)
    column.addWidget(made)
    column.addStretch(1)
    show(qtbot, page)
    yield made
    clear_away()


def sentences(lines: ComplaintLines) -> list[str]:
    return [found.text() for found in lines.findChildren(QLabel) if found.isVisible()]


def fixes(lines: ComplaintLines) -> list[QPushButton]:
    return [found for found in lines.findChildren(QPushButton) if found.isVisible()]


def test_each_complaint_is_a_line_with_its_mark(lines: ComplaintLines) -> None:
    assert not lines.isVisible()
    lines.show_complaints([FELL, ODD])
    assert lines.isVisible()
    assert sentences(lines) == [FELL.sentence, ODD.sentence]
    assert lines.text == lines.accessibleName() == f"{FELL.sentence} {ODD.sentence}"
    marks = [mark.accessibleName() for mark in lines.findChildren(DoubtMark) if mark.isVisible()]
    assert marks == ["cannot be saved", "doubtful"]


def test_other_complaints_take_the_place_of_those_before(qtbot: QtBot, lines: ComplaintLines) -> None:
    lines.show_complaints([FELL, ODD])
    lines.show_complaints([ODD])
    qtbot.waitUntil(lambda: sentences(lines) == [ODD.sentence])
    assert fixes(lines) == []
    lines.show_complaints([])
    assert not lines.isVisible()
    assert lines.text == ""
    # What is gone from sight is gone for good: a morning's complaints must not pile up.
    qtbot.waitUntil(lambda: not lines.findChildren(QLabel))


def test_the_same_complaint_again_keeps_its_buttons(lines: ComplaintLines) -> None:
    lines.show_complaints([FELL])
    before = fixes(lines)
    lines.show_complaints([FELL])
    assert fixes(lines) == before


def test_a_fix_tells_which_complaint_it_answers(qtbot: QtBot, lines: ComplaintLines) -> None:
    lines.show_complaints([FELL])
    assert [fix.text() for fix in fixes(lines)] == [SLIP.label, RESET.label]
    with qtbot.waitSignal(lines.fix_wanted) as told:
        hands.click(fixes(lines)[1])
    assert told.args == [FixWanted(FELL, RESET)]


def test_a_form_says_each_complaint_under_its_field(qtbot: QtBot) -> None:
    form = Form()
    energy, hours = form.add_line("energy_kwh", "Counter"), form.add_line("elapsed_h", "Elapsed")
    show(qtbot, form)
    stray = Complaint("", "read_only", Weight.STOPS, "It is read-only.")
    form.show_complaints([ODD, stray])
    assert form.rows["elapsed_h"].complaints.text == ODD.sentence
    assert form.rows["energy_kwh"].complaints.text == stray.sentence
    # Only what cannot be saved marks its field: a doubt may be saved anyway.
    assert [line.property("complaint") or "" for line in (energy, hours)] == ["stops", ""]
    below = form.rows["energy_kwh"].complaints
    assert below.mapTo(form, below.rect().topLeft()).y() >= energy.geometry().bottom()
    form.show_complaints([ODD])
    form.focus_first_complaint()
    assert hours.hasFocus()
    form.clear_complaints()
    assert not any(row.complaints.isVisible() for row in form.rows.values())


def test_a_hidden_row_hides_its_complaint_too(qtbot: QtBot) -> None:
    form = Form()
    form.add_row("plug", "Plug", QLineEdit(form), hint="As marked on it")
    show(qtbot, form)
    row = form.rows["plug"]
    row.complain("There is no such plug.")
    row.set_visible(False)
    parts = (row.caption, row.editor, row.hint, row.complaints)
    assert not any(part.isVisible() for part in parts)
    row.set_visible(True)
    assert all(part.isVisible() for part in parts)

"""Two plans side by side: totals, what they ask for, and only the loads that differ."""

from __future__ import annotations

from PySide6.QtCore import Qt

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Use
from hearthload.service.edits.plans import copy_plan
from hearthload.window.outage.compare_rows import HEAD_LOADS, HEAD_TOTALS, compared
from hearthload.window.outage.needs_rows import needs_rows
from hearthload.window.outage.outage_words import figure_text
from hearthload.window.outage.page import OutagePage
from hearthload.window.outage.totals_rows import DAILY, totals_rows
from tests.window import hands
from tests.window.filling import created
from tests.window.outage.conftest import Planned


def test_one_plan_alone_asks_for_a_copy(page: OutagePage, planned: Planned, storm: int) -> None:
    assert storm
    hands.click(page.bar.compare_button)
    assert page.compare.words.text().startswith("There is only one plan.")
    assert not page.compare.table.isVisible()
    hands.click(page.compare.copy_button)
    hands.press(Qt.Key.Key_Return)
    assert planned.names() == ["Storm", "Storm, copy"]
    assert page.compare.table.isVisible()


def test_two_plans_side_by_side(page: OutagePage, planned: Planned, storm: int) -> None:
    other = created(planned.session.do(copy_plan, storm, "Mild"))
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(other, lamp, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=3.0, quantity=2)
    page.choose_plan(storm)
    hands.click(page.bar.compare_button)
    assert page.compare.table.figures.headers.values == ("Storm", "Mild")
    assert page.compare.words.text().startswith("Mild: 3 days in January")
    one, two = planned.answer(storm), planned.answer(other)
    rows = {row.key: row for row in page.compare.table.figures.rows}
    for left, right in zip(totals_rows(one), totals_rows(two), strict=True):
        assert rows[left.key].values == (left.values[0], right.values[0])
        assert rows[left.key].unit == left.unit
    for left, right in zip(needs_rows(one), needs_rows(two), strict=True):
        assert left.is_heading or rows[left.key].values == (left.values[0], right.values[0])
    heads = [row.what for row in rows.values() if row.is_heading]
    assert (heads[0], heads[-1]) == (HEAD_TOTALS, HEAD_LOADS)
    differing = [row for row in rows.values() if row.key.startswith("load ")]
    assert [row.what for row in differing] == ["Lamp"]
    assert differing[0].belows == ("wanted, assumed", "2 × essential, 3 h a day")
    energies = [answer.rows[1].line.daily for answer in (one, two)]
    assert differing[0].values == tuple(figure_text(energy) for energy in energies)


def test_plans_alike_differ_in_no_load(planned: Planned, storm: int) -> None:
    other = created(planned.session.do(copy_plan, storm, "Mild"))
    rows = compared(planned.answer(storm), planned.answer(other))
    assert HEAD_LOADS not in {row.what for row in rows}
    assert all(row.is_heading or row.values[0] == row.values[1] for row in rows)


def test_a_plan_with_nothing_kept_on_has_no_needs(planned: Planned, storm: int) -> None:
    other = created(planned.session.do(copy_plan, storm, "Dark"))
    for row in planned.answer(other).rows:
        planned.set(other, row.appliance.id, Role.OFF)
    rows = {row.key: row for row in compared(planned.answer(storm), planned.answer(other))}
    assert rows["inverter_w"].values[1] == "–"
    assert rows["inverter_w"].unit == "W"
    box = planned.answer(storm).rows[0].appliance.id
    assert (rows[f"load {box}"].values[1], rows[f"load {box}"].belows[1]) == ("–", "off")


def test_plans_of_other_lengths_and_months_share_their_rows(planned: Planned, storm: int) -> None:
    other = planned.plan("Short", days=0.25, month=7, latitude_deg=48.0)
    rows = compared(planned.answer(storm), planned.answer(other))
    keys = [row.key for row in rows]
    assert len(keys) == len(set(keys))
    whats = [row.what for row in rows]
    assert whats.count("Energy") == whats.count("Energy to hold") == whats.count("Sun") == 1
    assert rows[1].key == DAILY


def test_the_other_plan_is_chosen(page: OutagePage, planned: Planned, storm: int) -> None:
    planned.plan("Afternoon", days=0.25)
    planned.plan("Week", days=7.0)
    page.choose_plan(storm)
    hands.click(page.bar.compare_button)
    assert page.compare.table.figures.headers.values == ("Storm", "Afternoon")
    page.compare.other.setFocus()
    hands.press(Qt.Key.Key_Down)
    assert page.compare.table.figures.headers.values == ("Storm", "Week")
    planned.set(storm, planned.answer(storm).rows[1].appliance.id, quantity=2)
    assert page.compare.table.figures.headers.values == ("Storm", "Week")

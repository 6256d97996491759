"""The lists of equipment and of limits as item models: Qt's rules, and the numbers of the answers."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from pytestqt.modeltest import ModelTester

from hearthload.outage.answers import Limit, LimitCode, Outcome
from hearthload.service.outage_words import ALSO, LIMIT_WORDS, OUTCOME_WORDS
from hearthload.window.equipment import limit_model, supply_cells
from hearthload.window.equipment.limit_model import LimitModel
from hearthload.window.equipment.outcome_delegate import ACROSS_ROLE, MUTED_ROLE
from hearthload.window.equipment.supply_cells import SupplyRow
from hearthload.window.equipment.supply_model import OUTCOME_ROLE, SupplyModel
from hearthload.window.lines_delegate import SECOND_ROLE
from tests.window.equipment.gear import BLANK, ENGINE, STRONG, WEAK, answers, owned, planned
from tests.window.filling import House

SPOKEN = Qt.ItemDataRole.AccessibleTextRole
LIMIT, EQUIPMENT = limit_model.Column, supply_cells.Column


@pytest.fixture
def rows(house: House) -> list[SupplyRow]:
    plan_id = planned(house)
    owned(house, STRONG, WEAK, BLANK, ENGINE)
    return [SupplyRow(each.supply, each) for each in answers(house, plan_id).values()]


def test_the_list_of_equipment_keeps_qts_rules(qtmodeltester: ModelTester, rows: list[SupplyRow]) -> None:
    model = SupplyModel()
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_rows([SupplyRow(row.supply) for row in rows])
    model.set_rows(rows)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_rows(rows[1:])
    model.set_rows(())


def test_the_list_says_what_the_answers_say(rows: list[SupplyRow]) -> None:
    model = SupplyModel()
    model.set_rows(rows)
    for place, row in enumerate(rows):
        assert row.answer is not None
        verdict = row.answer.verdict
        assert model.index(place, EQUIPMENT.NAME).data() == row.supply.name
        cell = model.index(place, EQUIPMENT.VERDICT)
        assert cell.data() == OUTCOME_WORDS[verdict.outcome]
        assert Outcome(cell.data(OUTCOME_ROLE)) is verdict.outcome
        if verdict.fails_first is not None:
            assert str(cell.data(SECOND_ROLE)).endswith(LIMIT_WORDS[verdict.fails_first])
    outcomes = {row.supply.name: row.outcome for row in rows}
    assert outcomes["Attic battery"] is Outcome.CARRIES
    assert outcomes["Camping battery"] is Outcome.FALLS_SHORT
    assert outcomes["Unlabelled box"] is Outcome.NOT_KNOWN


def test_without_a_plan_there_is_no_verdict(rows: list[SupplyRow]) -> None:
    model = SupplyModel()
    model.set_rows([SupplyRow(row.supply) for row in rows])
    cells = [model.index(0, column) for column in EQUIPMENT]
    assert [cell.data() for cell in cells] == ["Attic battery", "–", "–"]
    assert cells[EQUIPMENT.VERDICT].data(OUTCOME_ROLE) is None
    assert cells[EQUIPMENT.NAME].data(SECOND_ROLE) == "battery with inverter, have"


def test_the_same_equipment_keeps_its_selection(rows: list[SupplyRow]) -> None:
    model = SupplyModel()
    model.set_rows([SupplyRow(row.supply) for row in rows])
    kept = QPersistentModelIndex(model.index(1, 0))
    model.set_rows(rows)
    assert kept.row() == 1
    model.set_rows(rows[1:])
    assert not kept.isValid()


def test_equipment_is_spoken_with_headers(rows: list[SupplyRow]) -> None:
    model = SupplyModel()
    model.set_rows(rows)
    said = [str(model.index(1, column).data(SPOKEN)) for column in EQUIPMENT]
    assert said[0] == "Equipment: Camping battery, battery with inverter, offered"
    assert said[1].startswith("Verdict, what fails first: falls short, ")
    assert model.data(QModelIndex()) is None
    assert model.headerData(len(EQUIPMENT), Qt.Orientation.Horizontal) is None


def test_the_list_of_limits_keeps_qts_rules(qtmodeltester: ModelTester, rows: list[SupplyRow]) -> None:
    model = LimitModel()
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    for row in rows:
        assert row.answer is not None
        model.set_limits(row.answer.verdict.limits)
        qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_limits(())


def test_limits_that_do_not_count_stand_muted_under_a_heading(rows: list[SupplyRow]) -> None:
    engine = next(row.answer for row in rows if row.supply.name == ENGINE.name)
    assert engine is not None
    model = LimitModel()
    model.set_limits(engine.verdict.limits)
    heading = model.heading_row
    assert heading is not None
    shown = [each.code for each in model.rows[:heading] if each is not None]
    assert shown == [each.code for each in engine.verdict.limits if each.counts]
    assert model.index(heading, 0).data() == ALSO
    assert model.flags(model.index(heading, 0)) == Qt.ItemFlag.NoItemFlags
    assert LimitCode.FUEL in [each.code for each in model.rows[heading + 1 :] if each is not None]
    muted = [bool(model.index(place, 0).data(MUTED_ROLE)) for place in range(model.rowCount())]
    assert muted == [place > heading for place in range(model.rowCount())]


def test_where_all_limits_count_there_is_no_heading(rows: list[SupplyRow]) -> None:
    weak = rows[1].answer
    assert weak is not None
    model = LimitModel()
    model.set_limits([each for each in weak.verdict.limits if each.counts])
    assert model.heading_row is None


def test_a_limits_cells_say_its_numbers(rows: list[SupplyRow]) -> None:
    weak = rows[1].answer
    assert weak is not None
    found = next(each for each in weak.verdict.limits if each.code is LimitCode.RUNNING_W)
    assert found.needed is not None
    assert found.offered is not None
    assert found.margin is not None
    model = LimitModel()
    model.set_limits([found])
    cells = [str(model.index(0, column).data()) for column in LIMIT]
    needed_kw, offered_kw = (float(cells[place].removesuffix(" kW")) for place in (1, 2))
    assert needed_kw == pytest.approx(found.needed.value / 1000.0, abs=0.006)
    assert offered_kw == pytest.approx(found.offered / 1000.0, abs=0.006)
    assert cells[LIMIT.MARGIN] == f"−{-100.0 * found.margin:.0f} %"
    assert cells[LIMIT.OUTCOME] == "falls short"
    said = str(model.index(0, LIMIT.NEEDED).data(SPOKEN))
    assert said == f"Needed: {cells[1]}"


def test_what_is_not_known_says_what_to_look_up(rows: list[SupplyRow]) -> None:
    blank = rows[2].answer
    assert blank is not None
    model = LimitModel()
    model.set_limits(blank.verdict.limits)
    for place, found in enumerate(model.rows):
        if found is not None and found.outcome is Outcome.NOT_KNOWN:
            assert found.missing
            below = str(model.index(place, 0).data(ACROSS_ROLE))
            assert below.endswith(f"look up: {found.missing}")
            assert {model.index(place, column).data(ACROSS_ROLE) for column in LIMIT} == {below}


def test_rows_about_one_limit_can_be_told_apart() -> None:
    model = LimitModel()
    wave = Limit(LimitCode.WAVEFORM, None, None, "", None, Outcome.NOT_KNOWN, "its waveform", "Cold box", ())
    model.set_limits([wave, replace(wave, about="Pump")])
    assert [str(model.index(place, 0).data(ACROSS_ROLE)) for place in (0, 1)] == [
        "Cold box; look up: its waveform",
        "Pump; look up: its waveform",
    ]

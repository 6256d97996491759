"""The load list as an item model: Qt's rules, what cells say, news that keeps a selection."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from pytestqt.modeltest import ModelTester

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.figures import format_ends
from hearthload.domain.plan import Use
from hearthload.service.edits.appliances import remove_appliance
from hearthload.window.lines_delegate import SECOND_ROLE
from hearthload.window.outage.load_cells import ASSUMED, HEADERS, Column
from hearthload.window.outage.load_model import OFF_ROLE, LoadModel
from tests.window.outage.conftest import Planned

SPOKEN = Qt.ItemDataRole.AccessibleTextRole


def filled(planned: Planned, plan_id: int) -> LoadModel:
    model = LoadModel()
    model.set_rows(planned.answer(plan_id).rows)
    return model


def line(model: LoadModel, name: str) -> dict[Column, tuple[str, str]]:
    """Give a row's texts and the muted lines under them."""
    at = next(at for at, row in enumerate(model.rows) if row.appliance.name == name)
    cells = {column: model.index(at, column) for column in Column}
    return {column: (str(cell.data()), str(cell.data(SECOND_ROLE))) for column, cell in cells.items()}


def test_the_model_keeps_qts_rules(qtmodeltester: ModelTester, planned: Planned, storm: int) -> None:
    model = LoadModel()
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    first = planned.answer(storm).rows
    model.set_rows(first)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    planned.set(storm, first[2].appliance.id, Role.ESSENTIAL, use=Use.HOURS_A_DAY, hours_a_day=2.0)
    model.set_rows(planned.answer(storm).rows)
    model.fold(frozenset({Column.USE, Column.NUMBER}))
    model.set_rows(first[:1])
    model.set_rows(())


def test_off_comes_last_and_is_marked(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    assert [row.appliance.name for row in model.rows] == ["Box", "Lamp", "Heater"]
    assert [model.index(at, 0).data(OFF_ROLE) for at in range(3)] == [False, False, True]


def test_cells_say_what_the_answer_says(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    box = planned.answer(storm).rows[0].line
    assert box.daily is not None
    assert box.daily.low is not None
    said = line(model, "Box")
    assert said[Column.ROLE] == ("essential", "")
    assert said[Column.USE] == ("as measured", "")
    assert said[Column.NUMBER] == ("1", "")
    assert said[Column.DAILY] == (format_ends(box.daily), "")  # type: ignore[arg-type]
    assert line(model, "Lamp")[Column.DAILY][1] == ASSUMED
    assert line(model, "Lamp")[Column.RUNNING] == ("40", ASSUMED)


@pytest.mark.parametrize(
    ("use", "noted", "words"),
    [
        (Use.HOURS_A_DAY, {"hours_a_day": 3.0}, "3 h a day"),
        (Use.USES_A_DAY, {"uses_a_day": 2.0}, "2 uses a day"),
        (Use.USES_A_DAY, {"uses_a_day": 1.0}, "1 use a day"),
        (Use.ASSUMED, {}, "assumed"),
    ],
)
def test_use_is_said_in_words(
    planned: Planned, storm: int, use: Use, noted: dict[str, float], words: str
) -> None:
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(storm, lamp, Role.WANTED, use=use, rank=2, **noted)
    said = line(filled(planned, storm), "Lamp")
    assert (said[Column.USE][0], said[Column.ROLE][0]) == (words, "wanted, 2")


def test_what_is_not_known_says_so(planned: Planned) -> None:
    planned.house.appliance("Riddle", Kind.NOT_SURE, role=Role.ESSENTIAL)
    model = filled(planned, planned.plan())
    said = line(model, "Riddle")
    assert said[Column.RUNNING] == ("–", "not known")
    assert said[Column.START] == ("–", "not known")


def test_a_narrow_list_says_it_under_the_name(planned: Planned, storm: int) -> None:
    lamp = planned.answer(storm).rows[1].appliance.id
    planned.set(storm, lamp, Role.WANTED, use=Use.HOURS_A_DAY, hours_a_day=2.5, quantity=3)
    model = filled(planned, storm)
    assert line(model, "Lamp")[Column.NAME] == ("Lamp", "")
    model.fold(frozenset({Column.ROLE, Column.USE, Column.NUMBER}))
    assert line(model, "Lamp")[Column.NAME][1] == "wanted · 2.5 h a day · 3 of them"
    assert line(model, "Heater")[Column.NAME][1] == "off"


def test_every_cell_is_spoken_with_its_header(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    for column in Column:
        header, _, rest = str(model.index(1, column).data(SPOKEN)).partition(": ")
        assert header == HEADERS[column].replace("\n", " ")
        assert rest.startswith(str(model.index(1, column).data()))
    assert model.index(1, Column.DAILY).data(SPOKEN).endswith(", assumed")


def test_the_selection_follows_an_appliance(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    lamp, heater = model.rows[1].appliance.id, model.rows[2].appliance.id
    kept = QPersistentModelIndex(model.index(1, 0))
    planned.set(storm, heater, Role.ESSENTIAL, use=Use.ASSUMED)
    model.set_rows(planned.answer(storm).rows)
    assert [row.appliance.name for row in model.rows] == ["Box", "Heater", "Lamp"]
    assert kept.row() == 2 == model.row_of(lamp)
    planned.session.do(remove_appliance, lamp)
    model.set_rows(planned.answer(storm).rows)
    assert not kept.isValid()
    assert model.row_of(lamp) is None


def test_only_what_differs_is_told(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    told: list[int] = []
    model.dataChanged.connect(lambda first, _last: told.append(first.row()))
    model.set_rows(planned.answer(storm).rows)
    assert told == []
    planned.set(storm, model.rows[1].appliance.id, Role.WANTED, use=Use.ASSUMED, running_w=60.0)
    model.set_rows(planned.answer(storm).rows)
    assert told == [1]


def test_nothing_off_the_table(planned: Planned, storm: int) -> None:
    model = filled(planned, storm)
    across = Qt.Orientation.Horizontal
    assert [model.headerData(section, across) for section in Column] == list(HEADERS.values())
    assert model.headerData(len(Column), across) is None
    assert model.headerData(0, Qt.Orientation.Vertical) is None
    assert model.data(QModelIndex()) is None
    assert model.rowCount(model.index(0, 0)) == model.columnCount(model.index(0, 0)) == 0

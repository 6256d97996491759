"""The meters' item model: Qt's rules, the rows' order, news that keeps a selection."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import pytest
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from pytestqt.modeltest import ModelTester

from hearthload.service import queries
from hearthload.service.edits.meters import remove_meter
from hearthload.window.lines_delegate import SECOND_ROLE
from hearthload.window.meters.meter_cells import HEADERS, Column
from hearthload.window.meters.meter_model import MeterModel
from hearthload.window.session import Session
from tests.window.filling import House

DISPLAY, SPOKEN = Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole


@pytest.fixture
def house(session: Session, clock: Callable[[], datetime]) -> House:
    return House(session, clock)


def filled(house: House) -> MeterModel:
    model = MeterModel(house.session.now)
    model.set_rows(queries.meters(house.session.logbook))
    return model


def test_the_model_keeps_qts_rules(qtmodeltester: ModelTester, house: House) -> None:
    model = MeterModel(house.session.now)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    house.measured()
    spare = house.meter("Spare meter", plug="cee_7", current_a=10.0)
    rows = queries.meters(house.session.logbook)
    model.set_rows(rows)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    model.set_rows(rows[::-1])
    house.session.do(remove_meter, spare)
    model.set_rows(queries.meters(house.session.logbook))
    model.set_rows(())


def test_cells_say_where_a_meter_is_and_what_it_carries(house: House) -> None:
    stay = house.measured(days=3)
    house.meter("Spare meter", plug="cee_7", current_a=10.0, energy_step_kwh=0.001, elapsed_step_h=24.0)
    model = filled(house)
    busy, spare = ([model.index(row, column).data() for column in Column] for row in (0, 1))
    assert stay.meter_id == model.rows[0].meter.id
    assert busy == ["Meter of Larder box", "Larder box", "not known", "0.01 kWh", "1"]
    assert spare == ["Spare meter", "free", "2300 W", "0.001 kWh", "0"]
    below = [[model.index(row, column).data(SECOND_ROLE) for column in Column] for row in (0, 1)]
    assert below == [
        ["", "since Fri 20 Nov, 4 days", "", "1 minute", ""],
        ["CEE 7/4 or 7/7, 16 A", "", "1840 W for long", "1 day", ""],
    ]


def test_every_cell_is_spoken_with_its_header(house: House) -> None:
    house.measured()
    model = filled(house)
    for column in Column:
        said = str(model.index(0, column).data(SPOKEN))
        header, _, rest = said.partition(": ")
        assert header == HEADERS[column].replace("-\n", "").replace("\n", " ")
        assert rest.startswith(str(model.index(0, column).data()))


def test_the_same_meters_keep_their_selection(house: House) -> None:
    house.meter("Amber meter")
    house.meter("Grey meter")
    model = filled(house)
    kept = QPersistentModelIndex(model.index(1, 0))
    house.started(house.appliance(), model.rows[1].meter.id)
    model.set_rows(queries.meters(house.session.logbook))
    assert (kept.row(), model.index(1, Column.WHERE).data()) == (1, "Larder box")
    house.meter("Black meter")
    model.set_rows(queries.meters(house.session.logbook))
    assert not kept.isValid()


def test_headers_and_nothing_off_the_table(house: House) -> None:
    house.meter()
    model = filled(house)
    across = Qt.Orientation.Horizontal
    assert [model.headerData(section, across, DISPLAY) for section in Column] == list(HEADERS.values())
    assert model.headerData(len(Column), across, DISPLAY) is None
    assert model.headerData(0, Qt.Orientation.Vertical, DISPLAY) is None
    assert model.data(QModelIndex()) is None
    assert model.rowCount(model.index(0, 0)) == 0

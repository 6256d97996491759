"""The reading table's model: newest first, corrected by typing, wrong text kept until it is right."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from PySide6.QtCore import QModelIndex, Qt
from pytestqt.modeltest import ModelTester

from hearthload.domain.reading import ReadingDraft
from hearthload.service import queries
from hearthload.service.edits.measurements import reset_meter
from hearthload.service.edits.readings import remove_reading
from hearthload.window.readings.table_columns import COLUMNS
from hearthload.window.readings.table_model import REFUSED_ROLE, RUN_START_ROLE, ReadingModel
from hearthload.window.session import Session
from tests.window.filling import House, Stay, reopen_read_only

EDIT, DISPLAY, TIP = Qt.ItemDataRole.EditRole, Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole
WHEN, ENERGY, HOURS, WATTS, SPAN, NOTE = 0, 1, 2, 3, 4, 8
EDITABLE = {WHEN, ENERGY, HOURS, WATTS, NOTE}


@pytest.fixture
def stay(house: House) -> Stay:
    return house.measured(days=3)


@pytest.fixture
def model(session: Session, stay: Stay) -> ReadingModel:
    """Give a model that follows the measurement, as the table lets it."""
    made = ReadingModel(session)
    follow(made, session, stay)
    return made


def follow(model: ReadingModel, session: Session, stay: Stay) -> None:
    def renew(_news: object = None) -> None:
        model.set_rows(queries.reading_rows(session.logbook, stay.id))

    session.changed.connect(renew)
    renew()


def shown(model: ReadingModel, row: int, column: int, role: int = DISPLAY) -> object:
    return model.index(row, column).data(role)


def test_the_model_keeps_qts_rules(
    qtmodeltester: ModelTester, session: Session, house: House, stay: Stay
) -> None:
    model = ReadingModel(session)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    follow(model, session, stay)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    house.read(stay.id, 0.0, 4.0)
    model.setData(model.index(0, ENERGY), "nonsense")
    model.setData(model.index(0, ENERGY), "4.1")
    session.do(remove_reading, house.readings(stay.id)[1].id)
    session.undo()
    model.set_rows([])


def test_the_newest_reading_stands_first(house: House, stay: Stay, model: ReadingModel) -> None:
    assert [row.reading for row in model.rows] == house.readings(stay.id)[::-1]
    assert [shown(model, row, ENERGY) for row in range(4)] == ["3", "2", "1", "0"]
    house.read(stay.id, 0.0, 4.05)
    # One more decimal in one cell gives all of them the same, so that the column reads down straight.
    assert [shown(model, row, ENERGY) for row in range(5)] == ["4.05", "3.00", "2.00", "1.00", "0.00"]
    assert shown(model, 0, WHEN) == "Tue 24 Nov 07:30"
    assert shown(model, 0, SPAN) == "24:00"


def test_the_start_of_a_run_is_marked_and_said(house: House, stay: Stay, model: ReadingModel) -> None:
    house.session.do(reset_meter, stay.id, ReadingDraft(house.ago(0.5), 0.2), exact_zero=False)
    house.read(stay.id, 0.0, 0.7)
    starts = [bool(shown(model, row, NOTE, RUN_START_ROLE)) for row in range(model.rowCount())]
    assert starts == [False, True, False, False, False, True]
    assert shown(model, 1, SPAN) == "reset"
    assert shown(model, 5, SPAN) == "start, set to zero"


@pytest.mark.parametrize(
    ("column", "typed", "field", "value"),
    [
        (ENERGY, "3,2", "energy_kwh", 3.2),
        (HOURS, "72:15", "elapsed_h", 72.25),
        (HOURS, "", "elapsed_h", None),
        (WATTS, "92 W", "power_w", 92.0),
        (NOTE, "  defrosted ", "note", "defrosted"),
    ],
)
def test_a_good_value_is_saved_and_can_be_taken_back(
    house: House, stay: Stay, model: ReadingModel, *, column: int, typed: str, field: str, value: object
) -> None:
    before = house.readings(stay.id)
    told: list[object] = []
    model.complained.connect(told.append)
    assert model.setData(model.index(0, column), typed)
    assert getattr(house.readings(stay.id)[-1], field) == value
    assert house.session.undo_name == "change reading: Larder box"
    assert told == []
    house.session.undo()
    assert house.readings(stay.id) == before
    house.session.redo()
    assert getattr(house.readings(stay.id)[-1], field) == value


def test_a_time_can_be_corrected(house: House, stay: Stay, model: ReadingModel) -> None:
    assert shown(model, 0, WHEN, EDIT) == "2026-11-23 07:30"
    assert model.setData(model.index(0, WHEN), "2026-11-23 08:10")
    assert house.readings(stay.id)[-1].taken_at == house.ago(1.0) + timedelta(minutes=40)


def test_a_correction_may_change_the_order(house: House, stay: Stay, model: ReadingModel) -> None:
    house.read(stay.id, 0.2, 3.0)
    assert model.setData(model.index(0, WHEN), "2026-11-23 07:00")
    assert [row.reading for row in model.rows] == house.readings(stay.id)[::-1]
    assert shown(model, 0, WHEN) == "Mon 23 Nov 07:30"


def test_the_same_text_again_is_no_edit(house: House, model: ReadingModel) -> None:
    name = house.session.undo_name
    for column in EDITABLE:
        assert model.setData(model.index(0, column), shown(model, 0, column, EDIT))
    assert house.session.undo_name == name


@pytest.mark.parametrize(
    ("column", "typed", "sentence"),
    [
        (ENERGY, "three", "is not a number"),
        (ENERGY, "1.5", "cannot run backward"),
        (ENERGY, "", "Nothing is typed here yet"),
        (HOURS, "72:99", "minutes"),
        (WHEN, "teatime", "not a time"),
        (WHEN, "2026-12-24 07:30", "in the future"),
        (WATTS, "-5", "is negative"),
    ],
)
def test_what_cannot_be_taken_stays_in_its_cell(
    house: House, stay: Stay, model: ReadingModel, *, column: int, typed: str, sentence: str
) -> None:
    before = house.readings(stay.id)
    index = model.index(0, column)
    was = shown(model, 0, column)
    assert not model.setData(index, typed)
    assert house.readings(stay.id) == before
    assert shown(model, 0, column) == shown(model, 0, column, EDIT) == typed
    assert shown(model, 0, column, REFUSED_ROLE) is True
    complaint = model.complaint_at(index)
    assert complaint is not None
    assert complaint.field == COLUMNS[column].field
    assert sentence in complaint.sentence
    assert shown(model, 0, column, TIP) == complaint.sentence
    model.drop_refused(index)
    assert shown(model, 0, column) == was
    assert shown(model, 0, column, REFUSED_ROLE) is False
    assert model.complaint_at(index) is None


def test_a_refused_text_is_told_and_its_end_too(model: ReadingModel) -> None:
    told: list[object] = []
    model.complained.connect(told.append)
    index = model.index(0, ENERGY)
    model.setData(index, "three")
    assert told == [model.complaint_at(index)]
    model.setData(index, "3.1")
    assert told[1:] == [None]
    assert shown(model, 0, ENERGY, REFUSED_ROLE) is False


def test_a_refused_text_stays_with_its_reading(house: House, stay: Stay, model: ReadingModel) -> None:
    model.setData(model.index(1, ENERGY), "two")
    house.read(stay.id, 0.0, 4.0)
    assert [shown(model, row, ENERGY) for row in range(5)] == ["4", "3", "two", "1", "0"]
    house.session.do(remove_reading, house.readings(stay.id)[2].id)
    assert shown(model, 2, ENERGY) == "1"
    house.session.undo()
    assert not any(shown(model, row, ENERGY, REFUSED_ROLE) for row in range(5))


def test_only_what_was_typed_can_be_corrected(model: ReadingModel) -> None:
    for column in range(len(COLUMNS)):
        flags = model.flags(model.index(0, column))
        assert bool(flags & Qt.ItemFlag.ItemIsEditable) == (column in EDITABLE)
        assert flags & Qt.ItemFlag.ItemIsSelectable


def test_a_read_only_logbook_lets_nothing_be_corrected(
    session: Session, stay: Stay, model: ReadingModel
) -> None:
    reopen_read_only(session)
    model.set_rows(queries.reading_rows(session.logbook, stay.id))
    assert model.rowCount() == 4
    for column in range(len(COLUMNS)):
        assert not model.flags(model.index(0, column)) & Qt.ItemFlag.ItemIsEditable
    assert not model.setData(model.index(0, ENERGY), "3.1")
    assert shown(model, 0, ENERGY, REFUSED_ROLE) is True
    assert "read-only" in str(shown(model, 0, ENERGY, TIP))


def test_headers_carry_units_and_hints(model: ReadingModel) -> None:
    across = Qt.Orientation.Horizontal
    headers = [model.headerData(section, across, DISPLAY) for section in range(len(COLUMNS))]
    assert headers == [column.header for column in COLUMNS]
    assert all(model.headerData(section, across, TIP) for section in range(len(COLUMNS)))
    assert model.headerData(len(COLUMNS), across, DISPLAY) is None
    assert model.headerData(0, Qt.Orientation.Vertical, DISPLAY) is None


def test_figures_stand_right_and_words_left(model: ReadingModel) -> None:
    align = Qt.ItemDataRole.TextAlignmentRole
    sides = [int(model.index(0, column).data(align)) for column in range(len(COLUMNS))]
    right = {column for column, side in enumerate(sides) if side & int(Qt.AlignmentFlag.AlignRight)}
    assert right == set(range(1, 8))
    assert not int(model.index(3, SPAN).data(align)) & int(Qt.AlignmentFlag.AlignRight)


def test_nothing_is_answered_off_the_table(model: ReadingModel) -> None:
    assert model.data(QModelIndex()) is None
    assert model.rowCount(model.index(0, 0)) == model.columnCount(model.index(0, 0)) == 0
    assert not model.setData(QModelIndex(), "3")
    assert not model.setData(model.index(0, ENERGY), "3.3", DISPLAY)
    assert model.complaint_at(QModelIndex()) is None


def test_moments_are_shown_by_the_wall_they_were_typed_at(
    model: ReadingModel, house: House, stay: Stay
) -> None:
    moment = datetime.fromisoformat("2026-11-24T05:10:00-01:00")
    house.session.do(remove_reading, house.readings(stay.id)[-1].id)
    assert model.setData(model.index(0, WHEN), moment.isoformat())
    assert shown(model, 0, WHEN) == "Tue 24 Nov 05:10"

"""The roster's item model: row-wise news, sorting by number, filtering by words."""

from __future__ import annotations

import random
from datetime import datetime, timedelta, timezone

import pytest
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt
from pytestqt.modeltest import ModelTester

from hearthload.domain.appliance import Appliance, Kind, Role
from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.estimate.answers import DutyBasis, DutyCycle, Enough, Estimate, Interval, Lack
from hearthload.service.roster_answers import RosterRow
from hearthload.window.readings.roster_cells import Column
from hearthload.window.readings.roster_model import RosterModel, RosterOrder
from hearthload.window.readings.roster_spoken import spoken

pytestmark = pytest.mark.usefixtures("dressed")

RUNNING = MeasurementState.RUNNING
NOW = datetime(2026, 11, 24, 7, 30, tzinfo=timezone(timedelta(hours=1)))


def appliance(number: int, name: str, **more: object) -> Appliance:
    """Make an appliance; what is not said is as empty as a draft's."""
    usual: dict[str, object] = {
        "kind": Kind.NOT_SURE, "room": "", "role": Role.WANTED, "plug": "unknown", "voltage_v": None,
        "nameplate_w": None, "running_w": None, "target": None, "hard_wired": False, "medical": False,
        "note": "",
    }  # fmt: skip
    return Appliance(id=number, name=name, **{**usual, **more})  # type: ignore[arg-type]


def estimate(daily: float, spread: float = 0.1, *, days: float = 5.0, to_go: float | None = 3.0) -> Estimate:
    """Make an estimate of so many kWh a day within a factor 1 + spread."""
    interval = Interval(daily, daily / (1 + spread), daily * (1 + spread))
    well = to_go is None
    return Estimate(
        readings=6,
        spans=5,
        days=days,
        daily_kwh=interval,
        total_per_day_kwh=daily,
        preliminary=False,
        enough=Enough(
            well_measured=well,
            target=0.1,
            half_width=spread,
            lacks=() if well else (Lack.NARROWER,),
            days_to_go=None if to_go is None else Interval(to_go, to_go / 1.5, to_go * 1.5),
            seasonal=False,
        ),
        duty_cycle=DutyCycle(Interval(0.38, 0.33, 0.43), 95.0, 4.0, 1.0, DutyBasis.SPOTS, 3),
        posterior=None,
    )


def row(
    number: int,
    name: str,
    found: Estimate | None = None,
    state: MeasurementState | None = None,
    *,
    read_today: bool = False,
    **more: object,
) -> RosterRow:
    """Make a roster row."""
    made = appliance(number, name, **more)
    measurement = None
    if state is not None:
        measurement = Measurement(number + 100, number, 1, state, NOW - timedelta(days=5), None, None, "")
    last = NOW if read_today else NOW - timedelta(days=1)
    return RosterRow(made, measurement, state, None, found, None if state is None else last, read_today)


@pytest.fixture
def rows() -> list[RosterRow]:
    return [
        row(1, "Larder refrigerator", estimate(0.9), RUNNING, room="larder", kind=Kind.REFRIGERATOR),
        row(2, "Barn freezer", estimate(10.0), RUNNING, room="barn", kind=Kind.FREEZER, read_today=True),
        row(3, "Router", estimate(0.25, to_go=None), MeasurementState.FINISHED, kind=Kind.ALWAYS_ON),
        row(4, "cellar pump", None, MeasurementState.PLANNED, room="cellar", kind=Kind.PUMP),
        row(5, "Water heater", None, None, hard_wired=True),
    ]


def names(order: RosterOrder) -> list[str]:
    return [str(order.index(at, 0).data()) for at in range(order.rowCount())]


def test_the_models_keep_qts_rules(qtmodeltester: ModelTester, rows: list[RosterRow]) -> None:
    model, order = RosterModel(), RosterOrder()
    order.setSourceModel(model)
    qtmodeltester.check(model)  # type: ignore[no-untyped-call]
    qtmodeltester.check(order)  # type: ignore[no-untyped-call]
    model.set_rows(rows)
    model.set_rows(rows[1:])
    model.set_rows(list(reversed(rows)))
    order.set_filter("barn")
    order.sort(Column.DAILY)
    model.set_rows([])


def test_only_the_changed_row_is_told(rows: list[RosterRow]) -> None:
    model = RosterModel()
    model.set_rows(rows)
    told: list[tuple[int, int]] = []
    model.dataChanged.connect(lambda first, last: told.append((first.row(), last.row())))
    model.set_rows(rows)
    assert told == []
    model.set_row(row(2, "Barn freezer", estimate(10.5), RUNNING))
    assert told == [(1, 1)]


def test_any_roster_follows_any_other_and_selections_stay(rows: list[RosterRow]) -> None:
    chance = random.Random(7)
    model = RosterModel()
    for _ in range(60):
        wanted = chance.sample(rows, chance.randrange(len(rows) + 1))
        kept = {
            found.appliance.id: QPersistentModelIndex(model.index(at, 0))
            for at, found in enumerate(model.rows)
        }
        model.set_rows(wanted)
        assert list(model.rows) == wanted
        for found in wanted:
            if found.appliance.id in kept:
                assert kept[found.appliance.id].row() == model.row_of(found.appliance.id)


def test_sorting_is_by_number_and_blanks_come_last(rows: list[RosterRow]) -> None:
    model, order = RosterModel(), RosterOrder()
    model.set_rows(rows)
    order.setSourceModel(model)
    order.sort(Column.DAILY, Qt.SortOrder.AscendingOrder)
    assert names(order)[:3] == ["Router", "Larder refrigerator", "Barn freezer"]
    order.sort(Column.DAILY, Qt.SortOrder.DescendingOrder)
    assert names(order)[:3] == ["Barn freezer", "Larder refrigerator", "Router"]
    assert set(names(order)[3:]) == {"cellar pump", "Water heater"}


def test_names_sort_without_regard_to_case(rows: list[RosterRow]) -> None:
    model, order = RosterModel(), RosterOrder()
    model.set_rows(rows)
    order.setSourceModel(model)
    order.sort(Column.NAME)
    assert names(order) == ["Barn freezer", "cellar pump", "Larder refrigerator", "Router", "Water heater"]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("", 5),
        ("BARN", 1),
        ("cellar", 1),
        ("freezer run", 1),
        ("always", 1),
        ("finished", 1),
        ("running", 2),
        ("hard-wired", 1),
        ("unread today", 1),
        ("nothing like it", 0),
    ],
)
def test_the_filter_finds_every_word(rows: list[RosterRow], typed: str, found: int) -> None:
    model, order = RosterModel(), RosterOrder()
    model.set_rows(rows)
    order.setSourceModel(model)
    order.set_filter(typed)
    assert order.rowCount() == found


def test_cells_say_what_they_mean(rows: list[RosterRow]) -> None:
    model = RosterModel()
    model.set_rows(rows)

    def text(at: int, column: Column, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        return model.index(at, column).data(role)

    assert text(0, Column.DAILY) == "0.90 ± 0.09"
    assert text(0, Column.SHARE) == "38 %"
    assert text(0, Column.DAYS) == "5.0"
    assert text(0, Column.TO_GO) == "3"
    assert text(2, Column.TO_GO) == "enough"
    assert [text(at, Column.STATE) for at in range(5)] == [
        "running",
        "running",
        "finished",
        "planned",
        "hard-wired",
    ]
    assert text(3, Column.DAILY) == ""
    for at in range(5):
        for column in Column:
            said = text(at, column, Qt.ItemDataRole.AccessibleTextRole)
            assert said == spoken(rows[at], column)
            assert said


def test_nothing_is_under_a_cell(rows: list[RosterRow]) -> None:
    model = RosterModel()
    model.set_rows(rows)
    assert model.rowCount(model.index(0, 0)) == 0
    assert model.data(QModelIndex()) is None

"""What the logbook holds in memory: the same objects until something of them changes, and never stale."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.doubt import DoubtCode
from hearthload.domain.meter import MeterDraft
from hearthload.domain.plan import PlanLoadDraft
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits.appliances import change_appliance, remove_appliance
from hearthload.service.edits.measurements import (
    describe_measurement,
    finish_measurement,
    reset_meter,
    swap_meter,
)
from hearthload.service.edits.meters import change_meter
from hearthload.service.edits.plans import copy_plan, remove_plan, set_plan_figure, set_plan_load
from hearthload.service.edits.readings import add_reading, change_reading, remove_reading
from hearthload.service.edits.settling import answer_doubt
from hearthload.service.edits.supplies import add_supply, change_supply, remove_supply
from hearthload.service.logbook import open_logbook
from tests.service.building import House, a_house, contents, furnished, on_day, read_on
from tests.store.files import meddling


def furnish(house: House) -> None:
    house.measured("Router", "Grey meter")
    house.measured("Lamp", "Blue meter")
    house.plan("Storm")
    house.plan("Flood")
    house.supply("Hall battery")
    house.supply("Barn panels", SupplyKind.ARRAY)
    house.supply("Both", SupplyKind.COMBINATION, members=(1, 2))


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give two measurements under way: a router (1) and a lamp (2), each on a meter of its own.

    There are two plans with loads 1 and 2, 3 and 4; supply 3 is the combination of 1 and 2.
    """
    with a_house(tmp_path, file) as made:
        yield made


def reread(house: House) -> None:
    """Check that what is held is what a logbook just opened holds."""
    with open_logbook(house.path) as again:
        assert contents(house.held) == contents(again.held())


CHANGES: dict[str, Callable[[House], Changes]] = {
    "add": lambda house: add_reading(house.logbook, 1, read_on(2, 0.6)),
    "add in between": lambda house: add_reading(house.logbook, 1, read_on(0.5, 0.1)),
    "change": lambda house: change_reading(house.logbook, 2, read_on(1.5, 0.4)),
    "move the start": lambda house: change_reading(house.logbook, 1, read_on(0.5, 0.0)),
    "remove": lambda house: remove_reading(house.logbook, 2),
    "remove the first": lambda house: remove_reading(house.logbook, 1),
    "reset": lambda house: reset_meter(house.logbook, 1, read_on(1, 0.0), exact_zero=True),
    "swap": lambda house: swap_meter(
        house.logbook, 1, house.meter("Red meter"), read_on(3, 7.0), exact_zero=False
    ),
    "finish": lambda house: finish_measurement(house.logbook, 1, on_day(3)),
    "describe": lambda house: describe_measurement(house.logbook, 1, room_temperature_c=17.0, note="x"),
    "answer": lambda house: answer_doubt(house.logbook, 1, DoubtCode.ODD_READING, 2),
    "remove appliance": lambda house: remove_appliance(house.logbook, 1),
    "copy plan": lambda house: copy_plan(house.logbook, 1, "Third"),
    "remove plan": lambda house: remove_plan(house.logbook, 1),
    "set load": lambda house: set_plan_load(house.logbook, 1, PlanLoadDraft(1, Role.OFF)),
    "set figure": lambda house: set_plan_figure(house.logbook, 1, "long_run_share", 0.8),
    "add combination": lambda house: add_supply(
        house.logbook, SupplyDraft("All", SupplyKind.COMBINATION, members=(2, 1))
    ),
    "turn members round": lambda house: change_supply(
        house.logbook, 3, SupplyDraft("Both", SupplyKind.COMBINATION, members=(2, 1))
    ),
    "no combination": lambda house: change_supply(house.logbook, 3, SupplyDraft("Both", SupplyKind.BATTERY)),
    "remove combination": lambda house: remove_supply(house.logbook, 3),
}


@pytest.mark.parametrize("known", [True, False], ids=["known", "unread"])
@pytest.mark.parametrize("change", CHANGES)
def test_caches_follow_every_edit_back_and_forth(house: House, change: str, known: bool) -> None:
    """Whether or not its readings had been asked for: both ways of taking a change over must agree."""
    if not known:
        house.held.reload()
    else:
        house.record(1)
    CHANGES[change](house)
    reread(house)
    for play in (house.logbook.history.undo, house.logbook.history.redo, house.logbook.history.undo):
        play()
        reread(house)


@pytest.mark.parametrize("change", CHANGES)
def test_what_an_edit_left_alone_is_the_same_object(house: House, change: str) -> None:
    other, lamp, grey = house.record(2), house.held.appliance(2), house.held.meter(1)
    flood, load, battery = house.held.plan(2), house.held.plan_loads[4], house.held.supply(1)
    CHANGES[change](house)
    assert house.held.plan(2) is flood
    assert house.held.plan_loads[4] is load
    assert house.held.supply(1) is battery
    assert house.record(2) is other
    assert house.held.appliance(2) is lamp
    assert house.held.meter(1) is grey
    house.logbook.history.undo()
    assert house.record(2) is other


def test_a_combination_is_the_same_object_until_something_of_it_changes(house: House) -> None:
    both = house.held.supply(3)
    assert both.draft.members == (1, 2)
    change_supply(house.logbook, 1, SupplyDraft("Landing battery", SupplyKind.BATTERY))
    assert house.held.supply(3) is both
    change_supply(house.logbook, 3, SupplyDraft("Both", SupplyKind.COMBINATION, members=(2, 1)))
    assert house.held.supply(3).draft.members == (2, 1)
    house.logbook.history.undo()
    assert house.held.supply(3) == both


def test_a_record_is_the_same_object_until_something_of_it_changes(house: House) -> None:
    record = house.record(1)
    assert house.record(1) is record
    house.read(1, 2, 0.6)
    after = house.record(1)
    assert after is not record
    assert after.readings[:2] == record.readings
    assert all(one is other for one, other in zip(record.readings, after.readings, strict=False))
    assert all(one is other for one, other in zip(record.runs, after.runs, strict=True))
    assert after.measurement is record.measurement


def test_a_measurement_that_changes_keeps_its_readings(house: House) -> None:
    readings = house.record(1).readings
    finish_measurement(house.logbook, 1, on_day(2))
    assert house.record(1).readings is readings


def test_a_record_does_not_rest_on_names(house: House) -> None:
    record = house.record(1)
    change_appliance(house.logbook, 1, ApplianceDraft("Modem", Kind.ALWAYS_ON))
    change_meter(house.logbook, 1, MeterDraft("Old meter"))
    assert house.record(1) is record
    assert house.held.appliance(1).name == "Modem"


def test_a_refused_edit_changes_no_object(house: House) -> None:
    record = house.record(1)
    with house.refuses("same_minute", "taken_at"):
        house.read(1, 1, 0.4)
    assert house.record(1) is record


def test_old_readings_come_before_the_new_start_of_the_same_minute(house: House) -> None:
    """Whatever the seconds say: one time was typed to the minute, the other was taken from the clock."""
    house.read(1, 2 + 40 / 86_400, 0.6)
    swap_meter(house.logbook, 1, house.meter("Red meter"), read_on(2, 7.0), exact_zero=False)
    assert [reading.energy_kwh for reading in house.record(1).readings] == [0.0, 0.31, 0.6, 7.0]
    house.held.reload()
    assert [reading.energy_kwh for reading in house.record(1).readings] == [0.0, 0.31, 0.6, 7.0]


def test_an_appliance_s_measurements_are_in_the_order_they_were_entered(house: House) -> None:
    finish_measurement(house.logbook, 1, on_day(5))
    later = house.started(1, 1, day=10)
    plan = house.planned(1)
    assert [found.id for found in house.held.measurements_of(1)] == [1, later, plan]
    assert house.held.measurements_of(99) == ()


def test_nothing_is_read_anew_while_nobody_else_writes(house: House) -> None:
    held = house.logbook.held()
    router = held.appliance(1)
    assert not held.refresh()
    house.read(1, 2, 0.6)
    assert not held.refresh()
    assert held.appliance(1) is router


def test_another_program_s_change_is_seen(house: House) -> None:
    record = house.record(1)
    with meddling(house.path) as other:
        other.execute("UPDATE readings SET note = 'hers' WHERE id = 2")
    # Only asking the logbook looks at the file; the caches themselves stand still between.
    assert house.logbook.caches.record(1) is record
    assert house.held.record(1).readings[1].note == "hers"
    assert not house.logbook.caches.refresh()


def test_the_measurement_of_a_reading(house: House) -> None:
    assert [house.held.measurement_of_reading(number) for number in (1, 2, 3, 4)] == [1, 1, 2, 2]


@pytest.mark.parametrize(
    ("ask", "what"),
    [
        (Caches.appliance, "appliance"),
        (Caches.meter, "meter"),
        (Caches.measurement, "measurement"),
        (Caches.plan, "plan"),
        (Caches.supply, "supply"),
        (Caches.record, "measurement"),
        (Caches.measurement_of_reading, "reading"),
    ],
)
@pytest.mark.parametrize("number", [0, -1, 99])
def test_what_is_not_there_is_refused(
    house: House, ask: Callable[[Caches, int], object], what: str, number: int
) -> None:
    with pytest.raises(RefusedError, match=f"no {what} number {number} in this logbook") as caught:
        ask(house.held, number)
    assert (caught.value.code, caught.value.field) == (f"unknown_{what}", f"{what}_id")

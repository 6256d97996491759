"""Two windows on one file: each sees the other's edits, and neither takes back what is no longer so."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.errors import RefusedError
from hearthload.service.edits.appliances import change_appliance, remove_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.edits.readings import add_reading, change_reading, remove_reading
from hearthload.service.logbook import open_logbook
from tests.service.building import House, a_house, contents, read_on
from tests.store.files import dump, kept_rows

LAMP = ApplianceDraft("Lamp", Kind.LAMP_TIMER)


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


@pytest.fixture
def other(house: House) -> Iterator[House]:
    """Give another window on the same file."""
    with open_logbook(house.path, clock=house.clock) as logbook:
        yield House(logbook, house.clock)


def changed_since(house: House, *, redo: bool = False) -> None:
    """Check that the way back (or forth) is refused, and that nothing was changed."""
    before, history = dump(house.path), house.logbook.history
    with pytest.raises(RefusedError) as caught:
        (history.redo if redo else history.undo)()
    assert caught.value.code == "changed_since"
    assert "another window or program" in str(caught.value)
    assert dump(house.path) == before


def same_everywhere(house: House, other: House) -> None:
    with open_logbook(house.path) as fresh:
        assert contents(house.held) == contents(other.held) == contents(fresh.held())


def test_each_sees_what_the_other_did(house: House, other: House) -> None:
    house.appliance("Router")
    assert other.held.appliance(1).name == "Router"
    other.meter("Grey meter")
    house.started(1, 1)
    other.read(1, 1, 0.3)
    assert [reading.energy_kwh for reading in house.record(1).readings] == [0.0, 0.3]
    same_everywhere(house, other)


def test_each_is_told_once_that_the_other_changed_something(house: House, other: House) -> None:
    house.held  # noqa: B018 (reading is what counts)
    assert not house.logbook.changed_elsewhere()
    other.appliance("Router")
    assert house.logbook.changed_elsewhere()
    assert not house.logbook.changed_elsewhere()
    house.meter("Grey meter")
    assert not house.logbook.changed_elsewhere()
    # What an edit or a page read in between is no reason not to tell.
    assert other.held.meter(1).name == "Grey meter"
    assert other.logbook.changed_elsewhere()
    assert not other.logbook.changed_elsewhere()


def test_an_edit_rests_on_what_the_other_just_did(house: House, other: House) -> None:
    """Neither writes over the other: the name is taken, the meter busy, the reading there."""
    house.appliance("Router")
    with other.refuses("name_taken", "name"):
        other.appliance("router")
    house.meter("Grey meter")
    other.started(1, 1)
    with house.refuses("already_measured", "appliance_id"):
        house.started(1, 1, day=2)
    other.read(1, 1, 0.3)
    with house.refuses("same_minute", "taken_at"):
        house.read(1, 1, 0.3)
    with house.refuses("energy_fell", "energy_kwh"):
        house.read(1, 2, 0.2)
    same_everywhere(house, other)


def test_nothing_is_lost_when_both_write_in_turns(house: House, other: House) -> None:
    measurement_id = house.measured()
    for day in range(2, 20):
        (house if day % 2 else other).read(measurement_id, day, 0.31 * day)
    assert len(house.record(measurement_id).readings) == len(other.record(measurement_id).readings) == 20
    same_everywhere(house, other)


def test_what_the_other_left_alone_is_taken_back(house: House, other: House) -> None:
    measurement_id = house.measured()
    house.read(measurement_id, 2, 0.6)
    other.read(measurement_id, 3, 0.9)
    house.logbook.history.undo()
    assert [reading.energy_kwh for reading in other.record(measurement_id).readings] == [0.0, 0.31, 0.9]
    other.logbook.history.undo()
    house.logbook.history.redo()
    assert [reading.energy_kwh for reading in house.record(measurement_id).readings] == [0.0, 0.31, 0.6]
    same_everywhere(house, other)


def test_what_the_other_changed_is_not_taken_back(house: House, other: House) -> None:
    number = house.appliance("Router")
    change_appliance(other.logbook, number, LAMP)
    changed_since(house)
    # What lies deeper rests on rows that are not so any more; the session goes on from here.
    assert house.logbook.history.undo_name is None
    house.meter("Grey meter")
    house.logbook.history.undo()
    assert house.held.appliance(number).name == "Lamp"
    same_everywhere(house, other)


def test_what_the_other_removed_is_not_changed_back(house: House, other: House) -> None:
    number = house.appliance("Router")
    change_appliance(house.logbook, number, LAMP)
    remove_appliance(other.logbook, number)
    changed_since(house)
    assert house.held.appliances == {}
    assert kept_rows(house.path)["appliances"] == {}
    other.logbook.history.undo()
    assert house.held.appliance(number).name == "Lamp"


def test_what_the_other_put_in_its_place_is_not_pushed_out(house: House, other: House) -> None:
    """The name, the minute or the meter of what would come back is taken meanwhile."""
    number = house.appliance("Router")
    remove_appliance(house.logbook, number)
    other.appliance("ROUTER")
    changed_since(house)
    measurement_id = house.measured("Oven")
    remove_reading(house.logbook, 2)
    add_reading(other.logbook, measurement_id, read_on(1, 0.4))
    changed_since(house)
    same_everywhere(house, other)


def test_what_the_other_changed_is_not_brought_again(house: House, other: House) -> None:
    number = house.appliance("Router")
    change_appliance(house.logbook, number, LAMP)
    house.logbook.history.undo()
    change_appliance(other.logbook, number, ApplianceDraft("Router", Kind.PUMP))
    changed_since(house, redo=True)
    assert house.logbook.history.redo_name is None
    # The way back further is another matter: it was not touched by that.
    assert house.logbook.history.undo_name == "add appliance: Router"
    changed_since(house)


def test_the_same_change_made_by_both_is_taken_back_once(house: House, other: House) -> None:
    """The row stands as this window left it, so taking it back is what was asked for."""
    set_household(house.logbook, Household(name="Cottage"))
    set_household(other.logbook, Household(name="Elsewhere"))
    set_household(other.logbook, Household(name="Cottage"))
    house.logbook.history.undo()
    assert other.held.household.name == "Mill lane"
    changed_since(other)


def test_a_correction_rests_on_what_the_other_just_did(house: House, other: House) -> None:
    measurement_id = house.measured()
    house.read(measurement_id, 2, 0.6)
    change_reading(other.logbook, 2, read_on(1, 0.5))
    with house.refuses("energy_above_next", "energy_kwh"):
        change_reading(house.logbook, 1, read_on(0, 0.55))
    change_reading(house.logbook, 1, read_on(0, 0.4))
    same_everywhere(house, other)

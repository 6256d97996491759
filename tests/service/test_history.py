"""Undo and redo by name: what they bring back, what they tell, and when they refuse."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes, Topic
from hearthload.service.edits.appliances import change_appliance, remove_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import swap_meter
from hearthload.service.edits.readings import remove_reading
from hearthload.service.logbook import open_logbook
from hearthload.store.rows import reading_row
from tests.service.building import House, a_house, contents, on_day, read_on
from tests.store.files import journal_lines, kept_rows


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def names(house: House) -> tuple[str | None, str | None]:
    return house.logbook.history.undo_name, house.logbook.history.redo_name


def test_a_logbook_just_opened_has_nothing_to_take_back(house: House) -> None:
    house.appliance()
    with open_logbook(house.path) as again:
        assert (again.history.undo_name, again.history.redo_name) == (None, None)
        with pytest.raises(RefusedError) as caught:
            again.history.undo()
        assert (caught.value.code, caught.value.field) == ("nothing_to_undo", "")
        with pytest.raises(RefusedError) as caught:
            again.history.redo()
        assert caught.value.code == "nothing_to_redo"


def test_names_tell_what_would_be_taken_back(house: House) -> None:
    house.appliance("Router")
    house.meter("Grey meter")
    assert names(house) == ("add meter: Grey meter", None)
    house.logbook.history.undo()
    assert names(house) == ("add appliance: Router", "add meter: Grey meter")
    house.logbook.history.undo()
    assert names(house) == (None, "add appliance: Router")
    house.logbook.history.redo()
    assert names(house) == ("add appliance: Router", "add meter: Grey meter")


def test_a_new_edit_takes_the_place_of_what_was_taken_back(house: House) -> None:
    house.appliance("Router")
    house.logbook.history.undo()
    house.meter("Grey meter")
    assert names(house) == ("add meter: Grey meter", None)
    with pytest.raises(RefusedError, match="nothing to bring again"):
        house.logbook.history.redo()


def test_a_refused_edit_takes_no_place(house: House) -> None:
    house.appliance("Router")
    house.meter("Grey meter")
    house.logbook.history.undo()
    with house.refuses("name_taken", "name"):
        house.appliance("ROUTER")
    assert names(house) == ("add appliance: Router", "add meter: Grey meter")


def test_an_edit_that_changes_nothing_takes_no_place(house: House) -> None:
    house.appliance("Router")
    house.meter("Grey meter")
    house.logbook.history.undo()
    change_appliance(house.logbook, 1, ApplianceDraft("Router", Kind.ALWAYS_ON))
    assert names(house) == ("add appliance: Router", "add meter: Grey meter")


def test_undo_and_redo_tell_what_the_edit_told(house: House) -> None:
    """Who shows it asks again either way; only the number of what was added is the edit's own to tell."""
    measurement_id = house.measured()
    blue = house.meter("Blue meter")
    told = swap_meter(house.logbook, measurement_id, blue, read_on(2, 5.0), exact_zero=False)
    expected = Changes(
        "swap meter: Router",
        frozenset({Topic.MEASUREMENTS, Topic.READINGS}),
        appliance_ids=frozenset({1}),
        meter_ids=frozenset({1, blue}),
        measurement_ids=frozenset({measurement_id}),
    )
    assert told.created_id is not None
    assert house.logbook.history.undo() == expected
    assert house.logbook.history.redo() == expected


def test_undoing_an_addition_tells_of_what_is_gone(house: House) -> None:
    measurement_id = house.started(house.appliance(), house.meter())
    changes = house.logbook.history.undo()
    assert changes.appliance_ids == changes.meter_ids == {1}
    assert changes.measurement_ids == {measurement_id}
    assert measurement_id not in house.held.measurements


def test_a_removed_appliance_comes_back_with_all_that_hung_on_it(house: House) -> None:
    house.measured()
    before, cached = kept_rows(house.path), contents(house.held)
    remove_appliance(house.logbook, 1)
    assert kept_rows(house.path)["readings"] == {}
    house.logbook.history.undo()
    assert kept_rows(house.path) == before
    assert contents(house.held) == cached


def test_things_come_back_under_their_own_numbers(house: House) -> None:
    """So that what is on the screen, and the edits before, still mean the same thing."""
    house.measured()
    remove_reading(house.logbook, 2)
    house.read(1, 3, 0.9)
    house.logbook.history.undo()
    house.logbook.history.undo()
    assert [reading.id for reading in house.record(1).readings] == [1, 2]
    house.logbook.history.redo()
    house.logbook.history.redo()
    assert [reading.id for reading in house.record(1).readings] == [1, 3]


def test_the_journal_tells_of_every_way_back_and_forth(house: House) -> None:
    house.appliance("Router")
    before = journal_lines(house.path)
    house.logbook.history.undo()
    house.logbook.history.redo()
    house.logbook.history.undo()
    added = journal_lines(house.path)[len(before) :]
    assert [line[1] for line in added] == [
        "undo: add appliance: Router",
        "redo: add appliance: Router",
        "undo: add appliance: Router",
    ]


def test_undo_is_journaled_when_it_is_done(house: House) -> None:
    set_household(house.logbook, Household(name="Cottage"))
    house.clock.now = on_day(31)
    house.logbook.history.undo()
    assert journal_lines(house.path)[-1][2] == "2025-04-03T06:30:00Z"


def test_nothing_is_forgotten_however_long_the_session(house: House) -> None:
    fresh = kept_rows(house.path)
    for number in range(40):
        set_household(house.logbook, Household(name=f"House {number}"))
    for _ in range(40):
        house.logbook.history.undo()
    assert kept_rows(house.path) == fresh
    assert house.logbook.history.undo_name is None
    for _ in range(40):
        house.logbook.history.redo()
    assert house.held.household.name == "House 39"


def test_a_whole_season_is_removed_and_comes_back(house: House) -> None:
    """More rows than one statement of SQLite may name."""
    measurement_id = house.started(house.appliance(), house.meter())
    with house.logbook.edit("fill") as edit:
        for hour in range(1, 620):
            edit.unit.insert("readings", {"run_id": 1, **reading_row(read_on(hour / 24, 0.01 * hour))})
    before = kept_rows(house.path)
    remove_appliance(house.logbook, 1)
    house.logbook.history.undo()
    assert kept_rows(house.path) == before
    assert len(house.record(measurement_id).readings) == 620

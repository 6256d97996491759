"""The open logbook: whole edits, its clock, and what becomes of it when something goes wrong."""

from __future__ import annotations

import itertools
import sqlite3
from collections.abc import Iterator
from datetime import timedelta, timezone
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.errors import KnownError
from hearthload.service.changes import Topic
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.logbook import create_logbook, local_now, open_logbook
from hearthload.store.rows import appliance_row
from tests.service.building import Clock, House, a_house, contents, on_day
from tests.store.files import beside, dump, journal_lines, meddling

LAMP = appliance_row(ApplianceDraft("Lamp", Kind.LAMP_TIMER))


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


class PowerCutError(Exception):
    """Something goes wrong in the middle."""


def test_an_edit_that_breaks_off_leaves_no_trace(house: House) -> None:
    house.appliance("Router")
    before, cached = dump(house.path), contents(house.held)

    def break_off() -> None:
        with house.logbook.edit("two things") as edit:
            edit.unit.insert("appliances", LAMP)
            edit.unit.update("household", 1, {"name": "Half"})
            raise PowerCutError

    with pytest.raises(PowerCutError):
        break_off()
    assert dump(house.path) == before
    assert contents(house.held) == cached
    assert house.logbook.history.undo_name == "add appliance: Router"
    house.appliance("Lamp")


def test_an_edit_of_several_things_is_one(house: House) -> None:
    with house.logbook.edit("two things") as edit:
        edit.unit.insert("appliances", LAMP)
        edit.unit.update("household", 1, {"name": "Cottage"})
    assert edit.changes.topics == {Topic.APPLIANCES, Topic.HOUSEHOLD}
    house.logbook.history.undo()
    assert house.held.appliances == {}
    assert house.held.household.name == "Mill lane"
    assert house.logbook.history.undo_name is None


def test_what_an_edit_changed_is_told_when_it_is_saved(house: House) -> None:
    with house.logbook.edit("nothing") as edit:
        with pytest.raises(RuntimeError, match="not saved yet"):
            _ = edit.changes
        edit.about("much")
    assert (edit.changes.name, edit.changes.topics) == ("nothing: much", frozenset())


def test_an_edit_sees_what_was_held_before_it(house: House) -> None:
    """Rules are about what stands in the logbook, not about what the edit is in the middle of."""
    with house.logbook.edit("add") as edit:
        number = edit.unit.insert("appliances", LAMP)
        assert edit.held.appliances == {}
    assert house.held.appliance(number).name == "Lamp"


def test_edits_go_by_the_logbook_s_clock(house: House) -> None:
    house.clock.now = on_day(3).astimezone(timezone(timedelta(hours=-5, minutes=-30)))
    with house.logbook.edit("look at the clock") as edit:
        assert edit.now == on_day(3)
    house.appliance("Router")
    assert journal_lines(house.path)[-1][2:4] == ("2025-03-06T06:30:00Z", -330)
    moments = itertools.count(4)
    house.logbook.clock = lambda: on_day(next(moments))
    house.appliance("Lamp")
    house.appliance("Oven")
    assert [line[2] for line in journal_lines(house.path)[-2:]] == [
        "2025-03-07T06:30:00Z",
        "2025-03-08T06:30:00Z",
    ]


def test_this_computer_s_clock_knows_its_offset() -> None:
    assert local_now().utcoffset() is not None


def test_a_new_logbook_has_a_plain_household(tmp_path: Path) -> None:
    with create_logbook(tmp_path / "new.hearthload", clock=Clock()) as logbook:
        assert logbook.held().household == Household()
        assert not logbook.read_only
        assert logbook.path == tmp_path / "new.hearthload"
        assert contents(logbook.held())["records"] == {}


def test_a_closed_logbook_is_one_file(house: House) -> None:
    house.measured()
    held = contents(house.held)
    house.logbook.close()
    house.logbook.close()
    assert beside(house.path) == []
    with open_logbook(house.path, clock=house.clock) as again:
        assert contents(again.held()) == held


def test_a_logbook_is_closed_when_its_block_ends(tmp_path: Path) -> None:
    with create_logbook(tmp_path / "new.hearthload") as logbook:
        raw = logbook._database._raw
        raw.execute("SELECT 1")
    with pytest.raises(sqlite3.ProgrammingError, match="closed"):
        raw.execute("SELECT 1")


def test_a_file_that_cannot_be_read_in_full_is_closed_again(house: House) -> None:
    house.appliance("Router")
    house.logbook.close()
    with meddling(house.path) as other:
        other.execute("UPDATE appliances SET kind = 'spaceship'")
    with pytest.raises(KnownError, match="does not know: 'spaceship'"):
        open_logbook(house.path)
    # On some systems a file that is still open somewhere could not be moved.
    house.path.rename(house.path.with_name("aside.hearthload"))
    with meddling(house.path.with_name("aside.hearthload")) as other:
        other.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN EXCLUSIVE")
        other.execute("ROLLBACK")


def test_a_word_that_comes_later_is_told_when_it_turns_up(house: House) -> None:
    """A newer program in another window may save what this one does not know: a sentence, no traceback."""
    house.appliance("Router")
    with meddling(house.path) as other:
        other.execute("UPDATE appliances SET kind = 'spaceship'")
    with pytest.raises(KnownError, match="does not know"):
        house.logbook.held()
    with meddling(house.path) as other:
        other.execute("UPDATE appliances SET kind = 'pump'")
    assert house.held.appliance(1).kind is Kind.PUMP


def test_the_same_names_in_two_logbooks_are_no_clash(house: House, tmp_path: Path) -> None:
    house.appliance("Router")
    with create_logbook(tmp_path / "other.hearthload") as other:
        add_appliance(other, ApplianceDraft("Router", Kind.ALWAYS_ON))
        set_household(other, Household(name="Elsewhere"))
    assert house.held.household.name == "Mill lane"

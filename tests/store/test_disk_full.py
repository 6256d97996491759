"""A disk that is full or fails: a sentence, nothing half-saved, and work goes on once there is room."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.service.edits.appliances import add_appliance, remove_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.logbook import Logbook, open_logbook
from hearthload.store.faults import LogbookError
from tests.store.files import beside, dump, kept_rows, rows_by_journal

if TYPE_CHECKING:
    from tests.store.conftest import Deed

LARGE = ApplianceDraft("Too much", Kind.PUMP, note="x" * 9_999)
MUCH_ROOM = 1_000_000


@pytest.fixture
def logbook(fresh: Path) -> Iterator[Logbook]:
    with open_logbook(fresh) as opened:
        yield opened


def give_room(logbook: Logbook, pages: int | None) -> None:
    """Let the file grow no further than so many pages more, which SQLite tells like a full disk."""
    raw = logbook._database._raw
    present = raw.execute("PRAGMA page_count").fetchone()[0]
    raw.execute(f"PRAGMA max_page_count = {MUCH_ROOM if pages is None else present + pages}")


@pytest.mark.parametrize("pages", [0, 1, 2, 3])
def test_an_edit_that_does_not_fit_is_not_saved(logbook: Logbook, pages: int) -> None:
    """With some room it is the row that fits and its journal that does not: then neither is kept."""
    before = dump(logbook.path)
    give_room(logbook, pages)
    with pytest.raises(LogbookError, match="disk is full") as caught:
        add_appliance(logbook, LARGE)
    assert caught.value.code == "disk_full"
    assert logbook.path.name in str(caught.value)
    assert dump(logbook.path) == before
    assert beside(logbook.path) == []
    assert logbook.held().appliances == {}
    assert logbook.history.undo_name is None


def test_work_goes_on_once_there_is_room(logbook: Logbook) -> None:
    give_room(logbook, 0)
    with pytest.raises(LogbookError):
        add_appliance(logbook, LARGE)
    set_household(logbook, Household(name="Small things fit"))
    give_room(logbook, None)
    changes = add_appliance(logbook, LARGE)
    assert [appliance.id for appliance in logbook.held().appliances.values()] == [changes.created_id]
    assert rows_by_journal(logbook.path) == kept_rows(logbook.path)
    with open_logbook(logbook.path) as again:
        assert again.held().appliances == logbook.held().appliances


def test_taking_back_what_does_not_fit_can_be_tried_again(logbook: Logbook) -> None:
    """Undo writes too; that it failed for want of room is no reason to forget it."""
    changes = add_appliance(logbook, LARGE)
    assert changes.created_id is not None
    remove_appliance(logbook, changes.created_id)
    before = dump(logbook.path)
    give_room(logbook, 0)
    with pytest.raises(LogbookError, match="disk is full"):
        logbook.history.undo()
    assert dump(logbook.path) == before
    assert logbook.held().appliances == {}
    assert logbook.history.undo_name == "remove appliance: Too much"
    give_room(logbook, None)
    logbook.history.undo()
    assert list(logbook.held().appliances) == [changes.created_id]


limits = pytest.mark.skipif(os.name == "nt", reason="no limits on a file's size here")


@limits
def test_a_disk_that_refuses_to_write(fresh: Path, deed: Deed) -> None:
    before = dump(fresh)
    done = deed("edit_on_a_small_disk", fresh)
    assert done.code == 0, done.err
    too_much, looked, small = done.lines
    assert too_much["code"] in {"disk", "disk_full"}
    assert fresh.name in too_much["sentence"]
    assert looked == {"code": "", "sentence": "Mill lane"}
    assert small == {"code": "", "sentence": "change household settings"}
    assert kept_rows(fresh)["appliances"] == {}
    assert kept_rows(fresh)["household"][1]["name"] == "Small"
    assert rows_by_journal(fresh) == kept_rows(fresh)
    assert before != dump(fresh)
    assert beside(fresh) == []


@limits
def test_a_new_file_that_does_not_fit_is_not_left_behind(path: Path, deed: Deed) -> None:
    done = deed("make_new_on_a_small_disk", path)
    assert done.code == 0, done.err
    assert [line["code"] in {"disk", "disk_full"} for line in done.lines] == [True]
    assert not path.exists()
    assert beside(path) == []

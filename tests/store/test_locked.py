"""A file that another process is using: a sentence after a short wait, and nothing lost."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from hearthload.domain.household import Household
from hearthload.service.edits.household import set_household
from hearthload.service.logbook import open_logbook
from hearthload.store.faults import LogbookError
from hearthload.store.opening import open_database
from tests.store.files import beside, dump, kept_rows

if TYPE_CHECKING:
    from tests.store.conftest import Started


def test_saving_while_another_saves(fresh: Path, started: Started) -> None:
    before = dump(fresh)
    with open_logbook(fresh) as logbook:
        child = started("hold_writing", fresh)
        with pytest.raises(LogbookError, match="in use by another program") as caught:
            set_household(logbook, Household(name="Elsewhere"))
        assert caught.value.code == "locked"
        assert fresh.name in str(caught.value)
        # Looking is possible all the while, from here and from a window opened just now.
        assert logbook.held().household.name == "Mill lane"
        with open_logbook(fresh) as second:
            assert second.held().household.name == "Mill lane"
        assert dump(fresh) == before
        assert logbook.history.undo_name is None

        child.communicate("let go\n", timeout=60)
        set_household(logbook, Household(name="Elsewhere"))
        assert logbook.history.undo_name == "change household settings"
    assert kept_rows(fresh)["household"][1]["name"] == "Elsewhere"
    assert beside(fresh) == []


def test_opening_while_another_commits(fresh: Path, started: Started) -> None:
    child = started("hold_all", fresh)
    with pytest.raises(LogbookError, match="in use by another program") as caught:
        open_database(fresh)
    assert caught.value.code == "locked"
    child.communicate("let go\n", timeout=60)
    open_database(fresh).close()
    assert beside(fresh) == []


def test_a_short_wait_is_waited(fresh: Path, started: Started) -> None:
    """Another window that saves for a moment is no reason for a complaint."""
    with open_logbook(fresh) as logbook:
        child = started("hold_briefly", fresh)
        set_household(logbook, Household(name="Elsewhere"))
        child.communicate(timeout=60)
        assert child.returncode == 0
    assert kept_rows(fresh)["household"][1]["name"] == "Elsewhere"

"""A process that is killed while it saves: the file then holds whole edits only."""

from __future__ import annotations

import os
import random
import time
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from hearthload.domain.household import Household
from hearthload.service.edits.household import set_household
from hearthload.service.logbook import open_logbook
from tests.store.crashes import METERS, die_in_a_commit
from tests.store.files import beside, journal_lines, kept_rows, meddling, rows_by_journal

if TYPE_CHECKING:
    from tests.store.conftest import Deed, Started

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no such signal here")


def let_sqlite_clear_up(path: Path) -> None:
    """Let a plain writer play back the journal that a dead process left."""
    with meddling(path) as other:
        other.execute("BEGIN IMMEDIATE")
        other.execute("ROLLBACK")


def is_whole(path: Path) -> int:
    """Check that rows and journal tell the same, on disk and as opened, and that edits go on."""
    rows = kept_rows(path)
    assert rows_by_journal(path) == rows
    with open_logbook(path) as logbook:
        assert sorted(logbook.held().appliances) == sorted(rows["appliances"])
        lines = len(journal_lines(path))
        set_household(logbook, Household(name=f"After {lines} lines"))
    # A journal that had not come to anything lies there until the next edit needs its place.
    assert beside(path) == []
    assert rows_by_journal(path) == kept_rows(path)
    return lines


def test_killed_at_any_moment(fresh: Path, started: Started) -> None:
    """Each round goes on with the file as the last kill left it."""
    chance = random.Random(20250303)
    lines = is_whole(fresh)
    for _ in range(5):
        child = started("save_for_ever", fresh)
        time.sleep(chance.uniform(0.0, 0.1))
        child.kill()
        child.communicate(timeout=60)
        assert child.returncode == -9
        let_sqlite_clear_up(fresh)
        before, lines = lines, is_whole(fresh)
        assert lines > before + 1


def test_killed_with_half_an_edit_in_the_file(fresh: Path, deed: Deed) -> None:
    die_in_a_commit(fresh)
    assert beside(fresh) == [f"{fresh.name}-journal"]
    let_sqlite_clear_up(fresh)
    assert [row["note"] for row in kept_rows(fresh)["meters"].values()] == [""] * METERS
    is_whole(fresh)

    before = kept_rows(fresh)
    done = deed("die_at_commit", fresh)
    assert done.code == -9, done.err
    assert beside(fresh) == [f"{fresh.name}-journal"]
    let_sqlite_clear_up(fresh)
    assert kept_rows(fresh) == before
    is_whole(fresh)

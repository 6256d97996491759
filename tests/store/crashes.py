"""A logbook as it lies there after the machine died in the middle of a commit."""

from __future__ import annotations

from pathlib import Path

from hearthload.store.opening import open_database
from tests.store.files import NOW, meddling
from tests.store.good_rows import GOOD

METERS = 300


def die_in_a_commit(path: Path) -> None:
    """Leave some pages of an edit in the file, and beside it the journal that can take them back.

    What dies is an edit of all notes; the meters that it is about were saved before.
    """
    opened = open_database(path)
    with opened.unit("add meters", NOW) as unit:
        for number in range(METERS):
            unit.insert("meters", {**GOOD["meters"], "name": f"Meter {number}"})
    opened.close()
    journal = path.with_name(f"{path.name}-journal")
    with meddling(path) as other:
        # So little room in memory makes SQLite write changed pages into the file before the commit.
        other.execute("PRAGMA cache_size = 1")
        other.execute("BEGIN IMMEDIATE")
        other.execute("UPDATE meters SET note = 'half'")
        # Reading past SQLite drops the locks of this process; nobody else is there to mind.
        dead = {name: name.read_bytes() for name in (path, journal)}
        other.execute("ROLLBACK")
    for name, content in dead.items():
        name.write_bytes(content)

"""What tests let another process do to a logbook: `python child.py DEED FILE`; it answers in lines."""

from __future__ import annotations

import itertools
import json
import os
import signal
import sqlite3
import sys
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.errors import KnownError
from hearthload.service.edits.appliances import add_appliance, remove_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.logbook import create_logbook, open_logbook
from hearthload.store.opening import open_database
from hearthload.store.steps import all_steps

LARGEST_NOTE = "x" * 9_999


def say(line: str) -> None:
    print(line, flush=True)


def hold(path: Path, begin: str) -> None:
    """Take a lock, say so, and let go when told to on standard input."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute(begin)
    say("held")
    sys.stdin.readline()
    connection.execute("ROLLBACK")
    connection.close()


def hold_writing(path: Path) -> None:
    """Hold the right to write, as a program does in the middle of an edit."""
    hold(path, "BEGIN IMMEDIATE")


def hold_all(path: Path) -> None:
    """Hold the whole file, as a program does in the middle of a commit."""
    hold(path, "BEGIN EXCLUSIVE")


def hold_briefly(path: Path) -> None:
    """Hold the right to write for a moment."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("BEGIN IMMEDIATE")
    say("held")
    time.sleep(0.3)
    connection.execute("ROLLBACK")
    connection.close()


def answer(deed: Callable[[], object]) -> None:
    """Say what a deed gave, or which sentence it was refused with."""
    try:
        given = deed()
    except KnownError as error:
        say(json.dumps({"code": getattr(error, "code", ""), "sentence": str(error)}))
    else:
        say(json.dumps({"code": "", "sentence": str(given)}))


def look_and_edit(path: Path) -> None:
    """Look at a file that may not be written, then try to change it."""
    with open_logbook(path) as logbook:
        say(json.dumps([logbook.read_only, logbook.held().household.name]))
        answer(lambda: set_household(logbook, Household(name="Elsewhere")).name)


def make_new(path: Path) -> None:
    """Make a new file, if that can be done."""
    answer(lambda: create_logbook(path).close())


def open_only(path: Path) -> None:
    """Open a file, if that can be done."""
    answer(lambda: open_logbook(path).close())


def open_with_one_more_step(path: Path) -> None:
    """Open a file with a program that knows one step more than there is."""
    answer(lambda: open_database(path, (*all_steps(), lambda _: None)).close())


def on_a_small_disk(deed: Callable[[Path], None], path: Path, largest: int) -> None:
    """Do a deed where no file may grow beyond a size: writing ends in an error, as on a bad disk."""
    if sys.platform != "win32":
        import resource

        resource.setrlimit(resource.RLIMIT_FSIZE, (largest, largest))
    deed(path)


def edit_on_a_small_disk(path: Path) -> None:
    """Save more than fits, then less."""
    with open_logbook(path) as logbook:
        draft = ApplianceDraft("Too much", Kind.PUMP, note=LARGEST_NOTE)
        on_a_small_disk(lambda _: answer(lambda: add_appliance(logbook, draft)), path, path.stat().st_size)
        answer(lambda: logbook.held().household.name)
        answer(lambda: set_household(logbook, Household(name="Small")).name)


def make_new_on_a_small_disk(path: Path) -> None:
    """Make a new file that does not fit."""
    on_a_small_disk(make_new, path, 8192)


def save_for_ever(path: Path) -> None:
    """Save and take back as fast as can be, until killed; say so when the first edit is saved."""
    with open_logbook(path) as logbook:
        for number in itertools.count():
            draft = ApplianceDraft(f"Kettle {os.getpid()} {number}", Kind.KITCHEN, note=LARGEST_NOTE)
            changes = add_appliance(logbook, draft)
            if number == 0:
                say("saved")
            assert changes.created_id is not None
            remove_appliance(logbook, changes.created_id)
            logbook.history.undo()
            logbook.history.undo()


def die_at_commit(path: Path) -> None:
    """Die by a signal when the pages of a large edit are partly in the file and the commit is next."""
    database = open_database(path)
    # So little room in memory makes SQLite write changed pages into the file before the commit.
    database._raw.execute("PRAGMA cache_size = 1")

    def watch(statement: str) -> None:
        if statement == "COMMIT" and sys.platform != "win32":
            os.kill(os.getpid(), signal.SIGKILL)

    database._raw.set_trace_callback(watch)
    with database.unit("change meters", datetime.now().astimezone()) as unit:
        for row in database._raw.execute("SELECT id FROM meters").fetchall():
            unit.update("meters", row[0], {"note": "half"})


DEEDS: dict[str, Callable[[Path], None]] = {
    deed.__name__: deed
    for deed in (
        hold_writing,
        hold_all,
        hold_briefly,
        look_and_edit,
        make_new,
        open_only,
        open_with_one_more_step,
        edit_on_a_small_disk,
        make_new_on_a_small_disk,
        save_for_ever,
        die_at_commit,
    )
}

if __name__ == "__main__":
    DEEDS[sys.argv[1]](Path(sys.argv[2]))

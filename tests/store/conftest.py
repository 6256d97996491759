"""A fresh logbook file, open and closed, one with good rows in it, and other processes that use it."""

from __future__ import annotations

import json
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.household import Household
from hearthload.store.connecting import connect
from hearthload.store.database import Database
from hearthload.store.opening import create_database
from tests.store.files import NOW
from tests.store.good_rows import BASE, PLANS, put


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Name a file that is not there yet, in a folder of its own."""
    folder = tmp_path / "logbooks"
    folder.mkdir()
    return folder / "home.hearthload"


@pytest.fixture
def database(path: Path) -> Iterator[Database]:
    """Open a fresh logbook file."""
    made = create_database(path, Household(name="Mill lane"), NOW)
    yield made
    made.close()


@pytest.fixture
def fresh(path: Path) -> Path:
    """Lay down a fresh logbook file that nobody has open."""
    create_database(path, Household(name="Mill lane"), NOW).close()
    return path


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """Give one file for many tests, with what `BASE` and `PLANS` say in it."""
    path = tmp_path_factory.mktemp("schema") / "home.hearthload"
    create_database(path, Household(), NOW).close()
    with closing(connect(path, "rw")) as connection:
        for table, row in (*BASE, *PLANS):
            put(connection, table, row)
        yield connection


@pytest.fixture
def file(shared: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """Give the file inside a transaction that is taken back after the test."""
    shared.execute("BEGIN")
    yield shared
    shared.execute("ROLLBACK")


@dataclass(frozen=True)
class Answers:
    """How another process ended and what it said, line by line."""

    code: int
    lines: list[Any]
    err: str


Deed = Callable[..., Answers]
Started = Callable[[str, Path], "subprocess.Popen[str]"]

_CHILD = Path(__file__).with_name("child.py")
_TOO_LONG_S = 60


@pytest.fixture
def deed() -> Deed:
    """Give a function that lets another process do something to a file; `before` goes before the command."""

    def run(name: str, path: Path, before: Sequence[str] = ()) -> Answers:
        done = subprocess.run(
            [*before, sys.executable, "-P", _CHILD, name, path],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=_TOO_LONG_S,
            check=False,
        )
        return Answers(done.returncode, [json.loads(line) for line in done.stdout.splitlines()], done.stderr)

    return run


@pytest.fixture
def started() -> Iterator[Started]:
    """Give a function that starts another process on a file and waits for its first line."""
    processes: list[subprocess.Popen[str]] = []

    def start(name: str, path: Path) -> subprocess.Popen[str]:
        process = subprocess.Popen(
            [sys.executable, "-P", _CHILD, name, path],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            encoding="utf-8",
        )
        processes.append(process)
        assert process.stdout is not None
        assert process.stdout.readline().strip()
        return process

    yield start
    for process in processes:
        process.kill()
        process.communicate(timeout=_TOO_LONG_S)

"""What can stand between the program and a logbook file, in plain words."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hearthload.errors import KnownError


class LogbookError(KnownError):
    """A logbook file that cannot be opened, read or written; `code` is a short stable word."""

    def __init__(self, sentence: str, *, code: str) -> None:
        super().__init__(sentence)
        self.code = code


class ChangedSinceError(Exception):
    """Rows do not stand as the images say: another program changed the logbook in the meantime."""


_IN_USE = "“{name}” is in use by another program just now. Nothing was changed; try again in a moment."
_FULL = "The disk is full, so “{name}” could not be saved. What was saved before is still there; make room."
_READ_ONLY = "“{name}” may only be read where it is. Copy it to a folder of yours to go on with the copy."
_DISK = "The disk would not read or write “{name}”. What was saved before is still there; check the disk."
_DAMAGED = "“{name}” is damaged and cannot be read in full. It was left as it is; go back to a copy of it."
_FOREIGN = "“{name}” is not a Hearthload logbook. It was left as it is."
_CANNOT_OPEN = "“{name}” cannot be opened: look whether its folder is still there and may be written to."

_SENTENCES = {
    sqlite3.SQLITE_BUSY: ("locked", _IN_USE),
    sqlite3.SQLITE_LOCKED: ("locked", _IN_USE),
    sqlite3.SQLITE_FULL: ("disk_full", _FULL),
    sqlite3.SQLITE_READONLY: ("read_only", _READ_ONLY),
    sqlite3.SQLITE_IOERR: ("disk", _DISK),
    sqlite3.SQLITE_CORRUPT: ("damaged", _DAMAGED),
    sqlite3.SQLITE_NOTADB: ("not_a_logbook", _FOREIGN),
    sqlite3.SQLITE_CANTOPEN: ("cannot_open", _CANNOT_OPEN),
    sqlite3.SQLITE_PERM: ("cannot_open", _CANNOT_OPEN),
}

_PRIMARY_CODE = 0xFF
"""SQLite keeps the kind of a fault in the low byte of its extended result codes."""


def damaged(path: Path) -> LogbookError:
    """Give the fault of a file that does not hold together."""
    return LogbookError(_DAMAGED.format(name=path.name), code="damaged")


def not_a_logbook(path: Path) -> LogbookError:
    """Give the fault of a file that is something else."""
    return LogbookError(_FOREIGN.format(name=path.name), code="not_a_logbook")


def primary_code(error: BaseException) -> int | None:
    """Give SQLite's kind of fault behind an error, None when SQLite is not behind it."""
    origin = getattr(error, "orig", error)
    code = getattr(origin, "sqlite_errorcode", None)
    if isinstance(code, int):
        return code & _PRIMARY_CODE
    if isinstance(origin, sqlite3.DatabaseError) and "not a database" in str(origin):
        return sqlite3.SQLITE_NOTADB
    return None


def known_fault(error: BaseException, path: Path) -> LogbookError | None:
    """Give the plain words for an error of the file's surroundings, None for anything else: a bug."""
    if isinstance(error, UnicodeDecodeError) or "Could not decode to UTF-8" in str(error):
        return damaged(path)  # a wrong bit in a text, or in SQLite's own words about it
    found = _SENTENCES.get(primary_code(error) or -1)
    if found is None:
        return None
    code, sentence = found
    return LogbookError(sentence.format(name=path.name), code=code)


@contextmanager
def in_plain_words(path: Path) -> Iterator[None]:
    """Turn the surroundings' faults inside the block into `LogbookError`; let bugs through untouched."""
    try:
        yield
    except Exception as error:
        fault = known_fault(error, path)
        if fault is None:
            raise
        raise fault from error

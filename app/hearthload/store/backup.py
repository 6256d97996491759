"""Copies of a logbook by SQLite's own backup, which is right even while the file is in use."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path


def copy_before_step(source: sqlite3.Connection, path: Path, schema: int) -> Path:
    """Copy the logbook beside itself before its schema is changed; give the copy's path."""
    target = _unused(path, f"before-schema-{schema}")
    with closing(sqlite3.connect(target)) as copy:
        source.backup(copy)
    return target


def _unused(path: Path, mark: str) -> Path:
    candidate = path.with_name(f"{path.stem}.{mark}{path.suffix}")
    number = 2
    while candidate.exists():
        candidate = path.with_name(f"{path.stem}.{mark}-{number}{path.suffix}")
        number += 1
    return candidate

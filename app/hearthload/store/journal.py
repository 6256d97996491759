"""The journal: every changed row's image, appended for good with the edit's name and moment."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, insert, select

from hearthload.store import tables
from hearthload.store.images import Row, RowImage
from hearthload.store.moments import moment_of, offset_min, utc_text


@dataclass(frozen=True, slots=True)
class JournalEntry:
    """One line of the journal: which edit, when, and the image of one row."""

    edit: str
    edited_at: datetime
    image: RowImage


def append(connection: Connection, edit: str, at: datetime, images: Iterable[RowImage]) -> None:
    """Append the images of one edit."""
    lines = [
        {
            "edit": edit,
            "edited_at": utc_text(at),
            "edited_offset_min": offset_min(at),
            "table_name": image.table,
            "row_key": image.key,
            "before": _written(image.before),
            "after": _written(image.after),
        }
        for image in images
    ]
    if lines:
        connection.execute(insert(tables.journal), lines)


def entries(connection: Connection) -> Iterator[JournalEntry]:
    """Read the journal from its beginning."""
    for row in connection.execute(select(tables.journal).order_by(tables.journal.c.id)).mappings():
        image = RowImage(row["table_name"], row["row_key"], _read(row["before"]), _read(row["after"]))
        yield JournalEntry(row["edit"], moment_of(row["edited_at"], row["edited_offset_min"]), image)


def _written(row: Row | None) -> str | None:
    return None if row is None else json.dumps(row, ensure_ascii=False, allow_nan=False)


def _read(text: str | None) -> Row | None:
    if text is None:
        return None
    row: Row = json.loads(text)
    return row

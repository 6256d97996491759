"""One transaction on the logbook that notes each changed row's image before and after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from sqlalchemy import Connection, Table, delete, insert, select, update

from hearthload.store import tables
from hearthload.store.faults import ChangedSinceError
from hearthload.store.images import Row, RowImage, merged

_BY_NAME: Mapping[str, Table] = {table.name: table for table in tables.KEPT}

_AT_ONCE = 500
"""Keys named in one statement; SQLite before 3.32 takes no more than 999 values."""


class Unit:
    """Changes rows inside the transaction that is open on its connection, and remembers their images.

    `name` is what the journal calls the edit; it may be made more exact while the edit goes on.
    """

    def __init__(self, connection: Connection, name: str) -> None:
        self.name = name
        self._connection = connection
        self._images: list[RowImage] = []

    @property
    def images(self) -> tuple[RowImage, ...]:
        """Give what changed so far, one image a row."""
        return merged(self._images)

    def insert(self, table: str, values: Row) -> int:
        """Add a row and give its key."""
        key = self._connection.execute(insert(_BY_NAME[table]).values(values)).lastrowid
        self._images.append(RowImage(table, key, before=None, after=self._row(table, key)))
        return key

    def update(self, table: str, key: int, values: Row) -> None:
        """Change columns of a row; asking for a row that is not there is a bug."""
        place = _BY_NAME[table]
        before = self._row(table, key)
        self._connection.execute(update(place).where(place.c.id == key).values(values))
        self._images.append(RowImage(table, key, before=before, after=self._row(table, key)))

    def delete(self, table: str, keys: Iterable[int]) -> None:
        """Remove rows, children before parents."""
        wanted = sorted(keys)
        standing = self._standing(table, wanted)
        self._clear(table, wanted)
        self._images.extend(RowImage(table, key, before=row, after=None) for key, row in standing.items())

    def apply(self, images: Sequence[RowImage]) -> None:
        """Bring rows from their image before to their image after: clear all, then write all.

        Keys are checked at the end of the transaction only, so the order of tables does not matter, and rows
        may trade places under a unique index. Raises `ChangedSinceError` when a row stands otherwise.
        """
        self._connection.exec_driver_sql("PRAGMA defer_foreign_keys = ON")
        for table, group in _grouped(images).items():
            standing = self._standing(table, [image.key for image in group])
            if any(standing.get(image.key) != image.before for image in group):
                raise ChangedSinceError
            self._clear(table, list(standing))
        for table, group in _grouped(images).items():
            rows = [image.after for image in group if image.after is not None]
            if rows:
                self._connection.execute(insert(_BY_NAME[table]), rows)
        self._images.extend(images)

    def _row(self, table: str, key: int) -> Row:
        # Read back rather than RETURNING, which gives whole numbers in REAL columns as integers.
        place = _BY_NAME[table]
        return dict(self._connection.execute(select(place).where(place.c.id == key)).mappings().one())

    def _standing(self, table: str, keys: Sequence[int]) -> dict[int, Row]:
        place = _BY_NAME[table]
        found: dict[int, Row] = {}
        for some in _portions(keys):
            rows = self._connection.execute(select(place).where(place.c.id.in_(some))).mappings()
            found.update((row["id"], dict(row)) for row in rows)
        return found

    def _clear(self, table: str, keys: Sequence[int]) -> None:
        place = _BY_NAME[table]
        for some in _portions(keys):
            self._connection.execute(delete(place).where(place.c.id.in_(some)))


def _grouped(images: Iterable[RowImage]) -> dict[str, list[RowImage]]:
    groups: dict[str, list[RowImage]] = {}
    for image in images:
        groups.setdefault(image.table, []).append(image)
    return groups


def _portions(keys: Sequence[int]) -> Iterator[Sequence[int]]:
    for start in range(0, len(keys), _AT_ONCE):
        yield keys[start : start + _AT_ONCE]

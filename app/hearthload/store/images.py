"""Images of rows before and after a change: what undo, redo and the journal are made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

Row = dict[str, Any]
"""One row as stored: column name to value."""


@dataclass(frozen=True, slots=True)
class RowImage:
    """One changed row: its table and key, how it stood before (None: not there) and after (None: gone)."""

    table: str
    key: int
    before: Row | None
    after: Row | None

    def reversed(self) -> RowImage:
        """Give the image of the change taken back."""
        return RowImage(self.table, self.key, before=self.after, after=self.before)


def merged(images: Iterable[RowImage]) -> tuple[RowImage, ...]:
    """Join the images of rows that changed more than once; leave out rows that ended as they began."""
    joined: dict[tuple[str, int], RowImage] = {}
    for image in images:
        place = (image.table, image.key)
        first = joined.get(place)
        joined[place] = RowImage(*place, before=(first or image).before, after=image.after)
    return tuple(image for image in joined.values() if image.before != image.after)

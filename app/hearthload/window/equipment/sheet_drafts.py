"""What was typed into the equipment sheet and not saved, kept until she comes back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class SheetState:
    """What stands in the sheet: the lines' texts and the choices by name, boxes ticked."""

    texts: Mapping[str, str]
    chosen: Mapping[str, Any]
    grid_tied: bool
    members: tuple[int, ...]


_NOTHING = SheetState({}, {}, grid_tied=False, members=())


class SheetDrafts:
    """Half-typed sheets by the number of their supply, None for a new one; `begun` is how the sheet began."""

    def __init__(self) -> None:
        self.begun = _NOTHING
        self._kept: dict[int | None, tuple[SheetState, SheetState]] = {}

    def begin(self, supply_id: int | None, state: SheetState) -> SheetState | None:
        """Take the state that a sheet begins with, and give what was typed into it before, if anything.

        What was typed upon other figures than those of now is thrown away: it would take a change back.
        """
        self.begun = state
        begun, typed = self._kept.pop(supply_id, (state, None))
        return typed if begun == state else None

    def keep(self, supply_id: int | None, state: SheetState) -> bool:
        """Keep a sheet in which something was typed; tell whether it was."""
        if state == self.begun:
            return False
        self._kept[supply_id] = (self.begun, state)
        return True

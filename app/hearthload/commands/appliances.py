"""Finds the appliance that a person means by what they typed of its name."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from hearthload.commands.names import Sort, find_named

if TYPE_CHECKING:
    from hearthload.domain.appliance import Appliance

APPLIANCE = Sort("appliance", "An", "It has none yet: open it in the window and add one.")


def find_appliance(appliances: Sequence[Appliance], typed: str) -> Appliance:
    """Give the one appliance of that name or of which the name begins so, in capitals or small letters."""
    return find_named(appliances, typed, APPLIANCE)

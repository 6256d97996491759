"""Edits of the household's settings."""

from __future__ import annotations

from hearthload.domain.household import Household
from hearthload.service.changes import Changes
from hearthload.service.edits.household_values import tidied_household
from hearthload.service.logbook import Logbook
from hearthload.store.rows import HOUSEHOLD_KEY, household_row


def set_household(logbook: Logbook, household: Household) -> Changes:
    """Set what the household's mains give and what energy costs."""
    kept = tidied_household(household)
    with logbook.edit("change household settings") as edit:
        edit.unit.update("household", HOUSEHOLD_KEY, household_row(kept))
    return edit.changes

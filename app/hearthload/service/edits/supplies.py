"""Edits of the supplies: batteries, generators, arrays, and combinations of them."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.edits.refusing import refuse_taken_name
from hearthload.service.edits.supply_values import (
    member_refusal,
    refuse_odd_count,
    refuse_odd_members,
    tidied_supply,
)
from hearthload.service.logbook import Edit, Logbook
from hearthload.store.plan_rows import supply_row


def add_supply(logbook: Logbook, draft: SupplyDraft) -> Changes:
    """Add a supply."""
    kept = tidied_supply(draft)
    with logbook.edit("add supply") as edit:
        edit.about(kept.name)
        refuse_taken_name(kept.name, edit.held.supplies.values(), "a supply")
        _refuse_odd_members(edit, kept, None)
        edit.created_id = edit.unit.insert("supplies", supply_row(kept))
        _insert_members(edit, edit.created_id, kept.members)
    return edit.changes


def change_supply(logbook: Logbook, supply_id: int, draft: SupplyDraft) -> Changes:
    """Change what is noted about a supply."""
    kept = tidied_supply(draft)
    with logbook.edit("change supply") as edit:
        supply = edit.held.supply(supply_id)
        edit.about(supply.name)
        others = [other for other in edit.held.supplies.values() if other.id != supply_id]
        refuse_taken_name(kept.name, others, "a supply")
        _refuse_odd_members(edit, kept, supply_id)
        edit.unit.update("supplies", supply_id, supply_row(kept))
        if kept.members != supply.draft.members:
            _delete_members(edit, supply_id)
            _insert_members(edit, supply_id, kept.members)
    return edit.changes


def remove_supply(logbook: Logbook, supply_id: int) -> Changes:
    """Remove a supply that is in no combination; a combination goes alone, its members stay."""
    with logbook.edit("remove supply") as edit:
        supply = edit.held.supply(supply_id)
        edit.about(supply.name)
        for combination in edit.held.combinations_with(supply_id):
            raise RefusedError(
                f"“{supply.name}” is part of “{combination.name}”. Take it out there, or remove that first.",
                field="supply_id",
                code="in_combination",
            )
        _delete_members(edit, supply_id)
        edit.unit.delete("supplies", [supply_id])
    return edit.changes


def _refuse_odd_members(edit: Edit, draft: SupplyDraft, supply_id: int | None) -> None:
    refuse_odd_count(draft)
    if draft.kind is not SupplyKind.COMBINATION:
        return
    if supply_id is not None:
        _refuse_nested(edit, supply_id, draft.members)
    refuse_odd_members(draft, edit.held.supplies)


def _refuse_nested(edit: Edit, supply_id: int, members: Sequence[int]) -> None:
    """Refuse to make a combination of what is itself a part of one."""
    if supply_id in members:
        raise member_refusal("A combination cannot be a part of itself.", "member_is_combination")
    for combination in edit.held.combinations_with(supply_id):
        name = edit.held.supply(supply_id).name
        raise RefusedError(
            f"“{name}” is part of “{combination.name}”, so it cannot be a combination itself.",
            field="kind",
            code="in_combination",
        )


def _insert_members(edit: Edit, supply_id: int, members: Sequence[int]) -> None:
    for member_id in members:
        edit.unit.insert("supply_members", {"supply_id": supply_id, "member_id": member_id})


def _delete_members(edit: Edit, supply_id: int) -> None:
    places = [found.id for found in edit.held.memberships.values() if found.supply_id == supply_id]
    edit.unit.delete("supply_members", places)

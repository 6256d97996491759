"""Rows of plans and supplies to the domain's values and back, column by column."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, fields, replace
from enum import Enum
from typing import Any

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan, PlanDraft, PlanFigure, PlanLoad, PlanLoadDraft, Use
from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    Supply,
    SupplyDraft,
    SupplyKind,
    Waveform,
)
from hearthload.store.images import Row
from hearthload.store.rows import Stored


@dataclass(frozen=True, slots=True)
class Membership:
    """One supply's place in a combination; the order of their numbers is the order of the members."""

    id: int
    supply_id: int
    member_id: int


# Every column is called as its field; only these need more than to be handed on.
_PLAN_COLUMNS = tuple(field.name for field in fields(PlanDraft))
_LOAD_COLUMNS = tuple(field.name for field in fields(PlanLoadDraft))
_SUPPLY_COLUMNS = tuple(field.name for field in fields(SupplyDraft) if field.name != "members")
_LOAD_WORDS = {"role": Role, "use": Use}
_SUPPLY_WORDS = {
    "kind": SupplyKind,
    "owned": bool,
    "chemistry": Chemistry,
    "waveform": Waveform,
    "fuel": Fuel,
    "control": EngineControl,
    "grid_tied": bool,
}


def plan_row(draft: PlanDraft | Plan) -> Row:
    """Give the columns of a plan's row, its number left out."""
    return {name: _stored(getattr(draft, name)) for name in _PLAN_COLUMNS}


def plan_of(row: Stored) -> Plan:
    """Give a plan from its row."""
    return Plan(id=row["id"], **{name: row[name] for name in _PLAN_COLUMNS})


def plan_load_row(draft: PlanLoadDraft | PlanLoad) -> Row:
    """Give the columns of a plan load's row, its plan left out."""
    return {name: _stored(getattr(draft, name)) for name in _LOAD_COLUMNS}


def plan_load_of(row: Stored) -> PlanLoad:
    """Give a plan's load from its row."""
    return PlanLoad(id=row["id"], plan_id=row["plan_id"], **_values(row, _LOAD_COLUMNS, _LOAD_WORDS))


def plan_figure_of(row: Stored) -> PlanFigure:
    """Give a figure that she set for a plan from its row."""
    return PlanFigure(id=row["id"], plan_id=row["plan_id"], key=row["key"], value=row["value"])


def supply_row(draft: SupplyDraft) -> Row:
    """Give the columns of a supply's row; the members of a combination are rows of their own."""
    return {name: _stored(getattr(draft, name)) for name in _SUPPLY_COLUMNS}


def supply_of(row: Stored) -> Supply:
    """Give a supply from its row, without its members."""
    return Supply(row["id"], SupplyDraft(**_values(row, _SUPPLY_COLUMNS, _SUPPLY_WORDS)))


def membership_of(row: Stored) -> Membership:
    """Give a supply's place in a combination from its row."""
    return Membership(row["id"], row["supply_id"], row["member_id"])


def with_members(supply: Supply, memberships: Iterable[Membership]) -> Supply:
    """Give a supply with its members in order; the same object when it has those already."""
    places = sorted(
        (found for found in memberships if found.supply_id == supply.id), key=lambda found: found.id
    )
    members = tuple(found.member_id for found in places)
    if members == supply.draft.members:
        return supply
    return Supply(supply.id, replace(supply.draft, members=members))


def _stored(value: Any) -> Any:  # noqa: ANN401 (SQLite's values)
    if isinstance(value, Enum):
        return value.value
    return int(value) if isinstance(value, bool) else value


def _values(row: Stored, columns: Iterable[str], words: dict[str, type[Any]]) -> dict[str, Any]:
    return {name: words[name](row[name]) if name in words else row[name] for name in columns}

"""Edits of the appliances."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.edits.refusing import (
    MAXIMUM_V,
    MAXIMUM_W,
    MINIMUM_V,
    MINIMUM_W,
    refuse_taken_name,
    refuse_unknown_plug,
    running_of_appliance,
)
from hearthload.service.edits.removing import remove_measurements
from hearthload.service.logbook import Logbook
from hearthload.service.tidy import refuse_outside, tidy_line, tidy_name, tidy_note
from hearthload.store.rows import appliance_row


def add_appliance(logbook: Logbook, draft: ApplianceDraft) -> Changes:
    """Add an appliance."""
    kept = _tidied(draft)
    with logbook.edit("add appliance") as edit:
        edit.about(kept.name)
        refuse_taken_name(kept.name, edit.held.appliances.values(), "an appliance")
        edit.created_id = edit.unit.insert("appliances", appliance_row(kept))
    return edit.changes


def change_appliance(logbook: Logbook, appliance_id: int, draft: ApplianceDraft) -> Changes:
    """Change what is noted about an appliance."""
    kept = _tidied(draft)
    with logbook.edit("change appliance") as edit:
        edit.about(edit.held.appliance(appliance_id).name)
        others = [other for other in edit.held.appliances.values() if other.id != appliance_id]
        refuse_taken_name(kept.name, others, "an appliance")
        if kept.hard_wired and running_of_appliance(edit.held, appliance_id) is not None:
            raise RefusedError(
                "It is on a plug-in meter now, so it cannot be hard-wired. Finish the measurement first.",
                field="hard_wired",
                code="already_measured",
            )
        edit.unit.update("appliances", appliance_id, appliance_row(kept))
    return edit.changes


def take_as_kind(logbook: Logbook, appliance_id: int, kind: Kind) -> Changes:
    """Take an appliance as one of another kind, all else as it is."""
    with logbook.edit("change kind") as edit:
        edit.about(edit.held.appliance(appliance_id).name)
        edit.unit.update("appliances", appliance_id, {"kind": kind.value})
    return edit.changes


def remove_appliance(logbook: Logbook, appliance_id: int) -> Changes:
    """Remove an appliance with its measurements and readings, and from all plans."""
    with logbook.edit("remove appliance") as edit:
        edit.about(edit.held.appliance(appliance_id).name)
        remove_measurements(edit, edit.held.measurements_of(appliance_id))
        loads = [load.id for load in edit.held.plan_loads.values() if load.appliance_id == appliance_id]
        edit.unit.delete("plan_loads", loads)
        edit.unit.delete("appliances", [appliance_id])
    return edit.changes


def _tidied(draft: ApplianceDraft) -> ApplianceDraft:
    refuse_unknown_plug(draft.plug)
    refuse_outside(draft.voltage_v, "voltage_v", "The voltage", low=MINIMUM_V, high=MAXIMUM_V, unit="V")
    refuse_outside(
        draft.nameplate_w, "nameplate_w", "The nameplate's watts", low=MINIMUM_W, high=MAXIMUM_W, unit="W"
    )
    refuse_outside(draft.running_w, "running_w", "The running watts", low=MINIMUM_W, high=MAXIMUM_W, unit="W")
    refuse_outside(draft.target, "target", "The wanted ± part", low=0.01, high=1.0, unit="(0.1 for ± 10 %)")
    return replace(
        draft,
        name=tidy_name(draft.name, "appliance"),
        room=tidy_line(draft.room, "room"),
        note=tidy_note(draft.note),
    )

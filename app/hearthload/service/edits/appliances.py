"""Edits of the appliances."""

from __future__ import annotations

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.errors import RefusedError
from hearthload.service.changes import Changes
from hearthload.service.edits.appliance_values import tidied_appliance
from hearthload.service.edits.refusing import refuse_taken_name, running_of_appliance
from hearthload.service.edits.removing import remove_measurements
from hearthload.service.logbook import Logbook
from hearthload.store.rows import appliance_row


def add_appliance(logbook: Logbook, draft: ApplianceDraft) -> Changes:
    """Add an appliance."""
    kept = tidied_appliance(draft)
    with logbook.edit("add appliance") as edit:
        edit.about(kept.name)
        refuse_taken_name(kept.name, edit.held.appliances.values(), "an appliance")
        edit.created_id = edit.unit.insert("appliances", appliance_row(kept))
    return edit.changes


def change_appliance(logbook: Logbook, appliance_id: int, draft: ApplianceDraft) -> Changes:
    """Change what is noted about an appliance."""
    kept = tidied_appliance(draft)
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

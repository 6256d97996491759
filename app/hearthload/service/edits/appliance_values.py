"""What is typed about appliances made fit to keep, or refused in a clear sentence."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.appliance import ApplianceDraft
from hearthload.service.edits.refusing import (
    MAXIMUM_V,
    MAXIMUM_W,
    MINIMUM_V,
    MINIMUM_W,
    refuse_unknown_plug,
)
from hearthload.service.tidy import refuse_outside, tidy_line, tidy_name, tidy_note


def tidied_appliance(draft: ApplianceDraft) -> ApplianceDraft:
    """Give an appliance's draft fit to keep."""
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

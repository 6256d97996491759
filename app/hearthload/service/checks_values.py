"""Checks of single typed values: what no meter can have shown."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hearthload.domain.reading import ReadingDraft
from hearthload.service.answers import Complaint, Weight

LARGEST_ENERGY_KWH = 1e6
"""Beyond any household counter [kWh]."""


@dataclass(frozen=True, slots=True)
class _Bound:
    field: str
    what: str
    low: float
    high: float
    unit: str


# The bounds are those of a meter on a household's mains: low voltage ends at 1000 V (IEC 60038), a power
# factor is at most 1 by definition, the room is one that people or stores use.
_BOUNDS = (
    _Bound("energy_kwh", "The energy", 0.0, LARGEST_ENERGY_KWH, "kWh"),
    _Bound("elapsed_h", "The elapsed time", 0.0, 1e6, "h"),
    _Bound("power_w", "The watts", 0.0, 1e5, "W"),
    _Bound("voltage_v", "The voltage", 0.0, 1000.0, "V"),
    _Bound("current_a", "The current", 0.0, 1000.0, "A"),
    _Bound("power_factor", "The power factor", 0.0, 1.0, ""),
    _Bound("highest_power_w", "The highest watts", 0.0, 1e5, "W"),
    _Bound("frequency_hz", "The frequency", 40.0, 70.0, "Hz"),
    _Bound("uses", "The number of uses", 0.0, 100_000.0, ""),
    _Bound("room_temperature_c", "The room temperature", -40.0, 60.0, "°C"),
)


def value_complaints(draft: ReadingDraft) -> list[Complaint]:
    """Say which typed values no meter, or no room, can have shown."""
    found = [_complaint(bound, getattr(draft, bound.field)) for bound in _BOUNDS]
    complaints = [complaint for complaint in found if complaint is not None]
    if not complaints and draft.power_w is not None and draft.highest_power_w is not None:
        complaints.extend(_highest(draft.power_w, draft.highest_power_w))
    return complaints


def _complaint(bound: _Bound, value: float | None) -> Complaint | None:
    if value is None:
        return None
    if not math.isfinite(value):
        return _stops(bound, "not_finite", "must be an ordinary number")
    if value < bound.low and bound.low == 0.0:
        return _stops(bound, "negative", "cannot be below zero")
    if not bound.low <= value <= bound.high:
        ends = f"{bound.low:.0f} and {bound.high:.0f} {bound.unit}".rstrip()
        return _stops(bound, "out_of_range", f"must lie between {ends}")
    if bound.field == "uses" and value != int(value):
        return _stops(bound, "not_whole", "must be a whole number")
    return None


def _stops(bound: _Bound, code: str, verdict: str) -> Complaint:
    return Complaint(bound.field, code, Weight.STOPS, f"{bound.what} {verdict}.")


def _highest(power_w: float, highest_power_w: float) -> list[Complaint]:
    if highest_power_w >= power_w:
        return []
    sentence = "The highest watts are below the watts now: are the two mixed up?"
    return [Complaint("highest_power_w", "highest_below_watts", Weight.WARNS, sentence)]

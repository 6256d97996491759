"""Size files for tests: one whose totals are worked by hand, and ways to write one that is wrong."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

# A refrigerator 1.0 (0.8 to 1.25) kWh a day, 100 W at PF 0.8, so 125 VA, starting at 4 times that; a lamp of
# 10 W for 5 hours a day, 0.05 kWh, PF 1, starting at its running power.
PLAN = {"name": "Two days", "days": 2, "month": 6, "confidence": 0.9, "battery_c": 20}
FRIDGE = {
    "name": "Fridge", "kind": "refrigerator", "role": "essential", "daily_kwh": 1.0, "daily_low_kwh": 0.8,
    "daily_high_kwh": 1.25, "running_w": 100, "idle_w": 0, "power_factor": 0.8, "start_multiple": 4,
    "start_s": 0.5,
}  # fmt: skip
LAMP = {
    "name": "Lamp", "kind": "lamp_timer", "role": "wanted", "rank": 1, "use": "hours_a_day", "hours_a_day": 5,
    "running_w": 10, "idle_w": 0, "power_factor": 1, "start_multiple": 1,
}  # fmt: skip
BATTERY = {
    "name": "Battery", "kind": "battery", "voltage_v": 230, "frequency_hz": 50, "plug": "cee_7",
    "outlet_a": 16, "continuous_w": 120, "continuous_va": 200, "start_w": 600, "start_va": 600, "start_s": 5,
    "stored_wh": 5000, "chemistry": "lfp", "battery_v": 48, "battery_limit_a": 50, "idle_w": 5,
    "waveform": "sine",
}  # fmt: skip
WHOLE: dict[str, Any] = {"plan": PLAN, "loads": [FRIDGE, LAMP], "supplies": [BATTERY]}


def whole() -> dict[str, Any]:
    """Give the content of a good file, to be changed at will."""
    return copy.deepcopy(WHOLE)


def changed(way: tuple[str | int, ...], value: object) -> dict[str, Any]:
    """Give a good file's content with one entry set, such as ("loads", 0, "running_w")."""
    content = whole()
    inside: Any = content
    for key in way[:-1]:
        inside = inside[key]
    inside[way[-1]] = value
    return content


def measured(**entries: object) -> dict[str, Any]:
    """Give a measured load with entries of its own."""
    return {"name": "Freezer", "kind": "freezer", "measured": True, "daily_kwh": 1.0, **entries}


def written(folder: Path, content: object, name: str = "loads.json") -> Path:
    """Write content as JSON, or text as it stands."""
    path = folder / name
    text = content if isinstance(content, str) else json.dumps(content)
    path.write_text(text, encoding="utf-8")
    return path

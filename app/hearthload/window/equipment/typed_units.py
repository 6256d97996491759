"""Figures of a data plate as they are typed: with their unit, in thousands of it, amp-hours times volts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from hearthload.domain.typed import TypedError, parse_number

_FACTORS: Final[Mapping[str, Mapping[str, float]]] = {
    "Wh": {"wh": 1.0, "kwh": 1000.0},
    "W": {"w": 1.0, "kw": 1000.0},
    "VA": {"va": 1.0, "kva": 1000.0},
}
"""By a field's unit: what may follow the number, in small letters, and how many of the unit one of it is."""

_OTHER: Final[Mapping[str, Mapping[str, str]]] = {
    "W": {
        "va": "These are volt-amperes; watts are wanted here.",
        "wh": "These are watt-hours, energy; watts, power, are wanted here.",
    },
    "VA": {"w": "These are watts; volt-amperes are wanted here."},
    "Wh": {
        "ah": "Amp-hours alone are no energy: type them with the battery's volts, such as 100 Ah × 12.8 V.",
        "w": "These are watts, power; watt-hours, energy, are wanted here.",
    },
}
"""By a field's unit: why another one that is near cannot be taken; kilo goes with the plain one."""

_WITH_UNIT = re.compile(r"(?P<number>.*[0-9.,])\s*(?P<unit>[^\W\d_]+(?:/[^\W\d_]+)?|°)", re.DOTALL)
_TIMES = re.compile(r"(?P<first>[^x×*]+)[x×*](?P<second>[^x×*]+)", re.IGNORECASE)


def parse_quantity(text: str, unit: str) -> float:
    """Read a number in `unit`, or with its unit behind it: "2000", "2000 Wh", "2 kWh", "100 Ah × 12.8 V".

    E = C·U [Wh] for amp-hours and the battery's nominal volts. A unit that is another quantity is refused.
    """
    if unit == "Wh" and (product := _TIMES.fullmatch(text.strip())):
        return _amp_hours_times_volts(product["first"], product["second"])
    found = _WITH_UNIT.fullmatch(text.strip())
    if found is None:
        return parse_number(text)
    typed = found["unit"].lower()
    factor = _FACTORS.get(unit, {unit.lower(): 1.0}).get(typed)
    if factor is None:
        _refuse_other(typed, unit)
        return parse_number(text)  # refuses it: the unit does not belong here
    return factor * parse_number(found["number"])


def _amp_hours_times_volts(first: str, second: str) -> float:
    """Give amp-hours times volts [Wh], in either order."""
    by_unit = {}
    for part in (first, second):
        found = _WITH_UNIT.fullmatch(part.strip())
        if found is not None:
            by_unit[found["unit"].lower()] = found["number"]
    if set(by_unit) != {"ah", "v"}:
        raise TypedError("product", "Write amp-hours times volts with both units, such as 100 Ah × 12.8 V.")
    return parse_number(by_unit["ah"]) * parse_number(by_unit["v"])


def _refuse_other(typed: str, unit: str) -> None:
    sentence = _OTHER.get(unit, {}).get(typed.removeprefix("k"))
    if sentence:
        raise TypedError("other_unit", sentence)

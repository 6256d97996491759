"""The fields of the entry form and how their raw texts become a reading, or complaints that keep them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from typing import Final

from hearthload.domain.reading import ReadingDraft, RunState
from hearthload.domain.typed import TypedError, parse_count, parse_duration_h, parse_moment, parse_number
from hearthload.service.answers import Complaint, Fix, FixAction, Weight

Texts = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Field:
    """One optional field: its name in the reading, its caption, its unit and how its text is read."""

    name: str
    caption: str
    unit: str
    read: Callable[[str], float | int]
    hint: str


def _number(unit: str, *, allow_negative: bool = False) -> Callable[[str], float]:
    return partial(parse_number, unit=unit, allow_negative=allow_negative)


SPOT_FIELDS: Final = (
    Field("power_w", "Watts", "W", _number("W"), "watts on the display at this moment"),
    Field("voltage_v", "Volts", "V", _number("V"), "mains voltage on the display"),
    Field("current_a", "Amps", "A", _number("A"), "amps on the display at this moment"),
    Field("power_factor", "Power factor", "", _number(""), "between 0 and 1"),
    Field("highest_power_w", "Highest watts", "W", _number("W"), "the highest watts the meter has seen"),
    Field("frequency_hz", "Frequency", "Hz", _number("Hz"), "mains frequency on the display"),
    Field("uses", "Uses since last", "", parse_count, "how often it was used since the last reading"),
    Field("room_temperature_c", "Room", "°C", _number("°C", allow_negative=True), "room temperature"),
)
"""Everything optional that is typed as a number, in the order of the Tab key."""


COLON: Final = Complaint(
    "energy_kwh",
    "hours_in_counter",
    Weight.STOPS,
    "Hours and minutes belong into the field below; the counter is a number of kWh.",
    (Fix("Exchange the two", FixAction.EXCHANGE),),
)


class Drafts(dict[int, dict[str, str]]):
    """Half-typed texts by measurement, kept until she comes back."""

    def keep(self, measurement_id: int | None, texts: dict[str, str]) -> None:
        """Keep the texts of a measurement's form; empty ones are not worth keeping."""
        if measurement_id is not None and texts:
            self[measurement_id] = texts
        elif measurement_id is not None:
            self.pop(measurement_id, None)


@dataclass(frozen=True, slots=True)
class Entry:
    """What the texts mean: a draft once counter and time can be read, and what cannot, field by field.

    A field that cannot be read is left out of the draft, so that the others can be judged beside it.
    """

    draft: ReadingDraft | None
    complaints: tuple[Complaint, ...]


def read_entry(texts: Texts, now: datetime) -> Entry:
    """Read the raw texts of a form; an empty counter gives no draft and no complaint about it."""
    complaints: list[Complaint] = []

    def tried(name: str, read: Callable[[str], float | int | datetime]) -> float | int | datetime | None:
        text = texts.get(name, "")
        if not text.strip() and name != "taken_at":
            return None
        try:
            return read(text)
        except TypedError as error:
            complaints.append(Complaint(name, error.code, Weight.STOPS, str(error)))
            return None

    energy = tried("energy_kwh", _number("kWh"))
    values = {"elapsed_h": tried("elapsed_h", parse_duration_h)}
    values |= {field.name: tried(field.name, field.read) for field in SPOT_FIELDS}
    taken_at = tried("taken_at", partial(parse_moment, now=now))
    if ":" in texts.get("energy_kwh", ""):
        complaints = [found for found in complaints if found.field != "energy_kwh"]
        complaints.insert(0, COLON)
    if energy is None or not isinstance(taken_at, datetime):
        return Entry(None, tuple(complaints))
    draft = ReadingDraft(taken_at=taken_at, energy_kwh=float(energy), note=texts.get("note", "").strip())  # type: ignore[arg-type]
    return Entry(_with_spots(draft, values, texts), tuple(complaints))


def _with_spots(draft: ReadingDraft, values: Mapping[str, object], texts: Texts) -> ReadingDraft:
    state = texts.get("state", "")
    return replace(draft, state=RunState(state) if state else None, **values)  # type: ignore[arg-type]


def numbered(
    complaints: Sequence[Complaint], first: int = 1
) -> tuple[tuple[Complaint, ...], tuple[tuple[Complaint, Fix], ...]]:
    """Write the Alt key of each fix on its button; give the complaints so marked and the fixes in order."""
    marked: list[Complaint] = []
    ordered: list[tuple[Complaint, Fix]] = []
    for complaint in complaints:
        fixes = []
        for fix in complaint.fixes:
            ordered.append((complaint, fix))
            fixes.append(replace(fix, label=f"{fix.label} (Alt+{first + len(ordered) - 1})"))
        marked.append(replace(complaint, fixes=tuple(fixes)))
    return tuple(marked), tuple(ordered)

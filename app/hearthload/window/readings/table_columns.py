"""The columns of the reading table: what they show, and how typed corrections are read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime
from typing import Final

from hearthload.domain.figures import decimals_for, format_decimals, format_number
from hearthload.domain.measurement import RunCause
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.domain.typed import parse_duration_h, parse_moment, parse_number
from hearthload.service.answers import ReadingRow
from hearthload.window.readings.entry_words import clock_hours_words, clock_words, day_words, plain_words

Show = Callable[[ReadingRow, datetime], str]
Read = Callable[[str, datetime], object]


@dataclass(frozen=True, slots=True)
class Column:
    """One column: header, whether figures stand right, the reading's field it corrects, show and read."""

    header: str
    hint: str
    show: Show
    field: str = ""
    edit_text: Show | None = None
    read: Read | None = None
    is_figure: bool = True


def _optional(value: float | None, show: Callable[[float], str]) -> str:
    return "" if value is None else show(value)


def _three_digits(value: float) -> str:
    return format_number(value, 3)


def _watts(value: float) -> str:
    """Print watts without the unit, which stands in the header."""
    return format_decimals(value, min(0 if abs(value) >= 9.95 else 2, decimals_for(value, 3)))


def _when(row: ReadingRow, now: datetime) -> str:
    return f"{day_words(row.reading.taken_at, now)} {clock_words(row.reading.taken_at)}"


def _iso(row: ReadingRow, _now: datetime) -> str:
    return f"{row.reading.taken_at:%Y-%m-%d %H:%M}"


def _counter(row: ReadingRow, _now: datetime) -> str:
    return plain_words(row.reading.energy_kwh)


def _hours(row: ReadingRow, _now: datetime) -> str:
    return _optional(row.reading.elapsed_h, clock_hours_words)


def _spot_watts(row: ReadingRow, _now: datetime) -> str:
    return _optional(row.reading.power_w, plain_words)


def _span_hours(row: ReadingRow, _now: datetime) -> str:
    return run_words(row) if row.span_h is None else clock_hours_words(row.span_h)


def _span_energy(row: ReadingRow, _now: datetime) -> str:
    return _optional(row.span_energy_kwh, _three_digits)


def _span_watts(row: ReadingRow, _now: datetime) -> str:
    return _optional(row.span_power_w, _watts)


def _span_daily(row: ReadingRow, _now: datetime) -> str:
    return _optional(row.span_daily_kwh, _three_digits)


def _note(row: ReadingRow, _now: datetime) -> str:
    return row.reading.note


def _read_hours(text: str, _now: datetime) -> float | None:
    return parse_duration_h(text) if text.strip() else None


def _read_watts(text: str, _now: datetime) -> float | None:
    return parse_number(text, unit="W") if text.strip() else None


def _read_note(text: str, _now: datetime) -> str:
    return text.strip()


def _read_energy(text: str, _now: datetime) -> float:
    return parse_number(text, unit="kWh")


COLUMNS: Final = (
    Column("Read at", "when the display was read", _when, "taken_at", _iso, parse_moment, is_figure=False),
    Column("kWh", "the counter", _counter, "energy_kwh", _counter, _read_energy),
    Column("Elapsed h", "the hours counter", _hours, "elapsed_h", _hours, _read_hours),
    Column("W now", "watts at the moment of reading", _spot_watts, "power_w", _spot_watts, _read_watts),
    Column("Span h", "hours since the reading before", _span_hours),
    Column("Span kWh", "energy since the reading before", _span_energy),
    Column("W average", "average watts since the reading before", _span_watts),
    Column("kWh a day", "the span's energy per 24 hours", _span_daily),
    Column("Note", "anything worth remembering", _note, "note", _note, _read_note, is_figure=False),
)
SPAN_COLUMNS = (4, 4)
"""First and number of the columns about the span; at the start of a run they are one cell of words."""


def counter_decimals(rows: Sequence[ReadingRow]) -> int:
    """Give the decimals that the counters of all rows were typed with."""
    return max((len(plain_words(row.reading.energy_kwh).partition(".")[2]) for row in rows), default=0)


def run_words(row: ReadingRow) -> str:
    """Say why a run began at this reading."""
    zero = ", set to zero" if row.run.exact_start else ""
    match row.run.cause:
        case RunCause.START:
            return f"start{zero}"
        case RunCause.RESET:
            return f"reset{zero}"
        case RunCause.SWAP:
            return f"now {row.meter_name}{zero}"


def draft_of(reading: Reading) -> ReadingDraft:
    """Give a saved reading as a draft, to be corrected."""
    return ReadingDraft(**{each.name: getattr(reading, each.name) for each in fields(ReadingDraft)})


def corrected(row: ReadingRow, column: Column, text: str, now: datetime) -> ReadingDraft | None:
    """Give the reading with one field corrected, None when nothing changed; TypedError as typed wrongly."""
    draft = draft_of(row.reading)
    if column.read is None or column.edit_text is None or text.strip() == column.edit_text(row, now):
        return None
    value = column.read(text, now)
    changed = replace(draft, **{column.field: value})  # type: ignore[arg-type]
    return None if changed == draft else changed

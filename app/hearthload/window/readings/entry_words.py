"""Words that stand beside the entry form: when something was, what was last, what is expected now."""

from __future__ import annotations

from datetime import datetime

from hearthload.domain.figures import (
    decimals_of_step,
    format_decimals,
    format_hours,
    format_number,
    format_range,
)
from hearthload.service import sentences
from hearthload.service.answers import EntryContext
from hearthload.service.slips import hours_text

MONTHS, LONG_WEEKDAYS = sentences.MONTHS, sentences.LONG_WEEKDAYS
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def clock_words(moment: datetime) -> str:
    """Give the time of day as 07:30."""
    return f"{moment.hour:02d}:{moment.minute:02d}"


def day_words(moment: datetime, now: datetime) -> str:
    """Give a day with its weekday, "Tue 24 Nov", with the year when it is another one."""
    year = f" {moment.year}" if moment.year != now.year else ""
    return f"{WEEKDAYS[moment.weekday()]} {moment.day} {MONTHS[moment.month - 1]}{year}"


def when_words(moment: datetime, now: datetime) -> str:
    """Give a past moment as one says it: "today 07:30", "yesterday 07:30", "Sunday 07:30", "16 Nov 07:30"."""
    return sentences.said_when(moment, now)


def counter_words(energy_kwh: float, step_kwh: float | None) -> str:
    """Print a counter as its display shows it."""
    if step_kwh is None:
        return plain_words(energy_kwh)
    shown = format_decimals(energy_kwh, decimals_of_step(step_kwh))
    return shown if abs(float(shown) - energy_kwh) < 1e-9 else plain_words(energy_kwh)


def plain_words(value: float) -> str:
    """Print a number with all digits it was typed with and no zeros behind them."""
    return f"{value:.6f}".rstrip("0").rstrip(".")


def clock_hours_words(hours: float) -> str:
    """Print elapsed hours as h:mm, the way most displays show them."""
    return hours_text(hours)


def beside_energy(context: EntryContext, now: datetime) -> str:
    """Say the last counter with its day and the range expected now."""
    step = None if context.meter is None else context.meter.energy_step_kwh
    said = ["kWh"]
    if context.last is not None:
        said.append(
            f"last {counter_words(context.last.energy_kwh, step)}, {when_words(context.last.taken_at, now)}"
        )
    expected = context.expected_energy_kwh
    if expected is not None:
        said.append(f"expected {format_range(expected.low, expected.high, step=step)}")
    return _joined(said)


def beside_hours(context: EntryContext) -> str:
    """Say the last hours counter and the range that agrees with the clock now."""
    said = ["hours"]
    if context.last is not None and context.last.elapsed_h is not None:
        said.append(f"last {clock_hours_words(context.last.elapsed_h)}")
    expected = context.expected_elapsed_h
    if expected is not None:
        low, high = clock_hours_words(expected.low), clock_hours_words(expected.high)
        said.append(f"expected {low}" if low == high else f"expected {low} to {high}")
    return _joined(said)


def beside_spot(field: str, context: EntryContext) -> str:
    """Say the last value of an optional field, nothing when there is none."""
    value = context.last_values.get(field)
    return (
        ""
        if value is None
        else f"last {format_number(value, 4).rstrip('0').rstrip('.') if value % 1 else plain_words(value)}"
    )


def span_words(hours: float) -> str:
    """Print a span as hours and minutes, in days from two days on."""
    if hours < 48.0:
        return format_hours(hours)
    days, rest = divmod(round(hours), 24)
    return f"{days:g} days {rest:g} h" if rest else f"{days:g} days"


def _joined(said: list[str]) -> str:
    return "  ·  ".join(said)

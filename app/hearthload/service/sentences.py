"""How moments and counters are said in complaints."""

from __future__ import annotations

from datetime import datetime

from hearthload.domain.figures import decimals_of_step, format_decimals, format_hours
from hearthload.domain.meter import Meter

_USUAL_STEP_KWH = 0.01

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
LONG_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def said_moment(moment: datetime) -> str:
    """Say a moment as it was on the wall: "2026-11-24 07:30"."""
    return f"{moment:%Y-%m-%d %H:%M}"


def said_when(moment: datetime, now: datetime) -> str:
    """Say a past moment as one says it: "today 07:30", "yesterday 07:30", "Sunday 07:30", "16 Nov 07:30"."""
    days, clock = (now.date() - moment.date()).days, f"{moment:%H:%M}"
    if days == 0:
        return f"today {clock}"
    if days == 1:
        return f"yesterday {clock}"
    if 1 < days < len(LONG_WEEKDAYS):
        return f"{LONG_WEEKDAYS[moment.weekday()]} {clock}"
    year = f" {moment.year}" if moment.year != now.year else ""
    return f"{moment.day} {MONTHS[moment.month - 1]}{year} {clock}"


def said_energy(energy_kwh: float, meter: Meter | None) -> str:
    """Say a counter's value with the decimals that the meter shows."""
    step = _USUAL_STEP_KWH if meter is None else meter.energy_step_kwh
    return f"{format_decimals(energy_kwh, decimals_of_step(step))} kWh"


def said_hours(hours: float) -> str:
    """Say a duration: "37 h 20 min"."""
    return format_hours(hours)

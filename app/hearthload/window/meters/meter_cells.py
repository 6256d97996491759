"""What the list of meters says in each cell."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from enum import IntEnum
from typing import Final

from hearthload.domain.figures import format_decimals, format_watts
from hearthload.domain.meter import Meter
from hearthload.domain.plugs import LONG_RUN_SHARE, PLUGS, plug_limit_w
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.service.answers import MeterRow
from hearthload.window.words import plug_words


class Column(IntEnum):
    """The columns of the list of meters, in order."""

    NAME = 0
    WHERE = 1
    CARRIES = 2
    SHOWS = 3
    SERVED = 4


HEADERS: Final[Mapping[Column, str]] = {
    Column.NAME: "Meter",
    Column.WHERE: "Where it is now",
    Column.CARRIES: "Carries\nat most",
    Column.SHOWS: "Shows\nsteps of",
    Column.SERVED: "Measure-\nments",
}


def cell_text(row: MeterRow, column: Column) -> str:
    """Give the text of one cell."""
    match column:
        case Column.NAME:
            return row.meter.name
        case Column.WHERE:
            return row.appliance_name or "free"
        case Column.CARRIES:
            watts = limit_w(row.meter)
            return "not known" if watts is None else format_watts(watts)
        case Column.SHOWS:
            return f"{format_decimals(row.meter.energy_step_kwh, _decimals(row.meter.energy_step_kwh))} kWh"
        case Column.SERVED:
            return str(row.measurements)


def second_line(row: MeterRow, column: Column, now: datetime) -> str:
    """Give the muted line under the text."""
    match column:
        case Column.NAME:
            return "" if row.meter.plug == "unknown" else plug_words(row.meter.plug)
        case Column.WHERE:
            return "" if row.since is None else since_words(row.since, now)
        case Column.CARRIES:
            watts = limit_w(row.meter)
            return "" if watts is None else f"{format_watts(LONG_RUN_SHARE * watts)} for long"
        case Column.SHOWS:
            return hours_step_words(row.meter.elapsed_step_h)
        case Column.SERVED:
            return ""


def limit_w(meter: Meter) -> float | None:
    """Give the most watts the meter may carry [W]: V·I of the weaker of its own rating and its plug."""
    plug = PLUGS.get(meter.plug)
    plug_a = None if plug is None else plug.current_a
    currents = [amps for amps in (meter.current_a, plug_a) if amps is not None]
    volts = meter.voltage_v or (None if plug is None else plug.nominal_v)
    if volts is None or not currents:
        return plug_limit_w(meter.plug, meter.voltage_v)
    return volts * min(currents)


def since_words(since: datetime, now: datetime) -> str:
    """Say since when, "since Tue 12 Nov, 4 days"."""
    hours = (now - since).total_seconds() / 3600.0
    days = int(hours / HOURS_PER_DAY)
    many = f"{max(0, int(hours))} h" if days < 1 else "1 day" if days == 1 else f"{days} days"
    return f"since {since:%a} {since.day} {since:%b}, {many}"


def hours_step_words(step_h: float) -> str:
    """Say the step of the hours display."""
    if step_h >= HOURS_PER_DAY:
        return f"{step_h / HOURS_PER_DAY:g} day"
    return f"{step_h:g} h" if step_h >= 0.05 or abs(step_h * 60 - 1) > 0.01 else "1 minute"


def _decimals(step: float) -> int:
    text = f"{step:.6f}".rstrip("0")
    return len(text.split(".")[1])

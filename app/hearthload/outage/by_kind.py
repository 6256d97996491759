"""What is usual for each kind of appliance: power factor, start, runs and rests, plausible use, by kind."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import NamedTuple

from hearthload.domain.appliance import Cycling, Kind
from hearthload.outage.facts import Fact

_MOTORS = "common practice for lightly to fully loaded motors and for rectifiers without correction"
_STARTS = "common practice, within NEMA code letters and the start tables of rural utilities"
_START_TIMES = "common practice: 0.1 to 0.5 s refrigerators, 0.3 to 1 s pumps, to 5 s heavy rotors"
_RUNS = "common practice"
_LISTS = "wattage lists of the U.S. Department of Energy and of rural utilities; see the range"
_THIRD = "U.S. Department of Energy: hours plugged in divided by three, where nothing was measured"
_WARMER = "ENERGY STAR: 22 to 25 % more for a room 10 °F warmer; units in laboratories and homes"


class _Quantity(NamedTuple):
    """One column of the table: its key, its name and unit, and what may be typed at all."""

    key: str
    name: str
    unit: str
    least: float
    most: float


_POWER_FACTOR = _Quantity("power_factor", "Power factor running", "", 0.1, 1.0)
_START_MULTIPLE = _Quantity("start_multiple", "Start over running apparent power", "", 1.0, 10.0)
_START_S = _Quantity("start_s", "Length of a start", "s", 0.01, 30.0)
_ON_MIN = _Quantity("on_min", "Mean length of a run", "min", 0.1, 10080.0)
_OFF_MIN = _Quantity("off_min", "Mean length of a rest", "min", 0.0, 10080.0)
_RUN_H = _Quantity("run_h", "Longest usual run", "h", 0.01, 24.0)
_HOURS = _Quantity("hours_a_day", "Hours a day at running watts", "h", 0.0, 24.0)
_DAILY = _Quantity("daily_kwh", "Plausible energy a day", "kWh/d", 0.001, 200.0)
_RUNNING_W = _Quantity("running_w", "Plausible running watts", "W", 0.1, 20000.0)
_ALPHA = _Quantity("alpha", "More energy for each kelvin of a warmer room", "1/K", 0.0, 0.1)
_U_ALPHA = _Quantity("u_alpha", "Standard uncertainty of that share", "1/K", 0.0, 0.05)

_Cell = tuple[float, float, float]
"""The value and the range met in practice."""


class _Row(NamedTuple):
    """A kind's cells; `daily` and `watts` are ranges, their value is the geometric mean.

    `lists` tells that the plausible ranges were read in published lists; else they are common practice.
    """

    name: str
    power_factor: _Cell
    start_multiple: _Cell
    start_s: _Cell
    on_min: _Cell
    off_min: _Cell
    run_h: _Cell
    hours: _Cell
    daily: tuple[float, float]
    watts: tuple[float, float]
    lists: bool


# Order: power factor; start multiple; start s; run min; rest min; longest run h; hours a day; kWh/d; W.
# The start multiple of a kind with motors and heaters in it is the motors': the safe side. A pump's longest
# run is a storm's. Daily and running ranges span all machines of the kind, old and new.
_ROWS: Mapping[Kind, _Row] = {
    Kind.REFRIGERATOR: _Row(
        "refrigerator", (0.7, 0.6, 0.85), (4.0, 3.0, 6.0), (0.5, 0.1, 0.5), (20.0, 10.0, 40.0),
        (35.0, 15.0, 60.0), (1.0, 0.3, 3.0), (8.0, 7.0, 14.0), (0.25, 7.5), (50.0, 350.0), lists=True,
    ),
    Kind.FREEZER: _Row(
        "freezer", (0.7, 0.6, 0.85), (4.0, 2.6, 6.0), (0.5, 0.1, 0.5), (20.0, 10.0, 40.0),
        (30.0, 15.0, 60.0), (1.0, 0.3, 3.0), (8.0, 6.0, 14.0), (0.5, 3.9), (70.0, 300.0), lists=True,
    ),
    Kind.CLIMATE: _Row(
        "heating, cooling, drying air", (0.8, 0.6, 1.0), (5.0, 1.0, 6.0), (1.0, 0.1, 5.0),
        (15.0, 5.0, 240.0), (15.0, 0.0, 60.0), (4.0, 0.25, 24.0), (8.0, 2.0, 24.0), (0.2, 24.0),
        (40.0, 3000.0), lists=True,
    ),
    Kind.ALWAYS_ON: _Row(
        "always on", (0.6, 0.4, 0.95), (1.2, 1.0, 1.5), (0.1, 0.01, 1.0), (1440.0, 1440.0, 10080.0),
        (0.0, 0.0, 0.0), (24.0, 24.0, 24.0), (24.0, 24.0, 24.0), (0.1, 0.7), (5.0, 30.0), lists=True,
    ),
    Kind.BY_THE_LOAD: _Row(
        "washing, drying, dishes", (0.75, 0.6, 1.0), (2.5, 1.0, 4.0), (1.0, 0.3, 5.0), (60.0, 30.0, 120.0),
        (1380.0, 300.0, 7200.0), (1.0, 0.5, 2.0), (1.0, 0.25, 2.0), (0.1, 5.0), (200.0, 5000.0), lists=True,
    ),
    Kind.LAMP_TIMER: _Row(
        "lamp, timer, night-time device", (0.6, 0.4, 0.9), (1.2, 1.0, 1.5), (0.1, 0.01, 1.0),
        (300.0, 60.0, 600.0), (1140.0, 600.0, 1380.0), (5.0, 1.0, 12.0), (5.0, 1.0, 12.0), (0.02, 1.0),
        (4.0, 150.0), lists=False,
    ),
    Kind.EVENING_ELECTRONICS: _Row(
        "evening electronics", (0.6, 0.5, 0.95), (1.2, 1.0, 1.5), (0.1, 0.01, 1.0), (180.0, 120.0, 480.0),
        (1260.0, 600.0, 1320.0), (4.0, 2.0, 8.0), (4.0, 2.0, 8.0), (0.1, 1.2), (25.0, 200.0), lists=False,
    ),
    Kind.WORK_ELECTRONICS: _Row(
        "work-hours electronics", (0.6, 0.5, 0.95), (1.2, 1.0, 1.5), (0.1, 0.01, 1.0), (240.0, 60.0, 540.0),
        (1200.0, 600.0, 1380.0), (8.0, 2.0, 10.0), (8.0, 2.0, 10.0), (0.05, 2.5), (15.0, 250.0), lists=True,
    ),
    Kind.KITCHEN: _Row(
        "kitchen, several times a day", (0.95, 0.8, 1.0), (1.3, 1.0, 2.0), (0.5, 0.1, 1.0), (5.0, 1.0, 30.0),
        (230.0, 60.0, 720.0), (0.5, 0.05, 10.0), (0.5, 0.2, 2.0), (0.05, 2.0), (70.0, 3000.0), lists=True,
    ),
    Kind.PUMP: _Row(
        "rain, well or sump pump", (0.7, 0.6, 0.85), (4.0, 1.6, 5.0), (1.0, 0.3, 1.0), (2.0, 0.2, 15.0),
        (30.0, 2.0, 1000.0), (24.0, 0.1, 24.0), (1.5, 0.5, 24.0), (0.1, 14.0), (500.0, 1900.0), lists=False,
    ),
    Kind.NOT_SURE: _Row(
        "not sure", (0.7, 0.4, 1.0), (3.0, 1.0, 7.0), (1.0, 0.1, 5.0), (60.0, 1.0, 1440.0),
        (60.0, 0.0, 1440.0), (4.0, 0.1, 24.0), (8.0, 1.0, 24.0), (0.02, 7.5), (5.0, 3000.0), lists=False,
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class KindRow:
    """The figures of one kind as facts, units in the facts; `alpha`, `u_alpha` for cold appliances only.

    `run_h` is the longest usual run, against which the three hours of a long run are held; `on_min` and
    `off_min` are mean lengths. `daily_kwh` and `running_w` are there to judge what is plausible.
    """

    kind: Kind
    power_factor: Fact
    start_multiple: Fact
    start_s: Fact
    on_min: Fact
    off_min: Fact
    run_h: Fact
    hours_a_day: Fact
    daily_kwh: Fact
    running_w: Fact
    alpha: Fact | None
    u_alpha: Fact | None

    def facts(self) -> tuple[Fact, ...]:
        """Give the facts that a plan may set: those that an answer rests on."""
        usual = (
            self.power_factor,
            self.start_multiple,
            self.start_s,
            self.on_min,
            self.run_h,
            self.hours_a_day,
            self.daily_kwh,
        )
        return usual + tuple(fact for fact in (self.alpha, self.u_alpha) if fact is not None)


def _fact(
    quantity: _Quantity, suffix: str, of: str, cell: _Cell, source: str, *, typical: bool = True
) -> Fact:
    value, low, high = cell
    return Fact(
        f"{quantity.key}.{suffix}",
        f"{quantity.name}, {of}",
        value,
        low,
        high,
        quantity.unit,
        source,
        typical,
        "loads",
        quantity.least,
        quantity.most,
    )


def _middle(ends: tuple[float, float]) -> _Cell:
    """Give the geometric mean with its ends: what spans orders of magnitude has its middle on that scale."""
    return math.sqrt(ends[0] * ends[1]), *ends


# Share by which the energy grows for each kelvin: refrigerators from published steps of 10 °F, 3.6 to
# 4.1 %/K; freezers by common practice.
_WARMTH: Mapping[Kind, tuple[_Cell, str, bool]] = {
    Kind.REFRIGERATOR: ((0.04, 0.03, 0.06), _WARMER, False),
    Kind.FREEZER: ((0.03, 0.02, 0.04), "common practice for freezers", True),
}
_U_ALPHA_CELL = (0.01, 0.005, 0.015)


def _row(kind: Kind, row: _Row) -> KindRow:
    def fact(quantity: _Quantity, cell: _Cell, source: str, *, typical: bool = True) -> Fact:
        return _fact(quantity, kind.value, row.name, cell, source, typical=typical)

    cold = _WARMTH.get(kind)
    listed = _LISTS if row.lists else "common practice"
    return KindRow(
        kind,
        fact(_POWER_FACTOR, row.power_factor, _MOTORS),
        fact(_START_MULTIPLE, row.start_multiple, _STARTS),
        fact(_START_S, row.start_s, _START_TIMES),
        fact(_ON_MIN, row.on_min, _RUNS),
        fact(_OFF_MIN, row.off_min, _RUNS),
        fact(_RUN_H, row.run_h, _RUNS),
        fact(_HOURS, row.hours, _THIRD if cold else _RUNS, typical=cold is None),
        fact(_DAILY, _middle(row.daily), listed, typical=not row.lists),
        fact(_RUNNING_W, _middle(row.watts), listed, typical=not row.lists),
        None if cold is None else fact(_ALPHA, cold[0], cold[1], typical=cold[2]),
        None if cold is None else fact(_U_ALPHA, _U_ALPHA_CELL, "common practice"),
    )


BY_KIND: Mapping[Kind, KindRow] = MappingProxyType({kind: _row(kind, row) for kind, row in _ROWS.items()})
"""Every kind's row."""

_VARIABLE_POWER_FACTOR = _fact(
    _POWER_FACTOR, "variable_speed", "cold machine of variable speed", (0.6, 0.5, 0.95), _MOTORS
)
_VARIABLE_START = _fact(
    _START_MULTIPLE, "variable_speed", "motor of variable speed", (1.3, 1.0, 1.5), _STARTS
)

KIND_FACTS: tuple[Fact, ...] = (
    *(fact for row in BY_KIND.values() for fact in row.facts()),
    _VARIABLE_POWER_FACTOR,
    _VARIABLE_START,
)
"""All figures by kind, and those of variable speed."""


def row_for(kind: Kind, cycling: Cycling = Cycling.NOT_KNOWN) -> KindRow:
    """Give a kind's row, as its motor's way of running changes it.

    A motor of variable speed is started slowly by its own electronics; a cold machine's small drive is a
    rectifier without correction. A frost-free machine's heater changes neither: it is resistive.
    """
    row = BY_KIND[kind]
    if cycling is not Cycling.VARIABLE_SPEED:
        return row
    row = replace(row, start_multiple=_VARIABLE_START)
    return row if row.alpha is None else replace(row, power_factor=_VARIABLE_POWER_FACTOR)

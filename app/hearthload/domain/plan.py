"""Outage plans: so many days, this month, these loads, used this much."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.appliance import Role
from hearthload.domain.units import HOURS_PER_DAY


class Use(StrEnum):
    """How much an appliance is used in an outage."""

    AS_MEASURED = "as_measured"
    HOURS_A_DAY = "hours_a_day"
    USES_A_DAY = "uses_a_day"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class PlanDraft:
    """A plan as typed in.

    `days` may be a fraction (4 hours: 1/6). `month` is 1 to 12. `room_c` is the temperature of the rooms in
    °C, None for as measured; `battery_c` where the battery stands, `outdoor_c` where a generator runs.
    `confidence` is the one-sided share of outages in which the energy is to be enough. The waking window is
    in local hours. `peak_sun_hours` are kWh/(m²·d) in the plane of the array in that month, None to estimate
    them from `latitude_deg` (north positive).
    """

    name: str
    days: float = 3.0
    month: int = 1
    room_c: float | None = None
    battery_c: float = 20.0
    outdoor_c: float = 15.0
    altitude_m: float = 0.0
    confidence: float = 0.90
    waking_from_h: float = 7.0
    waking_to_h: float = 23.0
    latitude_deg: float | None = None
    peak_sun_hours: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """A plan in the logbook: its number and what was typed about it; fields as in `PlanDraft`."""

    id: int
    name: str
    days: float
    month: int
    room_c: float | None
    battery_c: float
    outdoor_c: float
    altitude_m: float
    confidence: float
    waking_from_h: float
    waking_to_h: float
    latitude_deg: float | None
    peak_sun_hours: float | None
    note: str

    @property
    def waking_share(self) -> float:
        """Give the share of the day in which somebody is up [1]."""
        return (self.waking_to_h - self.waking_from_h) / HOURS_PER_DAY


@dataclass(frozen=True, slots=True)
class PlanLoadDraft:
    """What one appliance is in a plan, as typed in.

    `daily_kwh` is her own figure for one appliance [kWh/d] with its 95 % ends, for `Use.ASSUMED`.
    `room_c` is this appliance's room, None for the plan's. `season_factor` says how many times as much it
    takes in the plan's season, `season_factor_u` the factor's relative standard uncertainty. The watts,
    power factor and start figures stand in place of what is measured or typical for the kind; None leaves
    that. `rank` orders what is wanted, 1 before 2; 0 is last.
    """

    appliance_id: int
    role: Role
    quantity: int = 1
    use: Use = Use.AS_MEASURED
    hours_a_day: float | None = None
    uses_a_day: float | None = None
    daily_kwh: float | None = None
    daily_low_kwh: float | None = None
    daily_high_kwh: float | None = None
    room_c: float | None = None
    season_factor: float | None = None
    season_factor_u: float | None = None
    running_w: float | None = None
    idle_w: float | None = None
    power_factor: float | None = None
    start_multiple: float | None = None
    start_s: float | None = None
    rank: int = 0


@dataclass(frozen=True, slots=True)
class PlanLoad:
    """A row of a plan's load list: its number, its plan, and what was typed; fields as in `PlanLoadDraft`."""

    id: int
    plan_id: int
    appliance_id: int
    role: Role
    quantity: int
    use: Use
    hours_a_day: float | None
    uses_a_day: float | None
    daily_kwh: float | None
    daily_low_kwh: float | None
    daily_high_kwh: float | None
    room_c: float | None
    season_factor: float | None
    season_factor_u: float | None
    running_w: float | None
    idle_w: float | None
    power_factor: float | None
    start_multiple: float | None
    start_s: float | None
    rank: int


@dataclass(frozen=True, slots=True)
class PlanFigure:
    """A figure of the trade that she set for one plan: `key` of `outage.facts`, in the fact's own unit."""

    id: int
    plan_id: int
    key: str
    value: float

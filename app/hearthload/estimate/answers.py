"""What an estimate says: values with their intervals, whether they are enough, and why not yet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hearthload.estimate.posterior import Posterior


@dataclass(frozen=True, slots=True)
class Interval:
    """A value between a low and a high end: 95 % unless said otherwise; unit as in the field's name."""

    value: float
    low: float
    high: float

    @property
    def log_half_width(self) -> float:
        """Give half the width on the log scale, (ln high - ln low)/2 [1]; infinite from zero."""
        if self.low <= 0.0:
            return math.inf
        return 0.5 * (math.log(self.high) - math.log(self.low))

    @property
    def relative_half_width(self) -> float:
        """Give e^(log half-width) - 1 [1], the ± part as a fraction: 0.10 for ± 10 %."""
        return math.expm1(self.log_half_width)


class Lack(StrEnum):
    """What still stands between a measurement and well measured."""

    TWO_READINGS = "two_readings"
    THREE_DAYS = "three_days"
    TWO_WEEKS = "two_weeks"
    WEEKEND_DAY = "weekend_day"
    WEEKDAY = "weekday"
    NARROWER = "narrower"


@dataclass(frozen=True, slots=True)
class Enough:
    """The stopping rule's answer.

    `target` and `half_width` are fractions (0.10 for ± 10 %). `days_to_go` is the weighted median with
    its 20 to 80 % range in days, None once well measured and where it cannot be foreseen. `seasonal`
    kinds are never measured closer than ± 30 %: another season is another figure.
    """

    well_measured: bool
    target: float
    half_width: float
    lacks: tuple[Lack, ...]
    days_to_go: Interval | None
    seasonal: bool


class DutyBasis(StrEnum):
    """Where the running watts of a duty cycle come from."""

    SPOTS = "spots"
    STATED = "stated"
    NAMEPLATE = "nameplate"


class DutyNature(StrEnum):
    """What a share means.

    SHARE: of time running. WITHOUT_DEFROST: of time running, the defrost heater's energy taken off first.
    EQUIVALENT: as if all energy went through the running state; a heater may be in it. MEAN_LOAD: average
    over highest watts of a machine of variable speed.
    """

    SHARE = "share"
    WITHOUT_DEFROST = "without_defrost"
    EQUIVALENT = "equivalent"
    MEAN_LOAD = "mean_load"


@dataclass(frozen=True, slots=True)
class DutyCycle:
    """Share of time in the running state, with the running and idle watts it rests on.

    `spots` and `idle_spots` are how many readings of watts each rests on; without any idle ones the idle
    watts are assumed.
    """

    share: Interval
    running_w: float
    running_u_w: float
    idle_w: float
    basis: DutyBasis
    spots: int
    nature: DutyNature = DutyNature.SHARE
    idle_spots: int = 0


@dataclass(frozen=True, slots=True)
class PerUse:
    """Energy of one use [kWh], from so many counted uses, at so many a day; `standby_kwh` a day [kWh/d].

    `at_most`: too few uses were counted, only the upper end means something. Else `daily_kwh` is the
    average day by its uses, standby included, at `likely_rate` uses a day: those counted, as far as they
    say more than what is usual.
    """

    energy_kwh: Interval
    uses: int
    uses_per_day: float
    standby_kwh: float
    at_most: bool
    likely_rate: float | None = None
    daily_kwh: Interval | None = None


@dataclass(frozen=True, slots=True)
class OneDay:
    """The energy of a single day that is low or high for this appliance [kWh]: 10 and 95 % of days."""

    low_kwh: float
    high_kwh: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """All that the readings of one measurement say.

    `days` is the time across which the counters ran on, in days; `spans` their number. `daily_kwh` is
    None until there is a span. `preliminary` marks a figure from two readings. `total_per_day_kwh` is
    plain energy over time, for comparison. `per_use` is there where uses were counted, `one_day` for kinds
    that the weather drives. `unusual_scatter`: it varies more than is usual for its kind. `season` bounds
    how many times as much it may take in another season (95 %); that is in none of the other figures.
    """

    readings: int
    spans: int
    days: float
    daily_kwh: Interval | None
    total_per_day_kwh: float | None
    preliminary: bool
    enough: Enough
    duty_cycle: DutyCycle | None
    posterior: Posterior | None
    per_use: PerUse | None = None
    one_day: OneDay | None = None
    unusual_scatter: bool = False
    season: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class DayRow:
    """One local day: the energy allotted to it [kWh], the hours covered [h].

    `spread`: some of it comes from a span too long to tell its days apart.
    """

    day: date
    energy_kwh: float
    hours: float
    spread: bool


@dataclass(frozen=True, slots=True)
class WeekdayRow:
    """One weekday, Monday 0: mean of a day, least and most of its whole days [kWh], days covered [d]."""

    weekday: int
    mean_kwh: float
    low_kwh: float
    high_kwh: float
    days: float


@dataclass(frozen=True, slots=True)
class DailyTable:
    """A measurement's energy day by day, oldest first; `weekdays` is empty while no pattern is known."""

    days: tuple[DayRow, ...]
    weekdays: tuple[WeekdayRow, ...]

"""The weather and the calendar of the demo's valley, day by day, and the rooms that follow it."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from hearthload.domain.units import HOURS_PER_DAY, SECONDS_PER_DAY
from hearthload.service.demo.trace import Cut

# A made-up upland valley of the temperate north: the yearly mean, its swing and the size of the weather's
# ups and downs are ours and only have to be plausible.
YEAR_MEAN_C = 8.0
YEAR_SWING_C = 6.5
COLDEST_DAY_OF_YEAR = 20
DAY_TO_DAY_C = 2.6
DAY_MEMORY = 0.72
SUN_SWING_C = 2.4
WARMEST_HOUR = 15.0
WET_AFTER_WET = 0.62
WET_AFTER_DRY = 0.38
WET_DAY_MM = 8.5
STORM_MM = 41.0
SOAK_HOURS = 16.0


@dataclass(frozen=True, slots=True)
class Room:
    """A room's temperature: T = base_c + follows (T_day - 8) + swing cos(2π(h - 15)/24) [°C].

    T_day is the outdoor temperature without the sun's swing, 8 °C the year's mean, h the hour of the day.
    """

    base_c: float
    follows: float
    swing_c: float


@dataclass(frozen=True, slots=True)
class World:
    """A stretch of days with their weather, the season they lie in and the cuts of the mains.

    `midnights_s` are the local midnights [UTC seconds] of the days and of the one after; `outdoor_c` the
    daily means [°C], `rain_mm` the daily rain [mm].
    """

    first_day: date
    midnights_s: tuple[float, ...]
    season_c: float
    outdoor_c: tuple[float, ...]
    rain_mm: tuple[float, ...]
    cuts: tuple[Cut, ...]

    @property
    def window(self) -> tuple[float, float]:
        """Give the beginning and the end of the stretch [UTC seconds]."""
        return self.midnights_s[0], self.midnights_s[-1]

    @property
    def days(self) -> tuple[date, ...]:
        """Give the days of the stretch in order."""
        return tuple(self.first_day + timedelta(days=index) for index in range(len(self.outdoor_c)))

    def outdoors_at(self, at_s: float) -> float:
        """Give the outdoor temperature [°C]: daily means joined from noon to noon, and the sun's swing."""
        days = (at_s - self.midnights_s[0]) / SECONDS_PER_DAY
        left = math.floor(days - 0.5)
        share = days - 0.5 - left
        last = len(self.outdoor_c) - 1
        mean = (1 - share) * self.outdoor_c[min(max(left, 0), last)]
        mean += share * self.outdoor_c[min(max(left + 1, 0), last)]
        return mean + SUN_SWING_C * _sun(days)

    def room_at(self, room: Room, at_s: float) -> float:
        """Give a room's temperature [°C] at a moment, by the equation of `Room`."""
        days = (at_s - self.midnights_s[0]) / SECONDS_PER_DAY
        weather = self.outdoors_at(at_s) - SUN_SWING_C * _sun(days) - YEAR_MEAN_C
        return room.base_c + room.follows * weather + room.swing_c * _sun(days)

    def soak_by_hour(self) -> list[float]:
        """Give how soaked the hillside is, hour by hour [mm per hour that drain from it].

        s_{h+1} = s_h e^(-1/16) + (1 - e^(-1/16)) r_h with r the rain [mm/h]: a store that empties with a
        time constant of 16 hours; over long times it drains what rains.
        """
        keep = math.exp(-1.0 / SOAK_HOURS)
        soak, hours = sum(self.rain_mm) / len(self.rain_mm) / HOURS_PER_DAY, []
        for rain_mm in self.rain_mm:
            for _ in range(int(HOURS_PER_DAY)):
                hours.append(soak)
                soak = soak * keep + (1.0 - keep) * rain_mm / HOURS_PER_DAY
        return hours


def make_world(
    rng: random.Random,
    first_day: date,
    days: int,
    *,
    season_day: date,
    storm_day: date | None = None,
    dry_days: Sequence[date] = (),
    cuts: Sequence[Cut] = (),
) -> World:
    """Draw the weather of a stretch of days around the season's mean.

    Temperature: T_i = T_season + a_i, a_i = 0.72 a_{i-1} + √(1 - 0.72²)·2.6 z_i [K] with z standard normal: a
    first-order memory, so that warm and cold spells last some days. Rain: wet follows wet with 0.62, dry
    with 0.38; a wet day brings an exponential amount with mean 8.5 mm.
    """
    season_c = season_mean_c(season_day)
    outdoor, rain, warmth, wet = [], [], rng.gauss(0.0, DAY_TO_DAY_C), rng.random() < 0.5
    for index in range(days):
        day = first_day + timedelta(days=index)
        warmth = DAY_MEMORY * warmth + math.sqrt(1.0 - DAY_MEMORY**2) * rng.gauss(0.0, DAY_TO_DAY_C)
        wet = rng.random() < (WET_AFTER_WET if wet else WET_AFTER_DRY)
        amount = rng.expovariate(1.0 / WET_DAY_MM)
        outdoor.append(season_c + warmth)
        rain.append(STORM_MM if day == storm_day else amount if wet and day not in dry_days else 0.0)
    midnights = tuple(local_s(first_day + timedelta(days=index)) for index in range(days + 1))
    return World(first_day, midnights, season_c, tuple(outdoor), tuple(rain), tuple(cuts))


def season_mean_c(day: date) -> float:
    """Give the outdoor mean of the season [°C]: 8 - 6.5 cos(2π(n - 20)/365) with n the day of the year."""
    turn = 2.0 * math.pi * (day.timetuple().tm_yday - COLDEST_DAY_OF_YEAR) / 365.0
    return YEAR_MEAN_C - YEAR_SWING_C * math.cos(turn)


def local_s(day: date, hours: float = 0.0) -> float:
    """Give the moment [UTC seconds] at which local clocks show so many hours after midnight."""
    return local_moment(day, hours).timestamp()


def local_moment(day: date, hours: float) -> datetime:
    """Give a local clock time with the offset that holds on that day, on the minute."""
    wall = datetime.combine(day, time()) + timedelta(minutes=round(60.0 * hours))
    return wall.astimezone()


def _sun(days: float) -> float:
    return math.cos(2.0 * math.pi * ((days % 1.0) * HOURS_PER_DAY - WARMEST_HOUR) / HOURS_PER_DAY)

"""What each kind of appliance is expected to do before a single reading is taken."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from hearthload.domain.appliance import Kind, UsePattern
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT

TAUS_D = (0.0, 0.9, 4.0, 8.0)
"""Memory times of the daily scatter [days]: none, one day to the next, weather and habits, long spells."""


NORMAL_95 = 1.96
"""Half-width of a 95 % interval in standard uncertainties, of a normal distribution."""


@dataclass(frozen=True, slots=True)
class KindDefaults:
    """Expectations for one kind; all scatters are standard deviations relative to the mean [1].

    `c0` scatter of one day's energy, `s_c` its uncertainty on the log scale; `p_tau` the weights of the
    memory times `TAUS_D`; `kd` time-of-day and `kw` weekend contrast; `m0_kwh` median daily energy
    [kWh/d] with log standard deviation `ms`; `u_season` the seasonal log standard deviation; `target`
    the wanted half-width as a fraction; `rough` tells that the time-of-day profile is made of single
    uses; `lost_in_cut` that what a power cut keeps it from drawing is not made up for afterwards.
    `weekend` is the contrast that weekends are expected to have, around which `kw` scatters (−0.7: half a
    day's energy on each day of a weekend); `clockwork` the share of the kind that a clock runs, so that its
    days are alike.
    """

    c0: float
    s_c: float
    p_tau: tuple[float, float, float, float]
    kd: float
    kw: float
    m0_kwh: float
    ms: float
    u_season: float
    target: float
    rough: bool = False
    lost_in_cut: bool = False
    weekend: float = 0.0
    clockwork: float = 0.0


# Fitted to simulated and measured appliances of each kind before the program was written, then narrowed for
# cold appliances and lamps, and given a weekend and long spells of cold or heat, where scripts/calibration.py
# showed on seeds of its own that it helps; the targets are what an outage plan needs. Order: c0, s_c,
# p(0, 0.9, 4, 8), kd, kw, m0, ms, u_season, target.
DEFAULTS: Mapping[Kind, KindDefaults] = MappingProxyType(
    {
        Kind.REFRIGERATOR: KindDefaults(
            0.10, 0.40, (0.30, 0.40, 0.30, 0.0), 0.08, 0.04, 1.0, 1.0, 0.15, 0.10
        ),
        Kind.FREEZER: KindDefaults(0.07, 0.40, (0.30, 0.40, 0.30, 0.0), 0.06, 0.03, 0.8, 1.0, 0.15, 0.10),
        Kind.CLIMATE: KindDefaults(0.45, 0.55, (0.10, 0.30, 0.35, 0.25), 0.15, 0.10, 3.0, 1.3, 0.6, 0.30),
        Kind.ALWAYS_ON: KindDefaults(
            0.012, 0.70, (0.15, 0.25, 0.60, 0.0), 0.02, 0.01, 0.25, 1.2, 0.02, 0.05, lost_in_cut=True
        ),
        Kind.BY_THE_LOAD: KindDefaults(
            1.6, 0.45, (1.0, 0.0, 0.0, 0.0), 0.60, 0.40, 0.4, 1.0, 0.15, 0.30, rough=True
        ),
        Kind.LAMP_TIMER: KindDefaults(
            0.25, 0.75, (0.85, 0.15, 0.0, 0.0), 1.10, 0.15, 0.15, 1.2, 0.25, 0.20, clockwork=0.45
        ),
        Kind.EVENING_ELECTRONICS: KindDefaults(
            0.55, 0.50, (0.85, 0.15, 0.0, 0.0), 0.80, 0.40, 0.3, 1.2, 0.15, 0.20
        ),
        Kind.WORK_ELECTRONICS: KindDefaults(
            0.50, 0.50, (0.75, 0.20, 0.05, 0.0), 0.90, 0.61, 0.5, 1.0, 0.2, 0.30, weekend=-0.70
        ),
        Kind.KITCHEN: KindDefaults(
            0.45, 0.45, (0.75, 0.20, 0.05, 0.0), 0.50, 0.25, 0.25, 1.2, 0.2, 0.30, rough=True
        ),
        Kind.PUMP: KindDefaults(1.2, 0.50, (0.05, 0.35, 0.60, 0.0), 0.20, 0.0, 0.5, 1.3, 0.6, 0.30),
        Kind.NOT_SURE: KindDefaults(0.30, 0.90, (0.45, 0.35, 0.20, 0.0), 0.50, 0.30, 0.4, 1.5, 0.25, 0.30),
    }
)

SEASONAL_TARGET = 0.30
"""Closest target of weather-driven kinds [1]: the next weeks' weather is another figure."""

# Hours a day at the stated running watts. Cold appliances: one third of the day, the U.S. Department of
# Energy's rule for run hours where nothing was measured.
_RUNNING_H_PER_DAY = {Kind.ALWAYS_ON: 24.0, Kind.REFRIGERATOR: 8.0, Kind.FREEZER: 8.0}


def defaults_for(kind: Kind, running_w: float | None = None) -> KindDefaults:
    """Give a kind's expectations, with m0 = P·h/1000 [kWh/d] from stated running watts P [W].

    h are the hours a day at those watts: 24 for what is always on, 8 for cold appliances; for other
    kinds running watts say nothing about the day and the kind's own m0 stays.
    """
    defaults = DEFAULTS[kind]
    hours = _RUNNING_H_PER_DAY.get(kind)
    if hours is None or running_w is None or not math.isfinite(running_w) or running_w <= 0.0:
        return defaults
    return replace(defaults, m0_kwh=min(running_w, 1e9) * min(hours, HOURS_PER_DAY) / WATTS_PER_KILOWATT)


def is_seasonal(kind: Kind) -> bool:
    """Tell whether the weather drives this kind, so that another season is another figure."""
    return kind.use_pattern is UsePattern.WEATHER_DRIVEN


def target_for(kind: Kind, wanted: float | None) -> float:
    """Give the half-width to reach as a fraction [1]: the wanted one, else the kind's own.

    Weather-driven kinds never get a closer target than `SEASONAL_TARGET`.
    """
    target = DEFAULTS[kind].target
    if wanted is not None and math.isfinite(wanted) and wanted > 0.0:
        target = wanted
    return max(target, SEASONAL_TARGET) if is_seasonal(kind) else target


def another_season(defaults: KindDefaults) -> tuple[float, float]:
    """Give how many times as much an appliance may take in another season, exp(± 1.96·u_season) [1]."""
    factor = math.exp(NORMAL_95 * defaults.u_season)
    return 1.0 / factor, factor

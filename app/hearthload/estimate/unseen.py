"""What an appliance may take while idle that its meter does not show."""

from __future__ import annotations

from hearthload.domain.appliance import Kind
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.answers import DutyNature, Estimate
from hearthload.estimate.duty import UNKNOWN_IDLE_W, read_watts
from hearthload.estimate.series import Series

WORTH_A_NOTE = 0.02
"""Share of the daily figure that what is not seen must exceed to be told [1]."""

_SEEN_W = 5.0
"""What is always on and takes more than this on average is what the meter counts [W]."""


def unseen_kwh_per_watt(series: Series, estimate: Estimate) -> float | None:
    """Give by how much the day is higher for each watt not seen while idle [kWh/d per W], None if by little.

    1 W·24 h·(1 − D), D the share of time running, the whole day where that is not known; a machine of
    changing speed has none. By little: no more than 2 % of the daily figure for the 1 W taken for idle where
    none was read. Plug-in meters ignore very small loads (EN 50470-1 leaves them out, so there is no limit to
    go by), so watts above zero read while idle, by whichever meter of this measurement, end the matter.

    Of every kind, for timers, sensors and controls draw when a lamp or a pump is off: but what is always on
    has no idle state. Its watts are those counted, unless it takes 5 W or less on average, where ordinary
    wattmeters err by as much as the load (Lawrence Berkeley National Laboratory), and none were read.
    """
    daily = estimate.daily_kwh
    if daily is None:
        return None
    average_w = daily.value * WATTS_PER_KILOWATT / HOURS_PER_DAY
    running_w, idle_w = read_watts(series, average_w)
    seen = [*running_w, *idle_w] if series.kind is Kind.ALWAYS_ON else idle_w
    if any(watts > 0.0 for watts in seen) or (series.kind is Kind.ALWAYS_ON and average_w > _SEEN_W):
        return None
    unseen_kwh = HOURS_PER_DAY * _idle_share(estimate) / WATTS_PER_KILOWATT
    return unseen_kwh if UNKNOWN_IDLE_W * unseen_kwh > WORTH_A_NOTE * daily.value else None


def _idle_share(estimate: Estimate) -> float:
    """Give the share of time not running [1], the whole where it is not known."""
    duty = estimate.duty_cycle
    return 1.0 if duty is None or duty.nature is DutyNature.MEAN_LOAD else 1.0 - duty.share.value

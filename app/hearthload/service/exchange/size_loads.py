"""One load of a size file: an appliance, what it is in the plan, and what was measured of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.plan import PlanLoadDraft, Use
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.errors import RefusedError
from hearthload.estimate.answers import Interval
from hearthload.estimate.kinds import DEFAULTS, NORMAL_95, target_for
from hearthload.estimate.spans import DEFAULT_GAIN
from hearthload.outage.answers import LoadInput, Measured
from hearthload.outage.facts import Facts
from hearthload.service.edits.appliance_values import tidied_appliance
from hearthload.service.edits.plan_values import COLDEST_C, WARMEST_C, tidied_load
from hearthload.service.edits.refusing import MAXIMUM_W
from hearthload.service.exchange.json_fields import Fields, hints_of
from hearthload.service.tidy import refuse_outside, refuse_unless_positive, tidy_line

_NOT_OF_APPLIANCE = ("room", "role", "running_w", "target")
_NOT_OF_LOAD = ("appliance_id",)


_DAYS_APART = (1.0 - 0.3) / (1.0 + 0.3)
"""Independent days in each measured one [1]: one day is like the next, correlation 0.3, common practice."""


@dataclass(frozen=True, slots=True)
class MeasuredDraft:
    """What a file says of measuring; all but `measured` count only where that is true.

    `daily_u_kwh` standard uncertainty of the daily energy in place of its 95 % ends [kWh/d], `measured_days`
    how many days were measured [d], `day_scatter` relative standard deviation of one day [1], `meter` its
    name and `meter_gain_percent` its accuracy ± [%], `measured_room_c` the room then [°C], `highest_w` the
    most watts seen. `use_kwh`, `use_u_kwh` energy of one use and its standard uncertainty [kWh],
    `standby_kwh` a day beside the uses [kWh/d].
    """

    measured: bool = False
    daily_u_kwh: float | None = None
    measured_days: float | None = None
    day_scatter: float | None = None
    meter: str = ""
    meter_gain_percent: float | None = None
    measured_room_c: float | None = None
    highest_w: float | None = None
    use_kwh: float | None = None
    use_u_kwh: float | None = None
    standby_kwh: float | None = None


KEYS = (
    *hints_of(ApplianceDraft, _NOT_OF_APPLIANCE),
    *hints_of(PlanLoadDraft, _NOT_OF_LOAD),
    *hints_of(MeasuredDraft),
)
"""What a load of a size file may say."""


def read_load(fields: Fields, facts: Facts) -> LoadInput:
    """Make one load of its entries, checked as the edits of a logbook check what is typed."""
    fields.need("name", "kind")
    appliance = fields.made(ApplianceDraft, _NOT_OF_APPLIANCE)
    draft = fields.made(PlanLoadDraft, _NOT_OF_LOAD, appliance_id=0, role=Role.WANTED)
    found = fields.made(MeasuredDraft)
    with fields.telling():
        appliance = tidied_appliance(appliance)
        found = _tidied_measured(found)
    draft = replace(draft, use=_use(fields, draft, found))
    with fields.telling():
        draft = tidied_load(draft)
    measured = _measured(fields, appliance.kind, draft, found, facts) if found.measured else None
    return _input(appliance, draft, measured)


def _input(appliance: ApplianceDraft, draft: PlanLoadDraft, measured: Measured | None) -> LoadInput:
    """Put a load together; what was measured goes in as such, not as her own figures."""
    assumed = measured is None
    return LoadInput(
        name=appliance.name,
        kind=appliance.kind,
        role=draft.role,
        quantity=draft.quantity,
        rank=draft.rank,
        medical=appliance.medical,
        hard_wired=appliance.hard_wired,
        plug=appliance.plug,
        voltage_v=appliance.voltage_v,
        nameplate_w=appliance.nameplate_w,
        cycling=appliance.cycling,
        use=draft.use,
        hours_a_day=draft.hours_a_day,
        uses_a_day=draft.uses_a_day,
        daily_kwh=draft.daily_kwh if assumed else None,
        daily_low_kwh=draft.daily_low_kwh if assumed else None,
        daily_high_kwh=draft.daily_high_kwh if assumed else None,
        room_c=draft.room_c,
        season_factor=draft.season_factor,
        season_factor_u=draft.season_factor_u,
        running_w=draft.running_w if assumed else None,
        idle_w=draft.idle_w if assumed else None,
        power_factor=draft.power_factor if assumed else None,
        start_multiple=draft.start_multiple,
        start_s=draft.start_s,
        measured=measured,
    )


def _tidied_measured(draft: MeasuredDraft) -> MeasuredDraft:
    refuse_outside(draft.daily_u_kwh, "daily_u_kwh", "The uncertainty", low=0, high=1000, unit="kWh")
    refuse_unless_positive(draft.measured_days, "measured_days", "The days", most=3660, unit="days")
    refuse_outside(draft.day_scatter, "day_scatter", "The scatter", low=0, high=5, unit="(0.1 for 10 %)")
    gain, percent = draft.meter_gain_percent, "%"
    refuse_outside(gain, "meter_gain_percent", "The meter's accuracy", low=0, high=50, unit=percent)
    room, what = draft.measured_room_c, "The room's temperature"
    refuse_outside(room, "measured_room_c", what, low=COLDEST_C, high=WARMEST_C, unit="°C")
    refuse_unless_positive(draft.highest_w, "highest_w", "The highest watts", most=MAXIMUM_W, unit="W")
    refuse_unless_positive(draft.use_kwh, "use_kwh", "The energy of one use", most=100, unit="kWh")
    refuse_outside(draft.use_u_kwh, "use_u_kwh", "The uncertainty", low=0, high=100, unit="kWh")
    refuse_outside(draft.standby_kwh, "standby_kwh", "The standby energy", low=0, high=100, unit="kWh")
    if not draft.measured:
        said = next((key for key in hints_of(MeasuredDraft, ("measured",)) if getattr(draft, key)), None)
        if said is not None:
            sentence = "This counts for what was measured only: say “measured”: true, or leave it out."
            raise RefusedError(sentence, field=said, code="not_measured")
    return replace(draft, meter=tidy_line(draft.meter, "meter"))


def _use(fields: Fields, draft: PlanLoadDraft, found: MeasuredDraft) -> Use:
    """Give the use that a load states, or that its entries call for; refuse what that use leaves out."""
    stated = draft.use if "use" in fields else None
    by_hours, by_uses = draft.hours_a_day is not None, draft.uses_a_day is not None
    if stated is None:
        if by_hours and by_uses:
            raise fields.refused("use", "say which counts, hours_a_day or uses_a_day")
        otherwise = Use.AS_MEASURED if found.measured else Use.ASSUMED
        stated = Use.HOURS_A_DAY if by_hours else Use.USES_A_DAY if by_uses else otherwise
    unused = {
        "hours_a_day": by_hours and stated is not Use.HOURS_A_DAY,
        "uses_a_day": by_uses and stated is not Use.USES_A_DAY,
        "daily_kwh": draft.daily_kwh is not None
        and not found.measured
        and stated in {Use.HOURS_A_DAY, Use.USES_A_DAY},
    }
    for key, is_unused in unused.items():
        if is_unused:
            raise fields.refused(key, f"this does not count where use is {stated.value}; leave it out")
    if stated is Use.AS_MEASURED and not found.measured:
        raise fields.refused("use", "nothing was measured: say “measured”: true with daily_kwh, or assumed")
    if stated is Use.ASSUMED and found.measured:
        raise fields.refused("use", "it was measured, so it is as_measured, hours_a_day or uses_a_day")
    return stated


def _measured(
    fields: Fields, kind: Kind, draft: PlanLoadDraft, found: MeasuredDraft, facts: Facts
) -> Measured:
    """Give what was measured; where only hours or uses count, the day's energy follows from them."""
    scatter = DEFAULTS[kind].c0 if found.day_scatter is None else found.day_scatter
    gain = _gain(found)
    use_u_kwh = found.use_u_kwh
    if found.use_kwh is not None and use_u_kwh is None:
        use_u_kwh = facts["use_scatter"] * found.use_kwh
    daily_kwh = _daily_kwh(fields, draft, found)
    u_kwh = 0.0
    if draft.use is Use.AS_MEASURED:
        u_kwh = _u_kwh(fields, draft, found, scatter, gain)
    relative = u_kwh / daily_kwh
    if draft.use is Use.USES_A_DAY and found.use_kwh is not None:
        relative = (use_u_kwh or 0.0) / found.use_kwh
    return Measured(
        daily_kwh=daily_kwh,
        u_kwh=u_kwh,
        gain=gain,
        meter=found.meter,
        day_sd=scatter,
        freedom=math.inf if found.measured_days is None else max(found.measured_days - 1.0, 1.0),
        well_measured=NORMAL_95 * relative <= math.log1p(target_for(kind, None)),
        room_c=found.measured_room_c,
        running_w=draft.running_w,
        idle_w=draft.idle_w,
        power_factor=draft.power_factor,
        highest_w=found.highest_w,
        use_kwh=found.use_kwh,
        use_u_kwh=use_u_kwh,
        standby_kwh=found.standby_kwh,
    )


def _gain(found: MeasuredDraft) -> float:
    """Give a meter's relative standard uncertainty [1], g/√3 of a stated ± g (JCGM 100, 4.3.7).

    A meter that is named without its accuracy is taken as the estimator takes it; without a meter all of
    the uncertainty is the load's own.
    """
    if found.meter_gain_percent is not None:
        return found.meter_gain_percent / 100.0 / math.sqrt(3.0)
    return DEFAULT_GAIN if found.meter else 0.0


def _daily_kwh(fields: Fields, draft: PlanLoadDraft, found: MeasuredDraft) -> float:
    """Give the energy of the average day measured [kWh/d], or that of the hours or uses planned."""
    if draft.use is Use.USES_A_DAY and found.use_kwh is None:
        raise fields.refused("use_kwh", "the energy of one use is needed where use is uses_a_day")
    if draft.daily_kwh is not None:
        return draft.daily_kwh
    if draft.use is Use.USES_A_DAY and found.use_kwh is not None and draft.uses_a_day is not None:
        return draft.uses_a_day * found.use_kwh + (found.standby_kwh or 0.0)
    if draft.use is Use.HOURS_A_DAY and draft.hours_a_day is not None and draft.running_w is not None:
        return draft.running_w * min(draft.hours_a_day, HOURS_PER_DAY) / WATTS_PER_KILOWATT
    raise fields.refused("daily_kwh", "this is missing, and what was measured needs it")


def _u_kwh(fields: Fields, draft: PlanLoadDraft, found: MeasuredDraft, scatter: float, gain: float) -> float:
    """Give the whole standard uncertainty of the measured day, the meter's part in it [kWh/d].

    From the 95 % ends, u = e·(ln high − ln low)/(2·1.96); else as stated; else from the days measured,
    u = e·√(s²/n' + u_g²), days that differ by s [1] and follow on each other, n' = n·(1 − ρ)/(1 + ρ), ρ 0.3.
    """
    daily, low, high = draft.daily_kwh, draft.daily_low_kwh, draft.daily_high_kwh
    if daily is None:
        raise fields.refused("daily_kwh", "this is missing, and what was measured needs it")
    if low is not None and high is not None:
        if found.daily_u_kwh is not None:
            raise fields.refused("daily_u_kwh", "give either the two ends or the uncertainty, not both")
        return daily * Interval(daily, low, high).log_half_width / NORMAL_95
    if found.daily_u_kwh is not None:
        return found.daily_u_kwh
    if found.measured_days is not None:
        apart = found.measured_days * _DAYS_APART
        return daily * math.hypot(scatter / math.sqrt(max(apart, 1.0)), gain)
    why = "say how sure the measured figure is: both ends, daily_u_kwh or measured_days"
    raise fields.refused("daily_low_kwh", why)

"""What is typed about plans and their loads made fit to keep, or refused in a clear sentence."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.errors import RefusedError
from hearthload.service.edits.refusing import MAXIMUM_W
from hearthload.service.tidy import refuse_outside, refuse_unless_positive, tidy_name, tidy_note

COLDEST_C, WARMEST_C = -40.0, 60.0
"""Temperatures of rooms and of the open air at which anybody lives [°C]."""


def tidied_plan(draft: PlanDraft) -> PlanDraft:
    """Give a plan's draft fit to keep."""
    refuse_unless_positive(draft.days, "days", "The length of the outage", most=366, unit="days")
    refuse_outside(draft.month, "month", "The month", low=1, high=12, unit="")
    for value, field, what in (
        (draft.room_c, "room_c", "The rooms' temperature"),
        (draft.battery_c, "battery_c", "The battery's temperature"),
        (draft.outdoor_c, "outdoor_c", "The temperature outdoors"),
    ):
        refuse_outside(value, field, what, low=COLDEST_C, high=WARMEST_C, unit="°C")
    refuse_outside(draft.altitude_m, "altitude_m", "The altitude", low=-450, high=6000, unit="m")
    share = "(0.9 for nine outages in ten)"
    refuse_outside(draft.confidence, "confidence", "The confidence", low=0.5, high=0.999, unit=share)
    refuse_outside(draft.latitude_deg, "latitude_deg", "The latitude", low=-90, high=90, unit="°")
    sun = "kWh/m² a day"
    refuse_outside(draft.peak_sun_hours, "peak_sun_hours", "The sun", low=0, high=12, unit=sun)
    _refuse_odd_waking(draft)
    return replace(draft, name=tidy_name(draft.name, "plan"), note=tidy_note(draft.note))


def tidied_load(draft: PlanLoadDraft) -> PlanLoadDraft:
    """Give the draft of a plan's load fit to keep."""
    refuse_outside(draft.quantity, "quantity", "How many there are", low=1, high=1000, unit="")
    refuse_outside(draft.rank, "rank", "The rank", low=0, high=1000, unit="")
    _refuse_odd_use(draft)
    _refuse_odd_ends(draft)
    refuse_outside(draft.room_c, "room_c", "The room's temperature", low=COLDEST_C, high=WARMEST_C, unit="°C")
    factor = draft.season_factor
    refuse_unless_positive(factor, "season_factor", "The season's factor", most=100, unit="")
    spread = draft.season_factor_u
    refuse_outside(
        spread, "season_factor_u", "The factor's uncertainty", low=0, high=1, unit="(0.1 for 10 %)"
    )
    _refuse_odd_watts(draft)
    return draft


def _refuse_odd_waking(draft: PlanDraft) -> None:
    refuse_outside(draft.waking_from_h, "waking_from_h", "The hour of rising", low=0, high=24, unit="h")
    refuse_outside(draft.waking_to_h, "waking_to_h", "The hour of going to bed", low=0, high=24, unit="h")
    if draft.waking_from_h >= draft.waking_to_h:
        raise RefusedError(
            "The hour of going to bed must be later than the hour of rising; 24 is midnight.",
            field="waking_to_h",
            code="waking_turned_round",
        )


def _refuse_odd_use(draft: PlanLoadDraft) -> None:
    hours, uses = draft.hours_a_day, draft.uses_a_day
    refuse_unless_positive(hours, "hours_a_day", "The use", most=24, unit="hours a day")
    refuse_unless_positive(uses, "uses_a_day", "The use", most=1000, unit="times a day")
    if draft.use is Use.HOURS_A_DAY and hours is None:
        raise RefusedError("Say how many hours a day it is used.", field="hours_a_day", code="no_hours")
    if draft.use is Use.USES_A_DAY and uses is None:
        raise RefusedError("Say how many times a day it is used.", field="uses_a_day", code="no_uses")


def _refuse_odd_ends(draft: PlanLoadDraft) -> None:
    daily, low, high = draft.daily_kwh, draft.daily_low_kwh, draft.daily_high_kwh
    refuse_unless_positive(daily, "daily_kwh", "The daily energy", most=1000, unit="kWh")
    refuse_unless_positive(low, "daily_low_kwh", "The low end", most=1000, unit="kWh")
    refuse_unless_positive(high, "daily_high_kwh", "The high end", most=1000, unit="kWh")
    if low is None and high is None:
        return
    if daily is None:
        sentence = "Give the daily energy that these two ends are about."
        raise RefusedError(sentence, field="daily_kwh", code="no_daily")
    if low is None or high is None:
        missing = "daily_low_kwh" if low is None else "daily_high_kwh"
        raise RefusedError("Give both ends of the daily energy, or neither.", field=missing, code="one_end")
    if low > daily:
        sentence = "The low end must not be above the daily energy."
        raise RefusedError(sentence, field="daily_low_kwh", code="ends_turned_round")
    if high < daily:
        sentence = "The high end must not be below the daily energy."
        raise RefusedError(sentence, field="daily_high_kwh", code="ends_turned_round")


def _refuse_odd_watts(draft: PlanLoadDraft) -> None:
    running, idle, start_s = draft.running_w, draft.idle_w, draft.start_s
    refuse_unless_positive(running, "running_w", "The running watts", most=MAXIMUM_W, unit="W")
    refuse_outside(idle, "idle_w", "The idle watts", low=0, high=MAXIMUM_W, unit="W")
    if running is not None and idle is not None and idle > running:
        sentence = "The idle watts must not be above the running watts."
        raise RefusedError(sentence, field="idle_w", code="idle_above_running")
    refuse_unless_positive(draft.power_factor, "power_factor", "The power factor", most=1, unit="")
    multiple, times = draft.start_multiple, "times the running power"
    refuse_outside(multiple, "start_multiple", "The starting demand", low=1, high=30, unit=times)
    refuse_unless_positive(start_s, "start_s", "The time to start", most=60, unit="s")

"""What else an explanation says: the time running, what no meter shows, energy per use, single days."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from hearthload.domain.appliance import Appliance, Kind
from hearthload.domain.figures import (
    ends_as_printed,
    format_ends,
    format_number,
    format_percent,
    format_share_of_day,
    format_watts,
)
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.answers import DutyBasis, DutyCycle, DutyNature, Estimate, Interval, OneDay, PerUse
from hearthload.estimate.series import Series
from hearthload.estimate.unseen import unseen_kwh_per_watt
from hearthload.service.explain_words import Step

_SHARES: Final = {
    DutyNature.SHARE: "So it runs {share} of the time, {hours}.",
    DutyNature.WITHOUT_DEFROST: (
        "So its compressor, the defrost taken off, runs {share} of the time, {hours}."
    ),
    DutyNature.EQUIVALENT: "That is as much energy as running at {watts} for {hours} and idling otherwise.",
    DutyNature.MEAN_LOAD: "So it runs on average at {share} of its highest watts ({low} to {high}).",
}
_AT_LEAST: Final = {
    DutyNature.SHARE: "It probably runs at least {} of the time",
    DutyNature.WITHOUT_DEFROST: "Its compressor probably runs at least {} of the time",
    DutyNature.EQUIVALENT: "It probably takes as much as running at least {} of the time",
    DutyNature.MEAN_LOAD: "It probably takes at least {} of its highest watts on average",
}


def further_steps(appliance: Appliance, series: Series, estimate: Estimate) -> Iterator[Step]:
    """Give the steps beyond the daily energy, as far as the readings allow any."""
    if estimate.duty_cycle is not None and estimate.posterior is not None:
        # As the meter shows them: its own error is in the watts while running too.
        daily_kwh = estimate.posterior.median_kwh(with_gain=False)
        yield _running(appliance, daily_kwh * WATTS_PER_KILOWATT / HOURS_PER_DAY, estimate.duty_cycle)
    unseen_kwh = unseen_kwh_per_watt(series, estimate)
    if unseen_kwh is not None:
        yield _unseen(appliance.kind, unseen_kwh)
    if estimate.per_use is not None:
        yield _one_use(estimate.per_use, estimate.daily_kwh)
    if estimate.one_day is not None:
        yield _one_day(estimate.one_day)


def _running(appliance: Appliance, average_w: float, duty: DutyCycle) -> Step:
    said = [_running_watts(appliance, duty), _idle_watts(duty), _share(average_w, duty)]
    return Step("Time running", " ".join(said), "D = (P − P_idle)/(P_run − P_idle), P = 1000·μ/24 W")


def _running_watts(appliance: Appliance, duty: DutyCycle) -> str:
    watts = format_watts(duty.running_w)
    if duty.basis is DutyBasis.NAMEPLATE and appliance.nameplate_w is not None:
        plate = format_watts(appliance.nameplate_w)
        return (
            f"Its watts while running were never read; from the nameplate ({plate}) about {watts} is assumed."
        )
    if duty.basis is DutyBasis.STATED:
        return f"Its watts while running were never read; {watts} was stated for it."
    if duty.nature is DutyNature.MEAN_LOAD:
        return f"The highest watts read while it was running are {watts}."
    read = "one reading" if duty.spots == 1 else f"{duty.spots} readings"
    return f"It draws {watts} while running, by {read} of its watts."


def _idle_watts(duty: DutyCycle) -> str:
    watts = format_watts(duty.idle_w)
    if not duty.idle_spots:
        return f"Its watts while idle were never read; {watts} is assumed."
    read = "one reading" if duty.idle_spots == 1 else f"{duty.idle_spots} readings"
    return f"It draws {watts} while idle, by {read}."


def _share(average_w: float, duty: DutyCycle) -> str:
    """Say the share of time; where the average lies outside idle and running watts there is none to say."""
    share = duty.share
    low, high = format_percent(share.low), format_percent(share.high)
    average, running = format_watts(average_w), format_watts(duty.running_w)
    if share.value >= 1.0:
        return (
            f"On average it takes {average}, more than those {running}, which no share of time can explain: "
            "the watts while running are really more, or they change. "
            f"{_AT_LEAST[duty.nature].format(low)}."
        )
    if share.value <= 0.0:
        return (
            f"On average it takes {average}, no more than while idle: how long it runs cannot be told from "
            f"that, but probably at most {high} of the time."
        )
    return _SHARES[duty.nature].format(
        share=format_percent(share.value),
        hours=format_share_of_day(share),
        watts=running,
        low=low,
        high=high,
    )


def _unseen(kind: Kind, unseen_kwh: float) -> Step:
    idle = "" if kind is Kind.ALWAYS_ON else " while it was idle"
    return Step(
        "Very small loads",
        f"Meters ignore very small loads, and no watts above zero were read here{idle}: for this the truth "
        f"can only be higher, not lower, by up to {format_number(unseen_kwh, 2)} kWh a day for each watt "
        "not seen.",
        "24 h·(1 − D)/1000 for each watt, the whole day where D is not known; told where 1 W makes more "
        "than 2 % of the day",
    )


def _one_use(use: PerUse, daily: Interval | None) -> Step:
    a_day = _rate(use.uses_per_day)
    counted = f"You counted {use.uses} uses, about {a_day} a day"
    if use.uses == 1:
        counted = "You counted one use"
    value, low, high = ends_as_printed(use.energy_kwh)
    said = (
        f"{counted}, too few to say more than this: one use takes at most "
        f"{format_number(use.energy_kwh.high, 2)} kWh."
        if use.at_most
        else f"{counted}. One use takes about {value} kWh ({low} to {high})."
    )
    return Step(
        "Energy per use",
        said + _day_by_uses(use, daily),
        "e = (Σd − s_b·ΣT)/N, s_b its standby from spans without use; a day by its uses e·r + s_b, ln r by "
        "precision from ln(N/T), variance 1/N + (0.5·w/T)² + 0.01/T², and the usual ln 0.6 ± 0.8",
    )


_WORTH_A_WORD = 0.05
"""Below this share of the uses counted it is not explained that others are likely [1]."""


def _day_by_uses(use: PerUse, daily: Interval | None) -> str:
    """Say what the uses make of a day, beside what was measured; and why it rests on another rate if so."""
    if use.daily_kwh is None or use.likely_rate is None:
        return ""
    at = (
        f"At the {_rate(use.uses_per_day)} uses a day counted"
        if abs(use.likely_rate - use.uses_per_day) <= _WORTH_A_WORD * use.uses_per_day
        else f"At {_rate(use.likely_rate)} uses a day, likely by those counted and by what is usual"
    )
    said = f" {at}, that is {format_ends(use.daily_kwh, 'kWh')} a day with its standby"
    beside = "" if daily is None else f", beside {format_ends(daily, 'kWh')} a day by the measured days"
    return f"{said}{beside}; a plan may state other uses."


def _rate(a_day: float) -> str:
    return format_number(a_day, 2).removesuffix(".0")


def _one_day(day: OneDay) -> Step:
    return Step(
        "One day",
        f"A light day is below {format_number(day.low_kwh, 2)} kWh (1 day in 10), a heavy one above "
        f"{format_number(day.high_kwh, 2)} kWh (1 day in 20). Plan for the heavy day.",
        "quantiles of μ·X, X log-normal with mean 1 and standard deviation c",
    )

"""The daily energy of an explanation: counted, likely, why not more exact, and whether it is enough."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from hearthload.domain.appliance import Appliance, Kind
from hearthload.domain.figures import (
    LARGEST_PLUS_MINUS,
    ends_as_printed,
    format_days,
    format_decimals,
    format_number,
    format_percent,
    whole_days,
)
from hearthload.estimate.answers import Enough, Estimate, Interval, Lack
from hearthload.estimate.factors import CLOCKWORK_C
from hearthload.estimate.kinds import DEFAULTS, NORMAL_95, KindDefaults, another_season, defaults_for
from hearthload.estimate.parts import Parts, uncertainty_parts
from hearthload.service.explain_words import Step
from hearthload.service.kind_words import KIND_WORDS
from hearthload.service.logbook import Logbook

_MOSTLY: Final = (
    "Mostly because days differ",
    "Mostly because of the last digit of the display",
    "Mostly because of the accuracy of the meter",
)
_LACKS: Final = {
    Lack.TWO_READINGS: "a second such reading",
    Lack.THREE_DAYS: "three days of measuring",
    Lack.TWO_WEEKS: "two weeks of measuring, for the weather",
    Lack.WEEKEND_DAY: "a Saturday or a Sunday",
    Lack.WEEKDAY: "a working day",
}


def energy_steps(
    logbook: Logbook, measurement_id: int, appliance: Appliance, estimate: Estimate
) -> Iterator[Step]:
    """Give the steps from the counted energy to whether it was measured well enough."""
    daily, posterior = estimate.daily_kwh, estimate.posterior
    if daily is None or posterior is None or estimate.total_per_day_kwh is None:
        yield Step("Daily energy", "Two readings of one count are needed, half a day apart or more.")
        return
    spans = logbook.estimates.spans(measurement_id)
    energy = sum(span.energy_kwh for span in spans)
    yield Step(
        "Energy over time",
        f"In {format_days(estimate.days)} the meter counted {format_number(energy, 3)} kWh: "
        f"{format_number(estimate.total_per_day_kwh, 3)} kWh for each day measured.",
        "E/T = Σ dₖ / Σ Tₖ over the spans between neighbouring readings; rates of spans are never averaged",
    )
    defaults = defaults_for(appliance.kind, appliance.running_w)
    parts = uncertainty_parts(spans, posterior, defaults)
    yield _daily(daily, estimate.total_per_day_kwh, defaults)
    yield _usual(appliance.kind, parts)
    yield _sources(parts, daily)
    yield _season(daily, parts, another_season(defaults)[1])
    yield _enough(daily, estimate.enough)


_WORTH_A_WORD = 0.01
"""Below this share of the figure a difference is not explained [1]."""


def _daily(daily: Interval, counted_kwh: float, usual: KindDefaults) -> Step:
    value, low, high = ends_as_printed(daily)
    said = f"Over a longer time an average day probably takes about {value} kWh."
    if low != high:
        said += f" It is 95 % likely between {low} and {high}."
    decimals = len(value.partition(".")[2])
    counted = format_decimals(counted_kwh, decimals)
    if counted != value and abs(daily.value - counted_kwh) > _WORTH_A_WORD * daily.value:
        way = "more" if daily.value > counted_kwh else "less"
        said += (
            f" That is {way} than the {format_number(counted_kwh, 3)} kWh counted, as it allows for what the "
            "display hides, for which hours and weekdays were measured, and, while days are few, for what "
            "appliances like this usually take."
        )
    rested = f"; T stands for T + k·w, k = {usual.weekend:g}" if usual.weekend else ""
    return Step(
        "Daily energy",
        said,
        "d = μ(T + ε) + e; Cov(ε) = c²·D[g_τ] + kd²·D[b] + kw²·w·w', Cov(e) = Q; μ by generalised least "
        f"squares, averaged over the scatter c and its memory τ, on the log scale{rested}",
    )


def _by_clock(usual: KindDefaults) -> str:
    """Name the share of a kind that runs by a clock."""
    if not usual.clockwork:
        return ""
    return f", or for a share of {usual.clockwork:g} c about {CLOCKWORK_C:g}"


def _usual(kind: Kind, parts: Parts) -> Step:
    usual = DEFAULTS[kind]
    like = (
        "Appliances whose kind nobody is sure of"
        if kind is Kind.NOT_SURE
        else f"Appliances like this ({KIND_WORDS[kind]})"
    )
    return Step(
        "What is usual",
        f"{like} usually vary by about {format_percent(usual.c0)} from day to day. With your readings "
        f"counted in, yours varies by about {format_percent(parts.scatter)}.",
        f"c = c0·exp(s·z) with c0 = {usual.c0:g}, s = {usual.s_c:g}, z Student-t(3)"
        f"{_by_clock(usual)}; its posterior median is {parts.scatter:.3g}",
    )


def widths(parts: Parts, whole: float) -> tuple[float, float, float]:
    """Give what days, display and meter make of a half-width [1], whose square is the sum of theirs.

    Display and meter as their own 95 %, e^(1.96·u) − 1; the days are all that is left: how they differ,
    and that this is not known for sure, so that the ends lie elsewhere than at 1.96 standard deviations.
    """
    meter = min(math.expm1(NORMAL_95 * parts.meter), whole)
    display = min(math.expm1(NORMAL_95 * parts.display), math.sqrt(whole**2 - meter**2))
    return math.sqrt(max(whole**2 - meter**2 - display**2, 0.0)), display, meter


def _sources(parts: Parts, daily: Interval) -> Step:
    whole = daily.relative_half_width
    shares = widths(parts, whole)
    days, display, meter, together = (format_percent(share) for share in (*shares, whole))
    said = (
        f"{_MOSTLY[shares.index(max(shares))]}. How the days differ makes {days}, the last digit of "
        f"the display {display}, the accuracy of the meter {meter}. Together that is {together}, "
        "for the largest counts most."
    )
    if whole > LARGEST_PLUS_MINUS:
        said += f" It is an average of both sides; the range itself goes {_from_to(daily)}."
    return Step(
        "Why not more exact?",
        f"{said} More days help with the first two; only a better meter helps with the third.",
        "whole² = days² + display² + meter²; whole = √(high/low) − 1, display = exp(1.96·u_display) − 1, "
        "meter = exp(1.96·u_gain) − 1 with u_gain = g/√3 for a stated accuracy of ± g, days = all that is "
        "left",
    )


def _from_to(daily: Interval) -> str:
    _, low, high = ends_as_printed(daily)
    return f"from {low} to {high} kWh"


def _season(daily: Interval, parts: Parts, factor: float) -> Step:
    """Say what another season may do: in fractions where it is a lot, else in per cent."""
    value, _, _ = ends_as_printed(daily)
    _, low, high = ends_as_printed(Interval(daily.value, daily.value / factor, daily.value * factor))
    if round(factor) == 3:
        times = "a third to three times as much"
    else:
        less, more = (format_decimals(100.0 * part, 0) for part in (1.0 - 1.0 / factor, factor - 1.0))
        times = f"{less} % less to {more} % more"
    return Step(
        "Another season",
        f"In another season it may take anything from {times}: {low} to {high} kWh a day if it is {value} "
        "now. The figure above is for now only; measure again then.",
        f"exp(± 1.96·u_season), u_season = {parts.season:g} for this kind",
    )


def _enough(daily: Interval, enough: Enough) -> Step:
    rule = (
        f"The goal is to be within {format_percent(enough.target)}, at two readings twelve hours or more "
        f"apart, after at least {'two weeks' if enough.seasonal else 'three days'}."
    )
    now = _within(daily, enough.half_width)
    said = f"Yes. {rule} {now}" if enough.well_measured else f"Not yet. {rule} {now}{_missing(enough)}"
    return Step(
        "Enough?",
        said,
        "(ln high − ln low)/2 ≤ ln(1 + target); days to go: the least N at which the same formula, for each "
        "c and τ, gets below it; median and the range from 20 to 80 %",
    )


def _within(daily: Interval, half_width: float) -> str:
    """Say how exact it is now; more than the whole in per cent tells nobody anything."""
    if half_width > 1.0:
        return f"It now goes {_from_to(daily)}, which is far from that."
    ends = f" ({_from_to(daily)})" if half_width > LARGEST_PLUS_MINUS else ""
    return f"It is now within {format_percent(half_width)}{ends}."


def _missing(enough: Enough) -> str:
    """Say what else than a narrower range is missing, and how many days it may take."""
    lacks = [words for lack, words in _LACKS.items() if lack in enough.lacks]
    also = ", ".join(lacks[:-1]) + " and " + lacks[-1] if len(lacks) > 1 else "".join(lacks)
    missing = f" Still missing: {also}." if also else ""
    return f"{missing} {_to_go(enough.days_to_go)}"


def _to_go(days: Interval | None) -> str:
    if days is None or math.isnan(days.value):
        return "How many days more cannot be foreseen."
    if days.value > 365.0:
        return "It would take more than a year."
    value, low, high = (whole_days(end) for end in (days.value, days.low, days.high))
    noun = "day" if value == "1" else "days"
    perhaps = [f"perhaps {end}" for end in (low, high) if end != value]
    return f"{', '.join([f'Probably {value} more {noun}', *perhaps])}."

"""How an estimate came about, in plain words, with the equations one level below."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from hearthload.domain.appliance import Appliance
from hearthload.domain.figures import (
    format_days,
    format_days_to_go,
    format_decimals,
    format_ends,
    format_number,
    format_percent,
    format_watts,
)
from hearthload.domain.measurement import Measurement, MeasurementRecord, RunCause
from hearthload.estimate.answers import DutyBasis, DutyNature, Estimate, Lack
from hearthload.estimate.kinds import DEFAULTS, NORMAL_95, another_season, defaults_for
from hearthload.estimate.parts import Parts, uncertainty_parts
from hearthload.service.logbook import Logbook
from hearthload.service.rooms import room_temperature_c
from hearthload.service.sentences import said_moment

_RUNS: Final = {
    DutyNature.SHARE: "it runs {} of the time",
    DutyNature.WITHOUT_DEFROST: "its compressor, the defrost taken off, runs {} of the time",
    DutyNature.EQUIVALENT: "it takes as much as if it ran {} of the time",
    DutyNature.MEAN_LOAD: "it runs on average at {} of its highest watts",
}


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the explanation: a heading, what it says in plain words, and its equation if it has one."""

    heading: str
    text: str
    equation: str = ""

    @property
    def lead(self) -> str:
        """Give the heading as a sentence of its own."""
        return self.heading if self.heading.endswith("?") else f"{self.heading}."


@dataclass(frozen=True, slots=True)
class Explanation:
    """How an estimate came about, step by step."""

    title: str
    steps: tuple[Step, ...]


def explain(logbook: Logbook, measurement_id: int) -> Explanation:
    """Explain the estimate of one measurement."""
    held = logbook.held()
    record = held.record(measurement_id)
    appliance = held.appliance(record.measurement.appliance_id)
    estimate = logbook.estimates.estimate(measurement_id)
    steps = [
        _readings(record),
        *_energy(logbook, measurement_id, appliance, estimate),
        *_others(logbook, record.measurement),
    ]
    return Explanation(appliance.name, tuple(steps))


def as_markdown(told: Explanation) -> str:
    """Write an explanation as a page: the words first, the equations below."""
    words = [f"**{step.lead}** {step.text}" for step in told.steps]
    equations = [f"- *{step.heading}*: {step.equation}" for step in told.steps if step.equation]
    below = ["## The equations", *equations] if equations else []
    page = "\n\n".join([*words, *below]) + "\n"
    return page.replace("± ", "±\u00a0").replace(" %", "\u00a0%").replace(" kWh", "\u00a0kWh")


def _readings(record: MeasurementRecord) -> Step:
    readings = record.readings
    if not readings:
        return Step("Readings", "There is no reading yet.")
    first, last = said_moment(readings[0].taken_at), said_moment(readings[-1].taken_at)
    count = "1 reading" if len(readings) == 1 else f"{len(readings)} readings"
    said = [f"{count}, from {first} to {last}."]
    causes = {RunCause.RESET: "the meter was reset", RunCause.SWAP: "another meter took over"}
    anew = [f"{causes[run.cause]} on {said_moment(run.began_at)}" for run in record.runs[1:]]
    if anew:
        said.append(f"The counters began anew: {', '.join(anew)}; nothing is reckoned across that.")
    hours = sum(reading.elapsed_h is not None for reading in readings)
    said.append(f"Hours were typed with {'all' if hours == len(readings) else hours} of them.")
    said.append("Every reading counts; hours that do not agree with the clock give way to it.")
    warmth = room_words(record)
    if warmth:
        said.append(f"The room had {warmth}.")
    return Step("Readings", " ".join(said))


def room_words(record: MeasurementRecord) -> str:
    """Give the room's temperature in words, empty where it is not known."""
    warmth = room_temperature_c(record)
    return "" if warmth is None else f"about {format_decimals(warmth, 0)} °C"


def _energy(
    logbook: Logbook, measurement_id: int, appliance: Appliance, estimate: Estimate
) -> Iterator[Step]:
    daily, posterior = estimate.daily_kwh, estimate.posterior
    if daily is None or posterior is None or estimate.total_per_day_kwh is None:
        yield Step("Daily energy", "Two readings of one count are needed, half a day apart or more.")
        return
    spans = logbook.estimates.spans(measurement_id)
    energy = sum(span.energy_kwh for span in spans)
    yield Step(
        "Energy over time",
        f"Between the readings the counters ran on for {format_days(estimate.days)} and rose by "
        f"{format_number(energy, 3)} kWh in all: {format_number(estimate.total_per_day_kwh, 3)} kWh a day.",
        "E/T = Σ dₖ / Σ Tₖ over the spans between neighbouring readings; rates of spans are never averaged",
    )
    yield Step(
        "Daily energy",
        f"The average day of these weeks takes {format_ends(daily, 'kWh')}: in 95 of 100 such cases the true "
        f"figure lies between {format_number(daily.low, 3)} and {format_number(daily.high, 3)} kWh.",
        "d = μ(T + ε) + e; Cov(ε) = c²·D[g_τ] + kd²·D[b] + kw²·w·w', Cov(e) = Q; μ by generalised least "
        "squares, averaged over the scatter c and its memory τ, on the log scale",
    )
    parts = uncertainty_parts(spans, posterior, defaults_for(appliance.kind, appliance.running_w))
    yield _usual(appliance, parts)
    yield _sources(parts, estimate.enough.half_width)
    yield _season(parts, another_season(defaults_for(appliance.kind, appliance.running_w)))
    yield _enough(estimate)
    yield from _further(estimate)


def _usual(appliance: Appliance, parts: Parts) -> Step:
    usual = DEFAULTS[appliance.kind]
    kind = appliance.kind.value.replace("_", " ")
    return Step(
        "What is usual",
        f"It is taken as “{kind}”, of which one day usually differs from the next by about "
        f"{format_percent(usual.c0)}. The readings themselves say about {format_percent(parts.scatter)}.",
        f"c = c0·exp(s·z) with c0 = {usual.c0:g}, s = {usual.s_c:g}, z Student-t(3); its posterior median is "
        f"{parts.scatter:.3g}",
    )


def _sources(parts: Parts, half_width: float) -> Step:
    days, display, meter = (
        format_percent(math.expm1(NORMAL_95 * part)) for part in (parts.days, parts.display, parts.meter)
    )
    return Step(
        "Where the ± comes from",
        f"The ups and downs of the days alone: ± {days}. The last digit of the display alone: ± {display}. "
        f"The accuracy of the meter alone: ± {meter}. All together: ± {format_percent(half_width)}. More "
        "days make the first two smaller; the meter's stays.",
        "u² = u_days² + u_display² + u_gain² on the log scale, each shown as exp(1.96·u) − 1; "
        "u_gain = g/√3 for a stated accuracy of ± g",
    )


def _season(parts: Parts, season: tuple[float, float]) -> Step:
    low, high = (format_number(end, 2) for end in season)
    return Step(
        "Another season",
        f"These weeks say nothing of another season. It may then be {low} to {high} times as much: measure "
        "again in that season, or allow for it. This is not in the figure above.",
        f"exp(± 1.96·u_season), u_season = {parts.season:g} for this kind",
    )


def _enough(estimate: Estimate) -> Step:
    enough = estimate.enough
    rule = (
        f"It is well measured once the ± is {format_percent(enough.target)} or less at two readings at least "
        "twelve hours apart, after three days or more"
    )
    if enough.well_measured:
        said = f"{rule}. It is: ± {format_percent(enough.half_width)}."
    else:
        calendar = {Lack.WEEKEND_DAY, Lack.WEEKDAY} & set(enough.lacks)
        also = " and with both a weekend day and a working day" if calendar else ""
        to_go = format_days_to_go(enough.days_to_go)
        said = f"{rule}{also}. It is ± {format_percent(enough.half_width)} now; still to go: {to_go}."
    return Step(
        "Enough?",
        said,
        "(ln high − ln low)/2 ≤ ln(1 + target); days to go: the least N at which the same formula, for each "
        "c and τ, gets below it; median and the range from 20 to 80 %",
    )


def _others(logbook: Logbook, measurement: Measurement) -> Iterator[Step]:
    """Say what the appliance's other measurements gave, and what those joined give together."""
    held = logbook.held()
    told = []
    for other in held.measurements_of(measurement.appliance_id):
        daily = logbook.estimates.estimate(other.id).daily_kwh if held.record(other.id).readings else None
        if other.id == measurement.id or other.started_at is None or daily is None:
            continue
        warmth = room_words(held.record(other.id))
        at = f" at {warmth}" if warmth else ""
        told.append(f"begun on {said_moment(other.started_at)}{at}: {format_ends(daily, 'kWh')} a day")
    if told:
        yield Step("Measured at another time", f"{'; '.join(told)}.")
    together = logbook.estimates.joined(measurement.id)
    if together is not None and together.daily_kwh is not None:
        yield Step(
            "Joined",
            "This measurement counts together with the one before, as of one season: "
            f"{format_ends(together.daily_kwh, 'kWh')} a day from {format_days(together.days)}.",
        )


def _further(estimate: Estimate) -> Iterator[Step]:
    duty, use, day = estimate.duty_cycle, estimate.per_use, estimate.one_day
    if duty is not None:
        sources = {
            DutyBasis.SPOTS: "one reading of its watts"
            if duty.spots == 1
            else f"{duty.spots} readings of its watts",
            DutyBasis.STATED: "the watts stated for it",
            DutyBasis.NAMEPLATE: "its nameplate, which is a maximum",
        }
        share = format_percent(duty.share.value)
        yield Step(
            "Time running",
            f"It draws {format_watts(duty.running_w)} while running, by {sources[duty.basis]}, and "
            f"{format_watts(duty.idle_w)} while idle. So {_RUNS[duty.nature].format(share)}, between "
            f"{format_percent(duty.share.low)} and {format_percent(duty.share.high)}.",
            "D = (P − P_idle)/(P_run − P_idle), P = 1000·μ/24 W",
        )
    if use is not None:
        at_most = (
            f"at most {format_number(use.energy_kwh.high, 2)} kWh, too few to say more"
            if use.at_most
            else format_ends(use.energy_kwh, "kWh")
        )
        yield Step(
            "Energy per use",
            f"From {use.uses} counted uses, {format_number(use.uses_per_day, 2)} a day: {at_most}.",
            "e = (Σd − s_b·ΣT)/N, s_b its standby from spans without use",
        )
    if day is not None:
        yield Step(
            "One day",
            f"The weather drives it: one day in ten takes less than {format_number(day.low_kwh, 2)} kWh, "
            f"one in twenty more than {format_number(day.high_kwh, 2)} kWh. Size for the high one.",
            "quantiles of μ·X, X log-normal with mean 1 and standard deviation c",
        )

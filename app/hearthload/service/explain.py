"""How an estimate came about, in plain words; the equations apart, for those who want them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from hearthload.domain.figures import format_days, format_ends
from hearthload.domain.measurement import Measurement
from hearthload.service.doubts import open_doubts
from hearthload.service.explain_energy import energy_steps
from hearthload.service.explain_further import further_steps
from hearthload.service.explain_readings import readings_step, room_words
from hearthload.service.explain_words import Step, said_when
from hearthload.service.logbook import Logbook

EQUATIONS: Final = "The equations"
"""Heading of what stands below the words."""

__all__ = ["EQUATIONS", "Explanation", "Step", "as_markdown", "explain", "room_words"]


@dataclass(frozen=True, slots=True)
class Explanation:
    """How an estimate came about, step by step."""

    title: str
    steps: tuple[Step, ...]

    @property
    def equations(self) -> tuple[Step, ...]:
        """Give the steps that have an equation."""
        return tuple(step for step in self.steps if step.equation)


def explain(logbook: Logbook, measurement_id: int, now: datetime | None = None) -> Explanation:
    """Explain the estimate of one measurement; years that are that of `now` are not said."""
    held = logbook.held()
    record = held.record(measurement_id)
    appliance = held.appliance(record.measurement.appliance_id)
    estimate = logbook.estimates.estimate(measurement_id)
    steps = [
        readings_step(record, appliance.kind, open_doubts(logbook, measurement_id), now),
        *energy_steps(logbook, measurement_id, appliance, estimate),
        *further_steps(appliance, logbook.estimates.series(measurement_id), estimate),
        *_others(logbook, record.measurement, now),
    ]
    return Explanation(appliance.name, tuple(steps))


def as_markdown(told: Explanation, *, equations: bool = False) -> str:
    """Write an explanation as a page: the words, and the equations below them where they are wanted."""
    words = [f"**{step.lead}** {step.text}" for step in told.steps]
    found = told.equations if equations else ()
    lines = [f"- *{step.label}* {step.equation}" for step in found]
    below = [f"## {EQUATIONS}", *lines] if lines else []
    page = "\n\n".join([*words, *below]) + "\n"
    return re.sub(r"(?<=±) |(?<=\d) (?=%|(?:W|kWh)\b)", "\u00a0", page)


def _others(logbook: Logbook, measurement: Measurement, now: datetime | None) -> Iterator[Step]:
    """Say what the appliance's other measurements gave, and what those joined give together."""
    held = logbook.held()
    told = []
    for other in held.measurements_of(measurement.appliance_id):
        daily = logbook.estimates.estimate(other.id).daily_kwh if held.record(other.id).readings else None
        if other.id == measurement.id or other.started_at is None or daily is None:
            continue
        warmth = room_words(held.record(other.id))
        at = f" at {warmth}" if warmth else ""
        told.append(f"Begun on {said_when(other.started_at, now)}{at}: {format_ends(daily, 'kWh')} a day.")
    if told:
        yield Step("Measured at another time", " ".join(told))
    together = logbook.estimates.joined(measurement.id)
    if together is not None and together.daily_kwh is not None:
        yield Step(
            "Joined",
            "This measurement counts together with the one before, as of one season: "
            f"{format_ends(together.daily_kwh, 'kWh')} a day from {format_days(together.days)}.",
        )

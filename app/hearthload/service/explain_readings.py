"""The readings of an explanation: how many, what interrupted them, whose hours count, which are in doubt."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Final

from hearthload.domain.appliance import Kind
from hearthload.domain.figures import format_decimals
from hearthload.domain.measurement import MeasurementRecord, RunCause
from hearthload.estimate.kinds import DEFAULTS
from hearthload.service.doubt_words import doubt_sentence
from hearthload.service.doubts import OpenDoubt
from hearthload.service.explain_words import Step, said_when
from hearthload.service.rooms import room_temperature_c

_BREAKS: Final = {
    RunCause.RESET: ("The meter was reset on {}", "the reset"),
    RunCause.SWAP: ("Another meter took over on {}", "the swap"),
}
_BY_CLOCK: Final = "Where meter hours and clock disagree, the clock is used."
_BY_METER: Final = (
    "Where the meter counted fewer hours than went by on the clock, the meter's are used, unless more than "
    "half are missing: what is always on uses nothing while the power is off, and does not make up for it."
)


def readings_step(
    record: MeasurementRecord, kind: Kind, doubts: tuple[OpenDoubt, ...], now: datetime | None
) -> Step:
    """Say what was read, and which of it does not stand beyond doubt."""
    readings = record.readings
    if not readings:
        return Step("Readings", "There is no reading yet.")
    first, last = said_when(readings[0].taken_at, now), said_when(readings[-1].taken_at, now)
    said = [
        f"1 reading, on {first}."
        if len(readings) == 1
        else f"{len(readings)} readings, from {first} to {last}."
    ]
    said.append(_hours(record, kind))
    said += _breaks(record, now)
    said += _in_doubt(doubts, now)
    warmth = room_words(record)
    if warmth:
        said.append(f"The room had {warmth}.")
    return Step("Readings", " ".join(said))


def room_words(record: MeasurementRecord) -> str:
    """Give the room's temperature in words, empty where it is not known."""
    warmth = room_temperature_c(record)
    return "" if warmth is None else f"about {format_decimals(warmth, 0)} °C"


def _breaks(record: MeasurementRecord, now: datetime | None) -> Iterator[str]:
    for run in record.runs[1:]:
        happened, event = _BREAKS[run.cause]
        when = said_when(run.began_at, now)
        since = f"between the last reading before and {event}"
        yield f"{happened.format(when)}: what was used {since} is not counted."


def _hours(record: MeasurementRecord, kind: Kind) -> str:
    """Say how many readings came with the meter's hours, and what decides where the clock disagrees."""
    readings = record.readings
    hours = sum(reading.elapsed_h is not None for reading in readings)
    if hours == 0:
        return "The meter's hours were not typed, so the clock is used."
    every = "It" if len(readings) == 1 else "All of them"
    count = every if hours == len(readings) else f"{hours} of them"
    rule = _BY_METER if DEFAULTS[kind].lost_in_cut else _BY_CLOCK
    return f"{count} came with the meter's hours. {rule}"


def _in_doubt(doubts: tuple[OpenDoubt, ...], now: datetime | None) -> Iterator[str]:
    """Name each reading that a doubt is open about; of one left out the doubt's own sentence says so."""
    named = [(each.doubt, each.reading) for each in doubts]
    found = [(doubt, reading) for doubt, reading in named if reading is not None]
    if not found:
        yield "Every reading counts."
    for doubt, reading in found:
        counts = "" if doubt.left_out else " It counts until you correct or remove it."
        sentence = doubt_sentence(doubt, None)
        yield f"There is a doubt about the reading of {said_when(reading.taken_at, now)}: {sentence}{counts}"

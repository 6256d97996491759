"""The doubts about a measurement that are open: found by the estimator, less those she has answered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import ODDNESS, Doubt, DoubtCode, Likely
from hearthload.domain.reading import Reading
from hearthload.service.doubt_words import doubt_sentence

if TYPE_CHECKING:
    from hearthload.service.logbook import Logbook


@dataclass(frozen=True, slots=True)
class OpenDoubt:
    """A doubt with the reading it is about, in words.

    `suggested_kwh` is a likely right value of its counter, `suggested_h` one of its hours, None where there
    is none to offer.
    """

    doubt: Doubt
    reading: Reading | None
    sentence: str
    suggested_kwh: float | None = None
    suggested_h: float | None = None

    @property
    def asks_for_kind(self) -> bool:
        """Tell whether another kind of appliance would explain it."""
        return self.doubt.likely is Likely.OTHER_KIND


def about(code: DoubtCode, reading: Reading | None) -> str:
    """Give what an answer is about: the reading's values; a doubt about all is answered once and for all."""
    if reading is None:
        return ""
    hours = "" if code is not DoubtCode.HOURS_AGAINST_CLOCK else f" {reading.elapsed_h}"
    return f"{reading.taken_at.isoformat()} {reading.energy_kwh}{hours}"


def open_doubts(logbook: Logbook, measurement_id: int) -> tuple[OpenDoubt, ...]:
    """Give the doubts about a measurement that she has not answered, those about readings first."""
    held, now = logbook.held(), logbook.clock()
    record = held.record(measurement_id)
    answered = {(each.reading_id, each.code, each.about) for each in held.answers_about(measurement_id)}
    found = []
    for doubt in logbook.estimates.doubts(measurement_id):
        reading = None if doubt.reading is None else record.readings[doubt.reading]
        if not answered.isdisjoint(_settling(doubt.code, reading)):
            continue
        sentence = doubt_sentence(doubt, None if reading is None else reading.taken_at, now)
        found.append(OpenDoubt(doubt, reading, sentence, doubt.suggested_kwh, doubt.suggested_h))
    return tuple(found)


def _settling(code: DoubtCode, reading: Reading | None) -> set[tuple[int | None, str, str]]:
    """Give the answers that settle a doubt: that its kWh are right settles all ways in which they are odd."""
    number = None if reading is None else reading.id
    alike = ODDNESS if code in ODDNESS else {code}
    return {(number, each.value, about(each, reading)) for each in alike}


def offered_kind(logbook: Logbook, measurement_id: int) -> Kind | None:
    """Give the kind that suits a measurement's readings better than its appliance's, None without one.

    Every kind is fitted for that, so it is asked apart from the doubts, for the measurement that is shown.
    """
    return logbook.estimates.better_kind(measurement_id)


def doubted_at(logbook: Logbook, measurement_id: int) -> tuple[datetime, ...]:
    """Give the moments of the readings with an open doubt."""
    found = (doubt.reading for doubt in open_doubts(logbook, measurement_id))
    return tuple(reading.taken_at for reading in found if reading is not None)

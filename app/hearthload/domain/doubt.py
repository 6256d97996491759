"""Doubts: something about a reading or a measurement that may be wrong, as data."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum


class DoubtCode(StrEnum):
    """What may be wrong."""

    COUNTER_BACK = "counter_back"
    IMPOSSIBLE_POWER = "impossible_power"
    ABOVE_HIGHEST = "above_highest"
    ABOVE_NAMEPLATE = "above_nameplate"
    ABOVE_RUNNING = "above_running"
    MUCH_FOR_KIND = "much_for_kind"
    HOURS_AGAINST_CLOCK = "hours_against_clock"
    ODD_READING = "odd_reading"
    ODD_SPAN = "odd_span"
    CHANGE = "change"
    DRIFT = "drift"
    IMPLAUSIBLE_DAY = "implausible_day"
    DUTY_HIGH = "duty_high"
    DUTY_LOW = "duty_low"
    VARIES_MUCH = "varies_much"


TOO_MUCH = frozenset(
    {
        DoubtCode.IMPOSSIBLE_POWER,
        DoubtCode.ABOVE_HIGHEST,
        DoubtCode.ABOVE_NAMEPLATE,
        DoubtCode.ABOVE_RUNNING,
        DoubtCode.MUCH_FOR_KIND,
    }
)
"""More went through than can be, whatever the other days say."""

ODDNESS = TOO_MUCH | {DoubtCode.ODD_READING, DoubtCode.ODD_SPAN}
"""All the ways in which the kWh of one reading may be odd: one slip, one question, one answer."""


class Likely(StrEnum):
    """What is most likely behind a doubt."""

    RESET = "reset"
    ROLL_OVER = "roll_over"
    TYPO = "typo"
    HELD = "held"
    DECIMAL_SLIP = "decimal_slip"
    SWAPPED_DIGITS = "swapped_digits"
    WRONG_DIGIT = "wrong_digit"
    HOURS_AS_ENERGY = "hours_as_energy"
    WATTS_AS_ENERGY = "watts_as_energy"
    POWER_CUT = "power_cut"
    WRONG_TIME = "wrong_time"
    OTHER_KIND = "other_kind"
    NOT_KNOWN = "not_known"


@dataclass(frozen=True, slots=True)
class Doubt:
    """One doubt: `reading` is its place among the readings in order of time from 0, None for all of them.

    `values` are the figures it rests on, by name with unit ("expected_kwh", "clock_h", ...). `tail` is the
    chance of as much by the usual scatter [1], where it was tested. `suggested_kwh` is what the counter may
    have shown, `suggested_h` what its hours may. `left_out`: the estimate goes without this reading until it
    is settled.
    """

    code: DoubtCode
    reading: int | None
    likely: Likely = Likely.NOT_KNOWN
    values: dict[str, float] = field(default_factory=dict)
    tail: float | None = None
    suggested_kwh: float | None = None
    left_out: bool = False
    suggested_h: float | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """Her word that something doubted is right: which measurement and reading, which doubt, about what value.

    `about` is what the reading said when she answered; another value is asked about again.
    """

    id: int
    measurement_id: int
    reading_id: int | None
    code: str
    about: str
    answered_at: datetime

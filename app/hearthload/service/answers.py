"""Frozen answers to the questions that pages and commands ask."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import Measurement, Run
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading
from hearthload.estimate.answers import Estimate, Interval


@dataclass(frozen=True, slots=True)
class RoundStop:
    """One stop of the morning round: a running measurement and whether it was read today."""

    measurement_id: int
    appliance_id: int
    appliance_name: str
    room: str
    meter_name: str
    read_today: bool


class Weight(StrEnum):
    """How heavy a complaint is: `STOPS` cannot be saved as it stands, `WARNS` may be saved anyway."""

    STOPS = "stops"
    WARNS = "warns"


class FixAction(StrEnum):
    """What a one-click fix does.

    Set `value`, exchange counter and hours, put the counter's number into the watts, say what the meter did,
    say that it is right, take another kind, set `value` in the reading before, or set the time to `moment`.
    """

    SET_VALUE = "set_value"
    EXCHANGE = "exchange"
    TO_WATTS = "to_watts"
    METER_RESET = "meter_reset"
    METER_SWAPPED = "meter_swapped"
    ANSWER = "answer"
    OTHER_KIND = "other_kind"
    SET_BEFORE = "set_before"
    SET_TIME = "set_time"


@dataclass(frozen=True, slots=True)
class Fix:
    """A likely fix: its button's label, what it does, and the value or moment to set if it sets one.

    `reading_id` is the reading whose value it sets, None for the one that is being typed.
    """

    label: str
    action: FixAction
    value: float | None = None
    moment: datetime | None = None
    reading_id: int | None = None


@dataclass(frozen=True, slots=True)
class Complaint:
    """Something about typed values: `field` is a ReadingDraft field name, `sentence` says what and why."""

    field: str
    code: str
    weight: Weight
    sentence: str
    fixes: tuple[Fix, ...] = ()


@dataclass(frozen=True, slots=True)
class EntryContext:
    """What stands beside the entry form's fields for one measurement at one moment.

    `expected_energy_kwh` is the 95 % predictive range of the counter, `expected_elapsed_h` the range of
    the hours counter that agrees with the clock; both None when nothing can be foreseen. `last_values`
    maps ReadingDraft field names to the last value typed for this measurement.
    """

    measurement: Measurement
    run: Run | None
    appliance: Appliance
    meter: Meter | None
    last: Reading | None
    last_values: dict[str, float] = field(default_factory=dict)
    expected_energy_kwh: Interval | None = None
    expected_elapsed_h: Interval | None = None


@dataclass(frozen=True, slots=True)
class Preview:
    """What a reading would give if it were saved: complaints, the new span, the estimate before and after.

    `span_energy_kwh`, `span_h`, `span_power_w` describe the span that the reading closes.
    """

    complaints: tuple[Complaint, ...]
    span_energy_kwh: float | None
    span_h: float | None
    span_power_w: float | None
    before: Estimate | None
    after: Estimate | None

    @property
    def stopped(self) -> bool:
        """Tell whether a complaint keeps the reading from being saved."""
        return any(complaint.weight is Weight.STOPS for complaint in self.complaints)


@dataclass(frozen=True, slots=True)
class TrendPoint:
    """The estimate as it stood after one reading: when [UTC seconds], daily kWh with its interval."""

    at_s: float
    daily_kwh: Interval


@dataclass(frozen=True, slots=True)
class SpanBar:
    """Average watts between two neighbouring readings of a run: from, to [UTC seconds], watts, kWh, h."""

    from_s: float
    to_s: float
    power_w: float
    energy_kwh: float
    span_h: float


@dataclass(frozen=True, slots=True)
class ChartData:
    """Both charts of one measurement: trend of the daily figure, target band, watts per span, run starts.

    `target_low_kwh` and `target_high_kwh` bound the target band around the present median, None before
    there is one. `breaks_s` are the moments at which a new run began after a reset or a swap, `doubts_s`
    those of readings with an open doubt.
    """

    appliance_name: str
    measurement: Measurement
    trend: tuple[TrendPoint, ...]
    target_low_kwh: float | None
    target_high_kwh: float | None
    spans: tuple[SpanBar, ...]
    readings_s: tuple[float, ...]
    breaks_s: tuple[float, ...]
    doubts_s: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One line of the reading table: the reading, its run, and the span that it closes (None at a start).

    `doubts` are the sentences of the open doubts about it.
    """

    reading: Reading
    run: Run
    meter_name: str
    span_h: float | None
    span_energy_kwh: float | None
    span_power_w: float | None
    span_daily_kwh: float | None
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasurementChoice:
    """One of an appliance's measurements, for choosing which to show: what it gave, how warm the room was."""

    measurement: Measurement
    meter_name: str
    readings: int
    first_day: date | None
    last_day: date | None
    daily_kwh: Interval | None = None
    room_temperature_c: float | None = None


@dataclass(frozen=True, slots=True)
class MeterRow:
    """One meter and what it is doing: the measurement it serves now, if any, and how many it has served."""

    meter: Meter
    running: Measurement | None
    appliance_name: str | None
    since: datetime | None
    measurements: int

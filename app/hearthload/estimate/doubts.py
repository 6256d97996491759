"""All doubts about a measurement: what is odd about which reading, how odd, and the likely fix."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import Doubt, DoubtCode, Likely
from hearthload.domain.units import HOURS_PER_DAY, MINUTES_PER_HOUR, SECONDS_PER_HOUR, WATTS_PER_KILOWATT
from hearthload.estimate.answers import Estimate, Lack
from hearthload.estimate.counters import LARGEST_POWER_KW, Fall, settled
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.oddness import STEADY_KINDS, Odd, Oddity, odd_parts
from hearthload.estimate.series import Series, Snapshot
from hearthload.estimate.slips import likely_slip
from hearthload.estimate.spans import TYPED_TIME_H, Span, clock_agrees, ordered, spans_of

ABOVE_HIGHEST = 1.15
"""An average does not pass the highest watts seen by more than the meter's errors of both [1]."""

BOTH_TOLD = 0.02
"""Averages by the clock and by the meter's hours are both told when they differ by more than this [1]."""

LEAST_ROUNDED = 4
ROUND_MINUTES = (5, 10, 15, 30)

DUTY_HIGHEST, DUTY_LOWEST = 0.90, 0.05
"""A cold appliance that runs more (a failing seal, a hot room) or less than this deserves a look [1]."""

COLD = frozenset({Kind.REFRIGERATOR, Kind.FREEZER})

# Lowest and highest plausible day [kWh/d]: half the low and twice the high end of the bands of ordinary
# household appliances of each kind (the project's table of appliance figures, rows E1 to E54).
PLAUSIBLE_KWH = {
    Kind.REFRIGERATOR: (0.125, 15.0),
    Kind.FREEZER: (0.25, 7.8),
    Kind.CLIMATE: (0.1, 48.0),
    Kind.ALWAYS_ON: (0.0025, 24.0),
    Kind.BY_THE_LOAD: (0.01, 30.0),
    Kind.LAMP_TIMER: (0.002, 6.0),
    Kind.EVENING_ELECTRONICS: (0.01, 5.0),
    Kind.WORK_ELECTRONICS: (0.01, 6.0),
    Kind.KITCHEN: (0.005, 16.0),
    Kind.PUMP: (0.0, 28.0),
    Kind.NOT_SURE: (0.0, 60.0),
}


@dataclass(frozen=True, slots=True)
class Limits:
    """What the way to the appliance carries at most [kW], and the highest watts the meter has seen [W]."""

    power_kw: float = LARGEST_POWER_KW
    highest_w: float | None = None


def find_doubts(
    series: Series, estimate: Estimate, limits: Limits | None = None, spans: tuple[Span, ...] | None = None
) -> tuple[Doubt, ...]:
    """Give all doubts about a measurement, those about single readings first, in order of time.

    Readings are numbered from 0 in order of time, run after run. `series` is as it was typed, with
    counters that fell; `estimate` is that of the settled series; `spans` are the series', where known.
    """
    look = _Look.at(series, limits or Limits(), spans)
    single = [*look.falls(), *look.power(), *look.hours(), *look.odd(estimate)]
    told: dict[tuple[int | None, DoubtCode], Doubt] = {}
    for doubt in single:
        told.setdefault((doubt.reading, doubt.code), doubt)
    in_order = sorted(told.values(), key=lambda doubt: -1 if doubt.reading is None else doubt.reading)
    told_why = {DoubtCode.ODD_READING, DoubtCode.ODD_SPAN, DoubtCode.COUNTER_BACK, DoubtCode.IMPOSSIBLE_POWER}
    explained = sum(doubt.code in told_why for doubt in in_order) == 1
    return (*in_order, *_about_all(series, estimate, explained=explained))


@dataclass(frozen=True, slots=True)
class _Look:
    """A series as typed and settled, with its spans and the places of its readings."""

    series: Series
    spans: tuple[Span, ...]
    ends: tuple[tuple[Snapshot, Snapshot], ...]
    found: tuple[Fall, ...]
    places: dict[int, int]
    limits: Limits

    @classmethod
    def at(cls, series: Series, limits: Limits, spans: tuple[Span, ...] | None) -> _Look:
        """Settle a series and number its readings."""
        clean, found = settled(series)
        ends = [pair for run in clean.runs for readings in [ordered(run)] for pair in pairwise(readings)]
        numbered = [snapshot for run in series.runs for snapshot in ordered(run)]
        places = {id(snapshot): place for place, snapshot in enumerate(numbered)}
        known = spans if spans is not None and clean is series else spans_of(clean)
        return cls(clean, known, tuple(ends), found, places, limits)

    def place(self, snapshot: Snapshot) -> int:
        """Give a reading's number."""
        return self.places[id(snapshot)]

    def falls(self) -> Iterator[Doubt]:
        """Tell counters that went back."""
        for fall in self.found:
            values = {"before_kwh": fall.before_kwh, "after_kwh": fall.after_kwh}
            yield Doubt(
                DoubtCode.COUNTER_BACK,
                self.place(fall.reading),
                Likely(fall.what),
                values,
                left_out=fall.what in {"typo", "held"},
            )

    def power(self) -> Iterator[Doubt]:
        """Tell averages that nothing in the way carries, or above the highest watts seen."""
        for span, (_, after) in zip(self.spans, self.ends, strict=True):
            if span.days <= 0.0:
                continue
            least_kw = (span.energy_kwh - span.step_kwh) / (span.days * HOURS_PER_DAY)
            values = {"average_w": WATTS_PER_KILOWATT * least_kw}
            highest = self.limits.highest_w
            if least_kw > self.limits.power_kw:
                values["limit_w"] = WATTS_PER_KILOWATT * self.limits.power_kw
                yield Doubt(DoubtCode.IMPOSSIBLE_POWER, self.place(after), Likely.TYPO, values)
            elif highest is not None and WATTS_PER_KILOWATT * least_kw > ABOVE_HIGHEST * highest:
                values["limit_w"] = highest
                yield Doubt(DoubtCode.ABOVE_HIGHEST, self.place(after), Likely.TYPO, values)

    def hours(self) -> Iterator[Doubt]:
        """Tell hours that disagree with the clock, with both averages where they differ much."""
        roughly_h = roughness_h(self.series)
        for span, (before, after) in zip(self.spans, self.ends, strict=True):
            if before.elapsed_h is None or after.elapsed_h is None:
                continue
            clock_h = (span.to_s - span.from_s) / SECONDS_PER_HOUR
            counted_h = after.elapsed_h - before.elapsed_h
            if abs(counted_h - clock_h) <= TYPED_TIME_H:  # agrees for every meter: spares the long way
                continue
            if clock_agrees(counted_h, clock_h, self.series.runs[span.run], roughly_h):
                continue
            likely = Likely.POWER_CUT if 0.0 < counted_h < clock_h else Likely.WRONG_TIME
            values = {"clock_h": clock_h, "counted_h": counted_h}
            if counted_h > 0.0 and clock_h > 0.0 and abs(clock_h / counted_h - 1.0) > BOTH_TOLD:
                values["by_clock_kwh"] = span.energy_kwh / clock_h * HOURS_PER_DAY
                values["by_hours_kwh"] = span.energy_kwh / counted_h * HOURS_PER_DAY
            yield Doubt(DoubtCode.HOURS_AGAINST_CLOCK, self.place(after), likely, values)

    def odd(self, estimate: Estimate) -> Iterator[Doubt]:
        """Tell readings and spans that stand out, and a change or drift, of steady kinds only."""
        if self.series.kind not in STEADY_KINDS or estimate.daily_kwh is None:
            return
        defaults = defaults_for(self.series.kind, self.series.running_w)
        for odd in odd_parts(self.spans, defaults, estimate.daily_kwh.value):
            yield self._odd(odd)

    def _odd(self, odd: Odd) -> Doubt:
        _, after = self.ends[odd.at]
        if odd.what is Oddity.READING:
            expected = after.energy_kwh - odd.excess_kwh
            slip = likely_slip(after, expected, odd.spread_kwh, self.spans[odd.at].step_kwh)
            values = {"expected_kwh": expected, "spread_kwh": odd.spread_kwh}
            return Doubt(
                DoubtCode.ODD_READING, self.place(after), slip.likely, values, odd.tail, slip.energy_kwh
            )
        if odd.what is Oddity.SPAN:
            span = self.spans[odd.at]
            expected = span.energy_kwh - odd.excess_kwh
            values = {"gained_kwh": span.energy_kwh, "expected_kwh": expected, "span_d": span.days}
            return Doubt(DoubtCode.ODD_SPAN, self.place(after), Likely.NOT_KNOWN, values, odd.tail)
        values = {"step_kwh": odd.excess_kwh, "spread_kwh": odd.spread_kwh}
        if odd.what is Oddity.CHANGE:
            before, _ = self.ends[odd.at]
            return Doubt(DoubtCode.CHANGE, self.place(before), Likely.NOT_KNOWN, values, odd.tail)
        return Doubt(DoubtCode.DRIFT, None, Likely.NOT_KNOWN, values, odd.tail)


def roughness_h(series: Series) -> float:
    """Give how far a clock time is typed from the moment of reading [h]: more where all times are rounded.

    Where four times or more all are multiples of g = 5, 10, 15 or 30 minutes, they are taken to be rounded
    to g: max(0.10, g/60 + 0.03) h.
    """
    minutes = [snapshot.taken_at.minute for run in series.runs for snapshot in run.snapshots]
    if len(minutes) < LEAST_ROUNDED:
        return TYPED_TIME_H
    rounded = [grid for grid in ROUND_MINUTES if all(minute % grid == 0 for minute in minutes)]
    return max([TYPED_TIME_H, *(grid / MINUTES_PER_HOUR + 0.03 for grid in rounded)])


def _about_all(series: Series, estimate: Estimate, *, explained: bool) -> Sequence[Doubt]:
    """Tell what is odd about the measurement as a whole, once it is more than preliminary.

    `explained`: one reading is in doubt, which is why it varies; the kind is then not asked about.
    """
    daily, duty = estimate.daily_kwh, estimate.duty_cycle
    if daily is None or estimate.preliminary or Lack.TWO_READINGS in estimate.enough.lacks[:1]:
        return ()
    found = []
    low, high = PLAUSIBLE_KWH[series.kind]
    if daily.low > high or daily.high < low:
        values = {"daily_kwh": daily.value, "low_kwh": low, "high_kwh": high}
        found.append(Doubt(DoubtCode.IMPLAUSIBLE_DAY, None, Likely.OTHER_KIND, values))
    if duty is not None and series.kind in COLD:
        values = {"duty": duty.share.value, "low": duty.share.low, "high": duty.share.high}
        if duty.share.low > DUTY_HIGHEST:
            found.append(Doubt(DoubtCode.DUTY_HIGH, None, Likely.NOT_KNOWN, values))
        elif duty.share.high < DUTY_LOWEST:
            found.append(Doubt(DoubtCode.DUTY_LOW, None, Likely.NOT_KNOWN, values))
    if estimate.unusual_scatter and not explained:
        found.append(Doubt(DoubtCode.VARIES_MUCH, None, Likely.OTHER_KIND))
    return found

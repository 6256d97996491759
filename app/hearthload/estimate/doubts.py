"""All doubts about a measurement: what is odd about which reading, how odd, and the likely fix."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import ODDNESS, TOO_MUCH, Doubt, DoubtCode, Likely
from hearthload.domain.units import HOURS_PER_DAY, MINUTES_PER_HOUR, SECONDS_PER_HOUR, WATTS_PER_KILOWATT
from hearthload.estimate.answers import Estimate, Lack
from hearthload.estimate.counters import LARGEST_POWER_KW, Fall, settled
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.oddness import STEADY_KINDS, Odd, Oddity, odd_parts
from hearthload.estimate.plausible import (
    ABOVE_HIGHEST,
    ABOVE_NAMEPLATE,
    ABOVE_RUNNING,
    LEAST_H_FOR_RUNNING,
    PLAUSIBLE_KWH,
    most_of_kind_kwh,
)
from hearthload.estimate.predict import expected_energy_kwh
from hearthload.estimate.series import Series, Snapshot
from hearthload.estimate.slips import Slip, hours_slip, likely_slip, slip_into
from hearthload.estimate.spans import TYPED_TIME_H, Span, clock_agrees, clock_margin_h, ordered, spans_of

BOTH_TOLD = 0.02
"""Averages by the clock and by the meter's hours are both told when they differ by more than this [1]."""

LEAST_ROUNDED = 4
ROUND_MINUTES = (5, 10, 15, 30)

DUTY_HIGHEST, DUTY_LOWEST = 0.90, 0.05
"""A cold appliance that runs more (a failing seal, a hot room) or less than this deserves a look [1]."""

COLD = frozenset({Kind.REFRIGERATOR, Kind.FREEZER})


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
    in_order = sorted(_once(single), key=lambda doubt: -1 if doubt.reading is None else doubt.reading)
    told_why = {*ODDNESS, DoubtCode.COUNTER_BACK}
    explained = sum(doubt.code in told_why for doubt in in_order) == 1
    return (*in_order, *_about_all(series, estimate, explained=explained))


def _once(single: Sequence[Doubt]) -> list[Doubt]:
    """Keep one doubt about the kWh of a reading, the plainest, and none about a span that its slip explains.

    A reading that is too low makes the span after it too long, so what is odd there is the same slip.
    """
    told: dict[tuple[int | None, object], Doubt] = {}
    for doubt in single:
        about_kwh = doubt.code in ODDNESS or doubt.code is DoubtCode.COUNTER_BACK
        key = (doubt.reading, "kwh" if about_kwh else doubt.code)
        kept = told.setdefault(key, doubt)
        if kept.suggested_kwh is None and doubt.suggested_kwh is not None and kept.code in ODDNESS:
            told[key] = replace(kept, suggested_kwh=doubt.suggested_kwh, likely=doubt.likely)
    low = {
        doubt.reading + 1
        for doubt in told.values()
        if doubt.code is DoubtCode.ODD_READING and doubt.reading is not None
    }
    spans = TOO_MUCH | {DoubtCode.ODD_SPAN}
    return [doubt for doubt in told.values() if doubt.reading not in low or doubt.code not in spans]


@dataclass(frozen=True, slots=True)
class _Bound:
    """What an average does not pass by more than a margin [1]: which doubt it raises, how many watts."""

    code: DoubtCode
    limit_w: float
    margin: float = 1.0


@dataclass(frozen=True, slots=True)
class _Look:
    """A series as typed and settled, with its spans and the places of its readings."""

    series: Series
    clean: Series
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
        return cls(series, clean, known, tuple(ends), found, places, limits)

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
        """Tell averages that nothing in the way carries, or above what the appliance can take."""
        lowest_kwh = self._lowest_w() * HOURS_PER_DAY / WATTS_PER_KILOWATT
        for span, (before, after) in zip(self.spans, self.ends, strict=True):
            if span.days <= 0.0 or span.energy_kwh <= lowest_kwh * span.days:
                continue
            least_w = WATTS_PER_KILOWATT * (span.energy_kwh - span.step_kwh) / (span.days * HOURS_PER_DAY)
            bound = next(
                (bound for bound in self._bounds(span) if least_w > bound.margin * bound.limit_w), None
            )
            if bound is None:
                continue
            values = {"average_w": least_w, "limit_w": bound.limit_w}
            most_kwh = bound.margin * bound.limit_w * span.days * HOURS_PER_DAY / WATTS_PER_KILOWATT
            slip = self._meant(before, after, most_kwh, span.step_kwh)
            yield Doubt(bound.code, self.place(after), slip.likely, values, suggested_kwh=slip.energy_kwh)

    def _lowest_w(self) -> float:
        """Give the watts up to which no average is looked at further: no bound lies lower."""
        stated = (self.series.nameplate_w, self.limits.highest_w, self.series.running_w)
        day_w = WATTS_PER_KILOWATT * most_of_kind_kwh(self.series.kind, 1.0) / HOURS_PER_DAY
        known = [watts for watts in stated if watts is not None]
        return min(WATTS_PER_KILOWATT * self.limits.power_kw, day_w, *known)

    def _bounds(self, span: Span) -> Iterator[_Bound]:
        """Give what an average over a span cannot pass, the hardest first."""
        hours = span.days * HOURS_PER_DAY
        yield _Bound(DoubtCode.IMPOSSIBLE_POWER, WATTS_PER_KILOWATT * self.limits.power_kw)
        if self.series.nameplate_w is not None:
            yield _Bound(DoubtCode.ABOVE_NAMEPLATE, self.series.nameplate_w, ABOVE_NAMEPLATE)
        if self.limits.highest_w is not None:
            yield _Bound(DoubtCode.ABOVE_HIGHEST, self.limits.highest_w, ABOVE_HIGHEST)
        if self.series.running_w is not None and hours >= LEAST_H_FOR_RUNNING:
            yield _Bound(DoubtCode.ABOVE_RUNNING, self.series.running_w, ABOVE_RUNNING)
        most_w = WATTS_PER_KILOWATT * most_of_kind_kwh(self.series.kind, span.days) / hours
        yield _Bound(DoubtCode.MUCH_FOR_KIND, most_w)

    def _meant(self, before: Snapshot, after: Snapshot, most_kwh: float, step_kwh: float) -> Slip:
        """Give the slip that lands where the other readings expect it, and within what can be."""
        runs = (
            replace(run, snapshots=tuple(found for found in run.snapshots if found is not after))
            for run in self.clean.runs
        )
        expected = expected_energy_kwh(replace(self.clean, runs=tuple(runs)), after.taken_at)
        if expected is None:
            return Slip(Likely.TYPO)
        return slip_into(
            after.energy_kwh, expected.low, min(expected.high, before.energy_kwh + most_kwh), step_kwh
        )

    def hours(self) -> Iterator[Doubt]:
        """Tell hours that disagree with the clock, with both averages where they differ much.

        Hours or a time that are wrong in one reading disagree twice, there and back: that is told once.
        """
        roughly_h = roughness_h(self.series)
        told: tuple[Snapshot, float] | None = None
        for span, (before, after) in zip(self.spans, self.ends, strict=True):
            if before.elapsed_h is None or after.elapsed_h is None:
                continue
            clock_h = (span.to_s - span.from_s) / SECONDS_PER_HOUR
            counted_h = after.elapsed_h - before.elapsed_h
            run = self.clean.runs[span.run]
            if clock_agrees(counted_h, clock_h, run, roughly_h):
                continue
            if told is not None and told[0] is before:
                off_h = told[1] + counted_h - clock_h
                if clock_agrees(clock_h + off_h, clock_h, run, roughly_h):
                    continue
            told = (after, counted_h - clock_h)
            yield self._against_clock(span, (before, after), roughly_h)

    def _against_clock(self, span: Span, ends: tuple[Snapshot, Snapshot], roughly_h: float) -> Doubt:
        before, after = ends
        start_h, end_h = before.elapsed_h or 0.0, after.elapsed_h or 0.0
        clock_h, counted_h = (span.to_s - span.from_s) / SECONDS_PER_HOUR, end_h - start_h
        likely = Likely.POWER_CUT if 0.0 < counted_h < clock_h else Likely.WRONG_TIME
        values = {"clock_h": clock_h, "counted_h": counted_h}
        if counted_h > 0.0 and clock_h > 0.0 and abs(clock_h / counted_h - 1.0) > BOTH_TOLD:
            values["by_clock_kwh"] = span.energy_kwh / clock_h * HOURS_PER_DAY
            values["by_hours_kwh"] = span.energy_kwh / counted_h * HOURS_PER_DAY
        margin_h = clock_margin_h(clock_h, self.clean.runs[span.run], roughly_h)
        meant = hours_slip(end_h, start_h + max(clock_h - margin_h, 0.0), start_h + clock_h + margin_h)
        return Doubt(DoubtCode.HOURS_AGAINST_CLOCK, self.place(after), likely, values, suggested_h=meant)

    def odd(self, estimate: Estimate) -> Iterator[Doubt]:
        """Tell readings and spans that stand out, and a change or drift, of steady kinds only."""
        if self.series.kind not in STEADY_KINDS or estimate.daily_kwh is None:
            return
        defaults = defaults_for(self.series.kind, self.series.running_w)
        for odd in odd_parts(self.spans, defaults, estimate.daily_kwh.value, estimate.posterior):
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
            slip = self._slip_at_the_end(odd)
            likely = Likely.NOT_KNOWN if slip.energy_kwh is None else slip.likely
            return Doubt(DoubtCode.ODD_SPAN, self.place(after), likely, values, odd.tail, slip.energy_kwh)
        values = {"step_kwh": odd.excess_kwh, "spread_kwh": odd.spread_kwh}
        if odd.what is Oddity.CHANGE:
            before, _ = self.ends[odd.at]
            return Doubt(DoubtCode.CHANGE, self.place(before), Likely.NOT_KNOWN, values, odd.tail)
        return Doubt(DoubtCode.DRIFT, None, Likely.NOT_KNOWN, values, odd.tail)

    def _slip_at_the_end(self, odd: Odd) -> Slip:
        """Look for a slip behind an odd span where nothing was read after it: else the reading is odd."""
        before, after = self.ends[odd.at]
        if odd.at + 1 < len(self.spans) and self.spans[odd.at + 1].run == self.spans[odd.at].run:
            return Slip(Likely.NOT_KNOWN)
        slip = likely_slip(
            after, after.energy_kwh - odd.excess_kwh, odd.spread_kwh, self.spans[odd.at].step_kwh
        )
        fits = slip.energy_kwh is not None and slip.energy_kwh >= before.energy_kwh
        return slip if fits else Slip(Likely.NOT_KNOWN)


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

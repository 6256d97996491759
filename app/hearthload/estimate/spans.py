"""Spans: neighbouring readings of one run, between which the meter's counters ran on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import NamedTuple

from hearthload.domain.meter import DisplayRounding
from hearthload.domain.units import HOURS_PER_DAY, SECONDS_PER_DAY, SECONDS_PER_HOUR
from hearthload.estimate.growing import keep_spans, known_spans, timed
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.series import RunSeries, Series, Snapshot

SMALLEST_STEP_KWH = 1e-9
"""Stands in for a display step of zero [kWh], so that logarithms stay finite."""

TYPED_TIME_H = 0.10
"""How far a clock time is typed from the moment of reading [h]: six minutes."""

_CLOCK_DRIFT = 0.0005
"""Drift of a meter's clock against the day [1]: 43 s a day, the worst of plain quartz and mains clocks."""

_LEAST_ENERGISED_SHARE = 0.5
"""A power cut longer than half the span is rather a mistyped counter: then the clock decides."""


class Span(NamedTuple):
    """What ran through the meter between two readings of run number `run` of the series.

    `from_s`, `to_s` [UTC seconds]; `from_local_d`, `to_local_d` the same as local wall time [days since
    1970-01-01]; `days` the time to reckon with [d]; `energy_kwh` the displayed gain [kWh];
    `correction_kwh` what the display hides on average since an exact zero [kWh]; `from_u2`, `to_u2`
    variances of the two displayed values [kWh²]; `step_kwh` the display's step; `gain` the meter's
    relative standard uncertainty [1].
    """

    run: int
    from_s: float
    to_s: float
    from_local_d: float
    to_local_d: float
    days: float
    energy_kwh: float
    correction_kwh: float
    from_u2: float
    to_u2: float
    step_kwh: float
    gain: float


@dataclass(frozen=True, slots=True)
class Display:
    """How one run's counter is read: step q [kWh], correction and variance since an exact zero.

    Rectangular error of one reading, variance q²/12 (JCGM 100 F.2.2.1). After an exact zero, a counter
    that truncates reads q/2 low on average, one that rounds reads true; where it is not known which, q/4
    with variance 1.75 q²/12, the variance of the even mixture of both.
    """

    step_kwh: float
    correction_kwh: float
    later_u2: float
    first_u2: float


def display_of(run: RunSeries) -> Display:
    """Give the reading errors of a run's display."""
    step = run.energy_step_kwh
    if not math.isfinite(step) or step < SMALLEST_STEP_KWH:
        step = SMALLEST_STEP_KWH
    square = step * step / 12.0
    if not run.exact_start:
        return Display(step, 0.0, square, square)
    if run.rounding is DisplayRounding.TRUNCATES:
        return Display(step, step / 2.0, square, 0.0)
    if run.rounding is DisplayRounding.ROUNDS:
        return Display(step, 0.0, square, 0.0)
    return Display(step, step / 4.0, 1.75 * square, 0.0)


DEFAULT_GAIN = 0.0075
"""Relative standard uncertainty of a meter of unknown accuracy [1]."""


def gain_of(run: RunSeries) -> float:
    """Give a meter's relative standard uncertainty u = g/√3 [1] from its stated half-width g.

    A rectangular distribution of half-width g (JCGM 100 4.3.7).
    """
    percent = run.gain_percent
    if percent is None or not math.isfinite(percent) or percent < 0.0:
        return DEFAULT_GAIN
    return percent / 100.0 / math.sqrt(3.0)


def ordered(run: RunSeries) -> list[Snapshot]:
    """Put a run's snapshots in order of time, one for each instant.

    Of several at one instant the one with the most energy stays: a counter only rises, so it was shown
    last. Values that are not finite or beyond any counter are left out.
    """
    return [snapshot for _, snapshot in timed(run)]


def spans_of(series: Series) -> tuple[Span, ...]:
    """Join neighbouring readings of each run into spans, in the order of the runs.

    No span crosses from one run to the next, because the counters did not run on there. A counter that
    went back stays in the sum as it stands: a typo cancels in the next span.
    """
    spans: list[Span] = []
    lost_in_cut = DEFAULTS[series.kind].lost_in_cut
    for number, run in enumerate(series.runs):
        spans.extend(_spans_of_run(number, run, lost_in_cut=lost_in_cut))
    return tuple(spans)


def closing(series: Series) -> list[Snapshot]:
    """Give the reading that closes each span, in the order of `spans_of`."""
    return [snapshot for run in series.runs for snapshot in ordered(run)[1:]]


def _spans_of_run(number: int, run: RunSeries, *, lost_in_cut: bool) -> list[Span]:
    nature = (number, replace(run, snapshots=()), lost_in_cut)
    known = known_spans(run, nature)
    spans = list(known)
    spans.extend(_further_spans(number, run, len(known), lost_in_cut=lost_in_cut))
    keep_spans(run, nature, spans)
    return spans


def _further_spans(number: int, run: RunSeries, known: int, *, lost_in_cut: bool) -> Iterator[Span]:
    """Give the spans of a run but for the first `known`."""
    display, gain = display_of(run), gain_of(run)
    readings = [(at_s, local_days(snapshot, at_s), snapshot) for at_s, snapshot in timed(run)[known:]]
    for place, ((from_s, from_local, before), (to_s, to_local, after)) in enumerate(pairwise(readings)):
        first = known + place == 0
        yield Span(
            number,
            from_s,
            to_s,
            from_local,
            to_local,
            _days_between(before, after, to_s - from_s, run, lost_in_cut=lost_in_cut),
            after.energy_kwh - before.energy_kwh,
            display.correction_kwh if first else 0.0,
            display.first_u2 if first else display.later_u2,
            display.later_u2,
            display.step_kwh,
            gain,
        )


def moment_of(snapshot: Snapshot) -> tuple[float, float]:
    """Give a snapshot's moment as UTC seconds and as local wall days since 1970-01-01."""
    seconds = snapshot.taken_at.timestamp()
    return seconds, local_days(snapshot, seconds)


def local_days(snapshot: Snapshot, at_s: float) -> float:
    """Give a snapshot's moment, known as UTC seconds, as local wall days since 1970-01-01."""
    offset = snapshot.taken_at.utcoffset()
    shift = 0.0 if offset is None else offset.total_seconds()
    return (at_s + shift) / SECONDS_PER_DAY


def clock_agrees(
    elapsed_h: float, clock_h: float, run: RunSeries, typed_time_h: float = TYPED_TIME_H
) -> bool:
    """Tell whether hours counted and hours by the clock agree: within step + 0.10 h + 0.0005·clock.

    `typed_time_h` takes the place of the 0.10 h for somebody who types times more roughly.
    """
    off_h = abs(elapsed_h - clock_h)
    # The typed time alone covers most spans, for every meter: that spares the long way.
    return off_h <= typed_time_h or off_h <= clock_margin_h(clock_h, run, typed_time_h)


def clock_margin_h(clock_h: float, run: RunSeries, typed_time_h: float = TYPED_TIME_H) -> float:
    """Give how far hours counted and hours by the clock may be apart and agree [h]."""
    step_h = run.elapsed_step_h if math.isfinite(run.elapsed_step_h) else 0.0
    return max(step_h, 0.0) + typed_time_h + _CLOCK_DRIFT * abs(clock_h)


def _days_between(
    before: Snapshot, after: Snapshot, clock_s: float, run: RunSeries, *, lost_in_cut: bool
) -> float:
    """Choose the time base of a span [d]: the meter's hours where they agree with the clock, else the clock.

    They agree when |Δelapsed − Δclock| ≤ step + 0.10 h + 0.0005·Δclock. When the hours fall short the
    mains may have failed (many meters count energised hours only). The question is the average *day*:
    a cold appliance makes up afterwards for most of what it missed, and a load of washing waits, so the
    clock stays right for them. What is always on makes nothing up, so there an hour without mains is no
    hour of its day and the meter's hours decide, down to half the span. Hours that run ahead of the
    clock are a mistyped time or counter: the clock decides.
    """
    if before.elapsed_h is None or after.elapsed_h is None:
        return clock_s / SECONDS_PER_DAY
    clock_h = clock_s / SECONDS_PER_HOUR
    elapsed_h = after.elapsed_h - before.elapsed_h
    if not math.isfinite(elapsed_h) or elapsed_h <= 0.0:
        return clock_h / HOURS_PER_DAY
    agrees = clock_agrees(elapsed_h, clock_h, run)
    cut = lost_in_cut and _LEAST_ENERGISED_SHARE * clock_h <= elapsed_h < clock_h
    return (elapsed_h if agrees or cut else clock_h) / HOURS_PER_DAY

"""Fewer, longer spans for long series: the answer hardly changes and the work stays bounded."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby

from hearthload.domain.units import SECONDS_PER_DAY
from hearthload.estimate.spans import Span

MOST_SPANS = 60
"""Spans an estimate reckons with; beyond, neighbours are joined."""


def merged(spans: Sequence[Span], most: int = MOST_SPANS) -> tuple[Span, ...]:
    """Join neighbouring spans of a run until at most `most` are left, or one for each run.

    First those that start within one day, then within two days, four and so on: the joints stay where
    they are while a series grows, so the trend does not jitter. Joining is exact: it only forgets the
    readings in between.
    """
    kept = tuple(spans)
    if len(kept) <= most:
        return kept
    origin_s = kept[0].from_s
    days = [(span.run, math.floor((span.from_s - origin_s) / SECONDS_PER_DAY + 1e-9)) for span in kept]
    last_day = max(abs(day) for _, day in days)
    doublings = 0
    while _buckets(days, doublings) > most and last_day >> doublings:
        doublings += 1
    groups = groupby(zip(days, kept, strict=True), lambda each: (each[0][0], each[0][1] >> doublings))
    return tuple(join(*(span for _, span in group)) for _, group in groups)


def _buckets(days: Sequence[tuple[int, int]], doublings: int) -> int:
    """Count the buckets of 2^doublings days that spans of these runs and days fall into."""
    return len({(run, day >> doublings) for run, day in days})


def join(*spans: Span) -> Span:
    """Join neighbouring spans of a run into one, as if no reading between them had been taken."""
    first, last = spans[0], spans[-1]
    return Span(
        first.run,
        first.from_s,
        last.to_s,
        first.from_local_d,
        last.to_local_d,
        sum(span.days for span in spans),
        sum(span.energy_kwh for span in spans),
        sum(span.correction_kwh for span in spans),
        first.from_u2,
        last.to_u2,
        first.step_kwh,
        first.gain,
    )

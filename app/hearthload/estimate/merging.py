"""Fewer, longer spans for long series: the answer hardly changes and the work stays bounded."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

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
    runs = np.array([span.run for span in kept])
    start_s = np.array([span.from_s for span in kept])
    day = np.floor((start_s - start_s[0]) / SECONDS_PER_DAY + 1e-9).astype(np.int64)
    last_day = int(np.abs(day).max())
    another_run, doublings = runs[1:] != runs[:-1], 0
    begins = _beginnings(day, another_run, doublings)
    while len(begins) > most and last_day >> doublings:
        doublings += 1
        begins = _beginnings(day, another_run, doublings)
    return tuple(join(*kept[begin:end]) for begin, end in pairwise([*begins, len(kept)]))


def _beginnings(day: NDArray[np.int64], another_run: NDArray[np.bool_], doublings: int) -> list[int]:
    """Give the places at which a bucket of 2^doublings days, or another run, begins."""
    bucket = day >> doublings
    places: list[int] = np.flatnonzero(another_run | (bucket[1:] != bucket[:-1])).tolist()
    return [0, *(place + 1 for place in places)]


def join(*spans: Span) -> Span:
    """Join neighbouring spans of a run into one, as if no reading between them had been taken."""
    first, last = spans[0], spans[-1]
    if first is last:
        return first
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

"""Fewer, longer spans for long series: the energies stay, the days' scatter is seen less sharply."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hearthload.domain.units import SECONDS_PER_DAY
from hearthload.estimate.spans import Span

MOST_SPANS = 60
"""Spans an estimate reckons with; beyond, neighbours are joined."""


_SUMMED = tuple(map(Span._fields.index, ("days", "energy_kwh", "correction_kwh")))


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
    return _joined(kept, [*begins, len(kept)])


def _joined(spans: tuple[Span, ...], edges: Sequence[int]) -> tuple[Span, ...]:
    """Join what lies between neighbouring edges, as `join` does."""
    days, energy, hidden = ([span[column] for span in spans] for column in _SUMMED)
    out = []
    for begin, end in pairwise(edges):
        first, last = spans[begin], spans[end - 1]
        if first is not last:
            first = first._replace(
                to_s=last.to_s,
                to_local_d=last.to_local_d,
                days=sum(days[begin:end]),
                energy_kwh=sum(energy[begin:end]),
                correction_kwh=sum(hidden[begin:end]),
                to_u2=last.to_u2,
            )
        out.append(first)
    return tuple(out)


def _beginnings(day: NDArray[np.int64], another_run: NDArray[np.bool_], doublings: int) -> list[int]:
    """Give the places at which a bucket of 2^doublings days, or another run, begins."""
    bucket = day >> doublings
    places: list[int] = np.flatnonzero(another_run | (bucket[1:] != bucket[:-1])).tolist()
    return [0, *(place + 1 for place in places)]


def join(*spans: Span) -> Span:
    """Join neighbouring spans of a run into one, as if no reading between them had been taken."""
    return _joined(spans, (0, len(spans)))[0]

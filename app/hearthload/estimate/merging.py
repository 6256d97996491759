"""Fewer, longer spans for long series: the answer hardly changes and the work stays bounded."""

from __future__ import annotations

import math
from collections.abc import Sequence

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
    width_d = 1.0
    while len(kept) > most:
        joined = _joined(kept, width_d)
        if len(joined) == len(kept) and width_d > _length_d(kept):
            break
        kept, width_d = joined, 2.0 * width_d
    return kept


def _length_d(spans: Sequence[Span]) -> float:
    return (max(span.to_s for span in spans) - min(span.from_s for span in spans)) / SECONDS_PER_DAY


def _joined(spans: Sequence[Span], width_d: float) -> tuple[Span, ...]:
    origin_s = spans[0].from_s
    out: list[Span] = []
    last_bucket = (-1, -1)
    for span in spans:
        bucket = (span.run, math.floor((span.from_s - origin_s) / SECONDS_PER_DAY / width_d + 1e-9))
        if out and bucket == last_bucket:
            out[-1] = join(out[-1], span)
        else:
            out.append(span)
        last_bucket = bucket
    return tuple(out)


def join(first: Span, second: Span) -> Span:
    """Join two neighbouring spans of a run into one, as if the reading between had not been taken."""
    return Span(
        first.run,
        first.from_s,
        second.to_s,
        first.from_local_d,
        second.to_local_d,
        first.days + second.days,
        first.energy_kwh + second.energy_kwh,
        first.correction_kwh + second.correction_kwh,
        first.from_u2,
        second.to_u2,
        first.step_kwh,
        first.gain,
    )

"""Which readings of a long measurement the trend stops at."""

from __future__ import annotations

NEWEST = 40
"""So many of the newest readings are all kept."""

OLDER = 60
"""Older readings are thinned until no more than so many are left."""


def thinned_counts(readings: int) -> tuple[int, ...]:
    """Give the numbers of first readings to show an estimate for, rising, the last being all of them.

    Older ones are multiples of a power of two, so one more reading adds one number and drops at most one:
    what was worked out before stays of use.
    """
    dense_from = max(readings - NEWEST, 0)
    stride = 1
    while dense_from // stride > OLDER:
        stride *= 2
    older = range(stride, dense_from + 1, stride)
    return (*older, *range(dense_from + 1, readings + 1))

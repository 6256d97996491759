"""Which readings of a long measurement the trend stops at."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.service.thinning import NEWEST, OLDER, thinned_counts

READINGS = st.integers(0, 50_000)


@pytest.mark.parametrize(
    ("readings", "counts"),
    [
        (0, ()),
        (1, (1,)),
        (3, (1, 2, 3)),
        # Forty newest and sixty older ones: nothing has to be thinned yet.
        (100, tuple(range(1, 101))),
        # One more: every second of the older 61, which ends at 60, and the forty newest.
        (101, (*range(2, 61, 2), *range(62, 102))),
        (102, (*range(2, 63, 2), *range(63, 103))),
        # The older are 122, of which every second one would be 61: every fourth.
        (162, (*range(4, 121, 4), *range(123, 163))),
    ],
)
def test_by_hand(readings: int, counts: tuple[int, ...]) -> None:
    assert thinned_counts(readings) == counts


@given(READINGS)
def test_rising_to_all_of_them_and_never_more_than_can_be_drawn(readings: int) -> None:
    counts = thinned_counts(readings)
    assert all(before < after for before, after in pairwise(counts))
    assert len(counts) <= NEWEST + OLDER
    assert min(counts, default=1) >= 1
    assert counts[-1:] == ((readings,) if readings else ())


@given(READINGS)
def test_the_newest_are_all_there(readings: int) -> None:
    newest = set(range(max(readings - NEWEST, 0) + 1, readings + 1))
    assert newest <= set(thinned_counts(readings))


@given(st.integers(NEWEST + 2, 50_000))
def test_the_older_ones_are_evenly_spread(readings: int) -> None:
    older = [count for count in thinned_counts(readings) if count <= readings - NEWEST]
    strides = {after - before for before, after in pairwise([0, *older])}
    assert len(strides) == 1
    (stride,) = strides
    assert stride.bit_count() == 1  # a power of two
    # The next multiple would already be one of the newest, so no stretch is left out.
    assert older[-1] + stride > readings - NEWEST


@given(READINGS)
def test_one_more_reading_asks_for_one_more_estimate(readings: int) -> None:
    known, wanted = set(thinned_counts(readings)), set(thinned_counts(readings + 1))
    assert wanted - known == {readings + 1}


def test_one_more_reading_drops_at_most_one_save_when_the_older_ones_are_halved() -> None:
    dropped = {
        readings: len(set(thinned_counts(readings)) - set(thinned_counts(readings + 1)))
        for readings in range(3000)
    }
    # The older ones pass sixty at 61, 122, 244, ... of them, which are 40 less than all.
    halved = [NEWEST + OLDER + (2**times - 1) * (OLDER + 1) for times in range(6)]
    assert halved == [100, 161, 283, 527, 1015, 1991]
    assert [readings for readings, gone in dropped.items() if gone > 1] == halved

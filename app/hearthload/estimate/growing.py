"""Runs that only grow: what was worked out about a long one is kept; one more reading costs one more step."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Sequence
from operator import is_
from typing import TYPE_CHECKING

from hearthload.estimate.series import RunSeries, Snapshot

if TYPE_CHECKING:
    from hearthload.estimate.spans import Span

_LARGEST_KWH = 1e12
"""No counter shows as much [kWh]; keeps the arithmetic within its range."""

_LEAST_KEPT = 8
"""Readings from which a run is worth keeping: a shorter one is worked out as quickly."""

_MOST_KEPT = 100
"""Runs kept, those asked for last."""

_LOOKED_BACK = 3
"""Readings at the end that may differ before a run counts as another one."""

Timed = tuple[tuple[float, Snapshot], ...]


class _Kept:
    """One run as it was last asked for, already in order; and its spans, for one nature of its meter."""

    __slots__ = ("nature", "snapshots", "spans", "timed")

    def __init__(self, snapshots: tuple[Snapshot, ...], timed: Timed) -> None:
        self.snapshots = snapshots
        self.timed = timed
        self.nature: object = None
        self.spans: tuple[Span, ...] = ()


# By the identity of the first reading, which the entry itself keeps alive.
_kept: OrderedDict[int, _Kept] = OrderedDict()


def timed(run: RunSeries) -> Timed:
    """Give a run's snapshots in order, one for each instant, each with its moment [UTC seconds].

    Which of several at one instant stays, and which are left out, is said in `spans.ordered`.
    """
    if len(run.snapshots) < _LEAST_KEPT:
        return _in_order(run.snapshots)
    kept = _of(run)
    if kept is not None and kept.snapshots is run.snapshots:
        return kept.timed
    common = 0 if kept is None else _common(kept.snapshots, run.snapshots)
    if kept is not None and common == len(run.snapshots):
        return kept.timed[:common]
    further = _in_order(run.snapshots[common:])
    known = () if kept is None else kept.timed[:common]
    if known and (not further or known[-1][0] >= further[0][0]):
        further, known = _in_order(run.snapshots), ()
    whole = known + further
    if len(whole) == len(run.snapshots) and all(
        one is other for (_, one), other in zip(whole, run.snapshots, strict=True)
    ):
        _keep(run.snapshots, whole, kept if known else None)
    return whole


def known_spans(run: RunSeries, nature: object) -> tuple[Span, ...]:
    """Give the leading spans of a run that are known for this nature of it."""
    kept = _of(run)
    if kept is None or kept.nature != nature:
        return ()
    return kept.spans[: max(_common(kept.snapshots, run.snapshots) - 1, 0)]


def keep_spans(run: RunSeries, nature: object, spans: Sequence[Span]) -> None:
    """Keep the spans of a run that is kept itself, unless more of them are kept already."""
    kept = _of(run)
    if kept is not None and kept.snapshots is run.snapshots:
        kept.nature, kept.spans = nature, tuple(spans)


def _of(run: RunSeries) -> _Kept | None:
    return _kept.get(id(run.snapshots[0])) if len(run.snapshots) >= _LEAST_KEPT else None


def _keep(snapshots: tuple[Snapshot, ...], whole: Timed, before: _Kept | None) -> None:
    fresh = _Kept(snapshots, whole)
    if before is not None:
        common = _common(before.snapshots, snapshots)
        fresh.nature, fresh.spans = before.nature, before.spans[: max(common - 1, 0)]
    _kept[id(snapshots[0])] = fresh
    _kept.move_to_end(id(snapshots[0]))
    if len(_kept) > _MOST_KEPT:
        _kept.popitem(last=False)


def _common(known: tuple[Snapshot, ...], asked: tuple[Snapshot, ...]) -> int:
    """Count the leading snapshots that are the very same in both; 0 where they part early."""
    most = min(len(known), len(asked))
    for count in range(most, max(most - _LOOKED_BACK, 0), -1):
        if known[count - 1] is asked[count - 1]:
            return count if all(map(is_, known[:count], asked[:count])) else 0
    return 0


def _in_order(snapshots: Sequence[Snapshot]) -> Timed:
    usable = [
        (snapshot.taken_at.timestamp(), snapshot)
        for snapshot in snapshots
        if abs(snapshot.energy_kwh) <= _LARGEST_KWH
    ]
    usable.sort(key=_order)
    kept: list[tuple[float, Snapshot]] = []
    for each in usable:
        if kept and kept[-1][0] == each[0]:
            kept[-1] = each
        else:
            kept.append(each)
    return tuple(kept)


def _order(each: tuple[float, Snapshot]) -> tuple[float, float, float]:
    at_s, snapshot = each
    elapsed = snapshot.elapsed_h
    return at_s, snapshot.energy_kwh, -1.0 if elapsed is None else elapsed

"""Estimates kept per measurement: only what changed is estimated again."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar, cast

from hearthload.domain.appliance import Kind
from hearthload.domain.doubt import Doubt
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.reading import Reading
from hearthload.domain.units import WATTS_PER_KILOWATT
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.series import Series, Snapshot
from hearthload.estimate.spans import Span, spans_of
from hearthload.service.answers import SpanBar
from hearthload.service.caches import Caches
from hearthload.service.ratings import lowest_rating
from hearthload.service.series import series_of, snapshot_of
from hearthload.service.spans import bar_of
from hearthload.service.thinning import thinned_counts

if TYPE_CHECKING:
    from hearthload.estimate.doubts import Limits

Basis = tuple[object, ...]
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class _Known:
    readings: tuple[Reading, ...]
    basis: Basis
    series: Series
    spans: tuple[Span, ...]
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class _KnownTrend:
    stamps: tuple[tuple[Reading, Basis], ...]
    basis: Basis
    by_count: dict[int, Estimate]


class Estimates:
    """The estimate and the trend of each measurement, as long as nothing they rest on changes.

    What they rest on is compared, not announced: the very readings, and of appliance, runs and meters only
    what the estimator takes. So a renamed appliance or a finished measurement costs nothing.
    """

    def __init__(self, caches: Caches) -> None:
        self._caches = caches
        self._known: dict[int, _Known] = {}
        self._trends: dict[int, _KnownTrend] = {}
        self._derived: dict[tuple[Hashable, int], tuple[_Known, object]] = {}
        self._bars: dict[int, tuple[tuple[Span, SpanBar | None], ...]] = {}
        self._snapshots: dict[int, tuple[Reading, Snapshot]] = {}
        self._doubts: dict[int, tuple[_Known, Limits, tuple[Doubt, ...]]] = {}
        self._joined: dict[int, tuple[tuple[_Known, ...], Estimate]] = {}

    def series(self, measurement_id: int) -> Series:
        """Give a measurement as the estimator sees it."""
        return self._fresh(measurement_id).series

    def spans(self, measurement_id: int) -> tuple[Span, ...]:
        """Give the spans between a measurement's readings."""
        return self._fresh(measurement_id).spans

    def bars(self, measurement_id: int) -> tuple[tuple[Span, SpanBar | None], ...]:
        """Give the spans, each as the chart draws it."""
        spans = self._fresh(measurement_id).spans
        kept = self._bars.get(measurement_id, ())
        count = min(len(kept), len(spans))
        if not all(span is bar[0] for span, bar in zip(spans[:count], kept, strict=False)):
            count = 0
        bars = (*kept[:count], *((span, bar_of(span)) for span in spans[count:]))
        self._bars[measurement_id] = bars
        return bars

    def estimate(self, measurement_id: int) -> Estimate:
        """Give what the readings of a measurement say."""
        return self._fresh(measurement_id).estimate

    def joined(self, measurement_id: int) -> Estimate | None:
        """Give what a measurement and those it is joined to say together, None when it stands alone."""
        from hearthload.estimate.api import estimate  # noqa: PLC0415 (numpy: when first needed)

        chain = self._chain(measurement_id)
        if len(chain) < 2:
            return None
        kept = self._joined.get(measurement_id)
        if (
            kept is None
            or len(kept[0]) != len(chain)
            or any(a is not b for a, b in zip(*(kept[0], chain), strict=True))
        ):
            runs = tuple(run for known in chain for run in known.series.runs)
            kept = (chain, estimate(replace(chain[-1].series, runs=runs)))
            self._joined[measurement_id] = kept
        return kept[1]

    def _chain(self, measurement_id: int) -> tuple[_Known, ...]:
        """Give what is known of a measurement and of those before it that it is joined to, oldest first."""
        chain = [self._fresh(measurement_id)]
        measurement = self._caches.measurement(measurement_id)
        while measurement.joined:
            earlier = self._caches.earlier_than(measurement.id)
            if earlier is None:
                break
            chain.insert(0, self._fresh(earlier.id))
            measurement = earlier
        return tuple(chain)

    def doubts(self, measurement_id: int) -> tuple[Doubt, ...]:
        """Give every doubt about a measurement, answered or not."""
        from hearthload.estimate.doubts import find_doubts  # noqa: PLC0415 (numpy: when first needed)

        known, limits = self._fresh(measurement_id), self._limits(self._caches.record(measurement_id))
        kept = self._doubts.get(measurement_id)
        if kept is None or kept[0] is not known or kept[1] != limits:
            kept = (known, limits, find_doubts(known.series, known.estimate, limits, known.spans))
            self._doubts[measurement_id] = kept
        return kept[2]

    def _limits(self, record: MeasurementRecord) -> Limits:
        """Give what the way to the appliance carries, and the highest watts seen."""
        from hearthload.estimate.doubts import Limits  # noqa: PLC0415 (numpy: when first needed)

        held = self._caches
        measurement = record.measurement
        meter = None if measurement.meter_id is None else held.meters.get(measurement.meter_id)
        rating = lowest_rating(meter, held.appliance(measurement.appliance_id), held.household)
        peaks = [reading.highest_power_w for reading in record.readings]
        highest = max((peak for peak in peaks if peak is not None), default=None)
        return Limits(rating.power_w / WATTS_PER_KILOWATT, highest)

    def kept(self, what: Hashable, measurement_id: int, work: Callable[[], Value]) -> Value:
        """Give what follows from a measurement's readings and estimate, worked out once until they change.

        `what` names it, with whatever else it depends on.
        """
        known = self._fresh(measurement_id)
        found = self._derived.get((what, measurement_id))
        if found is None or found[0] is not known:
            found = (known, work())
            self._derived[what, measurement_id] = found
        return cast("Value", found[1])

    def better_kind(self, measurement_id: int) -> Kind | None:
        """Give the kind that the readings speak for, None when that is the present one."""
        from hearthload.estimate.better_kind import better_kind  # noqa: PLC0415 (numpy: when first needed)

        known = self._fresh(measurement_id)
        return self.kept("kind", measurement_id, lambda: better_kind(known.spans, known.series.kind))

    def expected_energy_kwh(self, measurement_id: int, at: datetime) -> Interval | None:
        """Give the range in which the counter is expected to stand at a moment."""
        from hearthload.estimate.api import expected_energy_kwh  # noqa: PLC0415 (numpy: when first needed)

        known = self._fresh(measurement_id)
        return expected_energy_kwh(known.series, at, known.spans, known.estimate.posterior)

    def trend(self, measurement_id: int) -> tuple[tuple[Reading, Estimate], ...]:
        """Give the estimate as it stood after each of the readings that the trend stops at."""
        from hearthload.estimate.api import trend  # noqa: PLC0415 (numpy: when first needed)

        record = self._caches.record(measurement_id)
        counts = thinned_counts(len(record.readings))
        usable = self._usable_trend(measurement_id, record)
        if counts:
            usable.by_count[counts[-1]] = self.estimate(measurement_id)
        missing = [count for count in counts if count not in usable.by_count]
        if missing:
            usable.by_count.update(zip(missing, trend(self.series(measurement_id), missing), strict=True))
        self._trends[measurement_id] = usable
        return tuple((record.readings[count - 1], usable.by_count[count]) for count in counts)

    def _fresh(self, measurement_id: int) -> _Known:
        record = self._caches.record(measurement_id)
        basis = (self._appliance_basis(record), *self._run_bases(record).values())
        known = self._known.get(measurement_id)
        if known is None or known.readings is not record.readings or known.basis != basis:
            known = self._worked_out(record, basis)
            self._known[measurement_id] = known
        return known

    def _worked_out(self, record: MeasurementRecord, basis: Basis) -> _Known:
        from hearthload.estimate.api import estimate  # noqa: PLC0415 (numpy: when first needed)

        appliance = self._caches.appliance(record.measurement.appliance_id)
        series = series_of(record, appliance, self._caches.meters, self.snapshot)
        spans = spans_of(series)
        return _Known(record.readings, basis, series, spans, estimate(series, spans))

    def snapshot(self, reading: Reading) -> Snapshot:
        """Give a reading's snapshot, the same object while the reading is: long runs are told by it."""
        kept = self._snapshots.get(reading.id)
        if kept is None or kept[0] is not reading:
            kept = (reading, snapshot_of(reading))
            self._snapshots[reading.id] = kept
        return kept[1]

    def _usable_trend(self, measurement_id: int, record: MeasurementRecord) -> _KnownTrend:
        """Keep of the known trend what rests on the same first readings of the same runs."""
        runs = self._run_bases(record)
        stamps = tuple((reading, runs[reading.run_id]) for reading in record.readings)
        basis = self._appliance_basis(record)
        known = self._trends.get(measurement_id)
        if known is None or known.basis != basis:
            return _KnownTrend(stamps, basis, {})
        same = _common(known.stamps, stamps)
        return _KnownTrend(stamps, basis, {n: found for n, found in known.by_count.items() if n <= same})

    def _appliance_basis(self, record: MeasurementRecord) -> Basis:
        appliance = self._caches.appliance(record.measurement.appliance_id)
        return (
            appliance.kind,
            appliance.target,
            appliance.running_w,
            appliance.nameplate_w,
            appliance.cycling,
        )

    def _run_bases(self, record: MeasurementRecord) -> dict[int, Basis]:
        return {run.id: (run.exact_start, *self._meter_basis(run.meter_id)) for run in record.runs}

    def _meter_basis(self, meter_id: int) -> Basis:
        meter = self._caches.meters[meter_id]
        return (meter.energy_step_kwh, meter.elapsed_step_h, meter.gain_percent, meter.rounding)


def _common(first: tuple[tuple[Reading, Basis], ...], second: tuple[tuple[Reading, Basis], ...]) -> int:
    """Count how many stamps from the start are the same."""
    for place, ((one, its_basis), (other, other_basis)) in enumerate(zip(first, second, strict=False)):
        if (one is not other and one != other) or its_basis != other_basis:
            return place
    return min(len(first), len(second))

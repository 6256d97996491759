"""The questions behind the entry form: what stands beside its fields, and what a reading would give."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from operator import attrgetter

from hearthload.domain.measurement import Measurement, MeasurementRecord, Run
from hearthload.domain.meter import Meter
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.estimate.series import Series
from hearthload.estimate.spans import spans_of
from hearthload.service.answers import Complaint, EntryContext, Preview
from hearthload.service.caches import Caches
from hearthload.service.checks import check_reading
from hearthload.service.checks_before import Before, may_concern_before, ran_on_complaint, with_before
from hearthload.service.checks_case import hours_by_clock
from hearthload.service.foreseen import both_expected, foreseen, readings_in_doubt
from hearthload.service.logbook import Logbook
from hearthload.service.placing import Place, place_of, readings_of_run
from hearthload.service.series import snapshot_of
from hearthload.service.spans import span_hours, span_power_w

_COUNTERS = ("energy_kwh", "elapsed_h")
_SPOT_FIELDS = (
    "power_w",
    "voltage_v",
    "current_a",
    "power_factor",
    "highest_power_w",
    "frequency_hz",
    "uses",
    "room_temperature_c",
)


def entry_context(logbook: Logbook, measurement_id: int, at: datetime) -> EntryContext:
    """Give what stands beside the entry form's fields for a reading at a moment."""
    held = logbook.held()
    record = held.record(measurement_id)
    measurement = record.measurement
    run = place_of(record, at).run or (record.runs[-1] if record.runs else None)
    earlier = record.readings[: bisect_right(record.readings, at, key=attrgetter("taken_at"))]
    last = earlier[-1] if earlier else None
    return EntryContext(
        measurement=measurement,
        run=run,
        appliance=held.appliance(measurement.appliance_id),
        meter=held.meters[run.meter_id] if run is not None else _planned_meter(held, measurement),
        last=last,
        last_values=_last_values(earlier, run),
        expected_energy_kwh=both_expected(logbook, record, at)[0],
        expected_elapsed_h=_expected_elapsed(held, record, run, at),
    )


def preview(logbook: Logbook, measurement_id: int, draft: ReadingDraft, now: datetime) -> Preview:
    """Give what a reading would give if it were saved, and what speaks against it."""
    held = logbook.held()
    record = held.record(measurement_id)
    appliance = held.appliance(record.measurement.appliance_id)
    draft = replace(draft, taken_at=draft.taken_at.replace(microsecond=0))
    aware = draft.taken_at.utcoffset() is not None
    place = place_of(record, draft.taken_at) if aware else Place(None)
    expected, or_expected = both_expected(logbook, record, draft.taken_at)
    complaints = check_reading(
        record,
        None if place.run is None else held.meters[place.run.meter_id],
        appliance,
        draft,
        now,
        expected=expected,
        or_expected=or_expected,
        household=held.household,
    )
    if place.is_last and may_concern_before(complaints):
        before_it = _before(logbook, record, place)
        complaints = complaints if before_it is None else with_before(complaints, draft, before_it)
    before = logbook.estimates.estimate(measurement_id) if record.readings else None
    shown = Preview(complaints, None, None, None, before, None)
    if shown.stopped or place.run is None:
        return shown
    return _with_after(
        shown, _longer(logbook.estimates.series(measurement_id), record, place.run, draft), draft
    )


def _with_after(shown: Preview, series: Series, draft: ReadingDraft) -> Preview:
    """Add the estimate with the draft among the readings, and the span that the draft closes."""
    from hearthload.estimate.api import estimate  # noqa: PLC0415 (numpy: when first needed)

    spans = spans_of(series)
    full = replace(shown, after=estimate(series, spans))
    at = draft.taken_at.timestamp()
    span = next((found for found in reversed(spans) if found.to_s == at), None)
    if span is None:
        return full
    hours, power = span_hours(span), span_power_w(span)
    return replace(full, span_energy_kwh=span.energy_kwh, span_h=hours, span_power_w=power)


def _longer(series: Series, record: MeasurementRecord, run: Run, draft: ReadingDraft) -> Series:
    """Give the series with a draft added to its run."""
    runs = list(series.runs)
    place = record.runs.index(run)
    runs[place] = replace(runs[place], snapshots=(*runs[place].snapshots, snapshot_of(draft)))
    return replace(series, runs=tuple(runs))


def _planned_meter(held: Caches, measurement: Measurement) -> Meter | None:
    return None if measurement.meter_id is None else held.meters[measurement.meter_id]


def _last_values(readings: Sequence[Reading], run: Run | None) -> dict[str, float]:
    """Give the last value typed for each field; of the counters only those of the present run."""
    values: dict[str, float] = {}
    present = [] if run is None else [reading for reading in readings if reading.run_id == run.id]
    for fields, told in ((_COUNTERS, present), (_SPOT_FIELDS, readings)):
        for field in fields:
            typed = map(attrgetter(field), reversed(told))
            last = next((value for value in typed if value is not None), None)
            if last is not None:
                values[field] = float(last)
    return values


def correction_complaints(
    logbook: Logbook, reading_id: int, draft: ReadingDraft, now: datetime
) -> tuple[Complaint, ...]:
    """Give what speaks against correcting a reading that way, with the likely fixes."""
    held = logbook.held()
    record = held.record(held.measurement_of_reading(reading_id))
    run = place_of(record, draft.taken_at, ignoring=reading_id).run
    return check_reading(
        record,
        None if run is None else held.meters[run.meter_id],
        held.appliance(record.measurement.appliance_id),
        draft,
        now,
        ignoring=reading_id,
        expected=foreseen(logbook, record, draft.taken_at, frozenset({reading_id})),
        household=held.household,
    )


def reset_complaint(logbook: Logbook, measurement_id: int, draft: ReadingDraft) -> Complaint | None:
    """Give what speaks against calling a reading the first after a reset, None where nothing does."""
    held = logbook.held()
    record = held.record(measurement_id)
    last = record.readings[-1] if record.readings else None
    if last is None or draft.taken_at <= last.taken_at:
        return None
    return ran_on_complaint(last, draft, held.meters[held.runs[last.run_id].meter_id].elapsed_step_h)


def _before(logbook: Logbook, record: MeasurementRecord, place: Place) -> Before | None:
    """Give the reading before a draft, with what the others foresee."""
    if place.run is None or place.before is None:
        return None
    reading, held = place.before, logbook.held()
    mates = [found for found in readings_of_run(record, place.run) if found.taken_at < reading.taken_at]
    meter = held.meters[place.run.meter_id]
    without = frozenset({reading.id, *readings_in_doubt(logbook, record)})

    def expecting(at: datetime) -> Interval | None:
        return foreseen(logbook, record, at, without)

    earlier = mates[-1] if mates else None
    return Before(reading, earlier, expecting, meter.energy_step_kwh, meter.elapsed_step_h)


def _expected_elapsed(
    held: Caches, record: MeasurementRecord, run: Run | None, at: datetime
) -> Interval | None:
    """Give the hours that agree with the clock, from the last reading before then with hours typed."""
    if run is None:
        return None
    known = [
        found
        for found in readings_of_run(record, run)
        if found.elapsed_h is not None and found.taken_at <= at
    ]
    if not known:
        return None
    then = ReadingDraft(taken_at=at, energy_kwh=0.0)
    return hours_by_clock(known[-1], then, held.meters[run.meter_id].elapsed_step_h)

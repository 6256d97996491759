"""Questions that pages and commands ask of a logbook; the answers are frozen values."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from hearthload.domain.appliance import Appliance, Role
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementRecord, MeasurementState, Run
from hearthload.domain.meter import Meter
from hearthload.service.answers import Complaint, MeasurementChoice, MeterRow, ReadingRow, RoundStop, Weight
from hearthload.service.caches import Caches
from hearthload.service.doubts import offered_kind, open_doubts
from hearthload.service.logbook import Logbook
from hearthload.service.queries_chart import chart
from hearthload.service.queries_entry import (
    correction_complaints,
    entry_context,
    preview,
    reset_complaint,
)
from hearthload.service.queries_plans import (
    appliances_not_in_plan,
    plan,
    plan_figures,
    plan_loads,
    plans,
    supplies,
    supply,
)
from hearthload.service.ratings import meter_complaints
from hearthload.service.rooms import room_temperature_c
from hearthload.service.roster_answers import RosterRow
from hearthload.service.spans import closing_spans, span_hours, span_power_w
from hearthload.service.speaking import speaking
from hearthload.service.tidy import name_key

__all__ = [
    "appliances",
    "appliances_not_in_plan",
    "chart",
    "complaints_about_meter",
    "correction_complaints",
    "entry_context",
    "free_meters",
    "household",
    "is_empty",
    "is_measuring_begun",
    "measurements_of",
    "meters",
    "morning_round",
    "next_for_meter",
    "offered_kind",
    "open_doubts",
    "plan",
    "plan_figures",
    "plan_loads",
    "plans",
    "preview",
    "reading_rows",
    "reset_complaint",
    "roster",
    "roster_row",
    "supplies",
    "supply",
]


def household(logbook: Logbook) -> Household:
    """Give the household's settings."""
    return logbook.held().household


def is_empty(logbook: Logbook) -> bool:
    """Tell whether there is neither an appliance nor a meter yet."""
    held = logbook.held()
    return not held.appliances and not held.meters


def appliances(logbook: Logbook) -> tuple[Appliance, ...]:
    """Give the appliances by name."""
    return _appliances(logbook.held())


def is_measuring_begun(logbook: Logbook) -> bool:
    """Tell whether anything was measured or planned yet."""
    return bool(logbook.held().measurements)


def meters(logbook: Logbook) -> tuple[MeterRow, ...]:
    """Give the meters by name, with what each is doing."""
    held = logbook.held()
    return tuple(_meter_row(held, meter) for meter in _by_name(held.meters.values()))


def count_meters(logbook: Logbook) -> int:
    """Give the number of meters."""
    return len(logbook.held().meters)


def free_meters(logbook: Logbook) -> tuple[Meter, ...]:
    """Give the meters that measure nothing now, by name."""
    held = logbook.held()
    busy = {found.meter_id for found in _running(held)}
    return _by_name(meter for meter in held.meters.values() if meter.id not in busy)


def next_for_meter(logbook: Logbook, meter_id: int) -> Appliance | None:
    """Give the appliance that a free meter may go to next, None when the meter is busy or none waits.

    One planned for this meter comes first, then one planned without a meter, then one never measured: the
    essential before the wanted, by name. Hard-wired ones and those that may not be put on it are left out.
    """
    held = logbook.held()
    if any(found.meter_id == meter_id for found in _running(held)):
        return None
    waiting = []
    for appliance in _appliances(held):
        found = speaking(held.measurements_of(appliance.id))
        planned = found is not None and found.state is MeasurementState.PLANNED
        if appliance.hard_wired or not (planned or found is None) or appliance.role is Role.OFF:
            continue
        if planned and found is not None and found.meter_id not in {meter_id, None}:
            continue
        complaints = meter_complaints(held.meters[meter_id], appliance, held.household)
        if not any(complaint.weight is Weight.STOPS for complaint in complaints):
            rank = 2 if found is None else 0 if found.meter_id == meter_id else 1
            waiting.append((rank, appliance.role is not Role.ESSENTIAL, name_key(appliance.name), appliance))
    return min(waiting, key=lambda each: each[:3])[3] if waiting else None


def complaints_about_meter(logbook: Logbook, appliance_id: int, meter_id: int) -> tuple[Complaint, ...]:
    """Say what speaks against putting an appliance on a meter: its load, its voltage, its plug."""
    held = logbook.held()
    return meter_complaints(held.meter(meter_id), held.appliance(appliance_id), held.household)


def roster(logbook: Logbook, now: datetime) -> tuple[RosterRow, ...]:
    """Give every appliance with the measurement that speaks for it and its estimate, by name."""
    held = logbook.held()
    return tuple(_roster_row(logbook, held, appliance, now) for appliance in _appliances(held))


def roster_row(logbook: Logbook, appliance_id: int, now: datetime) -> RosterRow:
    """Give one appliance's row of the roster."""
    held = logbook.held()
    return _roster_row(logbook, held, held.appliance(appliance_id), now)


def morning_round(logbook: Logbook, now: datetime) -> tuple[RoundStop, ...]:
    """Give the measurements under way, room by room."""
    held = logbook.held()
    stops = [_stop(held, measurement, now) for measurement in _running(held)]
    return tuple(sorted(stops, key=lambda stop: (name_key(stop.room), name_key(stop.appliance_name))))


def reading_rows(logbook: Logbook, measurement_id: int) -> tuple[ReadingRow, ...]:
    """Give a measurement's readings, newest first, each with the span it closes."""
    held = logbook.held()
    record = held.record(measurement_id)
    spans = closing_spans(record, logbook.estimates.spans(measurement_id))
    doubts: dict[int, tuple[str, ...]] = {}
    for doubt in open_doubts(logbook, measurement_id):
        if doubt.reading is not None:
            doubts[doubt.reading.id] = (*doubts.get(doubt.reading.id, ()), doubt.sentence)
    runs = {run.id: run for run in record.runs}
    rows = []
    for reading in reversed(record.readings):
        run, span = runs[reading.run_id], spans.get(reading.id)
        timed = span is not None and span.days > 0.0
        rows.append(
            ReadingRow(
                reading=reading,
                run=run,
                meter_name=held.meters[run.meter_id].name,
                span_h=None if span is None else span_hours(span),
                span_energy_kwh=None if span is None else span.energy_kwh,
                span_power_w=None if span is None else span_power_w(span),
                span_daily_kwh=span.energy_kwh / span.days if span is not None and timed else None,
                doubts=doubts.get(reading.id, ()),
            )
        )
    return tuple(rows)


def measurements_of(logbook: Logbook, appliance_id: int) -> tuple[MeasurementChoice, ...]:
    """Give an appliance's measurements, latest entry first."""
    held = logbook.held()
    held.appliance(appliance_id)
    return tuple(_choice(logbook, found) for found in reversed(held.measurements_of(appliance_id)))


def _roster_row(logbook: Logbook, held: Caches, appliance: Appliance, now: datetime) -> RosterRow:
    measurement = speaking(held.measurements_of(appliance.id))
    if measurement is None:
        return RosterRow(appliance, None, None, None, None, None, read_today=False)
    record = held.record(measurement.id)
    speaks = measurement.state is not MeasurementState.SET_ASIDE and bool(record.readings)
    together = logbook.estimates.joined(measurement.id) if speaks and measurement.joined else None
    estimate = together or (logbook.estimates.estimate(measurement.id) if speaks else None)
    return RosterRow(
        appliance=appliance,
        measurement=measurement,
        state=measurement.state,
        meter=None if measurement.meter_id is None else held.meters[measurement.meter_id],
        estimate=estimate,
        last_reading_at=record.readings[-1].taken_at if record.readings else None,
        read_today=_read_today(record, now),
        doubts=len(open_doubts(logbook, measurement.id)) if speaks else 0,
        joined=together is not None,
    )


def _read_today(record: MeasurementRecord, now: datetime) -> bool:
    """Tell whether the last reading is of the local day of the question, by the wall it was typed at."""
    return bool(record.readings) and record.readings[-1].taken_at.date() == now.date()


def _stop(held: Caches, measurement: Measurement, now: datetime) -> RoundStop:
    appliance = held.appliances[measurement.appliance_id]
    meter = None if measurement.meter_id is None else held.meters[measurement.meter_id]
    return RoundStop(
        measurement_id=measurement.id,
        appliance_id=appliance.id,
        appliance_name=appliance.name,
        room=appliance.room,
        meter_name="" if meter is None else meter.name,
        read_today=_read_today(held.record(measurement.id), now),
    )


def _choice(logbook: Logbook, measurement: Measurement) -> MeasurementChoice:
    held = logbook.caches
    record = held.record(measurement.id)
    meter = None if measurement.meter_id is None else held.meters[measurement.meter_id]
    days = [reading.taken_at.date() for reading in record.readings]
    return MeasurementChoice(
        measurement=measurement,
        meter_name="" if meter is None else meter.name,
        readings=len(days),
        first_day=days[0] if days else None,
        last_day=days[-1] if days else None,
        daily_kwh=logbook.estimates.estimate(measurement.id).daily_kwh if days else None,
        room_temperature_c=room_temperature_c(record),
    )


def _meter_row(held: Caches, meter: Meter) -> MeterRow:
    running = next((found for found in _running(held) if found.meter_id == meter.id), None)
    runs = [run for run in held.runs.values() if run.meter_id == meter.id]
    return MeterRow(
        meter=meter,
        running=running,
        appliance_name=None if running is None else held.appliances[running.appliance_id].name,
        since=None if running is None else _came(held.record(running.id).runs, meter.id),
        measurements=len({run.measurement_id for run in runs}),
    )


def _came(runs: Sequence[Run], meter_id: int) -> datetime | None:
    """Say when a meter came to stay: the start of the last runs that are all on it."""
    came = None
    for run in reversed(runs):
        if run.meter_id != meter_id:
            break
        came = run.began_at
    return came


def _appliances(held: Caches) -> tuple[Appliance, ...]:
    return tuple(sorted(held.appliances.values(), key=lambda appliance: name_key(appliance.name)))


def _by_name(found: Iterable[Meter]) -> tuple[Meter, ...]:
    return tuple(sorted(found, key=lambda meter: name_key(meter.name)))


def _running(held: Caches) -> list[Measurement]:
    return [found for found in held.measurements.values() if found.state is MeasurementState.RUNNING]

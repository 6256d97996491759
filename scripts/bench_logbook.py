"""Makes a large logbook quickly: many appliances, each with two years of daily readings on its own meter."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from pathlib import Path

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.measurement import MeasurementState, RunCause
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.meters import add_meter
from hearthload.service.logbook import Edit, Logbook, create_logbook
from hearthload.store.moments import offset_min, utc_text
from hearthload.store.rows import reading_row


def make_large_logbook(path: Path, appliances: int, days: int, last_morning: datetime) -> Logbook:
    """Write the logbook: appliances and meters by their edits, all measurements in one transaction."""
    logbook = create_logbook(path, clock=lambda: last_morning)
    kinds = list(Kind)
    for number in range(appliances):
        add_appliance(
            logbook, ApplianceDraft(f"Appliance {number + 1:02}", kinds[number % len(kinds)], "Hall")
        )
        add_meter(logbook, MeterDraft(f"Meter {number + 1:02}", gain_percent=2.0))
    with logbook.edit("fill the bench logbook") as edit:
        for number in range(appliances):
            _measure(edit, number, days, last_morning)
    return logbook


def _measure(edit: Edit, number: int, days: int, last_morning: datetime) -> None:
    appliance_id, meter_id = list(edit.held.appliances)[number], list(edit.held.meters)[number]
    began_at = last_morning - timedelta(days=days - 1)
    began, offset = utc_text(began_at), offset_min(began_at)
    measurement_id = edit.unit.insert(
        "measurements",
        {
            "appliance_id": appliance_id,
            "meter_id": meter_id,
            "state": MeasurementState.RUNNING.value,
            "started_at": began,
            "started_offset_min": offset,
            "finished_at": None,
            "finished_offset_min": None,
            "room_temperature_c": None,
            "note": "",
            "joined": 0,
        },
    )
    run_id = edit.unit.insert(
        "runs",
        {
            "measurement_id": measurement_id,
            "number": 1,
            "meter_id": meter_id,
            "cause": RunCause.START.value,
            "began_at": began,
            "began_offset_min": offset,
            "exact_start": 1,
        },
    )
    for draft in _mornings(random.Random(number), days, began_at):
        edit.unit.insert("readings", {"run_id": run_id, **reading_row(draft)})


def _mornings(rng: random.Random, days: int, began_at: datetime) -> list[ReadingDraft]:
    """Give a reading each morning, at half past seven give or take, of a load that varies by a fifth."""
    daily_kwh, energy_kwh, drafts, last_h = rng.uniform(0.2, 3.0), 0.0, [], 0.0
    for day in range(days):
        at = began_at + timedelta(days=day, minutes=0 if day == 0 else rng.randint(-15, 15))
        elapsed_h = (at - began_at).total_seconds() / 3600.0
        energy_kwh += daily_kwh * (elapsed_h - last_h) / 24.0 * rng.lognormvariate(0.0, 0.2)
        last_h = elapsed_h
        watts = 80.0 + rng.gauss(0.0, 2.0) if rng.random() < 0.1 else None
        drafts.append(ReadingDraft(at, int(100.0 * energy_kwh) / 100.0, elapsed_h, watts))
    return drafts

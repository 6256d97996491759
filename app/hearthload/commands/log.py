"""`log`: saves one reading of an appliance that is being measured."""

from __future__ import annotations

import argparse
import json
from datetime import datetime
from pathlib import Path

from hearthload.commands.appliances import find_appliance
from hearthload.domain.appliance import Appliance
from hearthload.domain.figures import format_days_to_go, format_ends
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.reading import ReadingDraft
from hearthload.domain.typed import TypedError, parse_duration_h, parse_moment, parse_number
from hearthload.errors import RefusedError
from hearthload.estimate.answers import Estimate
from hearthload.service import queries
from hearthload.service.answers import Complaint
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import Logbook, open_logbook


def run(options: argparse.Namespace) -> int:
    """Save the reading, then say what it gives and what about it is worth a second look."""
    now = datetime.now().astimezone()
    draft = _draft(options, now)
    logbook = open_logbook(Path(options.logbook))
    try:
        appliance = find_appliance(queries.appliances(logbook), options.appliance)
        measurement_id = _running(logbook, appliance)
        preview = queries.preview(logbook, measurement_id, draft, now)
        add_reading(logbook, measurement_id, draft)
    finally:
        logbook.close()
    tell = _print_json if options.json else _print_text
    tell(appliance, draft, preview.complaints, preview.after)
    return 0


def _draft(options: argparse.Namespace, now: datetime) -> ReadingDraft:
    field = "KWH"
    try:
        energy_kwh = parse_number(options.energy)
        field = "HOURS"
        elapsed_h = None if options.hours is None else parse_duration_h(options.hours)
        field = "--at"
        taken_at = parse_moment(options.at, now)
        field = "--watts"
        power_w = None if options.watts is None else parse_number(options.watts)
    except TypedError as error:
        raise RefusedError(f"{field}: {error}", field=field, code=error.code) from None
    return ReadingDraft(taken_at=taken_at, energy_kwh=energy_kwh, elapsed_h=elapsed_h, power_w=power_w)


def _running(logbook: Logbook, appliance: Appliance) -> int:
    """Give the appliance's running measurement, or say what is to be done when there is none."""
    choices = [choice.measurement for choice in queries.measurements_of(logbook, appliance.id)]
    for measurement in choices:
        if measurement.state is MeasurementState.RUNNING:
            return measurement.id
    states = {measurement.state for measurement in choices}
    if MeasurementState.FINISHED in states:
        why = "its measurement is finished: reopen it in the window, or start a new one there"
    else:
        why = "open the logbook in the window, choose the appliance and its meter, and start its measurement"
    raise RefusedError(
        f"{appliance.name} is not being measured now; {why}.", field="appliance", code="not_being_measured"
    )


def _print_text(
    appliance: Appliance, draft: ReadingDraft, complaints: tuple[Complaint, ...], estimate: Estimate | None
) -> None:
    print(f"Saved: {appliance.name}, {draft.energy_kwh:g} kWh at {draft.taken_at:%Y-%m-%d %H:%M}.")
    for complaint in complaints:
        print(f"Worth a second look: {complaint.sentence}")
    if estimate is None or estimate.daily_kwh is None:
        print("One more reading gives its first figure.")
    elif estimate.enough.well_measured:
        print(f"{format_ends(estimate.daily_kwh, 'kWh')} a day, well measured: the meter can move on.")
    else:
        togo = format_days_to_go(estimate.enough.days_to_go)
        print(f"{format_ends(estimate.daily_kwh, 'kWh')} a day; to be well measured: {togo}.")


def _print_json(
    appliance: Appliance, draft: ReadingDraft, complaints: tuple[Complaint, ...], estimate: Estimate | None
) -> None:
    daily = estimate.daily_kwh if estimate else None
    answer = {
        "appliance": appliance.name,
        "taken_at": draft.taken_at.isoformat(),
        "energy_kwh": draft.energy_kwh,
        "elapsed_h": draft.elapsed_h,
        "power_w": draft.power_w,
        "complaints": [
            {"code": one.code, "field": one.field, "sentence": one.sentence} for one in complaints
        ],
        "daily_kwh": daily and {"median": daily.value, "low": daily.low, "high": daily.high},
    }
    print(json.dumps(answer, ensure_ascii=False))

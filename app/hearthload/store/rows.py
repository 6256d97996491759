"""Rows to the domain's values and back, column by column."""

from __future__ import annotations

from typing import Any, Protocol

from hearthload.domain.appliance import Appliance, ApplianceDraft, Cycling, Kind, Role
from hearthload.domain.doubt import Answer
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementState, Run, RunCause
from hearthload.domain.meter import DisplayRounding, Meter, MeterDraft, PowerLoss
from hearthload.domain.reading import Reading, ReadingDraft, RunState
from hearthload.store.images import Row
from hearthload.store.moments import moment_of, offset_min, optional_moment_of, utc_text


class Stored(Protocol):
    """A row as it comes from the file or from an image."""

    def __getitem__(self, column: str, /) -> Any: ...  # noqa: ANN401 (SQLite's values)


HOUSEHOLD_KEY = 1
"""The household has one row."""


def household_row(household: Household) -> Row:
    """Give the columns of the household's row."""
    return {
        "name": household.name,
        "mains_voltage_v": household.mains_voltage_v,
        "mains_frequency_hz": household.mains_frequency_hz,
        "default_plug": household.default_plug,
        "price_per_kwh": household.price_per_kwh,
        "currency": household.currency,
        "note": household.note,
    }


def household_of(row: Stored) -> Household:
    """Give the household from its row."""
    return Household(
        name=row["name"],
        mains_voltage_v=row["mains_voltage_v"],
        mains_frequency_hz=row["mains_frequency_hz"],
        default_plug=row["default_plug"],
        price_per_kwh=row["price_per_kwh"],
        currency=row["currency"],
        note=row["note"],
    )


def appliance_row(draft: ApplianceDraft) -> Row:
    """Give the columns of an appliance's row."""
    return {
        "name": draft.name,
        "kind": draft.kind.value,
        "room": draft.room,
        "role": draft.role.value,
        "plug": draft.plug,
        "voltage_v": draft.voltage_v,
        "nameplate_w": draft.nameplate_w,
        "running_w": draft.running_w,
        "target": draft.target,
        "hard_wired": int(draft.hard_wired),
        "medical": int(draft.medical),
        "note": draft.note,
        "cycling": draft.cycling.value,
    }


def appliance_of(row: Stored) -> Appliance:
    """Give an appliance from its row."""
    return Appliance(
        id=row["id"],
        name=row["name"],
        kind=Kind(row["kind"]),
        room=row["room"],
        role=Role(row["role"]),
        plug=row["plug"],
        voltage_v=row["voltage_v"],
        nameplate_w=row["nameplate_w"],
        running_w=row["running_w"],
        target=row["target"],
        hard_wired=bool(row["hard_wired"]),
        medical=bool(row["medical"]),
        note=row["note"],
        cycling=Cycling(row["cycling"]),
    )


def meter_row(draft: MeterDraft) -> Row:
    """Give the columns of a meter's row."""
    return {
        "name": draft.name,
        "plug": draft.plug,
        "voltage_v": draft.voltage_v,
        "current_a": draft.current_a,
        "energy_step_kwh": draft.energy_step_kwh,
        "elapsed_step_h": draft.elapsed_step_h,
        "gain_percent": draft.gain_percent,
        "power_loss": draft.power_loss.value,
        "rounding": draft.rounding.value,
        "note": draft.note,
    }


def meter_of(row: Stored) -> Meter:
    """Give a meter from its row."""
    return Meter(
        id=row["id"],
        name=row["name"],
        plug=row["plug"],
        voltage_v=row["voltage_v"],
        current_a=row["current_a"],
        energy_step_kwh=row["energy_step_kwh"],
        elapsed_step_h=row["elapsed_step_h"],
        gain_percent=row["gain_percent"],
        power_loss=PowerLoss(row["power_loss"]),
        rounding=DisplayRounding(row["rounding"]),
        note=row["note"],
    )


def measurement_of(row: Stored) -> Measurement:
    """Give a measurement from its row."""
    return Measurement(
        id=row["id"],
        appliance_id=row["appliance_id"],
        meter_id=row["meter_id"],
        state=MeasurementState(row["state"]),
        started_at=optional_moment_of(row["started_at"], row["started_offset_min"]),
        finished_at=optional_moment_of(row["finished_at"], row["finished_offset_min"]),
        room_temperature_c=row["room_temperature_c"],
        note=row["note"],
        joined=bool(row["joined"]),
    )


def answer_of(row: Stored) -> Answer:
    """Give an answer to a doubt from its row."""
    return Answer(
        id=row["id"],
        measurement_id=row["measurement_id"],
        reading_id=row["reading_id"],
        code=row["code"],
        about=row["about"],
        answered_at=moment_of(row["answered_at"], row["answered_offset_min"]),
    )


def run_of(row: Stored) -> Run:
    """Give a run from its row."""
    return Run(
        id=row["id"],
        measurement_id=row["measurement_id"],
        number=row["number"],
        meter_id=row["meter_id"],
        cause=RunCause(row["cause"]),
        began_at=moment_of(row["began_at"], row["began_offset_min"]),
        exact_start=bool(row["exact_start"]),
    )


def reading_row(draft: ReadingDraft) -> Row:
    """Give the columns of a reading's row, its run left out."""
    return {
        "taken_at": utc_text(draft.taken_at),
        "taken_offset_min": offset_min(draft.taken_at),
        "energy_kwh": draft.energy_kwh,
        "elapsed_h": draft.elapsed_h,
        "power_w": draft.power_w,
        "voltage_v": draft.voltage_v,
        "current_a": draft.current_a,
        "power_factor": draft.power_factor,
        "highest_power_w": draft.highest_power_w,
        "frequency_hz": draft.frequency_hz,
        "state": None if draft.state is None else draft.state.value,
        "uses": draft.uses,
        "room_temperature_c": draft.room_temperature_c,
        "note": draft.note,
    }


def reading_of(row: Stored) -> Reading:
    """Give a reading from its row."""
    state = row["state"]
    return Reading(
        id=row["id"],
        run_id=row["run_id"],
        taken_at=moment_of(row["taken_at"], row["taken_offset_min"]),
        energy_kwh=row["energy_kwh"],
        elapsed_h=row["elapsed_h"],
        power_w=row["power_w"],
        voltage_v=row["voltage_v"],
        current_a=row["current_a"],
        power_factor=row["power_factor"],
        highest_power_w=row["highest_power_w"],
        frequency_hz=row["frequency_hz"],
        state=None if state is None else RunState(state),
        uses=row["uses"],
        room_temperature_c=row["room_temperature_c"],
        note=row["note"],
    )

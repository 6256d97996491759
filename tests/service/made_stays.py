"""Stays of a meter laid down by hand for the checks: hours from one fixed morning stand for dates."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from typing import Any

from hearthload.domain.appliance import Appliance, Kind, Role
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementRecord, MeasurementState, Run, RunCause
from hearthload.domain.meter import DisplayRounding, Meter, PowerLoss
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint
from hearthload.service.checks import check_reading

MORNING = datetime(2026, 11, 23, 7, 30, tzinfo=timezone(timedelta(hours=1)))
"""Hour zero of every stay here, a Monday."""

NOW = MORNING + timedelta(days=10)


def at(hours: float) -> datetime:
    """Give the moment so many hours after the first morning."""
    return MORNING + timedelta(hours=hours)


def draft(hours: float, energy_kwh: float, elapsed_h: float | None = None, **spots: Any) -> ReadingDraft:  # noqa: ANN401
    """Give a reading as typed; `spots` are further fields of ReadingDraft."""
    return ReadingDraft(at(hours), energy_kwh, elapsed_h, **spots)


def saved(
    number: int,
    hours: float,
    energy_kwh: float,
    elapsed_h: float | None = None,
    *,
    run: int = 1,
    highest_power_w: float | None = None,
) -> Reading:
    """Give a saved reading."""
    return Reading(
        id=number,
        run_id=run,
        taken_at=at(hours),
        energy_kwh=energy_kwh,
        elapsed_h=elapsed_h,
        power_w=None,
        voltage_v=None,
        current_a=None,
        power_factor=None,
        highest_power_w=highest_power_w,
        frequency_hz=None,
        state=None,
        uses=None,
        room_temperature_c=None,
        note="",
    )


def began(number: int, hours: float, *, exact_start: bool = False) -> Run:
    """Give a run on meter 1 that began at a time."""
    cause = RunCause.START if number == 1 else RunCause.RESET
    return Run(number, 1, number, 1, cause, at(hours), exact_start)


def meter(**differing: Any) -> Meter:  # noqa: ANN401
    """Give a meter with steps of 0.01 kWh and one minute, its limits not known unless said."""
    usual: dict[str, Any] = {
        "id": 1,
        "name": "Grey meter",
        "plug": "unknown",
        "voltage_v": None,
        "current_a": None,
        "energy_step_kwh": 0.01,
        "elapsed_step_h": 1 / 60,
        "gain_percent": None,
        "power_loss": PowerLoss.UNKNOWN,
        "rounding": DisplayRounding.UNKNOWN,
        "note": "",
    }
    return Meter(**usual | differing)


def appliance(**differing: Any) -> Appliance:  # noqa: ANN401
    """Give an appliance of which nothing is known unless said."""
    usual: dict[str, Any] = {
        "id": 1,
        "name": "Larder refrigerator",
        "kind": Kind.REFRIGERATOR,
        "room": "",
        "role": Role.WANTED,
        "plug": "unknown",
        "voltage_v": None,
        "nameplate_w": None,
        "running_w": None,
        "target": None,
        "hard_wired": False,
        "medical": False,
        "note": "",
    }
    return Appliance(**usual | differing)


@dataclass(frozen=True)
class Stay:
    """A measurement and all that a typed reading is held against; the mains are those of a new logbook."""

    readings: tuple[Reading, ...] = ()
    runs: tuple[Run, ...] = (began(1, 0.0),)
    state: MeasurementState = MeasurementState.RUNNING
    finished_at: datetime | None = None
    meter: Meter | None = field(default_factory=meter)
    appliance: Appliance = field(default_factory=appliance)
    household: Household = field(default_factory=Household)

    @property
    def record(self) -> MeasurementRecord:
        """Give the stay as the logbook would."""
        measurement = Measurement(1, 1, 1, self.state, at(0.0), self.finished_at, None, "")
        return MeasurementRecord(measurement, self.runs, self.readings)

    def check(
        self,
        typed: ReadingDraft,
        *,
        now: datetime = NOW,
        ignoring: int | None = None,
        expected: Interval | None = None,
    ) -> tuple[Complaint, ...]:
        """Give what speaks against a typed reading."""
        return check_reading(
            self.record,
            self.meter,
            self.appliance,
            typed,
            now,
            ignoring=ignoring,
            expected=expected,
            household=self.household,
        )


def codes(complaints: Iterable[Complaint]) -> list[str]:
    """Give the codes of complaints in their order."""
    return [complaint.code for complaint in complaints]


def only(complaints: Iterable[Complaint]) -> Complaint:
    """Give the one complaint there is."""
    (complaint,) = complaints
    return complaint


def assert_plain(complaints: Iterable[Complaint]) -> None:
    """Check that each is said in one line of whole sentences, without a word of the machine's."""
    for complaint in complaints:
        said = complaint.sentence
        assert said[0].isupper() or said[0].isdigit() or said[0] == "“", said
        assert said.endswith((".", "?")), said
        assert "\n" not in said
        assert "_" not in said, said
        assert "None" not in said
        assert "nan" not in said.casefold().split(), said

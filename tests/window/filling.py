"""Ways to fill a session's logbook by the program's own edits; days count back from the clock's present."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import Reading, ReadingDraft
from hearthload.service import queries
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import plan_measurement, start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import Logbook
from hearthload.service.roster_answers import RosterRow
from hearthload.store.connecting import connect
from hearthload.store.database import Database
from hearthload.store.loading import Contents
from hearthload.window.session import Session


@dataclass(frozen=True)
class Stay:
    """A measurement with its appliance and the meter that it began on."""

    id: int
    appliance_id: int
    meter_id: int


class House:
    """A session's logbook, and short ways to fill it and to look into it."""

    def __init__(self, session: Session, clock: Callable[[], datetime]) -> None:
        self.session = session
        self.clock = clock

    def ago(self, days: float) -> datetime:
        return self.clock() - timedelta(days=days)

    def appliance(self, name: str = "Larder box", kind: Kind = Kind.REFRIGERATOR, **noted: Any) -> int:  # noqa: ANN401
        return created(self.session.do(add_appliance, ApplianceDraft(name, kind, **noted)))

    def meter(self, name: str = "Grey meter", **noted: Any) -> int:  # noqa: ANN401
        return created(self.session.do(add_meter, MeterDraft(name, **noted)))

    def planned(self, appliance_id: int, meter_id: int | None = None) -> int:
        return created(self.session.do(plan_measurement, appliance_id, meter_id))

    def started(
        self, appliance_id: int, meter_id: int, days_ago: float = 1.0, energy_kwh: float = 0.0
    ) -> int:
        """Start a measurement; a counter at zero is one that was just set to zero."""
        zero = energy_kwh == 0.0
        first = ReadingDraft(self.ago(days_ago), energy_kwh, 0.0 if zero else None)
        return created(self.session.do(start_measurement, appliance_id, meter_id, first, exact_zero=zero))

    def read(
        self,
        measurement_id: int,
        days_ago: float,
        energy_kwh: float,
        elapsed_h: float | None = None,
        **spots: Any,  # noqa: ANN401
    ) -> int:
        draft = ReadingDraft(self.ago(days_ago), energy_kwh, elapsed_h, **spots)
        return created(self.session.do(add_reading, measurement_id, draft))

    def measured(
        self,
        name: str = "Larder box",
        *,
        days: int = 5,
        daily_kwh: float = 1.0,
        until: int = 1,
        **noted: Any,  # noqa: ANN401
    ) -> Stay:
        """Give an appliance on a meter of its own, read on so many mornings after an exact zero.

        The last of them is `until` days ago: with one, today's reading is still to be typed.
        """
        appliance_id = self.appliance(name, **noted)
        meter_id = self.meter(f"Meter of {name}")
        stay = self.started(appliance_id, meter_id, days_ago=days + until)
        for day in range(1, days + 1):
            self.read(stay, days + until - day, daily_kwh * day, 24.0 * day)
        return Stay(stay, appliance_id, meter_id)

    def row(self, appliance_id: int) -> RosterRow:
        return queries.roster_row(self.session.logbook, appliance_id, self.clock())

    def readings(self, measurement_id: int) -> list[Reading]:
        """Give a measurement's readings, the oldest first."""
        rows = queries.reading_rows(self.session.logbook, measurement_id)
        return [row.reading for row in reversed(rows)]

    def energies(self, measurement_id: int) -> list[float]:
        return [reading.energy_kwh for reading in self.readings(measurement_id)]

    def states(self, appliance_id: int) -> list[MeasurementState]:
        """Give the states of an appliance's measurements, the latest first."""
        found = queries.measurements_of(self.session.logbook, appliance_id)
        return [choice.measurement.state for choice in found]


def created(changes: Changes | None) -> int:
    """Give the number of what an edit added."""
    assert changes is not None
    assert changes.created_id is not None
    return changes.created_id


def reopen_read_only(session: Session) -> None:
    """Open the session's logbook again as one that may only be looked at.

    By SQLite's own means, not by file modes: those say nothing to root, who runs the tests in containers.
    """
    path = session.logbook.path
    session.close()
    database = Database(path, connect(path, "ro"), read_only=True)
    session.attach(Logbook(database, Caches(Contents(database)), session.now))

"""A logbook in a real file with appliances, meters and readings laid down by the program's own edits."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.meter import MeterDraft
from hearthload.service import queries
from hearthload.service.changes import Changes
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import Logbook, create_logbook
from hearthload.service.roster_answers import RosterRow
from tests.service.made_stays import NOW, draft


def created(changes: Changes) -> int:
    """Give the number of what an edit added."""
    assert changes.created_id is not None
    return changes.created_id


class Household:
    """An open logbook, and short ways to fill it; times are hours after `made_stays.MORNING`."""

    def __init__(self, logbook: Logbook) -> None:
        self.logbook = logbook

    def appliance(self, name: str, kind: Kind = Kind.REFRIGERATOR, **noted: Any) -> int:  # noqa: ANN401
        """Add an appliance."""
        return created(add_appliance(self.logbook, ApplianceDraft(name, kind, **noted)))

    def meter(self, name: str, **noted: Any) -> int:  # noqa: ANN401
        """Add a meter."""
        return created(add_meter(self.logbook, MeterDraft(name, **noted)))

    def start(
        self,
        appliance_id: int,
        meter_id: int,
        hours: float,
        energy_kwh: float = 0.0,
        elapsed_h: float | None = None,
        *,
        exact_zero: bool = False,
    ) -> int:
        """Start a measurement."""
        first = draft(hours, energy_kwh, elapsed_h)
        return created(start_measurement(self.logbook, appliance_id, meter_id, first, exact_zero=exact_zero))

    def read(
        self,
        measurement_id: int,
        hours: float,
        energy_kwh: float,
        elapsed_h: float | None = None,
        **spots: Any,  # noqa: ANN401
    ) -> int:
        """Add a reading."""
        return created(
            add_reading(self.logbook, measurement_id, draft(hours, energy_kwh, elapsed_h, **spots))
        )

    def measured(self, name: str, *energies_kwh: float, kind: Kind = Kind.REFRIGERATOR) -> int:
        """Add an appliance with a meter of its own, read every morning from the first."""
        first, *later = energies_kwh
        stay = self.start(self.appliance(name, kind), self.meter(f"Meter of {name}"), 0.0, first)
        for day, energy_kwh in enumerate(later, start=1):
            self.read(stay, 24.0 * day, energy_kwh)
        return stay

    def row(self, appliance_id: int) -> RosterRow:
        """Give an appliance's row of the roster."""
        return queries.roster_row(self.logbook, appliance_id, NOW)


@contextmanager
def opened(folder: Path) -> Iterator[Household]:
    """Open a new logbook in a folder, its clock standing at `made_stays.NOW`."""
    with create_logbook(folder / "home.hearthload", clock=lambda: NOW) as logbook:
        yield Household(logbook)

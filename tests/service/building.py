"""A small household for tests of edits and history: a clock set by hand, and looks at the file itself."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.meter import MeterDraft
from hearthload.domain.plan import PlanDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import plan_measurement, start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.plans import add_plan
from hearthload.service.edits.readings import add_reading
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import Logbook, create_logbook, open_logbook
from tests.store.files import dump, journal_lines, kept_rows, rows_by_journal

ZONE = timezone(timedelta(hours=1))
START = datetime(2025, 3, 3, 7, 30, tzinfo=ZONE)
"""A Monday morning, on which the measurements of these tests begin."""

Line = tuple[str, str, int, str]
"""A line of the journal: the edit's name, the table, the key, and "added", "changed" or "removed"."""


def on_day(day: float, *, minutes: float = 0.0, seconds: float = 0.0) -> datetime:
    """Give the moment so many days after the start."""
    return START + timedelta(days=day, minutes=minutes, seconds=seconds)


def read_on(day: float, energy_kwh: float, elapsed_h: float | None = None, **spots: Any) -> ReadingDraft:  # noqa: ANN401
    """Give a reading taken so many days after the start."""
    return ReadingDraft(on_day(day), energy_kwh, elapsed_h, **spots)


def number_of(changes: Changes) -> int:
    """Give the number of what an edit added."""
    assert changes.created_id is not None
    return changes.created_id


@dataclass
class Clock:
    """A clock that stands until it is set: a month after the start."""

    now: datetime = field(default_factory=lambda: on_day(30))

    def __call__(self) -> datetime:
        return self.now


@dataclass
class House:
    """An open logbook with the clock that it goes by, and short ways to fill it."""

    logbook: Logbook
    clock: Clock

    @property
    def path(self) -> Path:
        return self.logbook.path

    @property
    def held(self) -> Caches:
        return self.logbook.held()

    def record(self, measurement_id: int) -> MeasurementRecord:
        return self.held.record(measurement_id)

    def appliance(self, name: str = "Router", kind: Kind = Kind.ALWAYS_ON, **fields: Any) -> int:  # noqa: ANN401
        return number_of(add_appliance(self.logbook, ApplianceDraft(name, kind, **fields)))

    def meter(self, name: str = "Grey meter", **fields: Any) -> int:  # noqa: ANN401
        return number_of(add_meter(self.logbook, MeterDraft(name, **fields)))

    def planned(self, appliance_id: int, meter_id: int | None = None) -> int:
        return number_of(plan_measurement(self.logbook, appliance_id, meter_id))

    def started(self, appliance_id: int, meter_id: int, day: float = 0.0, energy_kwh: float = 0.0) -> int:
        """Start a measurement: from an exact zero when it starts at zero."""
        first = read_on(day, energy_kwh)
        zero = energy_kwh == 0.0
        return number_of(start_measurement(self.logbook, appliance_id, meter_id, first, exact_zero=zero))

    def read(self, measurement_id: int, day: float, energy_kwh: float, elapsed_h: float | None = None) -> int:
        return number_of(add_reading(self.logbook, measurement_id, read_on(day, energy_kwh, elapsed_h)))

    def measured(self, name: str = "Router", meter: str = "Grey meter", day: float = 0.0) -> int:
        """Give a measurement of a new appliance on a new meter: an exact zero and one reading a day later."""
        measurement_id = self.started(self.appliance(name), self.meter(meter), day)
        self.read(measurement_id, day + 1, 0.31)
        return measurement_id

    def plan(self, name: str = "Storm", **fields: Any) -> int:  # noqa: ANN401
        return number_of(add_plan(self.logbook, PlanDraft(name, **fields)))

    def supply(self, name: str = "Hall battery", kind: SupplyKind = SupplyKind.BATTERY, **fields: Any) -> int:  # noqa: ANN401
        return number_of(add_supply(self.logbook, SupplyDraft(name, kind, **fields)))

    @contextmanager
    def refuses(self, code: str, field_: str) -> Iterator[None]:
        """Check that an edit is refused by one sentence, and that nothing of it is kept anywhere."""
        before, cached, name = dump(self.path), contents(self.held), self.logbook.history.undo_name
        with pytest.raises(RefusedError) as caught:
            yield
        sentence = str(caught.value)
        assert (caught.value.code, caught.value.field) == (code, field_), sentence
        assert not sentence[0].islower()
        assert sentence[-1] in ".?!"
        assert "\n" not in sentence
        assert dump(self.path) == before
        assert contents(self.held) == cached
        assert self.logbook.history.undo_name == name

    def journaled(self, edit: Callable[[], Changes]) -> tuple[Changes, list[Line]]:
        """Make an edit; give what it told and the lines that it added to the journal."""
        before = journal_lines(self.path)
        changes = edit()
        after = journal_lines(self.path)
        assert after[: len(before)] == before
        assert rows_by_journal(self.path) == kept_rows(self.path)
        return changes, [said(line) for line in after[len(before) :]]


def said(line: tuple[Any, ...]) -> Line:
    """Shorten a line of the journal."""
    _, edit, _, _, table, key, before, after = line
    word = "added" if before is None else "removed" if after is None else "changed"
    return edit, table, key, word


def contents(caches: Caches) -> dict[str, Any]:
    """Give all that caches hold, readings included, for comparing them with others."""
    return {
        "household": caches.household,
        "appliances": dict(sorted(caches.appliances.items())),
        "meters": dict(sorted(caches.meters.items())),
        "measurements": dict(sorted(caches.measurements.items())),
        "runs": dict(sorted(caches.runs.items())),
        "answers": dict(sorted(caches.answers.items())),
        "plans": dict(sorted(caches.plans.items())),
        "plan_loads": dict(sorted(caches.plan_loads.items())),
        "plan_figures": dict(sorted(caches.plan_figures.items())),
        "supplies": dict(sorted(caches.supplies.items())),
        "memberships": dict(sorted(caches.memberships.items())),
        "records": {number: caches.record(number) for number in sorted(caches.measurements)},
        "of": {number: caches.measurements_of(number) for number in sorted(caches.appliances)},
    }


@cache
def empty_file() -> bytes:
    """Give the file of a fresh logbook; made once, as making one takes longer than opening it."""
    return furnished(lambda _: None)


def furnished(furnish: Callable[[House], object]) -> bytes:
    """Give the file of a logbook with something in it, for tests that all begin with the same."""
    clock = Clock()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.hearthload"
        with create_logbook(path, Household(name="Mill lane"), clock=clock) as logbook:
            furnish(House(logbook, clock))
        return path.read_bytes()


@contextmanager
def a_house(folder: Path, file: bytes | None = None) -> Iterator[House]:
    """Open a fresh logbook in a folder, or one that was furnished before."""
    path, clock = folder / "home.hearthload", Clock()
    path.write_bytes(empty_file() if file is None else file)
    with open_logbook(path, clock=clock) as logbook:
        yield House(logbook, clock)

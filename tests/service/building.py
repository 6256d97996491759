"""A small household for tests of edits and history: a clock set by hand, and looks at the file itself."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import strategies as st

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.doubt import DoubtCode
from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.changes import Changes
from hearthload.service.edits import appliances, household, measurements, meters, readings, settling
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import plan_measurement, start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.readings import add_reading
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


@dataclass(frozen=True)
class Throw:
    """A random edit: which one, and the dice that say on what; many are refused, as they should be."""

    edit: str
    one: int
    other: int
    day: int
    energy_kwh: float | None
    yes: bool


NAMES = ("Router", "Lamp", "ROUTER", "Oven")
NOBODY = 99
LARGEST_DIE = 11


def picked(numbers: Collection[int], die: int) -> int:
    """Pick one of the numbers that there are, or once in a while one that is not there."""
    return sorted(numbers)[die % len(numbers)] if numbers and die != LARGEST_DIE else NOBODY


def throws() -> st.SearchStrategy[Throw]:
    """Draw random edits, mornings' readings more often than others."""
    often = ["add_reading"] * 6 + ["start_measurement", "reset_meter", "swap_meter", "remove_reading"] * 3
    edits = [*often, *THROWN, *(edit for edit in THROWN if not edit.startswith("remove_"))]
    return st.builds(
        Throw,
        edit=st.sampled_from(edits),
        one=st.integers(0, LARGEST_DIE),
        other=st.integers(0, LARGEST_DIE),
        day=st.integers(0, 60),
        energy_kwh=st.none() | st.floats(0.0, 20.0).map(lambda value: round(value, 2)),
        yes=st.booleans(),
    )


def thrown(logbook: Logbook, throw: Throw) -> Changes:
    """Make a random edit."""
    return THROWN[throw.edit](logbook, throw)


def _appliance(throw: Throw) -> ApplianceDraft:
    heavy = 9_999.0 if throw.day % 7 == 0 else None
    kind = Kind.PUMP if throw.yes else Kind.ALWAYS_ON
    wired = throw.day % 5 == 0
    return ApplianceDraft(NAMES[throw.other % 4], kind, nameplate_w=heavy, hard_wired=wired)


def _meter(throw: Throw) -> MeterDraft:
    return MeterDraft(NAMES[throw.other % 4], energy_step_kwh=0.001 if throw.yes else 0.01)


def _reading(throw: Throw) -> ReadingDraft:
    """Give a reading of some half day; its counter mostly stands where the day says."""
    energy = 0.15 * throw.day if throw.energy_kwh is None else throw.energy_kwh
    return ReadingDraft(_moment(throw), energy, note="again" if throw.yes else "")


def _first(throw: Throw) -> ReadingDraft:
    return ReadingDraft(_moment(throw), 0.0 if throw.yes or throw.energy_kwh is None else throw.energy_kwh)


def _moment(throw: Throw) -> datetime:
    """Give some half day, the seconds differing: readings are told apart by the minute."""
    return on_day(throw.day / 2, seconds=20.0 * (throw.other % 3))


def _start(logbook: Logbook, throw: Throw) -> Changes:
    held = logbook.held()
    plans = [key for key, found in held.measurements.items() if found.started_at is None]
    plan = picked(plans, throw.other) if throw.energy_kwh is not None else None
    appliance_id = picked(held.appliances, throw.one)
    if plan is not None and plan != NOBODY:
        appliance_id = held.measurement(plan).appliance_id
    meter_id = picked(held.meters, throw.other)
    first, zero = _first(throw), throw.yes
    return start_measurement(logbook, appliance_id, meter_id, first, exact_zero=zero, measurement_id=plan)


def _plan(logbook: Logbook, throw: Throw) -> Changes:
    held = logbook.held()
    meter_id = picked(held.meters, throw.other) if throw.yes else None
    return plan_measurement(logbook, picked(held.appliances, throw.one), meter_id)


def _measurement_id(logbook: Logbook, throw: Throw) -> int:
    return picked(logbook.held().measurements, throw.one)


def _reading_id(logbook: Logbook, throw: Throw) -> int:
    record = logbook.held().record(_measurement_id(logbook, throw))
    return picked([reading.id for reading in record.readings], throw.day)


def _swap(logbook: Logbook, throw: Throw) -> Changes:
    number, meter_id = _measurement_id(logbook, throw), picked(logbook.held().meters, throw.other)
    return measurements.swap_meter(logbook, number, meter_id, _first(throw), exact_zero=throw.yes)


THROWN: dict[str, Callable[[Logbook, Throw], Changes]] = {
    "add_appliance": lambda logbook, throw: add_appliance(logbook, _appliance(throw)),
    "change_appliance": lambda logbook, throw: appliances.change_appliance(
        logbook, picked(logbook.held().appliances, throw.one), _appliance(throw)
    ),
    "take_as_kind": lambda logbook, throw: appliances.take_as_kind(
        logbook, picked(logbook.held().appliances, throw.one), Kind.PUMP if throw.yes else Kind.FREEZER
    ),
    "remove_appliance": lambda logbook, throw: appliances.remove_appliance(
        logbook, picked(logbook.held().appliances, throw.one)
    ),
    "add_meter": lambda logbook, throw: add_meter(logbook, _meter(throw)),
    "change_meter": lambda logbook, throw: meters.change_meter(
        logbook, picked(logbook.held().meters, throw.one), _meter(throw)
    ),
    "remove_meter": lambda logbook, throw: meters.remove_meter(
        logbook, picked(logbook.held().meters, throw.one)
    ),
    "set_household": lambda logbook, throw: household.set_household(
        logbook, Household(name=NAMES[throw.other % 4])
    ),
    "plan_measurement": _plan,
    "start_measurement": _start,
    "reset_meter": lambda logbook, throw: measurements.reset_meter(
        logbook, _measurement_id(logbook, throw), _first(throw), exact_zero=throw.yes
    ),
    "swap_meter": _swap,
    "finish_measurement": lambda logbook, throw: measurements.finish_measurement(
        logbook, _measurement_id(logbook, throw), _moment(throw)
    ),
    "reopen_measurement": lambda logbook, throw: measurements.reopen_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "set_aside_measurement": lambda logbook, throw: measurements.set_aside_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "remove_measurement": lambda logbook, throw: measurements.remove_measurement(
        logbook, _measurement_id(logbook, throw)
    ),
    "describe_measurement": lambda logbook, throw: measurements.describe_measurement(
        logbook, _measurement_id(logbook, throw), room_temperature_c=float(throw.day), note=""
    ),
    "join_measurement": lambda logbook, throw: settling.join_measurement(
        logbook, _measurement_id(logbook, throw), joined=throw.yes
    ),
    "answer_doubt": lambda logbook, throw: settling.answer_doubt(
        logbook,
        _measurement_id(logbook, throw),
        DoubtCode.ODD_READING,
        _reading_id(logbook, throw) if throw.yes else None,
    ),
    "add_reading": lambda logbook, throw: add_reading(
        logbook, _measurement_id(logbook, throw), _reading(throw)
    ),
    "change_reading": lambda logbook, throw: readings.change_reading(
        logbook, _reading_id(logbook, throw), _reading(throw)
    ),
    "remove_reading": lambda logbook, throw: readings.remove_reading(logbook, _reading_id(logbook, throw)),
}

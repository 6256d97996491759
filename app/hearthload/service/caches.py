"""What the logbook holds, kept in memory and patched from the images of each edit."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Protocol, TypeVar

from hearthload.domain.appliance import Appliance
from hearthload.domain.doubt import Answer
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, MeasurementRecord, MeasurementState, Run
from hearthload.domain.meter import Meter
from hearthload.domain.plan import Plan, PlanFigure, PlanLoad
from hearthload.domain.reading import Reading
from hearthload.domain.supply import Supply
from hearthload.errors import RefusedError
from hearthload.store import plan_rows, rows
from hearthload.store.images import RowImage
from hearthload.store.plan_rows import Membership

if TYPE_CHECKING:
    from hearthload.store.loading import Contents


class _Numbered(Protocol):
    @property
    def id(self) -> int: ...


Value = TypeVar("Value")
Numbered = TypeVar("Numbered", bound=_Numbered)


class Caches:
    """All but the readings, which are kept measurement by measurement once they were asked for.

    A changed row replaces its own value only, so whatever stayed the same is the same object as before.
    `reloads` counts how often another program's changes were read.
    """

    def __init__(self, contents: Contents) -> None:
        self._contents = contents
        self.reloads = 0
        self.reload()

    def reload(self) -> None:
        """Read everything anew, readings when they are next asked for."""
        self._version = self._contents.version()
        with self._contents.steady():
            self.household: Household = self._contents.household()
            self.appliances: dict[int, Appliance] = _by_id(self._contents.appliances())
            self.meters: dict[int, Meter] = _by_id(self._contents.meters())
            self.measurements: dict[int, Measurement] = _by_id(self._contents.measurements())
            self.runs: dict[int, Run] = _by_id(self._contents.runs())
            self.answers: dict[int, Answer] = _by_id(self._contents.answers())
            self.plans: dict[int, Plan] = _by_id(self._contents.plans())
            self.plan_loads: dict[int, PlanLoad] = _by_id(self._contents.plan_loads())
            self.plan_figures: dict[int, PlanFigure] = _by_id(self._contents.plan_figures())
            self.supplies: dict[int, Supply] = _by_id(self._contents.supplies())
            self.memberships: dict[int, Membership] = _by_id(self._contents.memberships())
        self._readings: dict[int, tuple[Reading, ...]] = {}
        self._records: dict[int, MeasurementRecord] = {}
        self._group()
        self._give_members(self.supplies)

    def refresh(self) -> bool:
        """Read anew when another program changed the file; tell whether it did."""
        if self._contents.version() == self._version:
            return False
        self.reload()
        self.reloads += 1
        return True

    def appliance(self, appliance_id: int) -> Appliance:
        """Give an appliance by its number, refusing one that is not there."""
        return _found(self.appliances, appliance_id, "appliance")

    def meter(self, meter_id: int) -> Meter:
        """Give a meter by its number, refusing one that is not there."""
        return _found(self.meters, meter_id, "meter")

    def measurement(self, measurement_id: int) -> Measurement:
        """Give a measurement by its number, refusing one that is not there."""
        return _found(self.measurements, measurement_id, "measurement")

    def plan(self, plan_id: int) -> Plan:
        """Give an outage plan by its number, refusing one that is not there."""
        return _found(self.plans, plan_id, "plan")

    def supply(self, supply_id: int) -> Supply:
        """Give a supply by its number, refusing one that is not there."""
        return _found(self.supplies, supply_id, "supply")

    def loads_of(self, plan_id: int) -> tuple[PlanLoad, ...]:
        """Give a plan's loads, oldest entry first."""
        return _in_order(found for found in self.plan_loads.values() if found.plan_id == plan_id)

    def figures_of(self, plan_id: int) -> tuple[PlanFigure, ...]:
        """Give the figures that were set for a plan, oldest entry first."""
        return _in_order(found for found in self.plan_figures.values() if found.plan_id == plan_id)

    def combinations_with(self, supply_id: int) -> tuple[Supply, ...]:
        """Give the combinations that a supply is a member of, oldest entry first."""
        return _in_order(found for found in self.supplies.values() if supply_id in found.draft.members)

    def measurements_of(self, appliance_id: int) -> tuple[Measurement, ...]:
        """Give an appliance's measurements, oldest entry first."""
        return self._measurements_of.get(appliance_id, ())

    def earlier_than(self, measurement_id: int) -> Measurement | None:
        """Give the appliance's measurement before this one that has readings and is not set aside."""
        measurement = self.measurement(measurement_id)
        if measurement.started_at is None:
            return None
        earlier = [
            (found.started_at, found.id)
            for found in self.measurements_of(measurement.appliance_id)
            if found.started_at is not None
            and found.started_at < measurement.started_at
            and found.state in {MeasurementState.RUNNING, MeasurementState.FINISHED}
        ]
        return self.measurements[max(earlier)[1]] if earlier else None

    def answers_about(self, measurement_id: int) -> tuple[Answer, ...]:
        """Give her answers about a measurement."""
        return tuple(found for found in self.answers.values() if found.measurement_id == measurement_id)

    def record(self, measurement_id: int) -> MeasurementRecord:
        """Give a measurement with its runs and readings; the same object until something of it changes."""
        record = self._records.get(measurement_id)
        if record is None:
            measurement = self.measurement(measurement_id)
            runs = self._runs_of.get(measurement_id, ())
            record = MeasurementRecord(measurement, runs, self._readings_of(measurement_id))
            self._records[measurement_id] = record
        return record

    def measurement_of_reading(self, reading_id: int) -> int:
        """Give the number of the measurement that a reading belongs to, refusing one that is not there."""
        run_id = self._contents.run_of_reading(reading_id)
        if run_id is None:
            raise _unknown("reading", reading_id)
        return self.runs[run_id].measurement_id

    def absorb(self, images: Sequence[RowImage]) -> None:
        """Take over what an edit changed."""
        owners = run_owners(self.runs, images)
        fresh: dict[int, dict[int, Reading | None]] = {}
        for image in images:
            if image.table == "readings":
                reading = None if image.after is None else rows.reading_of(image.after)
                fresh.setdefault(owners[standing(image)["run_id"]], {})[image.key] = reading
            else:
                self._patch(image)
        if any(image.table in {"measurements", "runs"} for image in images):
            self._group()
        if any(image.table in {"supplies", "supply_members"} for image in images):
            self._give_members(_supplies_named(images))
        for measurement_id, changed in fresh.items():
            self._patch_readings(measurement_id, changed)

    def _patch(self, image: RowImage) -> None:
        row = image.after
        if image.table == "household" and row is not None:
            self.household = rows.household_of(row)
        elif image.table in _KEPT:
            name, value_of = _KEPT[image.table]
            _put(getattr(self, name), image.key, row, value_of)
        if image.table == "measurements":
            self._records.pop(image.key, None)
        elif image.table == "runs":
            self._records.pop(standing(image)["measurement_id"], None)

    def _patch_readings(self, measurement_id: int, changed: Mapping[int, Reading | None]) -> None:
        self._records.pop(measurement_id, None)
        known = self._readings.pop(measurement_id, None)
        if known is not None and measurement_id in self.measurements:
            kept = [reading for reading in known if reading.id not in changed]
            kept.extend(reading for reading in changed.values() if reading is not None)
            self._readings[measurement_id] = self._in_order(kept)

    def _readings_of(self, measurement_id: int) -> tuple[Reading, ...]:
        readings = self._readings.get(measurement_id)
        if readings is None:
            readings = self._in_order(self._contents.readings(measurement_id))
            self._readings[measurement_id] = readings
        return readings

    def _in_order(self, readings: list[Reading]) -> tuple[Reading, ...]:
        # Within the minute of a reset the old run's readings come first, whatever the seconds say.
        number = {run_id: self.runs[run_id].number for run_id in {reading.run_id for reading in readings}}
        return tuple(sorted(readings, key=lambda reading: (number[reading.run_id], reading.taken_at)))

    def _give_members(self, supply_ids: Iterable[int]) -> None:
        for supply_id in list(supply_ids):
            supply = self.supplies.get(supply_id)
            if supply is not None:
                self.supplies[supply_id] = plan_rows.with_members(supply, self.memberships.values())

    def _group(self) -> None:
        self._runs_of = _grouped(
            sorted(self.runs.values(), key=lambda run: run.number), lambda run: run.measurement_id
        )
        self._measurements_of = _grouped(
            sorted(self.measurements.values(), key=lambda found: found.id), lambda found: found.appliance_id
        )


_KEPT: Mapping[str, tuple[str, Callable[[rows.Stored], Any]]] = {
    "appliances": ("appliances", rows.appliance_of),
    "meters": ("meters", rows.meter_of),
    "measurements": ("measurements", rows.measurement_of),
    "runs": ("runs", rows.run_of),
    "answers": ("answers", rows.answer_of),
    "plans": ("plans", plan_rows.plan_of),
    "plan_loads": ("plan_loads", plan_rows.plan_load_of),
    "plan_figures": ("plan_figures", plan_rows.plan_figure_of),
    "supplies": ("supplies", plan_rows.supply_of),
    "supply_members": ("memberships", plan_rows.membership_of),
}
"""Of each table: the attribute of the caches that holds its rows by number, and how a row becomes a value."""


def standing(image: RowImage) -> Mapping[str, Any]:
    """Give a changed row as it stands now, or as it stood when it is gone."""
    row = image.before if image.after is None else image.after
    return {} if row is None else row


def run_owners(runs: Mapping[int, Run], images: Iterable[RowImage]) -> dict[int, int]:
    """Say which measurement each run belongs to, runs that the images add or take away included."""
    owners = {key: run.measurement_id for key, run in runs.items()}
    owners.update((image.key, standing(image)["measurement_id"]) for image in images if image.table == "runs")
    return owners


def _supplies_named(images: Iterable[RowImage]) -> set[int]:
    """Give the supplies that images concern, combinations of changed members included."""
    direct = {image.key for image in images if image.table == "supplies"}
    return direct | {standing(image)["supply_id"] for image in images if image.table == "supply_members"}


def _by_id(values: Iterable[Numbered]) -> dict[int, Numbered]:
    return {value.id: value for value in values}


def _in_order(values: Iterable[Numbered]) -> tuple[Numbered, ...]:
    return tuple(sorted(values, key=lambda value: value.id))


def _grouped(values: Iterable[Value], key: Callable[[Value], int]) -> dict[int, tuple[Value, ...]]:
    groups: dict[int, list[Value]] = {}
    for value in values:
        groups.setdefault(key(value), []).append(value)
    return {number: tuple(group) for number, group in groups.items()}


def _put(
    kept: dict[int, Value], key: int, row: Mapping[str, Any] | None, value_of: Callable[[rows.Stored], Value]
) -> None:
    if row is None:
        kept.pop(key, None)
    else:
        kept[key] = value_of(row)


def _found(kept: Mapping[int, Value], key: int, what: str) -> Value:
    value = kept.get(key)
    if value is None:
        raise _unknown(what, key)
    return value


def _unknown(what: str, key: int) -> RefusedError:
    return RefusedError(
        f"There is no {what} number {key} in this logbook.", field=f"{what}_id", code=f"unknown_{what}"
    )

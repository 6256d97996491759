"""Reading a logbook's rows as values of the domain."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import TypeVar

from sqlalchemy import Connection, Select, select

from hearthload.domain.appliance import Appliance
from hearthload.domain.doubt import Answer
from hearthload.domain.household import Household
from hearthload.domain.measurement import Measurement, Run
from hearthload.domain.meter import Meter
from hearthload.domain.plan import Plan, PlanFigure, PlanLoad
from hearthload.domain.reading import Reading
from hearthload.domain.supply import Supply
from hearthload.store import plan_rows, rows, tables
from hearthload.store.database import Database
from hearthload.store.faults import LogbookError
from hearthload.store.plan_rows import Membership

Value = TypeVar("Value")
Loaded = Select[tuple[object, ...]]


class Contents:
    """What an open logbook file holds, as values."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def version(self) -> int:
        """Give a number that changes whenever another program changes the file."""
        return self._database.version()

    def steady(self) -> AbstractContextManager[Connection]:
        """Hold the contents still while several things are read."""
        return self._database.reading()

    def household(self) -> Household:
        """Read the household's settings."""
        return self._values(select(tables.household), rows.household_of)[0]

    def appliances(self) -> list[Appliance]:
        """Read all appliances."""
        return self._values(select(tables.appliances), rows.appliance_of)

    def meters(self) -> list[Meter]:
        """Read all meters."""
        return self._values(select(tables.meters), rows.meter_of)

    def measurements(self) -> list[Measurement]:
        """Read all measurements."""
        return self._values(select(tables.measurements), rows.measurement_of)

    def runs(self) -> list[Run]:
        """Read all runs."""
        return self._values(select(tables.runs), rows.run_of)

    def answers(self) -> list[Answer]:
        """Read all answers to doubts."""
        return self._values(select(tables.answers), rows.answer_of)

    def plans(self) -> list[Plan]:
        """Read all outage plans."""
        return self._values(select(tables.plans), plan_rows.plan_of)

    def plan_loads(self) -> list[PlanLoad]:
        """Read the loads of all plans."""
        return self._values(select(tables.plan_loads), plan_rows.plan_load_of)

    def plan_figures(self) -> list[PlanFigure]:
        """Read the figures that were set for plans."""
        return self._values(select(tables.plan_figures), plan_rows.plan_figure_of)

    def supplies(self) -> list[Supply]:
        """Read all supplies, without the members of combinations."""
        return self._values(select(tables.supplies), plan_rows.supply_of)

    def memberships(self) -> list[Membership]:
        """Read which supplies are members of which combinations."""
        return self._values(select(tables.supply_members), plan_rows.membership_of)

    def readings(self, measurement_id: int) -> list[Reading]:
        """Read the readings of one measurement."""
        readings, runs = tables.readings, tables.runs
        joined = select(readings).join(runs, runs.c.id == readings.c.run_id)
        return self._values(joined.where(runs.c.measurement_id == measurement_id), rows.reading_of)

    def run_of_reading(self, reading_id: int) -> int | None:
        """Give the number of the run that a reading belongs to, None when there is no such reading."""
        readings = tables.readings
        with self._database.reading() as connection:
            return connection.scalar(select(readings.c.run_id).where(readings.c.id == reading_id))

    def _values(self, statement: Loaded, value_of: Callable[[rows.Stored], Value]) -> list[Value]:
        with self._database.reading() as connection, self._known_words():
            return [value_of(row) for row in connection.execute(statement).mappings()]

    @contextmanager
    def _known_words(self) -> Iterator[None]:
        try:
            yield
        except ValueError as error:
            name = self._database.path.name
            sentence = f"“{name}” holds something that this Hearthload does not know: {error}."
            raise LogbookError(sentence, code="damaged") from error

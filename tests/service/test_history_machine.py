"""Random edits, good and bad, undone and redone in any order, against a model that remembers every state."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from hearthload.domain.household import Household
from hearthload.domain.measurement import MeasurementRecord, MeasurementState, RunCause
from hearthload.domain.supply import SupplyKind
from hearthload.errors import RefusedError
from hearthload.service.caches import Caches
from hearthload.service.logbook import create_logbook, open_logbook
from hearthload.service.placing import minute_of
from tests.service.building import Clock, House, contents
from tests.service.throwing import Throw, thrown, throws
from tests.store.files import Rows, journal_lines, kept_rows, rows_by_journal


@dataclass(frozen=True)
class Step:
    """What the model remembers of an edit: its name, and all rows before and after."""

    name: str
    before: Rows
    after: Rows


class HistoryMachine(RuleBasedStateMachine):
    """One household's logbook in a real file, and beside it the model."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "home.hearthload"
        self.logbook = create_logbook(self.path, Household(name="Mill lane"), clock=Clock())
        self.fresh = self.rows = kept_rows(self.path)
        self.lines = journal_lines(self.path)
        self.done: list[Step] = []
        self.undone: list[Step] = []

    def teardown(self) -> None:
        """Take back everything, then bring everything again: the fresh logbook, then the end."""
        try:
            self.all_the_way()
        finally:
            self.logbook.close()
            self.folder.cleanup()

    def all_the_way(self) -> None:
        while self.done:
            self.undo()
        assert self.rows == self.fresh
        self.all_is_well()
        while self.undone:
            self.redo()
        self.all_is_well()

    @initialize()
    def move_in(self) -> None:
        """Begin with a measurement under way, a meter to spare, a plan and a combination of supplies."""
        house = House(self.logbook, Clock())
        house.appliance("Router")
        self.remember()
        house.meter("Router")
        self.remember()
        house.meter("Lamp")
        self.remember()
        house.started(1, 1)
        self.remember()
        house.read(1, 1, 0.3)
        self.remember()
        house.plan()
        self.remember()
        house.supply("One")
        self.remember()
        house.supply("Two")
        self.remember()
        house.supply("Both", SupplyKind.COMBINATION, members=(1, 2))
        self.remember()

    @rule(several=st.lists(throws(), min_size=1, max_size=4))
    def edit(self, several: list[Throw]) -> None:
        for throw in several:
            try:
                changes = thrown(self.logbook, throw)
            except RefusedError:
                self.nothing_happened()
            else:
                self.remember()
                assert self.done[-1].name == changes.name or changes.topics == frozenset()

    @rule()
    def undo(self) -> None:
        if not self.done:
            with pytest.raises(RefusedError, match="nothing to take back"):
                self.logbook.history.undo()
            self.nothing_happened()
            return
        step = self.done.pop()
        changes = self.logbook.history.undo()
        self.undone.append(step)
        self.played(step.before, f"undo: {step.name}")
        assert (changes.name, changes.created_id) == (step.name, None)

    @rule()
    def redo(self) -> None:
        if not self.undone:
            with pytest.raises(RefusedError, match="nothing to bring again"):
                self.logbook.history.redo()
            self.nothing_happened()
            return
        step = self.undone.pop()
        changes = self.logbook.history.redo()
        self.done.append(step)
        self.played(step.after, f"redo: {step.name}")
        assert (changes.name, changes.created_id) == (step.name, None)

    @invariant()
    def all_is_well(self) -> None:
        assert rows_by_journal(self.path) == self.rows
        held = contents(self.logbook.held())
        with open_logbook(self.path) as again:
            assert held == contents(again.held())
        for record in held["records"].values():
            assert unsound(record, self.logbook.held()) == []
        assert odd_combinations(self.logbook.held()) == []
        history = self.logbook.history
        assert history.undo_name == (self.done[-1].name if self.done else None)
        assert history.redo_name == (self.undone[-1].name if self.undone else None)

    def remember(self) -> None:
        """Note an edit that was made; one that changed nothing is no edit."""
        before, self.rows = self.rows, kept_rows(self.path)
        added = self.grown()
        if self.rows == before:
            assert added == []
            return
        names = {line[1] for line in added}
        assert len(names) == 1
        self.done.append(Step(names.pop(), before, self.rows))
        self.undone.clear()

    def played(self, expected: Rows, name: str) -> None:
        """Check that undo or redo made the rows what they were, and said so in the journal."""
        self.rows = kept_rows(self.path)
        assert self.rows == expected
        assert {line[1] for line in self.grown()} == {name}

    def nothing_happened(self) -> None:
        assert kept_rows(self.path) == self.rows
        assert self.grown() == []

    def grown(self) -> list[tuple[Any, ...]]:
        """Check that the journal only grew; give what was added."""
        before, self.lines = self.lines, journal_lines(self.path)
        assert self.lines[: len(before)] == before
        return self.lines[len(before) :]


def odd_combinations(held: Caches) -> list[str]:
    """Name the supplies whose members are not what they may be, whatever edits led to it."""
    single = {key for key, found in held.supplies.items() if found.kind is not SupplyKind.COMBINATION}
    odd = []
    for key, found in held.supplies.items():
        members = found.draft.members
        sound = not members if key in single else len(members) >= 2
        if not sound or len(single & {*members}) < len(members):
            odd.append(found.name)
    return odd


def unsound(record: MeasurementRecord, held: Caches) -> list[str]:
    """Say what of a measurement does not hold together, whatever edits led to it."""
    measurement, runs = record.measurement, record.runs
    if not runs:
        planned = measurement.state is MeasurementState.PLANNED
        return [] if planned and not record.readings else ["no runs, but not planned"]
    by_run = [[found for found in record.readings if found.run_id == run.id] for run in runs]
    checks = {
        "planned with runs": measurement.state is not MeasurementState.PLANNED,
        "run numbers": [run.number for run in runs] == list(range(1, len(runs) + 1)),
        "first cause": [run.cause is RunCause.START for run in runs] == [True] + [False] * (len(runs) - 1),
        "every reading in a run": sum(map(len, by_run)) == len(record.readings),
        "no run without readings": all(by_run),
        "present meter": measurement.meter_id == runs[-1].meter_id,
        "start": measurement.started_at == runs[0].began_at,
        "beginnings": all(
            run.began_at == mates[0].taken_at for run, mates in zip(runs, by_run, strict=True) if mates
        ),
        "zeros": all(
            mates[0].energy_kwh == 0.0
            for run, mates in zip(runs, by_run, strict=True)
            if run.exact_start and mates
        ),
        "time runs on": all(
            minute_of(one.taken_at) <= minute_of(other.taken_at) for one, other in pairwise(record.readings)
        ),
        "counters run on": all(
            one.energy_kwh <= other.energy_kwh for mates in by_run for one, other in pairwise(mates)
        ),
        "answers": all(
            answer.reading_id in {None, *(found.id for found in record.readings)}
            for answer in held.answers_about(measurement.id)
        ),
        "not hard-wired": measurement.state is not MeasurementState.RUNNING
        or not held.appliance(measurement.appliance_id).hard_wired,
    }
    return [name for name, holds in checks.items() if not holds]


TestHistory = HistoryMachine.TestCase
TestHistory.settings = settings(max_examples=12, stateful_step_count=20)

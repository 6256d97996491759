"""Random edits, undone and redone, in two windows on one file: what happens is what the images say."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from hearthload.errors import RefusedError
from hearthload.service.logbook import Logbook, create_logbook, open_logbook
from tests.service.building import Clock, House, contents
from tests.service.throwing import Throw, thrown, throws
from tests.store.files import Rows, journal_lines, kept_rows, rows_by_journal

Place = tuple[str, int]
Row = dict[str, Any] | None
Difference = dict[Place, tuple[Row, Row]]
"""Of each row that changed: how it stood before and after."""

POINTS_TO = (
    ("measurements", "appliance_id", "appliances"),
    ("measurements", "meter_id", "meters"),
    ("runs", "measurement_id", "measurements"),
    ("runs", "meter_id", "meters"),
    ("readings", "run_id", "runs"),
    ("answers", "measurement_id", "measurements"),
    ("answers", "reading_id", "readings"),
    ("plan_loads", "plan_id", "plans"),
    ("plan_loads", "appliance_id", "appliances"),
    ("plan_figures", "plan_id", "plans"),
    ("supply_members", "supply_id", "supplies"),
    ("supply_members", "member_id", "supplies"),
)


@dataclass
class Window:
    """A window's logbook, and what the model remembers of the edits made in it."""

    logbook: Logbook
    done: list[Difference] = field(default_factory=list)
    undone: list[Difference] = field(default_factory=list)


class WindowsMachine(RuleBasedStateMachine):
    """Two windows on one household's file."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = tempfile.TemporaryDirectory()
        self.path = Path(self.folder.name) / "home.hearthload"
        clock = Clock()
        first = create_logbook(self.path, clock=clock)
        self.windows = [Window(first), Window(open_logbook(self.path, clock=clock))]
        self.rows = kept_rows(self.path)
        self.lines = journal_lines(self.path)

    def teardown(self) -> None:
        for window in self.windows:
            window.logbook.close()
        self.folder.cleanup()

    @initialize()
    def move_in(self) -> None:
        for number, name in enumerate(("Router", "Lamp")):
            house = House(self.windows[number].logbook, Clock())
            house.appliance(name)
            self.remember(self.windows[number])
            house.meter(name)
            self.remember(self.windows[number])
            house.plan(name)
            self.remember(self.windows[number])
            house.supply(name)
            self.remember(self.windows[number])

    @rule(which=st.integers(0, 1), several=st.lists(throws(), min_size=1, max_size=3))
    def edit(self, which: int, several: list[Throw]) -> None:
        for throw in several:
            try:
                thrown(self.windows[which].logbook, throw)
            except RefusedError:
                assert kept_rows(self.path) == self.rows
            else:
                self.remember(self.windows[which])

    @rule(which=st.integers(0, 1))
    def undo(self, which: int) -> None:
        window = self.windows[which]
        if not window.done:
            return
        back = {place: (after, before) for place, (before, after) in window.done[-1].items()}
        if self.hangs(back):
            return
        if self.played(back, window, "undo"):
            window.undone.append(window.done.pop())
        else:
            window.done.clear()

    @rule(which=st.integers(0, 1))
    def redo(self, which: int) -> None:
        window = self.windows[which]
        if not window.undone or self.hangs(window.undone[-1]):
            return
        if self.played(window.undone[-1], window, "redo"):
            window.done.append(window.undone.pop())
        else:
            window.undone.clear()

    def hangs(self, difference: Difference) -> bool:
        """Tell whether other rows hang on it by now, which tests/store/test_unit.py is about."""
        return loose(changed(self.rows, difference))

    def played(self, difference: Difference, window: Window, way: str) -> bool:
        """Undo or redo, and check that it went as the rows allow; tell whether it was done."""
        stands = all(row_at(self.rows, place) == before for place, (before, _) in difference.items())
        expected = changed(self.rows, difference)
        possible = stands and not doubled(expected)
        try:
            getattr(window.logbook.history, way)()
        except RefusedError as refused:
            outcome = refused.code
        else:
            outcome = "done"
        assert outcome == ("done" if possible else "changed_since")
        self.rows = expected if possible else self.rows
        assert kept_rows(self.path) == self.rows
        return possible

    @invariant()
    def both_see_what_is_in_the_file(self) -> None:
        assert rows_by_journal(self.path) == self.rows
        before, self.lines = self.lines, journal_lines(self.path)
        assert self.lines[: len(before)] == before
        one, other = (contents(window.logbook.held()) for window in self.windows)
        with open_logbook(self.path) as fresh:
            assert one == other == contents(fresh.held())
        for window in self.windows:
            assert (window.logbook.history.undo_name is None) == (not window.done)
            assert (window.logbook.history.redo_name is None) == (not window.undone)

    def remember(self, window: Window) -> None:
        before, self.rows = self.rows, kept_rows(self.path)
        difference = {
            (table, key): (before[table].get(key), rows.get(key))
            for table, rows in self.rows.items()
            for key in {*before[table], *rows}
            if before[table].get(key) != rows.get(key)
        }
        if difference:
            window.done.append(difference)
            window.undone.clear()


def row_at(rows: Rows, place: Place) -> Row:
    table, key = place
    return rows[table].get(key)


def changed(rows: Rows, difference: Difference) -> Rows:
    """Give the rows that a difference leads to."""
    after = {table: dict(kept) for table, kept in rows.items()}
    for (table, key), (_, row) in difference.items():
        after[table].pop(key, None)
        if row is not None:
            after[table][key] = row
    return {table: dict(sorted(kept.items())) for table, kept in after.items()}


def loose(rows: Rows) -> bool:
    """Tell whether a row points to one that is not there."""
    return any(
        row[column] is not None and row[column] not in rows[parent]
        for table, column, parent in POINTS_TO
        for row in rows[table].values()
    )


def doubled(rows: Rows) -> bool:
    """Tell whether two rows have what only one may have."""
    running = [row for row in rows["measurements"].values() if row["state"] == "running"]
    only_one = (
        [row["name"].lower() for row in rows["appliances"].values()],
        [row["name"].lower() for row in rows["meters"].values()],
        [row["name"].lower() for row in rows["plans"].values()],
        [row["name"].lower() for row in rows["supplies"].values()],
        [(row["plan_id"], row["appliance_id"]) for row in rows["plan_loads"].values()],
        [(row["plan_id"], row["key"]) for row in rows["plan_figures"].values()],
        [(row["supply_id"], row["member_id"]) for row in rows["supply_members"].values()],
        [row["appliance_id"] for row in running],
        [row["meter_id"] for row in running],
        [(row["measurement_id"], row["number"]) for row in rows["runs"].values()],
        [(row["run_id"], row["taken_at"]) for row in rows["readings"].values()],
    )
    return any(len(set(values)) < len(values) for values in only_one)


TestWindows = WindowsMachine.TestCase
TestWindows.settings = settings(max_examples=8, stateful_step_count=25)

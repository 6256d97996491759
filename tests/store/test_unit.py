"""One transaction on the file: what it changes, what it remembers, and how it is played back."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from sqlalchemy.exc import IntegrityError, NoResultFound

from hearthload.store.database import Database
from hearthload.store.faults import ChangedSinceError
from hearthload.store.images import RowImage
from hearthload.store.unit import Unit
from tests.store.files import NOW, dump, journal_lines, kept_rows
from tests.store.good_rows import BASE, GOOD

METER = GOOD["meters"]


@pytest.fixture
def peopled(database: Database) -> Database:
    """Give a file with what `BASE` says in it."""
    with database.unit("fill", NOW) as unit:
        for table, row in BASE:
            unit.insert(table, row)
    return database


def turned_round(images: Sequence[RowImage]) -> tuple[RowImage, ...]:
    return tuple(image.reversed() for image in reversed(images))


def test_an_added_row_is_remembered_as_it_stands_in_the_file(database: Database) -> None:
    with database.unit("add meter", NOW) as unit:
        key = unit.insert("meters", METER)
    (image,) = unit.images
    assert (image.table, image.key, image.before) == ("meters", key, None)
    assert image.after == kept_rows(database.path)["meters"][key]
    assert image.after == {"id": key, "voltage_v": None, "current_a": None, "gain_percent": None, **METER}


def test_a_changed_row_is_remembered_before_and_after(peopled: Database) -> None:
    before = kept_rows(peopled.path)["meters"][1]
    with peopled.unit("change meter", NOW) as unit:
        unit.update("meters", 1, {"name": "Red meter", "current_a": 13.0})
    (image,) = unit.images
    assert image.before == before
    assert image.after == {**before, "name": "Red meter", "current_a": 13.0}


def test_removed_rows_are_remembered_and_missing_ones_are_not(peopled: Database) -> None:
    before = kept_rows(peopled.path)["meters"][2]
    with peopled.unit("remove meter", NOW) as unit:
        unit.delete("meters", [2, 99])
    assert unit.images == (RowImage("meters", 2, before=before, after=None),)


def test_a_change_to_the_same_leaves_no_trace(peopled: Database) -> None:
    before = dump(peopled.path)
    with peopled.unit("change meter", NOW) as unit:
        unit.update("meters", 1, {"name": "Grey meter"})
    assert unit.images == ()
    assert dump(peopled.path) == before


def test_changing_a_row_that_is_not_there_is_a_bug_and_keeps_nothing(peopled: Database) -> None:
    before = dump(peopled.path)

    def change_nobody_s() -> None:
        with peopled.unit("change meter", NOW) as unit:
            unit.insert("meters", {**METER, "name": "Red meter"})
            unit.update("meters", 99, {"name": "Nobody's"})

    with pytest.raises(NoResultFound):
        change_nobody_s()
    assert dump(peopled.path) == before


def test_the_name_may_be_made_more_exact_while_the_edit_goes_on(database: Database) -> None:
    with database.unit("add meter", NOW) as unit:
        unit.insert("meters", METER)
        unit.name = "add meter: Green meter"
    assert journal_lines(database.path)[-1][1] == "add meter: Green meter"


def test_taking_back_restores_the_rows_under_their_own_keys(peopled: Database) -> None:
    before = kept_rows(peopled.path)
    with peopled.unit("much", NOW) as unit:
        unit.delete("readings", [1])
        unit.delete("runs", [1])
        unit.delete("measurements", [1])
        unit.update("appliances", 2, {"name": "Larder lamp"})
        unit.insert("meters", METER)
    after = kept_rows(peopled.path)
    peopled.replay("undo: much", NOW, turned_round(unit.images))
    assert kept_rows(peopled.path) == before
    peopled.replay("redo: much", NOW, unit.images)
    assert kept_rows(peopled.path) == after


def test_the_order_of_images_does_not_matter(peopled: Database) -> None:
    """Keys are looked at when all rows are back, so children may come before their parents."""
    before = kept_rows(peopled.path)
    with peopled.unit("remove", NOW) as unit:
        for table in ("readings", "runs", "measurements", "appliances"):
            unit.delete(table, [1])
    children_first = tuple(image.reversed() for image in unit.images)
    peopled.replay("undo: remove", NOW, children_first)
    assert kept_rows(peopled.path) == before


def test_rows_may_trade_places_under_a_unique_index(peopled: Database) -> None:
    grey, blue = kept_rows(peopled.path)["meters"].values()
    images = (
        RowImage("meters", 1, before=grey, after={**grey, "name": blue["name"]}),
        RowImage("meters", 2, before=blue, after={**blue, "name": grey["name"]}),
    )
    peopled.replay("trade", NOW, images)
    assert [row["name"] for row in kept_rows(peopled.path)["meters"].values()] == ["Blue meter", "Grey meter"]
    peopled.replay("undo: trade", NOW, turned_round(images))
    assert kept_rows(peopled.path)["meters"] == {1: grey, 2: blue}


def come_between(unit: Unit, behind: str) -> None:
    """Do what another program may have done between an edit and its undo."""
    if behind == "changed":
        unit.update("appliances", 3, {"room": "Attic"})
    elif behind == "removed":
        unit.delete("appliances", [3])
    elif behind == "in the way":
        unit.insert("readings", {**BASE[-1][1]})
    elif behind == "pointed to":
        unit.insert("measurements", {**GOOD["measurements"], "appliance_id": 3})
    else:
        unit.delete("runs", [1])


@pytest.mark.parametrize("behind", ["changed", "removed", "in the way", "pointed to", "parent gone"])
def test_what_stands_otherwise_than_the_images_say_is_left_alone(peopled: Database, behind: str) -> None:
    with peopled.unit("edit", NOW) as unit:
        if behind in {"in the way", "parent gone"}:
            unit.delete("readings", [1])
        else:
            unit.insert("appliances", GOOD["appliances"])
    with peopled.unit("behind", NOW) as other:
        come_between(other, behind)
    before = dump(peopled.path)
    with pytest.raises(ChangedSinceError):
        peopled.replay("undo: edit", NOW, turned_round(unit.images))
    assert dump(peopled.path) == before


def test_more_rows_than_one_statement_names(peopled: Database) -> None:
    """SQLite before 3.32 takes no more than 999 values in a statement; a season has more readings."""
    with peopled.unit("add", NOW) as added:
        for minute in range(1200):
            taken_at = f"2025-03-04T{minute // 60:02}:{minute % 60:02}:00Z"
            added.insert("readings", {**GOOD["readings"], "taken_at": taken_at})
    full = kept_rows(peopled.path)
    with peopled.unit("remove", NOW) as removed:
        removed.delete("readings", full["readings"])
    assert kept_rows(peopled.path)["readings"] == {}
    assert len(removed.images) == 1201
    peopled.replay("undo: remove", NOW, turned_round(removed.images))
    assert kept_rows(peopled.path) == full


def test_a_refused_row_undoes_the_whole_edit(peopled: Database) -> None:
    before = dump(peopled.path)

    def add_two_alike() -> None:
        with peopled.unit("two meters", NOW) as unit:
            unit.insert("meters", METER)
            unit.insert("meters", {**METER, "name": "GREEN METER"})

    with pytest.raises(IntegrityError):
        add_two_alike()
    assert dump(peopled.path) == before

"""After crashes, failed commits, wrong bits and cut files: a sentence or a whole logbook, nothing between."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest

from hearthload.domain.household import Household
from hearthload.errors import KnownError, RefusedError
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import finish_measurement, reset_meter, start_measurement
from hearthload.service.logbook import open_logbook
from hearthload.store.faults import LogbookError
from hearthload.store.opening import create_database, open_database
from tests.service.building import ZONE, House, a_house, on_day, read_on
from tests.store.crashes import METERS, die_in_a_commit
from tests.store.files import NOW, beside, kept_rows, meddling


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def test_a_crash_in_a_commit_is_cleared_up_by_opening(tmp_path: Path) -> None:
    path = tmp_path / "home.hearthload"
    create_database(path, Household(name="Mill lane"), NOW).close()
    die_in_a_commit(path)
    opened = open_database(path)
    opened.close()
    assert [row["note"] for row in kept_rows(path)["meters"].values()] == [""] * METERS
    assert beside(path) == []


def test_what_the_other_hung_on_it_is_not_orphaned(house: House) -> None:
    number = house.appliance("Router")
    with open_logbook(house.path, clock=house.clock) as other:
        House(other, house.clock).planned(number)
        with pytest.raises(RefusedError) as caught:
            house.logbook.history.undo()
        assert caught.value.code == "changed_since"
        set_household(other, Household(name="Other may write"))
        assert house.held.household.name == "Other may write"
        house.meter("Grey meter")


def test_a_reader_that_stays_too_long(house: House) -> None:
    with meddling(house.path) as other:
        other.execute("BEGIN")
        other.execute("SELECT * FROM meters").fetchall()
        with pytest.raises(LogbookError, match="in use"):
            set_household(house.logbook, Household(name="Elsewhere"))
        other.execute("COMMIT")
        other.execute("PRAGMA busy_timeout = 0")
        other.execute("BEGIN IMMEDIATE")
        other.execute("ROLLBACK")
    set_household(house.logbook, Household(name="Elsewhere"))


@pytest.mark.parametrize("swap", [False, True])
def test_within_the_minute_seconds_do_not_matter(house: House, *, swap: bool) -> None:
    measurement_id = house.measured()
    house.read(measurement_id, 2 + 40 / 86_400, 0.62)
    house.meter("Blue meter")
    first = read_on(2, 0.0)
    if swap:
        finish_measurement(house.logbook, measurement_id, on_day(2))
        start_measurement(house.logbook, house.appliance("Lamp"), 1, first, exact_zero=True)
    else:
        reset_meter(house.logbook, measurement_id, first, exact_zero=True)


def test_any_wrong_bit(house: House) -> None:
    house.measured()
    house.logbook.close()
    whole, chance, odd = house.path.read_bytes(), random.Random(3), []
    for _ in range(600):
        wrong = bytearray(whole)
        wrong[chance.randrange(len(wrong))] ^= 1 << chance.randrange(8)
        house.path.write_bytes(wrong)
        try:
            with open_logbook(house.path) as logbook:
                for number in logbook.held().measurements:
                    logbook.held().record(number)
        except KnownError:
            pass
        except Exception as error:  # noqa: BLE001 (that is what is looked for)
            odd.append(repr(error)[:120])
    assert odd == []


def test_finishing_in_the_year_one(house: House) -> None:
    number = house.measured()
    with house.refuses("before_last", "finished_at"):
        finish_measurement(house.logbook, number, datetime(1, 1, 1, tzinfo=ZONE))


def test_a_refused_file_is_not_left_open(tmp_path: Path) -> None:
    path = tmp_path / "thing.hearthload"
    path.write_bytes(b"SQLite format 3\0" + b"\xff" * 4096)
    with pytest.raises(LogbookError):
        open_database(path)
    held = [link for link in Path("/proc/self/fd").iterdir() if link.exists() and link.resolve() == path]
    assert held == []


def test_cut_short_by_a_byte(house: House) -> None:
    house.measured()
    house.logbook.close()
    whole = house.path.read_bytes()
    house.path.write_bytes(whole[:-1])
    with pytest.raises(LogbookError):
        open_logbook(house.path).close()

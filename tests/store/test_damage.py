"""A file that is cut short or has wrong bytes in it: a sentence, or a logbook that can be read in full."""

from __future__ import annotations

import random
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from hearthload.service.logbook import open_logbook
from hearthload.store.faults import LogbookError
from hearthload.store.moments import moment_columns
from hearthload.store.opening import open_database
from tests.store.files import NOW, dump, kept_rows
from tests.store.good_rows import BASE, GOOD

PAGE = 4096
"""What SQLite takes for a page unless told otherwise."""

DAYS = 120


@pytest.fixture
def season(fresh: Path) -> Path:
    """Give a file with a season's readings, so that most of its pages hold rows."""
    with closing(open_database(fresh)) as opened, opened.unit("fill", NOW) as unit:
        for table, row in BASE:
            unit.insert(table, row)
        for day in range(DAYS):
            moment = moment_columns("taken", NOW + timedelta(days=day + 1))
            unit.insert("readings", {**GOOD["readings"], **moment, "energy_kwh": 0.31 * day})
    return fresh


def outcome(path: Path) -> str:
    """Open a file and read all of it: "read", or the code of the sentence that says why not."""
    try:
        with open_logbook(path) as logbook:
            for measurement_id in logbook.held().measurements:
                logbook.held().record(measurement_id)
    except LogbookError as error:
        return error.code if path.name in str(error) else f"not named: {error}"
    return "read"


def pages_of_rows(whole: bytes) -> list[int]:
    """Give where the pages without a part of the schema begin."""
    return [start for start in range(PAGE, len(whole), PAGE) if b"CREATE " not in whole[start : start + PAGE]]


def test_the_whole_file_of_these_tests_is_read(season: Path) -> None:
    assert outcome(season) == "read"
    assert len(kept_rows(season)["readings"]) == DAYS + 1


def test_cut_short_anywhere(season: Path) -> None:
    whole = season.read_bytes()
    cuts = [*range(1, 1024, 97), *range(1024, len(whole) - PAGE, 1499)]
    for cut in cuts:
        season.write_bytes(whole[:cut])
        assert outcome(season) in {"damaged", "not_a_logbook"}, cut
        assert season.read_bytes() == whole[:cut]


def test_a_page_of_zeros(season: Path) -> None:
    """What a disk gives back for a sector that was never written."""
    whole = season.read_bytes()
    for start in range(0, len(whole), PAGE):
        season.write_bytes(whole[:start] + bytes(PAGE) + whole[start + PAGE :])
        assert outcome(season) in {"damaged", "not_a_logbook"}, start


def test_two_pages_in_each_other_s_place(season: Path) -> None:
    whole, chance = season.read_bytes(), random.Random(1)
    pages = pages_of_rows(whole)
    for _ in range(20):
        one, other = chance.sample(pages, 2)
        wrong = bytearray(whole)
        wrong[one : one + PAGE] = whole[other : other + PAGE]
        wrong[other : other + PAGE] = whole[one : one + PAGE]
        season.write_bytes(wrong)
        # Two small indexes may happen to hold the same.
        assert outcome(season) == ("read" if bytes(wrong) == whole else "damaged"), (one, other)


def test_single_wrong_bits_among_the_rows(season: Path) -> None:
    """Whatever is wrong, the file is told to be damaged or read in full; it is never changed by looking."""
    whole, chance = season.read_bytes(), random.Random(2)
    pages, found = pages_of_rows(whole), set()
    for _ in range(80):
        wrong = bytearray(whole)
        place = chance.choice(pages) + chance.randrange(PAGE)
        wrong[place] ^= 1 << chance.randrange(7)
        season.write_bytes(wrong)
        found.add(outcome(season))
        assert season.read_bytes() == bytes(wrong), place
    assert found == {"damaged", "read"}


def test_a_damaged_file_can_be_put_right_from_a_copy(season: Path) -> None:
    whole, before = season.read_bytes(), dump(season)
    season.write_bytes(whole[: len(whole) // 2])
    assert outcome(season) == "damaged"
    season.write_bytes(whole)
    assert outcome(season) == "read"
    assert dump(season) == before

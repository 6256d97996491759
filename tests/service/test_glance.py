"""The roster as it stood: the same in every cell while the file is the same, and nothing otherwise."""

from __future__ import annotations

import json
import os
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import platformdirs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.service import queries
from hearthload.service.demo import build_demo
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.glance import glance, keep_glance
from hearthload.service.logbook import create_logbook, open_logbook
from hearthload.service.preferences import APPLICATION
from hearthload.service.roster_answers import RosterRow
from hearthload.window.readings.roster_cells import Column, cell_text, second_line

NOW = datetime(2026, 11, 24, 7, 30, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, tuple[RosterRow, ...]]:
    """Give a closed logbook with measurements in every state, and its roster."""
    path = tmp_path_factory.mktemp("demo") / "demo.hearthload"
    with build_demo(path, NOW.date(), NOW) as logbook:
        rows = queries.roster(logbook, NOW)
    return path, rows


@pytest.fixture
def kept(demo: tuple[Path, tuple[RosterRow, ...]]) -> Path:
    """Give the demo's path, its roster noted in this test's own cache folder."""
    keep_glance(*demo)
    return demo[0]


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """Give a logbook of one appliance, noted and closed."""
    path = tmp_path / "small.hearthload"
    with create_logbook(path, clock=lambda: NOW) as logbook:
        add_appliance(logbook, ApplianceDraft("Deep chest", Kind.FREEZER, room="barn"))
        rows = queries.roster(logbook, NOW)
    keep_glance(path, rows)
    return path


def note_of() -> Path:
    (found,) = Path(platformdirs.user_cache_dir(APPLICATION, appauthor=False)).glob("glance-*.json")
    return found


def shown(rows: tuple[RosterRow, ...]) -> list[list[tuple[str, str]]]:
    return [[(cell_text(row, column), second_line(row, column)) for column in Column] for row in rows]


def test_every_cell_says_what_the_roster_says(demo: tuple[Path, tuple[RosterRow, ...]], kept: Path) -> None:
    rows = demo[1]
    assert len({row.state for row in rows}) == 5
    assert any(row.estimate is not None and row.estimate.duty_cycle is not None for row in rows)
    seen = glance(kept, NOW)
    assert shown(seen) == shown(rows)
    assert [row.appliance for row in seen] == [row.appliance for row in rows]
    assert [row.meter for row in seen] == [row.meter for row in rows]
    assert all(row.measurement is None for row in seen)


def test_energy_per_use_is_noted_whole(demo: tuple[Path, tuple[RosterRow, ...]], kept: Path) -> None:
    uses = [row.estimate.per_use for row in demo[1] if row.estimate is not None]
    assert any(use is not None and use.daily_kwh is not None for use in uses)
    assert [row.estimate.per_use for row in glance(kept, NOW) if row.estimate is not None] == uses


def test_a_note_without_the_day_by_its_uses_is_glanced_at_all_the_same(
    demo: tuple[Path, tuple[RosterRow, ...]], kept: Path
) -> None:
    note = json.loads(note_of().read_text(encoding="utf-8"))
    uses = [row["estimate"]["per_use"] for row in note["rows"] if row["estimate"] is not None]
    for use in uses:
        if use is not None:
            del use["daily_kwh"], use["likely_rate"]
    note_of().write_text(json.dumps(note), encoding="utf-8")
    seen = glance(kept, NOW)
    assert shown(seen) == shown(demo[1])
    assert all(
        row.estimate is None or row.estimate.per_use is None or row.estimate.per_use.daily_kwh is None
        for row in seen
    )


def test_how_well_known_is_drawn_alike(demo: tuple[Path, tuple[RosterRow, ...]], kept: Path) -> None:
    for seen, row in zip(glance(kept, NOW), demo[1], strict=True):
        assert (seen.estimate is None) == (row.estimate is None)
        if seen.estimate is not None and row.estimate is not None:
            assert seen.estimate.daily_kwh == row.estimate.daily_kwh
            assert seen.estimate.enough == row.estimate.enough


@pytest.mark.parametrize("days", [-1, 0, 1])
def test_whether_it_was_read_is_asked_of_today(
    demo: tuple[Path, tuple[RosterRow, ...]], kept: Path, days: int
) -> None:
    day = (NOW + timedelta(days=days)).date()
    moments = {row.appliance.name: row.last_reading_at for row in demo[1]}
    read = {name for name, moment in moments.items() if moment is not None and moment.date() == day}
    for now in (NOW + timedelta(days=days), NOW + timedelta(days=days, hours=16)):
        assert {row.appliance.name for row in glance(kept, now) if row.read_today} == read
    # The demo stands before this morning's round: yesterday is the last day with readings.
    assert bool(read) == (days < 0)


def test_a_file_that_changed_by_a_byte_is_not_glanced_at(small: Path) -> None:
    assert len(glance(small, NOW)) == 1
    state = small.stat()
    with small.open("ab") as file:
        file.write(b"\0")
    os.utime(small, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert glance(small, NOW) == ()


def test_nor_is_one_that_changed_at_another_time(small: Path) -> None:
    state = small.stat()
    os.utime(small, ns=(state.st_atime_ns, state.st_mtime_ns + 1000))
    assert glance(small, NOW) == ()
    os.utime(small, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert len(glance(small, NOW)) == 1


def test_an_edit_voids_it_until_it_is_noted_again(small: Path) -> None:
    with open_logbook(small, clock=lambda: NOW) as logbook:
        add_appliance(logbook, ApplianceDraft("Lamp", Kind.LAMP_TIMER))
        rows = queries.roster(logbook, NOW)
    assert glance(small, NOW) == ()
    keep_glance(small, rows)
    assert shown(glance(small, NOW)) == shown(rows)


def test_another_version_of_the_program_notes_its_own(small: Path) -> None:
    note = json.loads(note_of().read_text(encoding="utf-8"))
    note["stamp"][0] = "0.0.0"
    note_of().write_text(json.dumps(note), encoding="utf-8")
    assert glance(small, NOW) == ()


def test_a_file_that_is_gone_or_was_never_noted(small: Path, tmp_path: Path) -> None:
    assert glance(tmp_path / "other.hearthload", NOW) == ()
    small.rename(tmp_path / "moved.hearthload")
    assert glance(small, NOW) == ()
    assert glance(tmp_path / "moved.hearthload", NOW) == ()
    keep_glance(small, ())
    assert len(list(note_of().parent.iterdir())) == 1


def _without(key: str) -> Any:  # noqa: ANN401 - a note of any shape
    def change(note: Any) -> Any:  # noqa: ANN401
        del note["rows"][0][key]
        return note

    return change


@pytest.mark.parametrize(
    "damage",
    [
        lambda _note: [],
        lambda _note: None,
        lambda _note: "rows",
        lambda note: {**note, "rows": None},
        lambda note: {**note, "rows": [None]},
        lambda note: {**note, "rows": [{}]},
        lambda note: {**note, "rows": [{**note["rows"][0], "state": "melted"}]},
        lambda note: {**note, "rows": [{**note["rows"][0], "last_reading_at": "noon"}]},
        lambda note: {**note, "rows": [{**note["rows"][0], "appliance": {"name": "Lamp"}}]},
        lambda note: {**note, "rows": [{**note["rows"][0], "estimate": 7}]},
        _without("appliance"),
        _without("last_reading_at"),
    ],
)
def test_a_damaged_note_is_no_glance(small: Path, damage: Any) -> None:  # noqa: ANN401
    note = json.loads(note_of().read_text(encoding="utf-8"))
    note_of().write_text(json.dumps(damage(note)), encoding="utf-8")
    assert glance(small, NOW) == ()


@pytest.mark.parametrize("text", [b"", b"{", b"\xff\xfe\x00", b"[" * 100_000, b'{"stamp": 1e999999}'])
def test_a_note_that_cannot_be_read_is_no_glance(small: Path, text: bytes) -> None:
    note_of().write_bytes(text)
    assert glance(small, NOW) == ()


def test_a_torn_or_flipped_note_never_does_harm(kept: Path) -> None:
    note = note_of()
    whole = note.read_bytes()

    @settings(max_examples=120)
    @given(place=st.integers(0, len(whole) - 1), byte=st.integers(0, 255), torn=st.booleans())
    def look(place: int, byte: int, *, torn: bool) -> None:
        note.write_bytes(whole[:place] if torn else whole[:place] + bytes([byte]) + whole[place + 1 :])
        seen = glance(kept, NOW)
        assert isinstance(seen, tuple)
        assert not torn or seen == ()

    look()
    note.write_bytes(whole)
    assert len(glance(kept, NOW)) > 10


def test_a_cache_folder_that_cannot_be_written_does_no_harm(
    demo: tuple[Path, tuple[RosterRow, ...]],
) -> None:
    folder = Path(platformdirs.user_cache_dir(APPLICATION, appauthor=False))
    folder.parent.mkdir(parents=True, exist_ok=True)
    folder.write_text("a file where the folder should be", encoding="utf-8")
    path, rows = demo
    keep_glance(path, rows)
    assert folder.is_file()
    assert glance(path, NOW) == ()


def test_two_logbooks_of_one_name_are_kept_apart(tmp_path: Path) -> None:
    for name in ("mill", "barn"):
        (tmp_path / name).mkdir()
        with create_logbook(tmp_path / name / "home.hearthload", clock=lambda: NOW) as logbook:
            add_appliance(logbook, ApplianceDraft(f"Lamp of the {name}", Kind.LAMP_TIMER))
            rows = queries.roster(logbook, NOW)
        keep_glance(tmp_path / name / "home.hearthload", rows)
    for name in ("mill", "barn"):
        (row,) = glance(tmp_path / name / "home.hearthload", NOW)
        assert row.appliance.name == f"Lamp of the {name}"


def test_nothing_is_left_beside_the_note(small: Path) -> None:
    assert small.exists()
    assert [path.suffix for path in note_of().parent.iterdir()] == [".json"]

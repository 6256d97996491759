"""What is remembered between two starts: whatever the file holds, there are preferences to start with."""

from __future__ import annotations

import json
import os
import sys
from datetime import date
from functools import partial
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hearthload.errors import KnownError
from hearthload.service.preferences import (
    MOST_RECENT,
    Preferences,
    data_folder,
    default_logbook_path,
    demo_path,
    forget_file,
    last_opened,
    load_preferences,
    own_logbook_path,
    preferences_path,
    recent_files,
    remember_file,
    remember_window_state,
    save_preferences,
    window_state,
)

DEFAULTS = Preferences()


def lay(content: bytes) -> None:
    """Put something where the preferences are."""
    preferences_path().parent.mkdir(parents=True, exist_ok=True)
    preferences_path().write_bytes(content)


def logbooks(folder: Path, count: int) -> list[Path]:
    """Lay down files that stand for logbooks."""
    paths = [folder / f"{number}.hearthload" for number in range(count)]
    for path in paths:
        path.touch()
    return paths


def test_before_anything_was_remembered_there_are_the_defaults() -> None:
    assert load_preferences() == DEFAULTS
    assert (recent_files(), last_opened(), window_state()) == ((), None, {})
    # Asking leaves nothing behind.
    assert not preferences_path().exists()


def test_the_test_s_own_home_is_used(home: Path) -> None:
    assert home in preferences_path().parents
    assert home in data_folder().parents


def test_the_folder_for_logbooks_is_made() -> None:
    assert data_folder().is_dir()
    assert data_folder() == default_logbook_path().parent
    assert default_logbook_path().suffix == ".hearthload"
    assert not default_logbook_path().exists()


def test_what_is_saved_is_read_again(tmp_path: Path) -> None:
    kept = Preferences(
        (tmp_path / "a.hearthload", tmp_path / "sub" / "b ü 冷.hearthload"),
        tmp_path / "a.hearthload",
        {"geometry": "AdnQywAD", "page": "readings", "note": "“quoted”\n\u2028"},
    )
    save_preferences(kept)
    assert load_preferences() == kept
    assert [path.name for path in preferences_path().parent.iterdir()] == [preferences_path().name]


@pytest.mark.skipif(sys.platform != "linux", reason="file names elsewhere are text")
def test_a_file_name_that_is_no_text_is_remembered_too(tmp_path: Path) -> None:
    path = tmp_path / os.fsdecode(b"h\xfftte.hearthload")
    path.touch()
    remember_file(path)
    assert recent_files() == (path,)
    assert last_opened() == path


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"not json",
        b"\xff\xfe\x00\x01",
        b'\xef\xbb\xbf{"window": {"a": "b"}}',
        b"null",
        b"[]",
        b'"text"',
        b"12",
        b"1" * 10_000,
        b"[" * 100_000,
        b'{"recent": ' + b"[" * 100_000,
        b'{"window": {"a": "b"}',
        b"\0" * 4096,
    ],
)
def test_a_damaged_file_gives_the_defaults_and_is_written_over(tmp_path: Path, content: bytes) -> None:
    lay(content)
    assert load_preferences() == DEFAULTS
    (path,) = logbooks(tmp_path, 1)
    remember_file(path)
    assert load_preferences() == Preferences((path,), path)


ODD_JSON: tuple[Any, ...] = (None, True, 0, -1.5, "text", [], ["x"], {}, {"a": 1}, [[1]], "nul\0", "")


@pytest.mark.parametrize("odd", ODD_JSON)
def test_a_piece_of_the_wrong_sort_costs_that_piece_only(odd: Any) -> None:  # noqa: ANN401
    good = {"recent": ["/a"], "last_opened": "/b", "window": {"page": "meters"}}
    paths, texts = (Path("/a"),), {"page": "meters"}
    lay(json.dumps({**good, "recent": odd}).encode())
    found = load_preferences()
    assert (found.last_opened, found.window) == (Path("/b"), texts)
    assert found.recent == ((Path("x"),) if odd == ["x"] else ())
    lay(json.dumps({**good, "last_opened": odd}).encode())
    found = load_preferences()
    assert (found.recent, found.window) == (paths, texts)
    assert found.last_opened == (Path("text") if odd == "text" else None)
    lay(json.dumps({**good, "window": odd}).encode())
    found = load_preferences()
    assert (found.recent, found.last_opened, found.window) == (paths, Path("/b"), {})


def test_of_a_list_what_is_no_path_is_left_out() -> None:
    lay(json.dumps({"recent": ["/a", 1, None, "", "x\0y", ["/b"], {}, "/c"]}).encode())
    assert load_preferences().recent == (Path("/a"), Path("/c"))


def test_of_the_window_s_state_what_is_no_text_is_left_out() -> None:
    lay(json.dumps({"window": {"page": "meters", "width": 900, "open": True, "none": None}}).encode())
    assert window_state() == {"page": "meters"}


def test_a_key_that_a_later_program_wrote_does_no_harm() -> None:
    lay(json.dumps({"window": {"page": "meters"}, "later": {"x": 1}}).encode())
    assert load_preferences() == Preferences((), None, {"page": "meters"})


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=8,
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(recent=JSON, last=JSON, window=JSON)
def test_whatever_the_file_holds_there_are_preferences(recent: Any, last: Any, window: Any) -> None:  # noqa: ANN401
    lay(json.dumps({"recent": recent, "last_opened": last, "window": window}).encode())
    found = load_preferences()
    assert all(isinstance(path, Path) for path in found.recent)
    assert found.last_opened is None or isinstance(found.last_opened, Path)
    assert all(isinstance(text, str) for pair in found.window.items() for text in pair)
    save_preferences(found)
    assert load_preferences() == found


def test_the_newest_file_comes_first_and_each_once(tmp_path: Path) -> None:
    one, two, three = logbooks(tmp_path, 3)
    for path in (one, two, three, one):
        remember_file(path)
    assert recent_files() == (one, three, two)
    assert last_opened() == one


def test_no_more_are_kept_than_a_menu_holds(tmp_path: Path) -> None:
    paths = logbooks(tmp_path, MOST_RECENT + 3)
    for path in paths:
        remember_file(path)
    assert recent_files() == tuple(paths[:2:-1])
    assert len(recent_files()) == MOST_RECENT == 8
    lay(json.dumps({"recent": [str(path) for path in paths]}).encode())
    assert load_preferences().recent == tuple(paths[:8])


def test_a_path_is_kept_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (path,) = logbooks(tmp_path, 1)
    monkeypatch.chdir(tmp_path)
    remember_file(Path(path.name))
    remember_file(path)
    assert recent_files() == (path,)


def test_files_that_are_gone_are_left_out_and_come_back(tmp_path: Path) -> None:
    one, two = logbooks(tmp_path, 2)
    remember_file(one)
    remember_file(two)
    two.unlink()
    assert recent_files() == (one,)
    assert last_opened() is None
    # A drive that was unplugged and is back.
    two.touch()
    assert recent_files() == (two, one)
    assert last_opened() == two
    # A folder is no logbook.
    two.unlink()
    two.mkdir()
    assert recent_files() == (one,)


def test_forgetting_a_file(tmp_path: Path) -> None:
    one, two = logbooks(tmp_path, 2)
    remember_file(one)
    remember_file(two)
    forget_file(one)
    assert (recent_files(), last_opened()) == ((two,), two)
    forget_file(two)
    forget_file(tmp_path / "never seen")
    assert (load_preferences().recent, load_preferences().last_opened) == ((), None)


def test_a_demo_does_not_take_the_place_of_her_own_logbook(tmp_path: Path) -> None:
    assert own_logbook_path() == default_logbook_path()
    (own,) = logbooks(tmp_path, 1)
    remember_file(own)
    demo = demo_path(date(2026, 11, 24))
    demo.touch()
    remember_file(demo)
    assert recent_files() == (demo, own)
    assert last_opened() == own_logbook_path() == own
    # A file of that name in another place is hers.
    elsewhere = tmp_path / demo.name
    elsewhere.touch()
    remember_file(elsewhere)
    assert own_logbook_path() == elsewhere
    elsewhere.unlink()
    assert own_logbook_path() == default_logbook_path()


def test_files_and_window_do_not_disturb_each_other(tmp_path: Path) -> None:
    (path,) = logbooks(tmp_path, 1)
    remember_window_state({"page": "meters", "splitter": "AAAA"})
    remember_file(path)
    assert window_state() == {"page": "meters", "splitter": "AAAA"}
    remember_window_state({"page": "readings"})
    assert window_state() == {"page": "readings"}
    assert recent_files() == (path,)
    forget_file(path)
    assert window_state() == {"page": "readings"}


# A file stands where a folder is wanted: so the folder cannot be made, by root neither.
def test_a_folder_that_cannot_be_made_is_told_in_a_sentence(tmp_path: Path) -> None:
    in_the_way = preferences_path().parent
    in_the_way.parent.mkdir(parents=True, exist_ok=True)
    in_the_way.write_text("a file")
    assert load_preferences() == DEFAULTS
    for save in (partial(remember_window_state, {"page": "meters"}), partial(remember_file, tmp_path / "a")):
        with pytest.raises(KnownError) as told:
            save()
        assert str(in_the_way) in str(told.value)
        assert str(told.value).endswith(".")
    assert in_the_way.read_text() == "a file"


def test_a_data_folder_that_cannot_be_made_is_told_in_a_sentence(home: Path) -> None:
    (home / "data").write_text("a file")
    for ask in (data_folder, default_logbook_path):
        with pytest.raises(KnownError, match="cannot be made"):
            ask()


def test_preferences_that_cannot_be_written_leave_nothing_behind() -> None:
    # A folder stands where the file should be: reading gives the defaults, writing says why not.
    preferences_path().mkdir(parents=True)
    (preferences_path() / "inside").touch()
    assert load_preferences() == DEFAULTS
    with pytest.raises(KnownError, match="could not be saved"):
        remember_window_state({"page": "meters"})
    assert [path.name for path in preferences_path().parent.iterdir()] == [preferences_path().name]
    assert (preferences_path() / "inside").exists()


def test_a_state_that_cannot_be_written_leaves_the_old_preferences() -> None:
    remember_window_state({"page": "meters"})
    before = preferences_path().read_bytes()
    odd: Any = {"page": object()}
    with pytest.raises(TypeError):
        remember_window_state(odd)
    assert preferences_path().read_bytes() == before
    assert [path.name for path in preferences_path().parent.iterdir()] == [preferences_path().name]

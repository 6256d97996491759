"""A file that may not be written is shown; what would change it is refused in a sentence."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from hearthload.store.opening import open_database
from tests.store.crashes import die_in_a_commit
from tests.store.files import beside, dump

if TYPE_CHECKING:
    from tests.store.conftest import Deed

pytestmark = pytest.mark.skipif(os.name == "nt", reason="no file modes here")


@pytest.fixture
def unprivileged() -> list[str]:
    """Give a command prefix under which file modes hold for root too, who may otherwise write anything."""
    if os.name == "nt" or os.geteuid() != 0:
        return []
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("root may write anything here")
    return [setpriv, "--bounding-set", "-dac_override"]


@pytest.fixture
def folder(fresh: Path) -> Iterator[Path]:
    """Give the file's folder, which may be written again after the test, so that it can be cleared away."""
    yield fresh.parent
    fresh.parent.chmod(0o700)


def shown_but_kept(deed: Deed, path: Path, prefix: list[str]) -> None:
    before = dump(path)
    done = deed("look_and_edit", path, before=prefix)
    assert done.code == 0, done.err
    looked, refused = done.lines
    assert looked == [True, "Mill lane"]
    assert refused["code"] == "read_only"
    assert "cannot be changed" in refused["sentence"]
    assert dump(path) == before
    assert beside(path) == []


def test_the_file_may_not_be_written(fresh: Path, deed: Deed, unprivileged: list[str]) -> None:
    fresh.chmod(0o444)
    shown_but_kept(deed, fresh, unprivileged)


def test_nor_may_its_folder(fresh: Path, folder: Path, deed: Deed, unprivileged: list[str]) -> None:
    """Saving needs a rollback journal beside the file: without it nothing could be taken back."""
    folder.chmod(0o555)
    shown_but_kept(deed, fresh, unprivileged)


def test_nor_may_it_be_read(fresh: Path, deed: Deed, unprivileged: list[str]) -> None:
    fresh.chmod(0o000)
    prefix = [*unprivileged[:-1], "-dac_override,-dac_read_search"] if unprivileged else []
    done = deed("open_only", fresh, before=prefix)
    assert done.code == 0, done.err
    assert [line["code"] for line in done.lines] == ["cannot_open"]
    fresh.chmod(0o600)
    open_database(fresh).close()


def test_a_new_file_in_such_a_folder(fresh: Path, folder: Path, deed: Deed, unprivileged: list[str]) -> None:
    folder.chmod(0o555)
    done = deed("make_new", fresh.with_name("new.hearthload"), before=unprivileged)
    assert done.code == 0, done.err
    assert [line["code"] for line in done.lines] == ["cannot_open"]
    assert "permission denied" in done.lines[0]["sentence"]
    assert beside(fresh) == []


def test_a_crash_where_nothing_may_be_written(
    fresh: Path, folder: Path, deed: Deed, unprivileged: list[str]
) -> None:
    """Only a writer may play a rollback journal back; what is half in the file is not shown meanwhile."""
    die_in_a_commit(fresh)
    folder.chmod(0o555)
    done = deed("open_only", fresh, before=unprivileged)
    assert done.code == 0, done.err
    assert [line["code"] for line in done.lines] == ["read_only"]
    assert beside(fresh) == [f"{fresh.name}-journal"]


def test_an_older_file_is_not_stepped_where_it_may_not_be_written(
    fresh: Path, deed: Deed, unprivileged: list[str]
) -> None:
    fresh.chmod(0o444)
    before = dump(fresh)
    done = deed("open_with_one_more_step", fresh, before=unprivileged)
    assert done.code == 0, done.err
    assert [line["code"] for line in done.lines] == ["read_only"]
    assert "older Hearthload" in done.lines[0]["sentence"]
    assert dump(fresh) == before
    assert beside(fresh) == []

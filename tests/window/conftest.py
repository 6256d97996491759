"""Fixtures of the window's tests: the dressed application, a real logbook, a session with its own clock."""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from hearthload.domain.household import Household
from hearthload.service.logbook import create_logbook
from hearthload.window.session import Session
from hearthload.window.theme import apply_theme

MORNING = datetime(2026, 11, 24, 7, 30, tzinfo=timezone(timedelta(hours=1)))


class Clock:
    """A clock that stands still until it is moved."""

    def __init__(self, now: datetime = MORNING) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now

    def advance(self, **span: float) -> None:
        self.now += timedelta(**span)


@pytest.fixture(autouse=True)
def homes(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the person's own folders out of the tests."""
    home = tmp_path_factory.mktemp("home")
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "HOME"):
        monkeypatch.setenv(name, str(home))


@pytest.fixture
def dressed(qapp: QApplication) -> QApplication:
    apply_theme(qapp, dark=False)
    return qapp


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def session(dressed: QApplication, clock: Clock, tmp_path: Path) -> Iterator[Session]:  # noqa: ARG001
    """Give a session with a fresh logbook open."""
    made = Session(clock)
    made.attach(create_logbook(tmp_path / "home.hearthload", Household(name="Hillside")))
    yield made
    made.close()

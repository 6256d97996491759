"""What every test stands on: an empty home of its own, no display, and no message from Qt."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# Before any QApplication: tests draw into memory unless told otherwise.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# Two slow cores and a real database make single examples slow now and then; that is no fault.
settings.register_profile("house", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("house")

HOME_VARIABLES = {
    "HOME": ".",
    "USERPROFILE": ".",
    "XDG_DATA_HOME": "data",
    "XDG_CONFIG_HOME": "config",
    "XDG_STATE_HOME": "state",
    "XDG_CACHE_HOME": "cache",
    "XDG_DOCUMENTS_DIR": "documents",
    "APPDATA": "config",
    "LOCALAPPDATA": "data",
}


@pytest.fixture(autouse=True)
def home(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give each test an empty home, so that none meets the person's own files or another test's."""
    folder = tmp_path_factory.mktemp("home")
    for name, under in HOME_VARIABLES.items():
        monkeypatch.setenv(name, str(folder / under))
    return folder

"""What the program remembers between two starts for one person: recent files and the window's state."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

import platformdirs

from hearthload.errors import KnownError

APPLICATION = "hearthload"
MOST_RECENT = 8
"""So many files fit a menu that is read at a glance."""

SUFFIX = ".hearthload"
_FILE = "preferences.json"
_DEMO = "demo-"


@dataclass(frozen=True, slots=True)
class Preferences:
    """What is remembered: recent files, the newest first, the one opened last, and the window's state."""

    recent: tuple[Path, ...] = ()
    last_opened: Path | None = None
    window: Mapping[str, str] = field(default_factory=dict)


def data_folder() -> Path:
    """Give the folder for logbooks that were given no other place, made when it is not there yet."""
    folder = Path(platformdirs.user_data_dir(APPLICATION, appauthor=False))
    _make(folder)
    return folder


def default_logbook_path() -> Path:
    """Give the place of the logbook that opens when no other is named."""
    return data_folder() / f"household{SUFFIX}"


def own_logbook_path() -> Path:
    """Give the logbook that opens when none is named: the one used last, else that in the data folder."""
    return last_opened() or default_logbook_path()


def demo_path(day: date) -> Path:
    """Give the place of a day's demo."""
    return data_folder() / f"{_DEMO}{day.isoformat()}{SUFFIX}"


def preferences_path() -> Path:
    """Give the place of the preferences."""
    return Path(platformdirs.user_config_dir(APPLICATION, appauthor=False)) / _FILE


def load_preferences() -> Preferences:
    """Read the preferences; a missing or damaged file gives the defaults, piece by piece."""
    try:
        found = json.loads(preferences_path().read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return Preferences()
    if not isinstance(found, dict):
        return Preferences()
    recent = _paths(found.get("recent"))
    last = _paths([found.get("last_opened")])
    return Preferences(recent[:MOST_RECENT], last[0] if last else None, _texts(found.get("window")))


def save_preferences(preferences: Preferences) -> None:
    """Write the preferences: the new file takes the old one's place in one step."""
    path = preferences_path()
    _make(path.parent)
    text = json.dumps(
        {
            "recent": [str(found) for found in preferences.recent],
            "last_opened": None if preferences.last_opened is None else str(preferences.last_opened),
            "window": dict(preferences.window),
        },
        indent=2,
    )
    try:
        _replace(path, text)
    except OSError as error:
        raise KnownError(
            f"The preferences could not be saved in “{path.parent}”: {error.strerror}."
        ) from error


def recent_files() -> tuple[Path, ...]:
    """Give the logbooks opened lately, the newest first, those that are gone left out."""
    return tuple(path for path in load_preferences().recent if _is_there(path))


def last_opened() -> Path | None:
    """Give the logbook opened last, None when it is gone."""
    path = load_preferences().last_opened
    return path if path is not None and _is_there(path) else None


def remember_file(path: Path) -> None:
    """Note that a logbook was opened; a demo does not take the place of her own at the next start."""
    whole = path.absolute()
    known = load_preferences()
    others = tuple(other for other in known.recent if other != whole)
    last = known.last_opened if _is_demo(whole) else whole
    save_preferences(replace(known, recent=(whole, *others)[:MOST_RECENT], last_opened=last))


def forget_file(path: Path) -> None:
    """Take a logbook off the list of recent files."""
    whole = path.absolute()
    known = load_preferences()
    last = None if known.last_opened == whole else known.last_opened
    recent = tuple(other for other in known.recent if other != whole)
    save_preferences(replace(known, recent=recent, last_opened=last))


def window_state() -> dict[str, str]:
    """Give what the window noted about itself."""
    return dict(load_preferences().window)


def remember_window_state(state: Mapping[str, str]) -> None:
    """Note the window's state in place of what was noted before."""
    save_preferences(replace(load_preferences(), window=dict(state)))


def _is_there(path: Path) -> bool:
    """Tell whether a file is there; one in a folder that may not be entered is not there for her."""
    try:
        return path.is_file()
    except (OSError, ValueError):
        return False


def _is_demo(path: Path) -> bool:
    return path.name.startswith(_DEMO) and path.parent == data_folder().absolute()


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise KnownError(f"The folder “{folder}” cannot be made: {error.strerror}.") from error


def _replace(path: Path, text: str) -> None:
    import tempfile  # noqa: PLC0415 (never before first paint)

    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f"{path.stem}-", suffix=".part")
    part = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _paths(found: Any) -> tuple[Path, ...]:  # noqa: ANN401 (whatever the file holds)
    texts = found if isinstance(found, list) else []
    return tuple(Path(text) for text in texts if isinstance(text, str) and text and "\0" not in text)


def _texts(found: Any) -> dict[str, str]:  # noqa: ANN401 (whatever the file holds)
    pairs = found.items() if isinstance(found, dict) else ()
    return {key: value for key, value in pairs if isinstance(key, str) and isinstance(value, str)}

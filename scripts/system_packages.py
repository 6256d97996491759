"""The system libraries that Qt needs on Linux: found by loading them, installed where that is possible."""

from __future__ import annotations

import ctypes
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

from progress import Progress, say


class SetupError(Exception):
    """Something outside this checkout stands in the way; `str()` says what and what to do."""


# Shared object -> Debian packages that bring it, newest name first. Measured on a bare Debian 12: the first
# seven for drawing without a display, the others for a window under X.
LIBRARIES = {
    "libglib-2.0.so.0": ("libglib2.0-0t64", "libglib2.0-0"),
    "libgthread-2.0.so.0": ("libglib2.0-0t64", "libglib2.0-0"),
    "libEGL.so.1": ("libegl1",),
    "libGL.so.1": ("libgl1",),
    "libdbus-1.so.3": ("libdbus-1-3",),
    "libfontconfig.so.1": ("libfontconfig1",),
    "libxkbcommon.so.0": ("libxkbcommon0",),
    "libxcb-cursor.so.0": ("libxcb-cursor0",),
    "libxcb-icccm.so.4": ("libxcb-icccm4",),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1",),
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0",),
    "libxcb-shape.so.0": ("libxcb-shape0",),
}

# Programs that only the tests use: a display in memory, and a keyboard for it.
TEST_PROGRAMS = {"Xvfb": ("xvfb",), "xdotool": ("xdotool",)}


def ensure(*, tests: bool) -> None:
    """Install what the system lacks where this may be done, else say with which command to do it."""
    if not sys.platform.startswith("linux"):
        return
    missing = _missing_libraries() | (_missing_programs() if tests else {})
    venv_package = f"python3.{sys.version_info.minor}-venv"
    if importlib.util.find_spec("ensurepip") is None:
        missing["Python's venv"] = (venv_package,)
    if not missing:
        return
    if shutil.which("apt-get") is None:
        say(f"This system lacks {', '.join(missing)}: install them with its own package tool.")
    elif os.geteuid() == 0:
        _install(missing)
    else:
        names = " ".join(_names(missing))
        say(f"This system lacks some libraries; install them with:\n    sudo apt-get install {names}")
    if importlib.util.find_spec("ensurepip") is None and os.geteuid() != 0:
        raise SetupError("Without Python's venv the environment cannot be made.")


def _missing_libraries() -> dict[str, tuple[str, ...]]:
    missing = {}
    for library, packages in LIBRARIES.items():
        try:
            ctypes.CDLL(library)
        except OSError:
            missing[library] = packages
    return missing


def _missing_programs() -> dict[str, tuple[str, ...]]:
    return {name: packages for name, packages in TEST_PROGRAMS.items() if shutil.which(name) is None}


def _names(missing: dict[str, tuple[str, ...]]) -> list[str]:
    return sorted({_known_name(packages) for packages in missing.values()})


def _known_name(packages: tuple[str, ...]) -> str:
    """Give the first of a package's names that this release has; names changed with 64-bit times."""
    for name in packages[:-1]:
        found = subprocess.run(["apt-cache", "show", name], capture_output=True, check=False)
        if found.returncode == 0 and found.stdout:
            return name
    return packages[-1]


def _install(missing: dict[str, tuple[str, ...]]) -> None:
    with Progress("Reading this system's list of packages"):
        _apt(["update"], may_fail=Path("/var/lib/apt/lists").is_dir())
    names = _names(missing)
    with Progress(f"Installing system packages: {' '.join(names)}"):
        _apt(["install", "--yes", "--no-install-recommends", *names], may_fail=False)
    importlib.invalidate_caches()


def _apt(arguments: list[str], *, may_fail: bool) -> None:
    done = subprocess.run(
        ["apt-get", "--quiet", *arguments],
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode and not may_fail:
        tail = "\n".join(done.stdout.splitlines()[-8:])
        raise SetupError(
            f"{tail}\nThe system packages could not be installed (is there a network?). By hand: "
            f"apt-get {' '.join(arguments)}"
        )

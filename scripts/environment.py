"""Makes and mends .venv, the environment that Hearthload and its tests run in; standard library only."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import system_packages
from progress import Progress, say
from system_packages import SetupError

if TYPE_CHECKING:
    from collections.abc import Callable

# A name, so that no tool takes the check for needless: this file is run by whatever Python the system has.
OLDEST_PYTHON = (3, 11)

ROOT = Path(__file__).resolve().parents[1]
VENV = ROOT / ".venv"
CONSTRAINTS = ROOT / "scripts" / "constraints.txt"
STAMP = VENV / "hearthload-stamp.json"
PIP_LOG = VENV / "pip.log"
BUILD_TOOLS = ("hatchling", "editables")

NETWORK_SIGNS = (
    "NewConnectionError",
    "ConnectTimeout",
    "ReadTimeout",
    "Read timed out",
    "ProxyError",
    "name resolution",
    "getaddrinfo failed",
    "Network is unreachable",
    "Connection refused",
)


def prepare(*, tests: bool) -> Path:
    """Make or mend the environment where needed and give the path of its Python."""
    system_packages.ensure(tests=tests)
    if not _is_ready(tests):
        _build(tests)
    return python_path()


def python_path() -> Path:
    """Give the environment's Python, present or not."""
    return VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def clean_environ() -> dict[str, str]:
    """Give the variables for programs in the environment, without those that would lead them elsewhere."""
    leading_away = {
        "PYTHONHOME",
        "PYTHONPATH",
        "PIP_TARGET",
        "PIP_PREFIX",
        "PIP_USER",
        "PIP_REQUIRE_VIRTUALENV",
    }
    kept = {name: value for name, value in os.environ.items() if name not in leading_away}
    return {**kept, "PYTHONNOUSERSITE": "1"}


def _fingerprint() -> str:
    """Tell what the environment should hold; the editable install also knows where the checkout lies."""
    digest = hashlib.sha256(str(ROOT).encode())
    for file in (CONSTRAINTS, ROOT / "pyproject.toml"):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def _installed() -> list[str]:
    """List the installed packages' records, relative to the environment."""
    pattern = "Lib/site-packages/*.dist-info" if os.name == "nt" else "lib/python3*/site-packages/*.dist-info"
    return sorted(path.relative_to(VENV).as_posix() for path in VENV.glob(pattern))


def _is_ready(tests: bool) -> bool:
    """Tell whether the environment is whole and of this checkout, from its stamp, without starting it."""
    try:
        stamp = json.loads(STAMP.read_text(encoding="utf-8"))
        return (
            stamp["fingerprint"] == _fingerprint()
            and stamp["tests"] >= tests
            and stamp["python"] == str(python_path().resolve(strict=True))
            and set(stamp["packages"]) <= set(_installed())
        )
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _build(tests: bool) -> None:
    had_tests = _had_tests()
    STAMP.unlink(missing_ok=True)
    if not _works():
        _make_venv()
    _pip("Installing the build tools", *BUILD_TOOLS)
    what = "test" if tests or had_tests else ""
    target = f"{ROOT}[{what}]" if what else str(ROOT)
    _pip("Installing packages", "--no-build-isolation", "--editable", target)
    stamp = {
        "fingerprint": _fingerprint(),
        "tests": bool(what),
        "python": str(python_path().resolve()),
        "packages": _installed(),
    }
    STAMP.write_text(json.dumps(stamp, indent=1), encoding="utf-8")


def _had_tests() -> bool:
    """Tell whether the environment held the test tools before, so that starting the program keeps them."""
    try:
        return bool(json.loads(STAMP.read_text(encoding="utf-8"))["tests"])
    except (OSError, ValueError, KeyError, TypeError):
        return False


def _works() -> bool:
    """Tell whether what is there starts, is new enough and can install; else it is made anew."""
    probe = f"import sys, pip; sys.exit(sys.version_info < {OLDEST_PYTHON})"
    try:
        done = subprocess.run(
            [python_path(), "-c", probe], capture_output=True, check=False, env=clean_environ()
        )
    except OSError:
        return False
    return done.returncode == 0


def _make_venv() -> None:
    with Progress(f"Making the environment in {VENV.name}"):
        if VENV.is_symlink() or VENV.is_file():
            VENV.unlink()
        elif VENV.exists():
            shutil.rmtree(VENV)
        base = getattr(sys, "_base_executable", None) or sys.executable
        done = subprocess.run(
            [base, "-m", "venv", str(VENV)], capture_output=True, text=True, check=False, env=clean_environ()
        )
    if done.returncode:
        said = (done.stderr or done.stdout).strip().splitlines()
        raise SetupError(
            "Python could not make the environment: " + (said[-1] if said else "no reason given")
        )


def _pip(task: str, *arguments: str) -> None:
    """Install with the exact versions of the constraints; pip's own words are shown only when it fails."""
    command = [
        str(python_path()), "-m", "pip", "install", "--no-input", "--disable-pip-version-check",
        "--progress-bar", "off", "--constraint", str(CONSTRAINTS), *arguments,
    ]  # fmt: skip
    lines: list[str] = []
    with Progress(task, "packages fetched") as progress:
        process = subprocess.Popen(
            command,
            cwd=ROOT,
            env=clean_environ(),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        )
        with process:
            for line in process.stdout or ():
                lines.append(line.rstrip())
                progress.count += line.lstrip().startswith("Collecting ")
    if process.returncode:
        _explain(lines)


def _explain(lines: list[str]) -> None:
    """Raise a sentence that says why pip failed, from what it printed."""
    PIP_LOG.write_text("\n".join(lines), encoding="utf-8")
    report = "\n".join(lines)
    if any(sign in report for sign in NETWORK_SIGNS):
        raise SetupError(
            "The packages could not be fetched: there seems to be no network. "
            "Connect, then give the same command again; it goes on where it stopped."
        )
    if "CERTIFICATE_VERIFY_FAILED" in report:
        raise SetupError(
            "The packages could not be fetched: the network's certificates are not trusted here."
        )
    if "No space left on device" in report:
        raise SetupError("The packages do not fit: the disk is full. About 1 GB is needed.")
    tail = "\n".join(f"    {line}" for line in lines[-12:])
    raise SetupError(
        f"{tail}\nThe packages could not be installed; all that pip said is in {PIP_LOG.relative_to(ROOT)}. "
        "If it helps nothing else, delete .venv and give the same command again."
    )


def run_or_sentence(task: Callable[[], int]) -> int:
    """Run a script's task, turning what stands in the way into one sentence and an exit code."""
    if sys.version_info < OLDEST_PYTHON:
        found = ".".join(str(part) for part in sys.version_info[:2])
        say(f"Hearthload needs Python 3.11 or newer; this is Python {found}.")
        return 1
    try:
        return task()
    except SetupError as stop:
        say(str(stop))
        return 1
    except KeyboardInterrupt:
        say("Stopped. The same command goes on where it stopped.")
        return 130

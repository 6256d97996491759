"""The scripts that make the environment: what they take for whole, what they mend, what they say."""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[1]
SCRIPTS = ROOT / "scripts"
SITE = "Lib/site-packages" if os.name == "nt" else "lib/python3.11/site-packages"
OWN = ("environment", "progress", "system_packages")


@pytest.fixture
def environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> ModuleType:
    """Give scripts/environment.py with its .venv moved to an empty folder."""
    monkeypatch.syspath_prepend(str(SCRIPTS))
    import environment

    venv = tmp_path / "venv"
    monkeypatch.setattr(environment, "VENV", venv)
    monkeypatch.setattr(environment, "STAMP", venv / "stamp.json")
    monkeypatch.setattr(environment, "PIP_LOG", venv / "pip.log")
    monkeypatch.setattr(environment, "ROOT", tmp_path)
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    return environment


def stamp_whole(environment: ModuleType, *, tests: bool) -> None:
    """Lay down a bare environment with one package's record and the stamp of a finished installation."""
    (environment.VENV / SITE / "thing-1.0.dist-info").mkdir(parents=True)
    environment.python_path().parent.mkdir(exist_ok=True)
    environment.python_path().symlink_to(sys.executable)
    stamp = {
        "fingerprint": environment._fingerprint(),
        "tests": tests,
        "python": str(environment.python_path().resolve()),
        "packages": environment._installed(),
    }
    environment.STAMP.write_text(json.dumps(stamp))


@pytest.mark.parametrize("name", ["run.py", "test.py", *(f"{name}.py" for name in OWN)])
def test_an_old_python_can_read_the_scripts_and_be_told(name: str) -> None:
    ast.parse((SCRIPTS / name).read_text("utf-8"), feature_version=(3, 8))


@pytest.mark.parametrize("name", ["run.py", "test.py", *(f"{name}.py" for name in OWN)])
def test_scripts_need_the_standard_library_only(name: str) -> None:
    tree = ast.parse((SCRIPTS / name).read_text("utf-8"))
    tops = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            tops |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            tops.add(node.module.split(".")[0])
    assert tops <= set(sys.stdlib_module_names) | set(OWN)


def test_an_old_python_is_told_in_a_sentence(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(environment, "OLDEST_PYTHON", (99, 0))
    assert environment.run_or_sentence(lambda: 0) == 1
    assert "needs Python 3.11 or newer" in capsys.readouterr().err


def test_a_whole_environment_is_left_alone(environment: ModuleType) -> None:
    stamp_whole(environment, tests=True)
    assert environment._is_ready(tests=True)
    assert environment._is_ready(tests=False)


def test_an_environment_without_the_test_tools_is_not_ready_for_tests(environment: ModuleType) -> None:
    stamp_whole(environment, tests=False)
    assert environment._is_ready(tests=False)
    assert not environment._is_ready(tests=True)


def test_new_versions_make_it_stale(environment: ModuleType) -> None:
    stamp_whole(environment, tests=True)
    (environment.ROOT / "pyproject.toml").write_text("[project]\nname = 'other'\n")
    assert not environment._is_ready(tests=False)


def test_a_lost_package_makes_it_stale(environment: ModuleType) -> None:
    stamp_whole(environment, tests=True)
    (environment.VENV / SITE / "thing-1.0.dist-info").rmdir()
    assert not environment._is_ready(tests=False)


@pytest.mark.parametrize("stamp", ["", "{", "[]", '{"fingerprint": 1}', "null"])
def test_a_damaged_stamp_makes_it_stale(environment: ModuleType, stamp: str) -> None:
    stamp_whole(environment, tests=True)
    environment.STAMP.write_text(stamp)
    assert not environment._is_ready(tests=False)


def test_a_broken_environment_is_seen_and_made_anew(environment: ModuleType) -> None:
    environment._make_venv()
    assert environment._works()
    environment.python_path().unlink()
    environment.python_path().symlink_to("/nowhere/python3")
    assert not environment._works()
    environment._make_venv()
    assert environment._works()


@pytest.mark.parametrize(
    ("report", "words"),
    [
        ("WARNING: Retrying ... NewConnectionError: Temporary failure in name resolution", "no network"),
        ("ERROR: [Errno 28] No space left on device", "disk is full"),
        ("SSLError CERTIFICATE_VERIFY_FAILED", "not trusted"),
        ("ERROR: something nobody foresaw", "something nobody foresaw"),
    ],
)
def test_pip_failures_become_sentences(environment: ModuleType, report: str, words: str) -> None:
    environment.VENV.mkdir()
    with pytest.raises(environment.SetupError, match=words):
        environment._explain([report])
    assert environment.PIP_LOG.read_text() == report


def test_variables_that_lead_elsewhere_are_left_out(
    environment: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", "/elsewhere")
    monkeypatch.setenv("PIP_TARGET", "/elsewhere")
    assert not {"PYTHONPATH", "PIP_TARGET"} & set(environment.clean_environ())


def test_every_pin_is_exact_and_every_requirement_pinned() -> None:
    lines = [
        line for line in (SCRIPTS / "constraints.txt").read_text().splitlines() if line and line[0] != "#"
    ]
    assert all(re.fullmatch(r"[A-Za-z0-9-]+==[0-9.]+(post[0-9]+)?", line) for line in lines)
    pinned = {line.split("==")[0].lower() for line in lines}
    project = (ROOT / "pyproject.toml").read_text()
    named = {
        name.lower() for name in re.findall(r'^ *(?:requires = \[)?"([A-Za-z-]+)[><=]', project, re.MULTILINE)
    }
    assert named
    assert named <= pinned


def test_what_is_installed_here_is_what_is_pinned() -> None:
    listed = subprocess.run(
        [sys.executable, "-m", "pip", "list", "--format", "json"], capture_output=True, check=True, text=True
    )
    versions = {one["name"].lower().replace("_", "-"): one["version"] for one in json.loads(listed.stdout)}
    lines = (SCRIPTS / "constraints.txt").read_text().splitlines()
    pins = dict(line.lower().split("==") for line in lines if line and line[0] != "#")
    assert {name: version for name, version in pins.items() if versions.get(name, version) != version} == {}
    assert set(versions) - set(pins) <= {"hearthload", "pip", "setuptools"}

"""The command line as a person and as a machine uses it, each command a process in an empty home."""

from __future__ import annotations

import math
import os
import subprocess
import sys
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import hearthload as package
from hearthload.domain.appliance import ApplianceDraft, Kind
from hearthload.domain.meter import MeterDraft
from hearthload.domain.reading import ReadingDraft
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import start_measurement
from hearthload.service.edits.meters import add_meter
from hearthload.service.logbook import open_logbook

if TYPE_CHECKING:
    from tests.whole.conftest import Child, Hearthload

DAYS = 5


def furnish(path: Path, days: int) -> datetime:
    """Add an appliance and a meter to a logbook and start a measurement so many days ago."""
    began = datetime.now().astimezone().replace(microsecond=0) - timedelta(days=days)
    with open_logbook(path) as logbook:
        appliance_id = add_appliance(
            logbook, ApplianceDraft("Larder refrigerator", Kind.REFRIGERATOR)
        ).created_id
        meter_id = add_meter(logbook, MeterDraft("Grey meter")).created_id
        assert appliance_id is not None
        assert meter_id is not None
        start_measurement(logbook, appliance_id, meter_id, ReadingDraft(began, 0.0, 0.0), exact_zero=True)
    return began


def test_version(hearthload: Hearthload) -> None:
    for words in (["--version"], ["show", "--version"]):
        answer = hearthload(*words)
        assert (answer.code, answer.out, answer.err) == (0, f"Hearthload {package.__version__}\n", "")


@pytest.mark.parametrize("command", ["", "new", "show", "log", "estimate", "pictures"])
def test_help(hearthload: Hearthload, command: str) -> None:
    answer = hearthload(*([command] if command else []), "--help")
    assert answer.code == 0
    assert answer.out.startswith("usage: hearthload")
    assert answer.err == ""


def test_new_show_log_show(hearthload: Hearthload, tmp_path: Path) -> None:
    path = tmp_path / "home.hearthload"
    assert hearthload("new", path).code == 0
    assert "still empty" in hearthload("show", path).out
    began = furnish(path, DAYS)
    for day in range(1, DAYS):
        at = (began + timedelta(days=day)).isoformat()
        answer = hearthload("log", path, "LARDER", f"{1.02 * day:.2f}", f"{24 * day}:00", "--at", at)
        assert (answer.code, answer.err) == (0, "")
        assert "Saved: Larder refrigerator" in answer.out
    shown = hearthload("show", path)
    assert shown.code == 0
    line = next(line for line in shown.out.splitlines() if line.startswith("Larder refrigerator"))
    assert "running" in line
    assert "1.02 ±" in line


def test_json_is_for_machines(hearthload: Hearthload, tmp_path: Path) -> None:
    path = tmp_path / "home.hearthload"
    assert hearthload("new", path, "--json").json() == {"logbook": str(path)}
    began = furnish(path, 2)
    at = (began + timedelta(days=1)).isoformat()
    saved = hearthload("log", path, "larder", "1,02", "24", "--at", at, "--watts", "85", "--json").json()
    assert saved["energy_kwh"] == 1.02
    assert saved["elapsed_h"] == 24.0
    assert saved["power_w"] == 85.0
    assert datetime.fromisoformat(saved["taken_at"]) == datetime.fromisoformat(at)
    (appliance,) = hearthload("--json", "show", path).json()["appliances"]
    assert appliance["readings"] == 2
    assert appliance["daily_kwh"] == saved["daily_kwh"]
    ends = appliance["daily_kwh"]
    assert 0 < ends["low"] < ends["median"] < ends["high"]


def rows(name: str, kind: str, daily_kwh: float, days: int) -> list[str]:
    return [
        f"{name},{kind},2026-11-{day + 1:02d}T07:00:00+01:00,{daily_kwh * day:.2f}" for day in range(days)
    ]


def csv_file(tmp_path: Path, *lines: str) -> Path:
    path = tmp_path / "readings.csv"
    path.write_text("\n".join(["appliance,kind,taken_at,energy_kwh", *lines]) + "\n", encoding="utf-8")
    return path


def test_estimate_needs_no_logbook(hearthload: Hearthload, tmp_path: Path, home: Path) -> None:
    path = csv_file(tmp_path, *rows("Router", "always_on", 0.24, 8), *rows("Larder", "refrigerator", 1.0, 8))
    answer = hearthload("estimate", path, "--json")
    assert answer.err == ""
    router, larder = answer.json()["appliances"]
    assert router["appliance"] == "Router"
    assert math.isclose(router["daily_kwh"]["median"], 0.24, rel_tol=0.05)
    assert router["daily_kwh"]["low"] <= 0.24 <= router["daily_kwh"]["high"]
    assert larder["daily_kwh"]["low"] <= 1.0 <= larder["daily_kwh"]["high"]
    text = hearthload("estimate", path).out
    assert len(text.splitlines()) == 3
    assert list(home.iterdir()) == []


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("Router,always_on,2026-11-01T07:00:00+01:00,twelve", ["line 2", "energy_kwh"]),
        ("Router,always_on,2026-11-01T07:00:00+01:00,-1", ["line 2", "energy_kwh"]),
        ("Router,always_on,2026-11-01T07:00:00+01:00,nan", ["line 2", "energy_kwh"]),
        ("Router,always_on,2026-11-01T07:00:00+01:00,1e400", ["line 2", "energy_kwh"]),
        ("Router,always_on,2026-11-01T07:00:00+01:00,", ["line 2", "energy_kwh"]),
        ("Router,always_on,yesterday,1", ["line 2", "taken_at"]),
        ("Router,spaceship,2026-11-01T07:00:00+01:00,1", ["line 2", "kind"]),
    ],
)
def test_estimate_refuses_a_bad_cell(
    hearthload: Hearthload, tmp_path: Path, line: str, says: list[str]
) -> None:
    hearthload("estimate", csv_file(tmp_path, line)).refused("readings.csv", *says)


def test_estimate_refuses_what_is_no_table(hearthload: Hearthload, tmp_path: Path) -> None:
    hearthload("estimate", tmp_path / "none.csv").refused("none.csv")
    hearthload("estimate", tmp_path).refused("folder")
    (tmp_path / "picture.csv").write_bytes(bytes(range(256)) * 20)
    hearthload("estimate", tmp_path / "picture.csv").refused("picture.csv")
    (tmp_path / "empty.csv").write_bytes(b"")
    hearthload("estimate", tmp_path / "empty.csv").refused("empty.csv")


LOADED = """
import sys
from hearthload.cli import main
code = main({words!r})
loaded = sorted({{name.split(".")[0] for name in sys.modules}} & {unwanted!r})
print(code, loaded, file=sys.stderr)
"""


def test_commands_load_only_what_they_need(child: Child, tmp_path: Path) -> None:
    path = str(csv_file(tmp_path, *rows("Router", "always_on", 0.24, 3)))
    heavy = {"PySide6", "pyqtgraph", "sqlalchemy"}
    for words, unwanted in ((["estimate", path], heavy), (["--version"], heavy | {"numpy", "scipy"})):
        answer = child(LOADED.format(words=words, unwanted=unwanted))
        assert answer.err.strip() == "0 []", answer.err


def test_no_display_is_said_in_a_sentence(hearthload: Hearthload) -> None:
    if not sys.platform.startswith("linux"):
        pytest.skip("other systems always have a display")
    nothing = {"QT_QPA_PLATFORM": "", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    hearthload("--demo", **nothing).refused("no display", "pictures DIR --demo")
    hearthload("--demo", **{**nothing, "DISPLAY": ":987"}).refused(":987", "pictures DIR --demo")


def test_unknown_words_are_refused(hearthload: Hearthload) -> None:
    hearthload("shwo").refused("shwo")
    hearthload("--loud").refused("--loud")
    hearthload("show").refused("LOGBOOK is missing")
    hearthload("pictures").refused("DIR is missing")


@pytest.mark.skipif(os.name == "nt", reason="pipes close otherwise")
def test_a_closed_pipe_is_no_fault(home: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "hearthload", "--help"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=home,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert b"Traceback" not in process.stderr.read()


BUG = """
import sys
import hearthload.commands.new as new
def run(options):
    raise ZeroDivisionError("a bug")
new.run = run
from hearthload.cli import main
sys.exit(main(["new", "x.hearthload"]))
"""


def test_a_bug_leaves_a_report_and_no_traceback(child: Child, home: Path) -> None:
    answer = child(BUG)
    assert answer.code == 70
    assert "Traceback" not in answer.err
    assert "sorry" in answer.err
    (report,) = home.rglob("report-*.txt")
    assert "ZeroDivisionError: a bug" in report.read_text(encoding="utf-8")
    assert str(report) in answer.err


def test_errors_of_json_commands_are_sentences_too(hearthload: Hearthload, tmp_path: Path) -> None:
    hearthload("show", tmp_path / "none.hearthload", "--json").refused("none.hearthload")

"""A person's first week by keyboard alone: the real program, a real X display, real key presses."""

from __future__ import annotations

import os
import shutil
import sqlite3
import struct
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import pytest

from hearthload.domain.measurement import MeasurementRecord, MeasurementState
from hearthload.service import queries
from hearthload.service.logbook import open_logbook

if TYPE_CHECKING:
    from hearthload.service.answers import ChartData
from hearthload.service.roster_answers import RosterRow

XVFB, XDOTOOL = (shutil.which(tool) or tool for tool in ("Xvfb", "xdotool"))
pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux")
    or ("CI" not in os.environ and not all(Path(tool).is_absolute() for tool in (XVFB, XDOTOOL))),
    reason="needs Xvfb and xdotool",
)

WIDTH, HEIGHT = 1280, 860
KEY_DELAY_MS = "4"
SOON_S = 15.0
BUTTON_S = 0.4
MORNINGS = 5
TREND_BLUE = (0x00, 0x72, 0xB2)

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Load:
    """What one appliance of the test is called, sorted under, measured with, and uses a day."""

    name: str
    kind_keys: tuple[str, ...]
    meter: str
    daily_kwh: float


LOADS = (
    Load("Larder box", ("Home",), "Black meter", 0.80),
    Load("Deep chest", ("Home", "Down"), "Green meter", 1.30),
)


@dataclass(frozen=True)
class Held:
    """What the saved file holds: all that the test looks at, without the numbers of rows."""

    rows: tuple[RosterRow, ...]
    meters: tuple[str, ...]
    records: tuple[MeasurementRecord, ...]
    charts: tuple[ChartData, ...]

    @property
    def readings(self) -> int:
        return sum(len(record.readings) for record in self.records)


def held(path: Path) -> Held:
    """Ask a copy of the file what it holds: the running program goes on writing meanwhile."""
    copy = path.with_suffix(".copy")
    with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(copy)) as target:
        source.backup(target)
    with open_logbook(copy) as logbook:
        rows = queries.roster(logbook, datetime.now().astimezone())
        measurements = [row.measurement for row in rows if row.measurement is not None]
        return Held(
            rows,
            tuple(row.meter.name for row in queries.meters(logbook)),
            tuple(logbook.caches.record(measurement.id) for measurement in measurements),
            tuple(queries.chart(logbook, measurement.id) for measurement in measurements),
        )


def wait_for(ask: Callable[[], Answer], good: Callable[[Answer], bool], what: str) -> Answer:
    until = time.monotonic() + SOON_S
    while True:
        answer = ask()
        if good(answer):
            return answer
        if time.monotonic() > until:
            pytest.fail(f"{what}: still {answer!r}")
        time.sleep(0.05)


@dataclass
class Screen:
    """An X display of its own in memory, whose picture is a file."""

    folder: Path
    number: str = ""
    process: subprocess.Popen[bytes] | None = field(default=None, repr=False)

    @property
    def picture(self) -> Path:
        return self.folder / "Xvfb_screen0"

    def open(self) -> None:
        read_end, write_end = os.pipe()
        size = f"{WIDTH}x{HEIGHT}x24"
        self.process = subprocess.Popen(
            [
                XVFB,
                "-displayfd",
                str(write_end),
                "-screen",
                "0",
                size,
                "-nolisten",
                "tcp",
                "-fbdir",
                str(self.folder),
            ],
            pass_fds=(write_end,),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(write_end)
        with os.fdopen(read_end) as said:
            self.number = f":{said.readline().strip()}"

    def close(self) -> None:
        if self.process is not None:
            self.process.terminate()
            self.process.wait(timeout=SOON_S)

    def pixels(self) -> memoryview:
        """Give the picture's pixels as blue, green, red, unused; Xvfb keeps the picture as an XWD file."""
        raw = self.picture.read_bytes()
        header = struct.unpack(">25I", raw[:100])
        begin = header[0] + 12 * header[19]
        return memoryview(raw)[begin : begin + header[12] * HEIGHT].cast("I")

    def count(self, colour: tuple[int, int, int]) -> int:
        red, green, blue = colour
        wanted = red << 16 | green << 8 | blue
        return sum(pixel & 0xFFFFFF == wanted for pixel in self.pixels())

    def colours(self) -> int:
        return len(set(self.pixels()))


class Keyboard:
    """Key presses into the program's window, and nothing else."""

    def __init__(self, screen: Screen, home: Path) -> None:
        self.environ = {**os.environ, "DISPLAY": screen.number, "QT_QPA_PLATFORM": "xcb", "LC_ALL": "C.UTF-8"}
        self.environ.pop("WAYLAND_DISPLAY", None)
        self.home = home
        self.program: subprocess.Popen[str] | None = None

    def start(self, *arguments: str) -> None:
        self.program = subprocess.Popen(
            [sys.executable, "-P", "-m", "hearthload", *arguments],
            cwd=self.home,
            env=self.environ,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        self.focus("Hearthload")

    def focus(self, title: str) -> None:
        """Wait for a window with this in its title and give it the keyboard; here is no window manager to."""
        found = wait_for(lambda: self._windows(title), bool, f"a window “{title}”")
        self._do("windowfocus", "--sync", found[-1])

    def press(self, *keys: str) -> None:
        self._do("key", "--delay", KEY_DELAY_MS, *keys)

    def push(self, key: str) -> None:
        """Press a button by its letter and give it the tenth of a second for which Qt shows it pressed."""
        self.press(key)
        time.sleep(BUTTON_S)

    def write(self, text: str) -> None:
        self._do("type", "--delay", KEY_DELAY_MS, text)

    def leave(self) -> str:
        """Quit by the menu's key and give what the program had said."""
        self.press("ctrl+q")
        assert self.program is not None
        said, _ = self.program.communicate(timeout=SOON_S)
        assert self.program.returncode == 0, said
        return said

    def stop(self) -> None:
        if self.program is not None and self.program.poll() is None:
            self.program.kill()
            self.program.communicate()

    def _windows(self, title: str) -> list[str]:
        if self.program is not None and self.program.poll() is not None:
            pytest.fail(f"the program ended: {self.program.communicate()[0]}")
        done = subprocess.run(
            [XDOTOOL, "search", "--onlyvisible", "--name", title],
            env=self.environ,
            capture_output=True,
            text=True,
            check=False,
        )
        return done.stdout.split()

    def _do(self, *words: str) -> None:
        subprocess.run([XDOTOOL, *words], env=self.environ, check=True, timeout=SOON_S)


class Person:
    """What a person does with the keyboard, step by step, looking into the saved file after each."""

    def __init__(self, keyboard: Keyboard, path: Path) -> None:
        self.keyboard = keyboard
        self.path = path
        self.first_day = datetime.now().astimezone().date() - timedelta(days=MORNINGS + 1)

    def wait(self, good: Callable[[Held], bool], what: str) -> Held:
        return wait_for(lambda: held(self.path), good, what)

    def new_logbook(self) -> None:
        self.keyboard.press("ctrl+n")
        self.keyboard.focus("New logbook")
        self.keyboard.press("ctrl+a")
        self.keyboard.write(str(self.path))
        self.keyboard.press("Return")
        wait_for(self.path.exists, bool, "the new file")
        self.keyboard.focus(self.path.stem)

    def add_appliance(self, load: Load) -> None:
        self.keyboard.press("ctrl+shift+a")
        self.keyboard.write(load.name)
        self.keyboard.press("Tab", "Tab", *load.kind_keys, "Return")
        self.wait(lambda now: load.name in {row.appliance.name for row in now.rows}, load.name)

    def add_meter(self, load: Load) -> None:
        self.keyboard.press("ctrl+shift+m")
        self.keyboard.write(load.meter)
        self.keyboard.press("Return")
        self.wait(lambda now: load.meter in now.meters, load.meter)
        self.keyboard.press("ctrl+1")

    def choose(self, load: Load) -> None:
        """Find an appliance's row by the filter box."""
        self.keyboard.press("ctrl+f")
        self.keyboard.write(load.name)
        self.keyboard.press("Down")

    def start_measuring(self, load: Load) -> None:
        self.choose(load)
        self.keyboard.push("alt+s")
        self.keyboard.press("Tab", "Tab")
        self.keyboard.write(f"{self.first_day} 07:30")
        self.keyboard.press("Return")
        self.wait(lambda now: load.name in measured(now), f"{load.name} being measured")

    def type_mornings(self) -> None:
        """Type morning after morning, meter after meter, the time set back in the time field."""
        self.keyboard.press("ctrl+f", "Escape", "ctrl+r")
        for morning in range(1, MORNINGS + 1):
            for load in sorted(LOADS, key=lambda load: load.name):
                before = held(self.path).readings
                self.keyboard.write(f"{load.daily_kwh * morning:.2f}")
                self.keyboard.press("Return")
                self.keyboard.write(f"{24 * morning}:00")
                self.keyboard.press("Tab")
                self.keyboard.write(f"{self.first_day + timedelta(days=morning)} 07:30")
                self.keyboard.press("Return")
                self.wait(partial(has_readings, before + 1), f"{load.name} {morning}")

    def finish(self, load: Load) -> None:
        self.choose(load)
        self.keyboard.push("alt+n")
        self.keyboard.press("Return")
        self.wait(lambda now: finished(now) == [load.name], "finished")


def has_readings(count: int, now: Held) -> bool:
    return now.readings == count


def measured(now: Held) -> list[str]:
    return [row.appliance.name for row in now.rows if row.state is MeasurementState.RUNNING]


def finished(now: Held) -> list[str]:
    return [row.appliance.name for row in now.rows if row.state is MeasurementState.FINISHED]


@pytest.fixture
def screen(tmp_path: Path) -> Iterator[Screen]:
    folder = tmp_path / "screen"
    folder.mkdir()
    made = Screen(folder)
    made.open()
    yield made
    made.close()


@pytest.fixture
def person(screen: Screen, home: Path, tmp_path: Path) -> Iterator[Person]:
    keyboard = Keyboard(screen, home)
    yield Person(keyboard, tmp_path / "week.hearthload")
    # Xvfb takes its picture away when it ends; whoever looks into a failure wants to see the last one.
    shutil.copy(screen.picture, tmp_path / "last_picture.xwd")
    keyboard.stop()


def test_a_first_week_by_keyboard_alone(person: Person, screen: Screen) -> None:
    keyboard = person.keyboard
    keyboard.start()
    person.new_logbook()
    for load in LOADS:
        person.add_appliance(load)
        person.add_meter(load)
    for load in LOADS:
        person.start_measuring(load)
    person.type_mornings()
    person.finish(LOADS[0])
    week = held(person.path)
    check_week(week)
    wait_for(lambda: screen.count(TREND_BLUE), lambda count: count > 100, "the drawn averages")
    undo_and_redo(person, week)
    keyboard.leave()

    keyboard.start(str(person.path))
    keyboard.focus(person.path.stem)
    assert held(person.path) == week
    wait_for(lambda: screen.count(TREND_BLUE), lambda count: count > 100, "the averages, opened again")
    assert screen.colours() > 50
    keyboard.leave()


def check_week(week: Held) -> None:
    """Both averages are what was typed, inside bands that narrowed morning by morning."""
    assert week.readings == len(LOADS) * (MORNINGS + 1)
    assert finished(week) == [LOADS[0].name]
    typed = {load.name: load.daily_kwh for load in LOADS}
    for row in week.rows:
        assert row.estimate is not None
        assert row.estimate.daily_kwh is not None
        assert row.estimate.daily_kwh.value == pytest.approx(typed[row.appliance.name], rel=0.05)
        assert row.estimate.daily_kwh.low < typed[row.appliance.name] < row.estimate.daily_kwh.high
    for chart in week.charts:
        widths = [point.daily_kwh.high - point.daily_kwh.low for point in chart.trend]
        assert len(widths) == MORNINGS
        assert widths[-1] < widths[0]
        assert len(chart.spans) == MORNINGS


def undo_and_redo(person: Person, week: Held) -> None:
    """Take everything back to the empty logbook, and bring everything again."""
    keyboard = person.keyboard
    keyboard.press("ctrl+f", "Escape", "Down")
    edits = 2 * len(LOADS) + len(LOADS) * (MORNINGS + 1) + 1
    for _ in range(edits):
        keyboard.press("ctrl+z")
    person.wait(lambda now: not now.rows and not now.meters, "everything taken back")
    for _ in range(edits):
        keyboard.press("ctrl+shift+z")
    person.wait(lambda now: now == week, "everything brought again")

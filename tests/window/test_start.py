"""The start: the window first, the roster as it stood, then the logbook; and if there is none to open."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QWidget

from hearthload.domain.household import Household
from hearthload.main import Start
from hearthload.service.logbook import create_logbook
from hearthload.service.preferences import data_folder, default_logbook_path
from hearthload.window.glance_page import GlancePage
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.readings.roster_cells import Column
from hearthload.window.session import Session
from tests.window.filling import House
from tests.window.hands import clear_away

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from hearthload.window.readings.roster_model import RosterOrder

Starting = Callable[..., Start]
pytestmark = pytest.mark.usefixtures("dressed")


@pytest.fixture
def starting(qtbot: QtBot, clock: Callable[[], datetime]) -> Iterator[Starting]:
    """Give a function that prepares a start by the test's clock and closes its logbook in the end."""
    begun: list[Start] = []

    def prepare(path: Path | None = None, *, demo: bool = False) -> Start:
        start = Start(path, demo=demo, clock=clock)
        qtbot.addWidget(start.window)
        begun.append(start)
        return start

    yield prepare
    for start in begun:
        start.session.close()
    clear_away()


def run(qtbot: QtBot, start: Start) -> list[tuple[str, str]]:
    """Show the window and wait until it is ready; give what was told and what was shown then."""
    told: list[tuple[str, str]] = []

    def shown() -> str:
        return type(start.window.shown).__name__

    start.painted.connect(lambda: told.append(("painted", shown())))
    start.session.switched.connect(lambda _path: told.append(("opened", shown())))
    start.ready.connect(lambda: told.append(("ready", shown())))
    with qtbot.waitSignal(start.ready, timeout=20_000):
        start.window.show()
    return told


def kept_household(clock: Callable[[], datetime]) -> Path:
    """Leave the person's own logbook closed, with two appliances."""
    path = default_logbook_path()
    session = Session(clock)
    session.attach(create_logbook(path, Household(name="Hillside")))
    house = House(session, clock)
    house.measured("Deep chest", room="barn")
    house.appliance("Lamp")
    session.close()
    return path


def texts(order: RosterOrder) -> list[list[str]]:
    return [[str(order.index(row, column).data()) for column in Column] for row in range(order.rowCount())]


def test_the_first_start_makes_a_logbook(starting: Starting, qtbot: QtBot) -> None:
    start = starting()
    told = run(qtbot, start)
    assert [name for name, _ in told] == ["painted", "opened", "ready"]
    assert told[0] == ("painted", "StartPage")
    assert default_logbook_path().is_file()
    assert isinstance(start.window.shown, ReadingsPage)
    assert start.window.shown.steps.isVisible()
    assert not start.window.strip.isVisible()


def test_the_roster_is_shown_before_the_logbook_is_open(
    starting: Starting, qtbot: QtBot, clock: Callable[[], datetime]
) -> None:
    kept_household(clock)
    start = starting()
    glances: list[tuple[list[list[str]], str, bool]] = []

    def look(shown: QWidget) -> None:
        if isinstance(shown, GlancePage):
            standing = shown.sides.head.standing.text()
            glances.append((texts(shown.sides.roster.view.order), standing, start.session.is_open))

    start.window._stack.currentChanged.connect(lambda _at: look(start.window.shown or start.window))
    told = run(qtbot, start)
    assert [name for name, _ in told] == ["painted", "opened", "ready"]
    (glance,) = glances
    page = start.window.shown
    assert isinstance(page, ReadingsPage)
    assert glance == (texts(page.roster.view.order), page.head.standing.text(), False)
    assert [row[0] for row in glance[0]] == ["Deep chest", "Lamp"]
    qtbot.waitUntil(lambda: not start.window.findChildren(GlancePage))


def test_the_glance_can_be_read_but_not_used(
    starting: Starting, qtbot: QtBot, clock: Callable[[], datetime]
) -> None:
    path = kept_household(clock)
    start = starting()
    start.window.show()
    viewport = start.window.show_glance(path)
    page = start.window.shown
    assert isinstance(page, GlancePage)
    assert viewport is page.sides.roster.view.viewport()
    assert all(not part.focusPolicy().value for part in page.findChildren(QWidget))
    assert start.window.bar.tabs["readings"].isChecked()
    qtbot.waitUntil(lambda: start.session.is_open)
    assert isinstance(start.window.shown, ReadingsPage)


def test_a_logbook_changed_since_is_not_glanced_at(
    starting: Starting, qtbot: QtBot, clock: Callable[[], datetime]
) -> None:
    path = kept_household(clock)
    path.touch()
    start = starting()
    run(qtbot, start)
    assert start.window.show_glance(path.with_name("other.hearthload")) is None
    assert isinstance(start.window.shown, ReadingsPage)


def test_a_logbook_that_was_named_is_the_one_that_opens(
    starting: Starting, qtbot: QtBot, tmp_path: Path
) -> None:
    path = tmp_path / "mill.hearthload"
    create_logbook(path, Household(name="Mill lane")).close()
    start = starting(path)
    run(qtbot, start)
    assert start.session.logbook.path == path
    assert start.window.windowTitle() == "Mill lane — Hearthload"
    assert not default_logbook_path().exists()


def test_the_demo_opens_beside_the_persons_own(starting: Starting, qtbot: QtBot) -> None:
    start = starting(demo=True)
    run(qtbot, start)
    assert start.session.logbook.path.name.startswith("demo-")
    assert not default_logbook_path().exists()
    assert isinstance(start.window.shown, ReadingsPage)


@pytest.mark.parametrize("trouble", ["no logbook", "empty", "a folder", "not there"])
def test_what_cannot_be_opened_leads_to_the_start_page(
    starting: Starting, qtbot: QtBot, tmp_path: Path, trouble: str
) -> None:
    path: Path | None = None
    own = default_logbook_path()
    if trouble == "no logbook":
        own.write_text("milk, bread", encoding="utf-8")
    elif trouble == "empty":
        own.touch()
    elif trouble == "a folder":
        own.mkdir()
    else:
        path = tmp_path / "gone.hearthload"
    start = starting(path)
    told = run(qtbot, start)
    assert [name for name, _ in told] == ["painted", "ready"]
    assert start.window.shown is start.window.start
    assert start.window.strip.isVisible()
    assert (path or own).name in start.window.strip.sentence
    assert start.window.start.new_button.isVisible()
    assert start.window.windowTitle() == "Hearthload"


def test_a_folder_that_cannot_be_made_leads_to_the_start_page(starting: Starting, qtbot: QtBot) -> None:
    folder = data_folder()
    folder.rmdir()
    folder.write_text("a file where the folder should be", encoding="utf-8")
    start = starting()
    run(qtbot, start)
    assert start.window.shown is start.window.start
    assert "cannot be made" in start.window.strip.sentence


def test_the_start_page_leads_on(starting: Starting, qtbot: QtBot) -> None:
    own = default_logbook_path()
    own.write_text("milk, bread", encoding="utf-8")
    start = starting()
    run(qtbot, start)
    start.window.start.demo_button.click()
    assert start.session.is_open
    assert isinstance(start.window.shown, ReadingsPage)
    assert not start.window.strip.isVisible()


def fail() -> None:
    raise ZeroDivisionError("made up")


def test_a_bug_is_told_in_the_window_and_its_report_is_kept(starting: Starting, qtbot: QtBot) -> None:
    start = starting()
    run(qtbot, start)
    with pytest.raises(ZeroDivisionError) as caught:
        fail()
    start.report(caught.type, caught.value, caught.tb)
    assert start.window.strip.isVisible()
    assert "Traceback" not in start.window.strip.sentence
    files = [path for path in data_folder().parent.rglob("*") if path.is_file()]
    (report,) = (path for path in files if "made up" in path.read_text(encoding="utf-8", errors="ignore"))
    assert report.name in start.window.strip.sentence
    assert isinstance(start.window.shown, ReadingsPage)

"""Times an edit of one load of a large outage plan, to the repainted load list in the real window."""

from __future__ import annotations

import os
import tempfile
import time
from datetime import datetime, timedelta
from pathlib import Path

from PySide6.QtWidgets import QApplication, QWidget

from bench_logbook import make_large_logbook
from bench_results import Figure, median, percentile, print_json
from bench_saving import Paints
from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanDraft, PlanLoadDraft
from hearthload.main import application
from hearthload.service.edits.plans import add_plan, set_plan_load
from hearthload.service.logbook import Logbook
from hearthload.window.main_window import MainWindow
from hearthload.window.outage.load_table import LoadTable
from hearthload.window.session import Session

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

MOST_EDIT_MS = 30.0
LOADS, DAYS, EDITS = 60, 10, 60
LAST_MORNING = datetime(2025, 11, 24, 7, 30).astimezone()


def time_outage(loads: int = LOADS, edits: int = EDITS) -> list[Figure]:
    """Change how many there are of one load after another, as a person tries what her plan takes."""
    with tempfile.TemporaryDirectory() as folder:
        logbook = make_large_logbook(Path(folder) / "bench.hearthload", loads, DAYS, LAST_MORNING)
        add_plan(logbook, PlanDraft("Storm", latitude_deg=48.0))
        for appliance_id in list(logbook.held().appliances):
            set_plan_load(logbook, 1, PlanLoadDraft(appliance_id, Role.WANTED))
        times = _edited(logbook, edits)
    return [
        Figure(
            f"editing one of {loads} loads, median of {edits}",
            median(times),
            "ms",
            MOST_EDIT_MS,
            f"p95 {percentile(times, 0.95):.0f}, worst {max(times):.0f} ms; edit, totals and repaint",
        )
    ]


def _edited(logbook: Logbook, edits: int) -> list[float]:
    application()
    session = Session(lambda: LAST_MORNING + timedelta(minutes=10))
    window = MainWindow(session)
    window.resize(1280, 800)
    window.show()
    session.attach(logbook)
    page = window.show_page("outage")
    _settle()
    loads = _load_list(page)
    paints = Paints([loads.viewport()])
    numbers, times = list(logbook.held().appliances), []
    for turn in range(edits):
        number = numbers[turn % len(numbers)]
        loads.choose(number)
        _settle()
        paints.seen.clear()
        began = time.perf_counter()
        draft = PlanLoadDraft(number, Role.ESSENTIAL, quantity=2 + turn % 3)
        if session.do(set_plan_load, 1, draft) is None:
            raise ValueError("an edit of the bench was refused")
        paints.wait()
        times.append(1000.0 * (paints.last - began))
    session.close()
    window.close()
    return times


def _load_list(page: QWidget | None) -> LoadTable:
    found = None if page is None else page.findChild(LoadTable)
    if not isinstance(found, LoadTable):
        raise TypeError("the window has no load list")
    return found


def _settle() -> None:
    """Let everything that was put off happen."""
    until = time.perf_counter() + 0.05
    while time.perf_counter() < until:
        QApplication.processEvents()


if __name__ == "__main__":
    print_json(time_outage())

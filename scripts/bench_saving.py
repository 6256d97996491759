"""Times saving a reading, to repainted roster and charts, in a large logbook shown in the real window."""

from __future__ import annotations

import os
import random
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QAbstractScrollArea, QApplication, QWidget

from bench_logbook import make_large_logbook
from bench_results import Figure, median, percentile, print_json
from hearthload.domain.reading import ReadingDraft
from hearthload.estimate import api
from hearthload.estimate.answers import Estimate
from hearthload.estimate.series import Series
from hearthload.estimate.spans import Span
from hearthload.main import application
from hearthload.service import queries
from hearthload.service.edits.readings import add_reading
from hearthload.service.logbook import Logbook
from hearthload.window.main_window import MainWindow
from hearthload.window.readings.charts import ChartPanel
from hearthload.window.readings.roster import RosterPanel
from hearthload.window.session import Session

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

MOST_SAVE_MS = 50.0
APPLIANCES, DAYS, SAVES = 40, 730, 100
LAST_MORNING = datetime(2025, 11, 24, 7, 30).astimezone()
TOO_LONG_S = 10.0

Part = TypeVar("Part", bound=QWidget)


class Paints(QObject):
    """Notes which widgets have been painted since it was last asked to forget, and when the last was."""

    def __init__(self, widgets: Sequence[QWidget]) -> None:
        super().__init__()
        self.wanted = set(widgets)
        self.seen: set[QObject] = set()
        self.last = 0.0
        for widget in widgets:
            widget.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - as Qt spells it
        """Watch for paint events."""
        if event.type() == QEvent.Type.Paint and watched not in self.seen:
            self.seen.add(watched)
            self.last = time.perf_counter()
        return False

    def wait(self) -> None:
        """Let the program work until every widget has been painted and nothing more is waiting."""
        began = time.perf_counter()
        while self.wanted - self.seen:
            QApplication.processEvents()
            if time.perf_counter() - began > TOO_LONG_S:
                raise TimeoutError("the window was not repainted after a save")


class Bench:
    """The large logbook in the real window."""

    def __init__(self, logbook: Logbook) -> None:
        application()
        self.now = LAST_MORNING + timedelta(minutes=10)
        self.session = Session(lambda: self.now)
        self.window = MainWindow(self.session)
        self.window.resize(1280, 800)
        self.window.show()
        self.session.attach(logbook)
        self.roster = _child(self.window, RosterPanel)
        self.settle()
        self.rows = queries.roster(logbook, self.now)
        self.roster.choose(self.rows[0].appliance.id)
        self.settle()
        charts = _child(self.window, ChartPanel).findChildren(QAbstractScrollArea)
        self.paints = Paints(
            [self.roster.view.viewport(), *(area.viewport() for area in charts if area.isVisible())]
        )

    def settle(self) -> None:
        """Let everything that was put off happen: previews, timers, paints."""
        until = time.perf_counter() + 0.15
        while time.perf_counter() < until:
            QApplication.processEvents()

    def save(self, place: int, rng: random.Random) -> float:
        """Choose an appliance, then save its next morning's reading; gives the milliseconds of the save."""
        row = self.rows[place]
        if row.measurement is None:
            raise ValueError("an appliance of the bench has no measurement")
        self.roster.choose(row.appliance.id)
        self.settle()
        last = queries.reading_rows(self.session.logbook, row.measurement.id)[0].reading
        at = last.taken_at + timedelta(days=1)
        self.now = max(self.now, at + timedelta(minutes=5))
        draft = ReadingDraft(
            at, round(last.energy_kwh + rng.uniform(0.2, 2.0), 2), (last.elapsed_h or 0.0) + 24.0
        )
        self.paints.seen.clear()
        began = time.perf_counter()
        if self.session.do(add_reading, row.measurement.id, draft) is None:
            raise ValueError("a reading of the bench was refused")
        self.paints.wait()
        return 1000.0 * (self.paints.last - began)


def time_saving(appliances: int = APPLIANCES, days: int = DAYS, saves: int = SAVES) -> list[Figure]:
    """Save readings over all appliances in turn, as a person's mornings would."""
    with tempfile.TemporaryDirectory() as folder:
        logbook = make_large_logbook(Path(folder) / "bench.hearthload", appliances, days, LAST_MORNING)
        bench, rng, counts = Bench(logbook), random.Random(3), []
        times = []
        for number in range(saves):
            with counted_estimates() as count:
                times.append(bench.save(number % appliances, rng))
            counts.append(count())
        bench.session.close()
        bench.window.close()
    note = f"median {median(times):.0f}, worst {max(times):.0f} ms; {appliances} appliances × {days} readings"
    return [
        Figure(f"saving a reading, p95 of {saves}", percentile(times, 0.95), "ms", MOST_SAVE_MS, note),
        Figure("estimates worked out per save", median(counts), "", 2.0, f"most {max(counts)}"),
    ]


@contextmanager
def counted_estimates() -> Iterator[Callable[[], int]]:
    """Count the estimates that are worked out meanwhile: each call, and each point of a trend."""
    estimate, trend, worked_out = api.estimate, api.trend, [0]

    def counted_estimate(series: Series, spans: tuple[Span, ...] | None = None) -> Estimate:
        worked_out.append(1)
        return estimate(series, spans)

    def counted_trend(series: Series, counts: Sequence[int]) -> list[Estimate]:
        worked_out.append(len(counts))
        return trend(series, counts)

    api.estimate, api.trend = counted_estimate, counted_trend
    try:
        yield lambda: sum(worked_out)
    finally:
        api.estimate, api.trend = estimate, trend


def _child(window: QWidget, kind: type[Part]) -> Part:
    found = window.findChild(kind)
    if not isinstance(found, kind):
        raise TypeError(f"the window has no {kind.__name__}")
    return found


if __name__ == "__main__":
    print_json(time_saving())

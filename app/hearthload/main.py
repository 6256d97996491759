"""The start of the window: the one place that wires application, session, window and logbook."""

from __future__ import annotations

import gc
import signal
import sys
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QApplication

from hearthload.errors import KnownError
from hearthload.window.first_paint import FirstPaint
from hearthload.window.main_window import MainWindow
from hearthload.window.session import Session, local_now
from hearthload.window.theme import FUSION, STYLE

PICTURES_HOUR = 7

SELDOM = (50_000, 20, 50)
"""Allocations between looks for rings of garbage, which frozen values do not make: in the midst of a save,
with a logbook of years open, such a look took a tenth of a second and more."""


def run_window(logbook_path: Path | None, *, demo: bool) -> int:
    """Open the window and stay until it is closed; gives the exit code."""
    # Qt's loop would keep Ctrl-C in the terminal waiting for the next event.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    start = Start(logbook_path, demo=demo)
    sys.excepthook = start.report
    try:
        return start.run()
    finally:
        sys.excepthook = sys.__excepthook__


class Start(QObject):
    """A start in its order: the window first, then the logbook, so that a person sees something at once.

    `painted` is emitted after the first paint, before anything of the logbook is loaded; `ready` when the
    logbook is open and shown.
    """

    painted = Signal()
    ready = Signal()

    def __init__(
        self, logbook_path: Path | None, *, demo: bool = False, clock: Callable[[], datetime] = local_now
    ) -> None:
        super().__init__()
        self._app = application()
        self._logbook_path = logbook_path
        self._demo = demo
        self.session = Session(clock)
        self.window = MainWindow(self.session)
        self._first_paint = FirstPaint(self.window)
        self._first_paint.happened.connect(self._go_on)

    def run(self) -> int:
        """Show the window and stay until it is closed."""
        self.window.show()
        code = self._app.exec()
        self.session.close()
        return code

    def report(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """Tell of a bug in the window in place, with a report in a file; the window stays."""
        from hearthload.commands import faults  # noqa: PLC0415 - only when something went wrong

        del kind, trace
        self.session.troubled.emit(KnownError(faults.apology(error)))

    def _go_on(self) -> None:
        self.painted.emit()
        try:
            shown = self.window.show_glance(self._path())
        except KnownError:  # said when the logbook is opened, which comes next
            shown = None
        if shown is None:
            self._open()
            return
        self._first_paint = FirstPaint(shown)
        self._first_paint.happened.connect(self._open)

    def _path(self) -> Path:
        """Give the logbook that is about to be opened."""
        from hearthload.service.preferences import own_logbook_path  # noqa: PLC0415 - after first paint

        if self._demo:
            return self.window.files.demo_path()
        return self._logbook_path or own_logbook_path()

    def _open(self) -> None:
        if self._demo:
            self.window.files.open_demo()
        else:
            open_own(self.session, self._logbook_path)
        self.window.furnish()
        self.ready.emit()


def application() -> QApplication:
    """Give the application, made on the first call."""
    there = QApplication.instance()
    if isinstance(there, QApplication):
        return there
    gc.set_threshold(*SELDOM)
    app = QApplication(["hearthload", "-style", FUSION])
    app.setProperty(STYLE, FUSION)
    app.setApplicationName("hearthload")
    app.setApplicationDisplayName("Hearthload")
    app.setDesktopFileName("hearthload")
    return app


def open_own(session: Session, path: Path | None) -> None:
    """Open the logbook named, or the person's own, which is made when it is not there yet."""
    from hearthload.domain.household import Household  # noqa: PLC0415 - after the first paint
    from hearthload.service.preferences import own_logbook_path  # noqa: PLC0415 - after the first paint

    if path is not None:
        session.open(path)
        return
    try:
        own = own_logbook_path()
    except KnownError as error:
        session.troubled.emit(error)
        return
    if own.exists():
        session.open(own)
    else:
        session.create(own, Household())


def draw_pictures(folder: Path, scale: float, *, demo: bool) -> Iterator[Path]:
    """Draw the window's pages at one scale, with the demo or the person's own logbook and an empty one."""
    import tempfile  # noqa: PLC0415 - not for the window's start

    from hearthload.service.demo import build_demo  # noqa: PLC0415 - not for the window's start
    from hearthload.service.logbook import create_logbook, open_logbook  # noqa: PLC0415
    from hearthload.service.preferences import own_logbook_path  # noqa: PLC0415
    from hearthload.window.pictures import draw_pages  # noqa: PLC0415

    application()
    today = local_now()
    # The same moment of every day, so that two runs on one day draw the same.
    now = today.replace(hour=PICTURES_HOUR, minute=30, second=0, microsecond=0)
    session = Session(lambda: now)
    with tempfile.TemporaryDirectory(prefix="hearthload-") as scratch:
        if demo:
            session.attach(build_demo(Path(scratch) / "demo.hearthload", now.date(), now))
            yield from draw_pages(session, folder, "demo", scale)
        elif (own := own_logbook_path()).exists():
            session.attach(open_logbook(own))
            yield from draw_pages(session, folder, "own", scale)
        session.attach(create_logbook(Path(scratch) / "home.hearthload"))
        yield from draw_pages(session, folder, "empty", scale)
        session.close()

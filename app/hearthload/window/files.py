"""Logbook files: new, open, recent, the demo; the only place where a box may open, to choose a file."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from hearthload.errors import KnownError
from hearthload.service.preferences import SUFFIX
from hearthload.window.session import Session

FILTER: Final = "Logbooks (*.hearthload);;All files (*)"


class Files(QObject):
    """What the Logbook menu does."""

    def __init__(self, session: Session, window: QWidget) -> None:
        super().__init__(window)
        self._session = session
        self._window = window

    def new(self) -> None:
        """Ask where the new logbook goes, and begin it."""
        from PySide6.QtWidgets import QFileDialog  # noqa: PLC0415 (when first needed)

        from hearthload.domain.household import Household  # noqa: PLC0415 (when first needed)

        name, _ = QFileDialog.getSaveFileName(
            self._window,
            "New logbook",
            str(self._folder() / f"home{SUFFIX}"),
            FILTER,
            options=QFileDialog.Option.DontConfirmOverwrite,  # an existing file is never written over
        )
        if name:
            path = Path(name)
            self._session.create(path if path.suffix else path.with_suffix(SUFFIX), Household())

    def open(self) -> None:
        """Ask which logbook, and open it."""
        from PySide6.QtWidgets import QFileDialog  # noqa: PLC0415 (when first needed)

        name, _ = QFileDialog.getOpenFileName(self._window, "Open a logbook", str(self._folder()), FILTER)
        if name:
            self._session.open(Path(name))

    def open_demo(self) -> None:
        """Open today's demo; it is written when there is none of today, and never over an older one."""
        now = self._session.now()
        try:
            path = self.demo_path()
        except KnownError as error:
            self._session.troubled.emit(error)
            return
        if path.exists():
            self._session.open(path)
            return
        from hearthload.service.demo import build_demo  # noqa: PLC0415 (only when there is none of today)

        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            self._session.attach(build_demo(path, now.date(), now))
        except KnownError as error:
            self._session.troubled.emit(error)
        except OSError as error:
            self._session.troubled.emit(KnownError(f"The demo cannot be written: {error.strerror}."))

    def demo_path(self) -> Path:
        """Give the place of today's demo."""
        from hearthload.service.preferences import demo_path  # noqa: PLC0415 (after first paint)

        return demo_path(self._session.now().date())

    def recent(self) -> list[Path]:
        """Give the logbooks that were open lately and are still there, the open one left out."""
        from hearthload.service.preferences import recent_files  # noqa: PLC0415 (after first paint)

        present = self._session.logbook.path.absolute() if self._session.is_open else None
        return [path for path in recent_files() if path != present]

    def remember(self, path: Path) -> None:
        """Put a logbook at the head of the recent ones."""
        from hearthload.service.preferences import remember_file  # noqa: PLC0415 (after first paint)

        try:
            remember_file(path)
        except KnownError as error:
            self._session.troubled.emit(error)

    def _folder(self) -> Path:
        from hearthload.service.preferences import data_folder  # noqa: PLC0415 (after first paint)

        return self._session.logbook.path.parent if self._session.is_open else data_folder()

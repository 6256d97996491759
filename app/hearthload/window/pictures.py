"""Draws the window's pages into picture files, as they stand, light and dark and at several sizes."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication

from hearthload.errors import KnownError
from hearthload.window.appearance import Choice
from hearthload.window.main_window import MainWindow
from hearthload.window.pages import PAGES
from hearthload.window.session import Session

# Logical pixels. At 100 % a usual small screen and the smallest the window is made for; at 200 % one of them.
SIZES = {1.0: ((1280, 800), (1024, 700)), 2.0: ((1280, 800),)}
SETTLING_S = 0.4
"""How long a page is given to fetch, lay out and paint what it puts off, such as its charts."""


def draw_pages(session: Session, folder: Path, stem: str, scale: float) -> Iterator[Path]:
    """Draw every page with the session's logbook, in both themes, at the sizes of this scale."""
    for choice in (Choice.LIGHT, Choice.DARK):
        window = MainWindow(session)
        window.appearance.choose(choice)
        window.show()
        for width, height in SIZES[scale]:
            window.resize(width, height)
            for spec in PAGES:
                window.show_page(spec.key)
                _settle()
                name = f"{stem}-{spec.key}-{choice.value}-{width}x{height}-{round(scale * 100)}.png"
                yield _save(window, folder / name)
        window.hide()
        window.deleteLater()
        _settle()


def _settle() -> None:
    app = QApplication.instance()
    until = time.monotonic() + SETTLING_S
    while app is not None and time.monotonic() < until:
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 20)
        time.sleep(0.005)


def _save(window: MainWindow, file: Path) -> Path:
    if not window.grab().save(str(file), "PNG"):
        raise KnownError(f"The picture {file} cannot be written.")
    return file

"""What the window remembers between sessions: where it stood, its splitters, its sorting, its theme."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, TypeVar

from PySide6.QtCore import QByteArray, QSize, Qt
from PySide6.QtWidgets import QMainWindow, QSplitter, QTableView, QWidget

from hearthload.errors import KnownError
from hearthload.service.preferences import remember_window_state, window_state
from hearthload.window.appearance import Choice
from hearthload.window.split import SideBySide

Part = TypeVar("Part", bound=QWidget)

FIRST_SIZE: Final = QSize(1280, 800)


class Memory:
    """Reads the notes of the last session once and writes them when the window closes.

    `notes` stand in for those of the last session. Splitters and tables of a page are remembered by their
    object names; those without one are not.
    """

    def __init__(self, notes: Mapping[str, str] | None = None) -> None:
        self._notes = window_state() if notes is None else dict(notes)

    def theme(self) -> Choice:
        """Give the theme that was chosen; as the system where nothing sensible was noted."""
        noted = self._notes.get("theme", "")
        return Choice(noted) if noted in list(Choice) else Choice.SYSTEM

    def restore_window(self, window: QMainWindow) -> None:
        """Put the window where it stood, or give it a first size that fits the screen."""
        noted = self._notes.get("geometry", "")
        if noted and window.restoreGeometry(_bytes(noted)):
            return
        window.resize(FIRST_SIZE.boundedTo(window.screen().availableSize()))

    def restore_page(self, key: str, page: QWidget) -> None:
        """Put a page's splitters and the order of its tables as they were."""
        for name, splitter in _named(page, QSplitter).items():
            noted = self._notes.get(f"{key}.{name}", "")
            if noted:
                splitter.restoreState(_bytes(noted))
        for name, table in _named(page, QTableView).items():
            column, _, order = self._notes.get(f"{key}.{name}", "").partition(" ")
            if column.isascii() and column.isdigit() and int(column) < table.model().columnCount():
                down = order == "down"
                table.sortByColumn(
                    int(column), Qt.SortOrder.DescendingOrder if down else Qt.SortOrder.AscendingOrder
                )

    def keep(self, window: QMainWindow, pages: Mapping[str, QWidget], theme: Choice) -> None:
        """Note how everything stands; a folder that cannot be written costs the notes, never the work."""
        self._notes |= {"theme": theme.value, "geometry": _text(window.saveGeometry())}
        for key, page in pages.items():
            for name, splitter in _named(page, QSplitter).items():
                if not isinstance(splitter, SideBySide) or splitter.moved:
                    self._notes[f"{key}.{name}"] = _text(splitter.saveState())
            for name, table in _named(page, QTableView).items():
                header = table.horizontalHeader()
                down = header.sortIndicatorOrder() is Qt.SortOrder.DescendingOrder
                self._notes[f"{key}.{name}"] = f"{header.sortIndicatorSection()} {'down' if down else 'up'}"
        try:
            remember_window_state(self._notes)
        except KnownError:
            return


def _named(page: QWidget, kind: type[Part]) -> dict[str, Part]:
    return {part.objectName(): part for part in page.findChildren(kind) if part.objectName()}


def _bytes(noted: str) -> QByteArray:
    return QByteArray.fromBase64(noted.encode("ascii", errors="replace"))


def _text(state: QByteArray) -> str:
    return state.toBase64().toStdString()

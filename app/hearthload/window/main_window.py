"""The one window: bar at the left, message strip, page, status line; it wires session and pages together."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import (
    QApplication,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hearthload.window.appearance import Appearance
from hearthload.window.memory import Memory
from hearthload.window.menu_bar import TITLES
from hearthload.window.navigation import Page, PageBar
from hearthload.window.pages import PAGES
from hearthload.window.parts import label
from hearthload.window.session import Session
from hearthload.window.start_page import StartPage
from hearthload.window.theme import GRID

if TYPE_CHECKING:
    from pathlib import Path

    from hearthload.errors import KnownError, RefusedError
    from hearthload.service.changes import Changes
    from hearthload.window.actions import Actions
    from hearthload.window.files import Files
    from hearthload.window.help_page import HelpPage
    from hearthload.window.household import HouseholdSheet
    from hearthload.window.strip import MessageStrip


LOOK_EVERY_MS = 2000
"""So often the window looks whether a command or another window changed the logbook."""


class MainWindow(QMainWindow):
    """Shows itself at once, empty but dressed; the rest is made after its first paint, or when needed."""

    def __init__(self, session: Session, memory: Memory | None = None) -> None:
        super().__init__()
        self.session = session
        self.memory = memory or Memory()
        self.appearance = Appearance(self)
        self.appearance.choose(self.memory.theme())
        self.pages: dict[str, Page] = {}
        self._furnished = False
        self._glance: QWidget | None = None
        self._lay_out()
        self._wire()
        self.setMinimumSize(122 * GRID, 75 * GRID)
        self.memory.restore_window(self)
        self.setWindowTitle("Hearthload")

    def furnish(self) -> None:
        """Bring in what the first paint does not need: what the menus hold, the keys, the icon."""
        if self._furnished:
            return
        self._furnished = True
        from hearthload.window.icons import window_icon  # noqa: PLC0415 (after first paint)
        from hearthload.window.undo_keys import UndoKeys  # noqa: PLC0415 (after first paint)

        self._undo_keys = UndoKeys(_application(), self)
        self._look_timer = QTimer(self)
        self._look_timer.setInterval(LOOK_EVERY_MS)
        self._look_timer.timeout.connect(self.session.look_again)
        self._look_timer.start()
        self.setWindowIcon(window_icon())
        self.actions_made.refresh()
        self._show_title()

    @cached_property
    def actions_made(self) -> Actions:
        """Give the menus' entries."""
        from hearthload.window.actions import Actions  # noqa: PLC0415 (after first paint)

        return Actions(self)

    @cached_property
    def files(self) -> Files:
        """Give what the Logbook menu does."""
        from hearthload.window.files import Files  # noqa: PLC0415 (after first paint)

        return Files(self.session, self)

    @cached_property
    def strip(self) -> MessageStrip:
        """Give the message strip above the page."""
        from hearthload.window.strip import MessageStrip  # noqa: PLC0415 (after first paint)

        made = MessageStrip(self)
        self._right.insertWidget(0, made)
        return made

    @cached_property
    def help(self) -> HelpPage:
        """Give the help page."""
        from hearthload.window.help_page import HelpPage  # noqa: PLC0415 (after first paint)

        made = HelpPage(self)
        made.left.connect(self.go_back)
        self._stack.addWidget(made)
        return made

    @cached_property
    def household(self) -> HouseholdSheet:
        """Give the sheet with the household's settings."""
        from hearthload.window.household import HouseholdSheet  # noqa: PLC0415 (after first paint)

        made = HouseholdSheet(self.session, self)
        made.setContentsMargins(GRID, 0, 0, 0)
        made.closed.connect(self.go_back)
        self._stack.addWidget(made)
        return made

    def show_glance(self, path: Path) -> QWidget | None:
        """Show a logbook's roster as it stood last, until it is open, and give what is painted last.

        Gives None where nothing is noted of it.
        """
        from hearthload.service.glance import glance  # noqa: PLC0415 (after first paint)

        rows = glance(path, self.session.now())
        if not rows:
            return None
        from hearthload.window.glance_page import GlancePage  # noqa: PLC0415 (after first paint)

        page = GlancePage(rows, self)
        self._stack.addWidget(page)
        self.memory.restore_page("readings", page)
        self._stack.setCurrentWidget(page)
        self.bar.show_chosen("readings")
        self._glance = page
        return page.sides.roster.view.viewport()

    def show_page(self, key: str) -> Page | None:
        """Show a page, making it on its first time; None while no logbook is open."""
        if not self.session.is_open:
            return None
        if key not in self.pages:
            self.furnish()
            spec = next(spec for spec in PAGES if spec.key == key)
            self.pages[key] = spec.make(self.session)
            self.pages[key].task_wanted.connect(self.actions_made.tasks.run)
            self._stack.addWidget(self.pages[key])
            self.memory.restore_page(key, self.pages[key])
        page = self.pages[key]
        self._stack.setCurrentWidget(page)
        self._drop_glance()
        self.bar.show_chosen(key)
        return page

    def _drop_glance(self) -> None:
        if self._glance is not None:
            self._stack.removeWidget(self._glance)
            self._glance.deleteLater()
            self._glance = None

    @property
    def shown(self) -> QWidget | None:
        """Give what the window shows now: a page, the help, the household or the start."""
        return self._stack.currentWidget()

    def show_household(self) -> None:
        """Show the household's settings in place."""
        if self.session.is_open:
            self._stack.setCurrentWidget(self.household)
            self.bar.show_chosen("")
            self.household.begin_change()

    def show_help(self, name: str) -> None:
        """Show a help page in place."""
        self._stack.setCurrentWidget(self.help)
        self.bar.show_chosen("")
        self.help.show_help(name)

    def go_back(self, _saved: object = None) -> None:
        """Go back from help or settings to the Readings page, or to the start."""
        if self.show_page("readings") is None:
            self._stack.setCurrentWidget(self.start)
            self.start.offer()

    def say(self, sentence: str) -> None:
        """Say in the status line what was done."""
        self.said.setText(sentence)

    def changeEvent(self, event: QEvent) -> None:
        """Look again when the window comes to the front: another program may have changed the file."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self.session.look_again()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc takes the message strip away."""
        if event.key() == Qt.Key.Key_Escape and self.strip.sentence:
            self.strip.dismiss()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Remember how the window stood."""
        self.memory.keep(self, self.pages, self.appearance.choice)
        super().closeEvent(event)

    def _lay_out(self) -> None:
        for title in TITLES:
            self.menuBar().addMenu(title)
        self.bar = PageBar(PAGES, self)
        self._stack = QStackedWidget(self)
        self.start = StartPage(self)
        self._stack.addWidget(self.start)
        self._right = QVBoxLayout()
        self._right.setSpacing(0)
        self._right.addWidget(self._stack, stretch=1)
        inside = QWidget(self)
        row = QHBoxLayout(inside)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.bar)
        row.addLayout(self._right, stretch=1)
        self.setCentralWidget(inside)
        self._lay_out_status()

    def _lay_out_status(self) -> None:
        self.said: QLabel = label("", "small", self)
        self.said.setContentsMargins(GRID, 2, GRID, 4)
        self.where: QLabel = label("", "muted", self)
        self.where.setContentsMargins(GRID, 2, GRID, 4)
        status = self.statusBar()
        status.setSizeGripEnabled(False)
        status.addWidget(self.said, 1)
        status.addPermanentWidget(self.where)

    def _wire(self) -> None:
        self.session.changed.connect(self._note_changes)
        self.session.refused.connect(self._show_refusal)
        self.session.troubled.connect(self._show_trouble)
        self.session.said.connect(self.say)
        self.session.switched.connect(self._switch)
        self.bar.wanted.connect(self.show_page)
        self.start.new_wanted.connect(self._new)
        self.start.open_wanted.connect(self._open)
        self.start.demo_wanted.connect(self._open_demo)

    def _new(self) -> None:
        self.files.new()

    def _open(self) -> None:
        self.files.open()

    def _open_demo(self) -> None:
        self.files.open_demo()

    def _note_changes(self, changes: Changes) -> None:
        from hearthload.service.changes import Topic  # noqa: PLC0415 (after first paint)

        self.strip.dismiss()
        if Topic.HOUSEHOLD in changes.topics:
            self._show_title()

    def _show_refusal(self, error: RefusedError) -> None:
        if not error.field:  # with a field, the form says it beside that field
            self.strip.say(str(error))

    def _show_trouble(self, error: KnownError) -> None:
        self.strip.say(str(error))
        if not self.session.is_open:
            self._stack.setCurrentWidget(self.start)
            self._drop_glance()
            self.bar.show_chosen("")
            self.start.offer()

    def _switch(self, path: object) -> None:
        self.strip.dismiss()
        self.say("")
        self._show_title()
        if path is None:
            self.go_back()
            return
        self.show_page("readings")
        self.files.remember(self.session.logbook.path)

    def _show_title(self) -> None:
        self.where.setText("")
        if not self.session.is_open:
            self.setWindowTitle("Hearthload")
            return
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        logbook = self.session.logbook
        name = queries.household(logbook).name or logbook.path.stem
        note = " (read-only)" if logbook.read_only else ""
        self.setWindowTitle(f"{name}{note} — Hearthload")
        self.where.setText(f"{logbook.path.name}{note}")
        self.where.setToolTip(str(logbook.path))


def _application() -> QApplication:
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        raise TypeError("the window needs its application first")
    return app

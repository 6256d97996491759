"""The one window: bar at the left, message strip, page, status line; it wires session and pages together."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
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

from hearthload.errors import KnownError, RefusedError
from hearthload.service.changes import Changes, Topic
from hearthload.window.actions import Actions
from hearthload.window.appearance import Appearance
from hearthload.window.files import Files
from hearthload.window.form import label
from hearthload.window.help_page import HelpPage
from hearthload.window.household import HouseholdSheet
from hearthload.window.icons import window_icon
from hearthload.window.memory import Memory
from hearthload.window.navigation import Page, PageBar
from hearthload.window.pages import PAGES
from hearthload.window.session import Session
from hearthload.window.start_page import StartPage
from hearthload.window.strip import MessageStrip
from hearthload.window.theme import GRID
from hearthload.window.undo_keys import UndoKeys


class MainWindow(QMainWindow):
    """Shows itself at once, empty but dressed; pages are made when the session has a logbook."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self.memory = Memory()
        self.appearance = Appearance(self)
        self.appearance.choose(self.memory.theme())
        self.pages: dict[str, Page] = {}
        self._lay_out()
        self.files = Files(session, self)
        self.actions_made = Actions(self)
        self._undo_keys = UndoKeys(_application(), self)
        self._wire()
        self.setWindowIcon(window_icon())
        self.setMinimumSize(113 * GRID, 75 * GRID)
        self.memory.restore_window(self)
        self._show_title()

    def show_page(self, key: str) -> Page | None:
        """Show a page, making it on its first time; None while no logbook is open."""
        if not self.session.is_open:
            return None
        if key not in self.pages:
            spec = next(spec for spec in PAGES if spec.key == key)
            self.pages[key] = spec.make(self.session)
            self.pages[key].task_wanted.connect(self.actions_made.tasks.run)
            self._stack.addWidget(self.pages[key])
            self.memory.restore_page(key, self.pages[key])
        page = self.pages[key]
        self._stack.setCurrentWidget(page)
        self.bar.show_chosen(key)
        return page

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
        self.bar = PageBar(PAGES, self)
        self.strip = MessageStrip(self)
        self._stack = QStackedWidget(self)
        self.start = StartPage(self)
        self.help = HelpPage(self)
        self.household = HouseholdSheet(self.session, self)
        for page in (self.start, self.help, self.household):
            self._stack.addWidget(page)
        right = QVBoxLayout()
        right.setSpacing(0)
        right.addWidget(self.strip)
        right.addWidget(self._stack, stretch=1)
        inside = QWidget(self)
        row = QHBoxLayout(inside)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.bar)
        row.addLayout(right, stretch=1)
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
        self.help.left.connect(self.go_back)
        self.household.closed.connect(self.go_back)
        self.start.new_wanted.connect(self.files.new)
        self.start.open_wanted.connect(self.files.open)
        self.start.demo_wanted.connect(self.files.open_demo)

    def _note_changes(self, changes: Changes) -> None:
        self.strip.dismiss()
        if Topic.HOUSEHOLD in changes.topics:
            self._show_title()

    def _show_refusal(self, error: RefusedError) -> None:
        if not error.field:  # with a field, the form says it beside that field
            self.strip.say(str(error))

    def _show_trouble(self, error: KnownError) -> None:
        self.strip.say(str(error))
        if not self.session.is_open:
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

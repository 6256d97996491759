"""The menus and their shortcuts; each action asks the window or a page to do something."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from hearthload.window import menu_bar
from hearthload.window.appearance import Choice
from hearthload.window.pages import PAGES
from hearthload.window.tasks import Tasks

if TYPE_CHECKING:
    from hearthload.window.main_window import MainWindow

THEME_WORDS: Final = {Choice.LIGHT: "&Light", Choice.DARK: "&Dark", Choice.SYSTEM: "As the &system"}
UNDO_KEYS: Final = ("Ctrl+Z",)
REDO_KEYS: Final = ("Ctrl+Shift+Z", "Ctrl+Y")


class Actions(QObject):
    """Builds the menu bar and keeps what its entries say true."""

    def __init__(self, window: MainWindow) -> None:
        super().__init__(window)
        self._window = window
        self.tasks = Tasks(window)
        self._logbook_menu()
        self._edit_menu()
        self._appliance_menu()
        self._measurement_menu()
        self._view_menu()
        self._help_menu()
        window.session.changed.connect(self.refresh)
        window.session.switched.connect(self.refresh)
        self.refresh()

    def refresh(self, _news: object = None) -> None:
        """Name what undo and redo would do and grey out what cannot be done."""
        session = self._window.session
        undo, redo = session.undo_name, session.redo_name
        self.undo.setText(f"&Undo: {undo}" if undo else "&Undo")
        self.redo.setText(f"&Redo: {redo}" if redo else "&Redo")
        self.undo.setEnabled(undo is not None)
        self.redo.setEnabled(redo is not None)
        for action in self._needs_logbook:
            action.setEnabled(session.is_open)

    def _menu(self, title: str) -> QMenu:
        """Give the menu of this title, which the window has made already."""
        menus = {action.text(): action.menu() for action in self._window.menuBar().actions()}
        menu = menus[title]
        if not isinstance(menu, QMenu):
            raise TypeError(f"the menu bar has no menu {title}")
        return menu

    def _add(self, menu: QMenu, text: str, slot: Callable[[], object], *keys: str) -> QAction:
        action = QAction(text, self._window)
        action.setShortcuts([QKeySequence(key) for key in keys])
        action.triggered.connect(partial(_call, slot))
        menu.addAction(action)
        return action

    def _logbook_menu(self) -> None:
        menu, files = self._menu(menu_bar.LOGBOOK), self._window.files
        self._add(menu, "&New…", files.new, "Ctrl+N")
        self._add(menu, "&Open…", files.open, "Ctrl+O")
        self._recent = menu.addMenu("Open &recent")
        self._recent.aboutToShow.connect(self._fill_recent)
        self._add(menu, "Open the &demo", files.open_demo)
        menu.addSeparator()
        household = self._add(menu, "&Household…", self._window.show_household, "Ctrl+,")
        menu.addSeparator()
        self._add(menu, "&Quit", self._window.close, "Ctrl+Q")
        self._needs_logbook = [household]

    def _edit_menu(self) -> None:
        menu, session = self._menu(menu_bar.EDIT), self._window.session
        self.undo = self._add(menu, "&Undo", session.undo, *UNDO_KEYS)
        self.redo = self._add(menu, "&Redo", session.redo, *REDO_KEYS)
        menu.addSeparator()
        self._needs_logbook.append(
            self._add(menu, "&Filter appliances", self.tasks.filter_appliances, "Ctrl+F")
        )

    def _appliance_menu(self) -> None:
        menu = self._menu(menu_bar.APPLIANCE)
        self._needs_logbook += [
            self._add(menu, "&Add appliance…", self.tasks.add_appliance, "Ctrl+Shift+A"),
            self._add(menu, "&Change appliance…", self.tasks.change_appliance, "F2"),
            self._add(menu, "&Remove appliance", self.tasks.remove_appliance, "Ctrl+Delete"),
        ]
        menu.addSeparator()
        self._needs_logbook.append(self._add(menu, "Add &meter…", self.tasks.add_meter, "Ctrl+Shift+M"))

    def _measurement_menu(self) -> None:
        from hearthload.window.readings.measure_forms import FORM_WORDS  # noqa: PLC0415 (heavy page parts)
        from hearthload.window.readings.measure_words import ACTION_WORDS, Action  # noqa: PLC0415 (heavy page parts)

        menu = self._menu(menu_bar.MEASUREMENT)
        self._needs_logbook.append(
            self._add(menu, "Begin the morning &round", self.tasks.begin_round, "Ctrl+R")
        )
        menu.addSeparator()
        self._measuring = {
            action: self._add(
                menu,
                words.label + ("…" if action in FORM_WORDS or action is Action.DESCRIBE else ""),
                partial(self.tasks.measure, action),
            )
            for action, words in ACTION_WORDS.items()
        }
        menu.aboutToShow.connect(self._show_possible)

    def _view_menu(self) -> None:
        from hearthload.window.readings.roster_cells import HEADERS  # noqa: PLC0415 (heavy page parts)

        menu = self._menu(menu_bar.VIEW)
        for number, spec in enumerate(PAGES, start=1):
            show = partial(self._window.show_page, spec.key)
            self._needs_logbook.append(self._add(menu, f"&{number} {spec.title}", show, f"Ctrl+{number}"))
        menu.addSeparator()
        turn = self.tasks.turn_lower
        self._needs_logbook.append(self._add(menu, "&Charts, readings or days", turn, "Ctrl+T"))
        menu.addSeparator()
        sorting = menu.addMenu("&Sort the appliances by")
        for column, words in HEADERS.items():
            text = words.replace("\n", " ")
            self._needs_logbook.append(self._add(sorting, text, partial(self.tasks.sort_by, column)))
        menu.addSeparator()
        self.themes = QActionGroup(self)
        for choice, words in THEME_WORDS.items():
            action = self._add(menu, words, partial(self._window.appearance.choose, choice))
            action.setCheckable(True)
            action.setChecked(choice is self._window.appearance.choice)
            self.themes.addAction(action)

    def _help_menu(self) -> None:
        menu = self._menu(menu_bar.HELP)
        self._add(menu, "&Keyboard", partial(self._window.show_help, "keyboard"), "F1")
        self._add(menu, "How the &numbers are made", partial(self._window.show_help, "numbers"))
        self._add(menu, "The &size file", partial(self._window.show_help, "size"))
        self._add(menu, "&Cautions", partial(self._window.show_help, "cautions"))
        self._add(menu, "&About Hearthload", partial(self._window.show_help, "about"))

    def _fill_recent(self) -> None:
        self._recent.clear()
        paths = self._window.files.recent()
        for path in paths:
            self._add(self._recent, tidy(path), partial(self._window.session.open, path))
        if not paths:
            self._recent.addAction("none yet").setEnabled(False)

    def _show_possible(self) -> None:
        possible = self.tasks.possible_measuring()
        for action, entry in self._measuring.items():
            entry.setEnabled(action in possible)


def tidy(path: Path) -> str:
    """Write a path for a menu: the name first, then its folder; an ampersand is not a shortcut here."""
    return f"{path.name}   {path.parent}".replace("&", "&&")


def _call(slot: Callable[[], object], _checked: bool = False) -> None:
    slot()

"""Draws the window's pages into picture files, as they stand, light and dark and at several sizes."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Final, cast

from PySide6.QtCore import QEventLoop
from PySide6.QtWidgets import QApplication, QLineEdit

from hearthload.errors import KnownError
from hearthload.outage.answers import Outcome
from hearthload.service import queries
from hearthload.window.appearance import Choice
from hearthload.window.equipment.detail_tabs import ARITHMETIC, LEAVE_OFF, LIMITS
from hearthload.window.equipment.page import EquipmentPage
from hearthload.window.main_window import MainWindow
from hearthload.window.memory import Memory
from hearthload.window.meters.page import MetersPage
from hearthload.window.outage.page import COMPARE, CORD, FACTS, LOADS, NEEDS, TOTALS, OutagePage
from hearthload.window.readings.lower import CHARTS, DAYS, READINGS
from hearthload.window.readings.measure_words import Action
from hearthload.window.readings.page import ReadingsPage
from hearthload.window.session import Session

# Logical pixels. At 100 % a usual small screen and the smallest the window is made for; at 200 % one of them.
SIZES = {1.0: ((1280, 800), (1024, 700)), 2.0: ((1280, 800),)}
SETTLING_S = 0.4
"""How long a page is given to fetch, lay out and paint what it puts off, such as its charts."""

PLANNED_APPLIANCE = "Evening corner with television"
MISTYPED_KWH = "58"


def draw_pages(session: Session, folder: Path, stem: str, scale: float) -> Iterator[Path]:
    """Draw every scene with the session's logbook, in both themes, at the sizes of this scale."""
    for choice in (Choice.LIGHT, Choice.DARK):
        window = MainWindow(session, Memory({}))
        window.appearance.choose(choice)
        window.show()
        for width, height in SIZES[scale]:
            window.resize(width, height)
            for scene, show in SCENES.items():
                if not show(window):
                    continue
                _settle()
                name = f"{stem}-{scene}-{choice.value}-{width}x{height}-{round(scale * 100)}.png"
                yield _save(window, folder / name)
        window.hide()
        window.deleteLater()
        _settle()


def _readings(window: MainWindow) -> ReadingsPage:
    return cast("ReadingsPage", window.show_page("readings"))


def _meters(window: MainWindow) -> MetersPage:
    return cast("MetersPage", window.show_page("meters"))


def _show_readings(window: MainWindow) -> bool:
    page = _readings(window)
    page.work.details.choose(CHARTS)
    page.begin_round()
    return True


def _show_list(window: MainWindow) -> bool:
    page = _readings(window)
    page.work.details.choose(READINGS)
    return page.roster.view.order.rowCount() > 0


def _type(line: QLineEdit, text: str) -> None:
    """Put a text into a line as if a person had typed it and left the line."""
    line.setText(text)
    line.textEdited.emit(text)
    line.editingFinished.emit()


def _show_days(window: MainWindow) -> bool:
    page = _readings(window)
    page.work.details.choose(DAYS)
    return page.roster.view.order.rowCount() > 0


def _show_exchanged(window: MainWindow) -> bool:
    """Type counter and hours into each other's fields."""
    page = _readings(window)
    page.work.details.choose(CHARTS)
    page.begin_round()
    form, logbook, now = page.work.entry.form, window.session.logbook, window.session.now()
    stop = next((stop for stop in queries.morning_round(logbook, now) if not stop.read_today), None)
    context = None if stop is None else queries.entry_context(logbook, stop.measurement_id, now)
    if context is None or context.expected_energy_kwh is None or context.expected_elapsed_h is None:
        return False
    exchanged = (context.expected_elapsed_h.value, context.expected_energy_kwh.value)
    for line, value in zip((form.energy, form.hours), exchanged, strict=True):
        _type(line, f"{value:.2f}")
    return True


def _show_explanation(window: MainWindow) -> bool:
    page = _readings(window)
    page.work.entry.form.set_texts({})
    if not page.work.measure.explain_button.isVisible():
        return False
    page.work.measure.explain_button.click()
    return True


def _show_doubt(window: MainWindow) -> bool:
    """Type a counter whose decimal mark was forgotten."""
    page = _readings(window)
    page.work.details.choose(CHARTS)
    page.begin_round()
    line = page.work.entry.form.energy
    if not line.isVisible():
        return False
    _type(line, MISTYPED_KWH)
    return True


def _show_start(window: MainWindow) -> bool:
    page = _readings(window)
    page.work.entry.form.set_texts({})
    planned = [
        each.id for each in queries.appliances(window.session.logbook) if each.name == PLANNED_APPLIANCE
    ]
    if not planned:
        return False
    page.roster.choose(planned[0])
    page.measure(Action.START)
    return True


def _show_appliance(window: MainWindow) -> bool:
    page = _readings(window)
    page.add_appliance()
    return True


def _show_meters(window: MainWindow) -> bool:
    _readings(window).sheet.cancel()
    _meters(window).sheet.cancel()
    return True


def _show_meter(window: MainWindow) -> bool:
    _meters(window).add_meter()
    return True


def _outage(window: MainWindow) -> OutagePage | None:
    """Show the Outage page of a logbook that has a plan."""
    page = cast("OutagePage", window.show_page("outage"))
    page.sheet.cancel()
    return None if page.answer is None else page


def _show_section(window: MainWindow, name: str) -> bool:
    page = _outage(window)
    if page is None:
        return False
    page.choose_section(name)
    return True


def _show_plan(window: MainWindow) -> bool:
    page = _outage(window)
    if page is None:
        return False
    page.change_plan()
    return True


def _show_cord(window: MainWindow) -> bool:
    """Work out a long cord to a load that starts hard."""
    page = _outage(window)
    if page is None:
        return False
    page.choose_section(CORD)
    page.cord.form.set_texts(watts="1100", length_m="40", start_multiple="4")
    page.cord.work_out()
    return True


def _equipment(window: MainWindow) -> EquipmentPage:
    return cast("EquipmentPage", window.show_page("equipment"))


def _show_equipment(window: MainWindow) -> bool:
    """Show a supply that falls short, as the first of the list that does, else the first."""
    page = _equipment(window)
    page.sheet.cancel()
    _settle()
    rows = page.table.supplies.rows
    short = [place for place, row in enumerate(rows) if row.outcome is Outcome.FALLS_SHORT]
    page.table.selectRow(short[0] if short else 0)
    page.detail.tabs.choose(LIMITS)
    return True


def _show_reckoned(window: MainWindow) -> bool:
    page = _equipment(window)
    page.detail.tabs.choose(ARITHMETIC)
    return page.chosen() is not None


def _show_left_off(window: MainWindow) -> bool:
    page = _equipment(window)
    page.detail.tabs.choose(LEAVE_OFF)
    return page.chosen() is not None


def _show_new_equipment(window: MainWindow) -> bool:
    _equipment(window).add_supply()
    return True


def _show_household(window: MainWindow) -> bool:
    _meters(window).sheet.cancel()
    window.show_household()
    return True


def _show_help(window: MainWindow) -> bool:
    window.show_help("keyboard")
    return True


SCENES: Final[dict[str, Callable[[MainWindow], bool]]] = {
    "readings": _show_readings,
    "readings-list": _show_list,
    "readings-days": _show_days,
    "readings-doubt": _show_doubt,
    "readings-exchanged": _show_exchanged,
    "readings-explained": _show_explanation,
    "readings-start": _show_start,
    "appliance": _show_appliance,
    "meters": _show_meters,
    "meter": _show_meter,
    "outage": partial(_show_section, name=LOADS),
    "outage-totals": partial(_show_section, name=TOTALS),
    "outage-needs": partial(_show_section, name=NEEDS),
    "outage-facts": partial(_show_section, name=FACTS),
    "outage-cord": _show_cord,
    "outage-compare": partial(_show_section, name=COMPARE),
    "plan": _show_plan,
    "equipment": _show_equipment,
    "equipment-reckoned": _show_reckoned,
    "equipment-left-off": _show_left_off,
    "equipment-new": _show_new_equipment,
    "household": _show_household,
    "help": _show_help,
}
"""What is drawn, by name; a scene that the logbook has nothing for tells so and is left out."""


def _settle() -> None:
    app = QApplication.instance()
    until = time.monotonic() + SETTLING_S
    while app is not None and time.monotonic() < until:
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 20)
        time.sleep(0.005)
    if app is not None:  # what was imported on the way may have used up the time
        app.processEvents()


def _save(window: MainWindow, file: Path) -> Path:
    if not window.grab().save(str(file), "PNG"):
        raise KnownError(f"The picture {file} cannot be written.")
    return file

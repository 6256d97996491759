"""What menu entries ask of a page: show it first, then tell it what is wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Collection

    from hearthload.window.main_window import MainWindow
    from hearthload.window.meters.page import MetersPage
    from hearthload.window.readings.measure_words import Action
    from hearthload.window.readings.page import ReadingsPage
    from hearthload.window.readings.roster_cells import Column


class Tasks:
    """Each task brings its page to the front and does nothing while no logbook is open."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window

    def run(self, name: str) -> None:
        """Do the task of this name, as a page asked for it."""
        getattr(self, name)()

    def open_demo(self) -> None:
        """Open the demo."""
        self._window.files.open_demo()

    def start_measuring(self) -> None:
        """Start measuring the chosen appliance."""
        from hearthload.window.readings.measure_words import Action  # noqa: PLC0415 (a page's part)

        self.measure(Action.START)

    def show_household(self) -> None:
        """Show the household's settings."""
        self._window.show_household()

    def show_outage(self) -> None:
        """Show the Outage page, where plans are made."""
        self._window.show_page("outage")

    def first_steps(self) -> None:
        """Go on with what a fresh logbook asks for."""
        if (page := self._readings()) is not None:
            page.show_steps()

    def filter_appliances(self) -> None:
        """Put the cursor into the filter box."""
        if (page := self._readings()) is not None:
            page.focus_filter()

    def turn_lower(self) -> None:
        """Go from the charts to the single readings, or back."""
        if (page := self._readings()) is not None:
            page.turn_lower()

    def sort_by(self, column: Column) -> None:
        """Sort the roster by a column; the same one again turns the order round."""
        if (page := self._readings()) is not None:
            page.roster.view.sort_by(column)

    def add_appliance(self) -> None:
        """Open the empty appliance sheet."""
        if (page := self._readings()) is not None:
            page.add_appliance()

    def change_appliance(self) -> None:
        """Open the sheet of the chosen appliance."""
        if (page := self._readings()) is not None:
            page.change_appliance()

    def remove_appliance(self) -> None:
        """Remove the chosen appliance."""
        if (page := self._readings()) is not None:
            page.remove_appliance()

    def begin_round(self) -> None:
        """Begin the morning round."""
        if (page := self._readings()) is not None:
            page.begin_round()

    def measure(self, action: Action) -> None:
        """Do something with the shown measurement."""
        if (page := self._readings()) is not None:
            page.measure(action)

    def possible_measuring(self) -> Collection[Action]:
        """Give what can be done with the shown measurement now."""
        page = self._window.pages.get("readings")
        if page is None or page is not self._window.shown:
            return ()
        return cast("ReadingsPage", page).possible_measuring()

    def add_meter(self) -> None:
        """Open the empty meter sheet."""
        page = self._window.show_page("meters")
        if page is not None:
            cast("MetersPage", page).add_meter()

    def _readings(self) -> ReadingsPage | None:
        return cast("ReadingsPage | None", self._window.show_page("readings"))

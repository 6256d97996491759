"""The titles of the menu bar, there at the first paint; `actions` fills the menus after it."""

from __future__ import annotations

from typing import Final

LOGBOOK: Final = "&Logbook"
EDIT: Final = "&Edit"
APPLIANCE: Final = "&Appliance"
MEASUREMENT: Final = "&Measurement"
VIEW: Final = "&View"
HELP: Final = "&Help"

TITLES: Final = (LOGBOOK, EDIT, APPLIANCE, MEASUREMENT, VIEW, HELP)

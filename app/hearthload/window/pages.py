"""The pages of the window; a further page is one more line."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from hearthload.window.navigation import PageSpec

if TYPE_CHECKING:
    from hearthload.window.equipment.page import EquipmentPage
    from hearthload.window.meters.page import MetersPage
    from hearthload.window.outage.page import OutagePage
    from hearthload.window.readings.page import ReadingsPage
    from hearthload.window.session import Session


def _readings(session: Session) -> ReadingsPage:
    from hearthload.window.readings.page import ReadingsPage  # noqa: PLC0415 (made when first shown)

    return ReadingsPage(session)


def _meters(session: Session) -> MetersPage:
    from hearthload.window.meters.page import MetersPage  # noqa: PLC0415 (made when first shown)

    return MetersPage(session)


def _outage(session: Session) -> OutagePage:
    from hearthload.window.outage.page import OutagePage  # noqa: PLC0415 (made when first shown)

    return OutagePage(session)


def _equipment(session: Session) -> EquipmentPage:
    from hearthload.window.equipment.page import EquipmentPage  # noqa: PLC0415 (made when first shown)

    return EquipmentPage(session)


PAGES: Final = (
    PageSpec("readings", "Readings", "Type the morning's readings and watch the averages settle", _readings),
    PageSpec("meters", "Meters", "Which meter is where, and what each can carry", _meters),
    PageSpec("outage", "Outage", "What stays on when the grid is down, and what that takes", _outage),
    PageSpec("equipment", "Equipment", "Whether what you have or are offered carries the plan", _equipment),
)

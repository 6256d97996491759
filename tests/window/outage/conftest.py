"""A household with a few appliances, a plan of them, and the page that shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import TYPE_CHECKING

import pytest

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import PlanDraft, PlanLoad, PlanLoadDraft
from hearthload.service import queries_plans
from hearthload.service.edits.plans import add_plan, set_plan_load
from hearthload.service.outage_answers import PlanAnswer, PlanRow
from hearthload.service.outages import plan_answer
from hearthload.window.outage.page import OutagePage
from hearthload.window.session import Session
from tests.window.filling import House, created
from tests.window.hands import clear_away, show

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


class Planned:
    """A session's logbook with plans in it, and short ways to look into them."""

    def __init__(self, house: House) -> None:
        self.house = house
        self.session = house.session

    def plan(self, name: str = "Storm", **noted: object) -> int:
        return created(self.session.do(add_plan, PlanDraft(name, **noted)))  # type: ignore[arg-type]

    def set(self, plan_id: int, appliance_id: int, role: Role = Role.ESSENTIAL, **noted: object) -> None:
        draft = PlanLoadDraft(appliance_id, role, **noted)  # type: ignore[arg-type]
        assert self.session.do(set_plan_load, plan_id, draft) is not None

    def answer(self, plan_id: int) -> PlanAnswer:
        return plan_answer(self.session.logbook, plan_id)

    def load(self, plan_id: int, appliance_id: int) -> PlanLoad:
        loads = queries_plans.plan_loads(self.session.logbook, plan_id)
        return next(load for load in loads if load.appliance_id == appliance_id)

    def row(self, plan_id: int, appliance_id: int) -> PlanRow:
        return next(row for row in self.answer(plan_id).rows if row.appliance.id == appliance_id)

    def names(self) -> list[str]:
        return [plan.name for plan in queries_plans.plans(self.session.logbook)]


@pytest.fixture
def planned(session: Session, clock: Callable[[], datetime]) -> Planned:
    return Planned(House(session, clock))


@pytest.fixture
def storm(planned: Planned) -> int:
    """Give a plan of a measured box, a lamp of 40 W, and a heater that stays off."""
    planned.house.measured("Box", days=8, role=Role.ESSENTIAL, nameplate_w=120.0, plug="cee_7")
    planned.house.appliance("Lamp", Kind.LAMP_TIMER, role=Role.WANTED, nameplate_w=40.0)
    planned.house.appliance("Heater", Kind.CLIMATE, role=Role.OFF, nameplate_w=2000.0)
    return planned.plan(latitude_deg=48.0)


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[OutagePage]:
    made = OutagePage(session)
    show(qtbot, made, 1200, 760)
    yield made
    clear_away()

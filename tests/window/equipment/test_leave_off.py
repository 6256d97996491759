"""What to leave off, in words: the answer's own loads, reasons and order; and what else is said."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QLabel

from hearthload.domain.appliance import Kind, Role
from hearthload.domain.plan import PlanLoadDraft, Use
from hearthload.domain.supply import SupplyDraft
from hearthload.service import queries_plans
from hearthload.service.edits.plans import set_plan_load
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import (
    BASIS,
    COULD,
    STAYS,
    LeaveOffWords,
    LoadName,
    leave_off_words,
)
from hearthload.window.equipment.detail_tabs import LEAVE_OFF
from hearthload.window.equipment.leave_off import LEFT_OFF
from hearthload.window.equipment.page import EquipmentPage
from tests.window import hands
from tests.window.equipment.gear import BLANK, PANELS, STRONG, WEAK, answers, owned, planned
from tests.window.filling import House

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot


def answered(house: House, draft: SupplyDraft) -> tuple[SupplyAnswer, LeaveOffWords]:
    """Give what is answered about a supply, and what is said of it."""
    plan_id = planned(house)
    owned(house, draft)
    logbook = house.session.logbook
    names = {each.id: each.name for each in logbook.held().appliances.values()}
    loads = [
        LoadName(names[each.appliance_id], each.role) for each in queries_plans.plan_loads(logbook, plan_id)
    ]
    found = answers(house, plan_id)[draft.name]
    return found, leave_off_words(found, queries_plans.plan(logbook, plan_id), loads)


def test_what_is_left_off_says_which_limits_it_would_break(house: House) -> None:
    answer, said = answered(house, WEAK)
    assert answer.leave_off is not None
    assert [each.name for each in answer.leave_off.left_off] == [name for name, _ in said.left_off]
    assert "Kettle" in [name for name, _ in said.left_off]
    (why,) = (reason for name, reason in said.left_off if name == "Kettle")
    assert why.startswith("too much: ")
    assert "running watts by " in why
    assert said.sentences[0].startswith(
        "With the loads named below left off, it carries the rest for all 72 h"
    )


def test_what_stays_is_in_the_order_of_switching_off(house: House) -> None:
    answer, said = answered(house, WEAK)
    assert answer.leave_off is not None
    assert len(said.shed_order) == len(answer.leave_off.kept)
    # The essential load goes last.
    assert said.shed_order[-1] == ("Cold box", "essential")


def test_essential_loads_alone_that_are_too_much_are_said_first(house: House) -> None:
    tiny = replace(WEAK, continuous_w=50.0, continuous_va=50.0, start_w=60.0, start_va=60.0)
    answer, said = answered(house, tiny)
    assert answer.leave_off is not None
    assert answer.leave_off.essentials_break
    assert said.sentences[0].startswith("It cannot carry all the essentials: ")
    assert "running watts, 90 W needed, " in said.sentences[0]
    assert said.sentences[1] == BASIS
    assert {"Laptop": "wanted", "Kettle": "wanted"}.items() <= dict(said.left_off).items()
    assert said.heading != STAYS


def test_what_carries_leaves_nothing_off(house: House) -> None:
    _, said = answered(house, STRONG)
    assert said == LeaveOffWords(
        ("It carries everything in the plan: nothing needs to be left off.",), (), ()
    )


def test_what_is_not_known_says_what_to_look_up(house: House) -> None:
    answer, said = answered(house, BLANK)
    assert answer.leave_off is None
    (sentence,) = said.sentences
    assert sentence.startswith("What to leave off can be said once the verdict is known. Still to look up: ")
    assert "its continuous watts" in sentence


def test_where_leaving_off_does_not_help_that_is_said(house: House) -> None:
    _, said = answered(house, PANELS)
    assert said.sentences[0].startswith("Leaving loads off does not help here")


def test_the_panel_shows_all_of_it(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    _, said = answered(house, WEAK)
    qtbot.waitUntil(page.detail.tabs.isVisible)
    hands.click(page.detail.tabs.tabs[LEAVE_OFF])
    assert page.detail.leave_off.said == said
    shown = [found.text() for found in page.detail.leave_off.findChildren(QLabel) if found.isVisible()]
    for name, reason in said.left_off:
        assert shown[shown.index(name) + 1] == reason
    for place, (name, role) in enumerate(said.shed_order, 1):
        assert shown[shown.index(f"{place}.  {name}") + 1] == role
    assert all(sentence in shown for sentence in said.sentences)


def test_the_panel_says_what_it_could_carry_before_what_is_left_off(
    page: EquipmentPage, house: House, qtbot: QtBot
) -> None:
    plan_id = planned(house)
    cooler = house.appliance("Cooler", Kind.WORK_ELECTRONICS)
    house.session.do(
        set_plan_load,
        plan_id,
        PlanLoadDraft(
            cooler, Role.ESSENTIAL, use=Use.ASSUMED, daily_kwh=0.2, running_w=10.0, power_factor=1.0
        ),
    )
    owned(house, replace(WEAK, continuous_w=50.0, continuous_va=50.0, start_w=60.0, start_va=60.0))
    qtbot.waitUntil(page.detail.tabs.isVisible)
    hands.click(page.detail.tabs.tabs[LEAVE_OFF])
    shown = [found.text() for found in page.detail.leave_off.findChildren(QLabel) if found.isVisible()]
    assert STAYS not in shown
    assert shown.index(COULD) < shown.index("1.  Cooler") < shown.index(LEFT_OFF) < shown.index("Cold box")
    assert shown[shown.index("Kettle") + 1] == "wanted"

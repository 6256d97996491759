"""The equipment sheet: each kind's own rows, typed by keys, refusals beside their fields, nothing lost."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from hearthload.domain.household import Household
from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    Supply,
    SupplyDraft,
    SupplyKind,
    Waveform,
)
from hearthload.service import queries_plans
from hearthload.service.edits.supplies import change_supply
from hearthload.service.logbook import create_logbook
from hearthload.window.equipment.page import EquipmentPage
from hearthload.window.equipment.supply_fields import LINES, SECTIONS
from tests.window import hands
from tests.window.equipment.gear import ENGINE, PANELS, STRONG, WEAK, owned
from tests.window.filling import House
from tests.window.hands import focused

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

ENTER, ESCAPE, SPACE = Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Space


def line(page: EquipmentPage, name: str) -> QLineEdit:
    editor = page.sheet.form.rows[name].editor
    assert isinstance(editor, QLineEdit)
    return editor


def said(page: EquipmentPage, name: str) -> str:
    lines = page.sheet.form.rows[name].complaints
    return lines.text if lines.isVisible() else ""


def kept(house: House) -> list[Supply]:
    return list(queries_plans.supplies(house.session.logbook))


def shown(page: EquipmentPage) -> set[str]:
    return {name for name, row in page.sheet.form.rows.items() if row.editor.isVisible()}


def fill(page: EquipmentPage, **typed: str) -> None:
    for name, text in typed.items():
        hands.fill(line(page, name), text)


def test_a_battery_is_typed_in(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    assert focused() is line(page, "name")
    fill(page, name="Shed battery", stored_wh="5120", battery_v="51,2", battery_limit_a="100")
    fill(page, continuous_w="2400", continuous_va="3000", start_w="4000", start_va="5000", start_s="5")
    fill(page, idle_w="0", charge_w="0", solar_w="1500", voltage_v="230", frequency_hz="50")
    fill(page, outlet_a="13,5", outlets="3", note="from the fair")
    page.sheet.owned.choose(value=False)
    page.sheet.chemistry.choose(Chemistry.LFP)
    page.sheet.waveform.choose(Waveform.SINE)
    page.sheet.plug.choose("cee_7")
    hands.press(ENTER)
    (added,) = kept(house)
    assert added.draft == SupplyDraft(
        "Shed battery", SupplyKind.BATTERY, owned=False, voltage_v=230.0, frequency_hz=50.0, plug="cee_7",
        outlet_a=13.5, outlets=3, continuous_w=2400.0, continuous_va=3000.0, start_w=4000.0, start_va=5000.0,
        start_s=5.0, stored_wh=5120.0, chemistry=Chemistry.LFP, battery_v=51.2, battery_limit_a=100.0,
        idle_w=0.0, charge_w=0.0, solar_w=1500.0, waveform=Waveform.SINE, note="from the fair",
    )  # fmt: skip
    assert focused() is page.table


def test_the_name_alone_is_enough_and_the_rest_is_not_known(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    hands.write("Box")
    hands.click(page.sheet.save_button)
    assert [each.draft for each in kept(house)] == [SupplyDraft("Box", SupplyKind.BATTERY)]


def test_a_generator_is_typed_in(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(SupplyKind.GENERATOR)
    fill(page, name="Yard engine", continuous_w="2500", start_w="2800", tank_l="15")
    fill(page, half_load_l_h="1.1", full_load_l_h="1,7")
    page.sheet.fuel.choose(Fuel.DIESEL)
    page.sheet.control.choose(EngineControl.INVERTER)
    hands.press(ENTER)
    (added,) = kept(house)
    assert added.draft == SupplyDraft(
        "Yard engine", SupplyKind.GENERATOR, continuous_w=2500.0, start_w=2800.0, tank_l=15.0,
        half_load_l_h=1.1, full_load_l_h=1.7, fuel=Fuel.DIESEL, control=EngineControl.INVERTER,
    )  # fmt: skip


def test_panels_are_typed_in(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(SupplyKind.ARRAY)
    fill(page, name="Porch panels", array_w="800", tilt_deg="0", azimuth_deg="170")
    page.sheet.grid_tied.setFocus()
    hands.press(SPACE)
    hands.fill(line(page, "note"), "two of them")
    hands.press(ENTER)
    (added,) = kept(house)
    assert added.draft == SupplyDraft(
        "Porch panels", SupplyKind.ARRAY, array_w=800.0, tilt_deg=0.0, azimuth_deg=170.0, grid_tied=True,
        note="two of them",
    )  # fmt: skip


def test_a_combination_is_ticked_together(page: EquipmentPage, house: House) -> None:
    strong, panels = owned(house, STRONG, PANELS)
    hands.click(page.head.add_button)
    hands.write("Both")
    page.sheet.kind.choose(SupplyKind.COMBINATION)
    assert set(page.sheet.members.boxes) == {strong, panels}
    for number in (strong, panels):
        page.sheet.members.boxes[number].setFocus()
        hands.press(SPACE)
    hands.click(page.sheet.save_button)
    both = next(each for each in kept(house) if each.kind is SupplyKind.COMBINATION)
    assert (both.name, set(both.draft.members)) == ("Both", {strong, panels})
    page.table.selectRow([row.supply.id for row in page.table.supplies.rows].index(both.id))
    hands.click(page.detail.change_button)
    assert set(page.sheet.members.ticked) == {strong, panels}
    assert both.id not in page.sheet.members.boxes


def test_a_combination_of_one_is_refused_beside_its_boxes(page: EquipmentPage, house: House) -> None:
    (strong,) = owned(house, STRONG)
    hands.click(page.head.add_button)
    hands.write("Both")
    page.sheet.kind.choose(SupplyKind.COMBINATION)
    assert (
        "Enter the battery, the generator or the panels first" in page.sheet.form.rows["members"].hint.text()
    )
    page.sheet.members.boxes[strong].setChecked(True)
    hands.click(page.sheet.save_button)
    assert said(page, "members") == "Choose at least two supplies for the combination."
    assert page.sheet.members.ticked == (strong,)
    assert focused() is page.sheet.members.boxes[strong]
    assert len(kept(house)) == 1


@pytest.mark.parametrize("kind", list(SupplyKind))
def test_only_the_rows_of_its_kind_are_shown(page: EquipmentPage, kind: SupplyKind) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(kind)
    wanted = {row.name for section in SECTIONS for row in section.rows if kind in row.kinds}
    assert shown(page) == wanted | {"name", "kind", "owned", "note"}


def test_every_figure_of_a_supply_has_a_row() -> None:
    numbers = {
        name
        for name, hint in SupplyDraft.__annotations__.items()
        if str(hint) in {"float | None", "int | None"}
    }
    assert {each.name for each in LINES} == numbers


def test_another_kind_keeps_what_stands_in_the_rows(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    fill(page, name="Box", stored_wh="5000", continuous_w="900")
    page.sheet.kind.choose(SupplyKind.GENERATOR)
    assert page.sheet.form.rows["continuous_w"].caption.text() == "Rated power"
    assert line(page, "continuous_w").accessibleName() == "Rated power (W)"
    page.sheet.kind.choose(SupplyKind.BATTERY)
    assert line(page, "stored_wh").text() == "5000"
    page.sheet.kind.choose(SupplyKind.GENERATOR)
    hands.click(page.sheet.save_button)
    (added,) = kept(house)
    # What a generator does not have is not saved with it.
    assert added.draft == SupplyDraft("Box", SupplyKind.GENERATOR, continuous_w=900.0)


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Give the equipment a name"),
        ("name", "attic BATTERY", "called “Attic battery” already"),
        ("stored_wh", "much", "is not a number"),
        ("stored_wh", "0", "must be more than zero"),
        ("stored_wh", "100 Ah", "100 Ah × 12.8 V"),
        ("continuous_w", "2 kVA", "These are volt-amperes"),
        ("continuous_w", "-5", "is negative"),
        ("start_w", "100", "must not be below the continuous power"),
        ("outlets", "2.5", "must be a whole number"),
        ("voltage_v", "9", "The voltage must be between"),
        ("frequency_hz", "400", "The frequency must be between"),
        ("idle_w", "5000", "The draw with nothing on must be between"),
    ],
)
def test_what_cannot_be_taken_is_said_beside_its_field(
    page: EquipmentPage, house: House, *, field: str, typed: str, sentence: str
) -> None:
    owned(house, STRONG)
    hands.click(page.head.add_button)
    fill(page, name="Shed battery", continuous_w="500", stored_wh="4000")
    hands.fill(line(page, field), typed)
    hands.press(ENTER)
    assert sentence in said(page, field)
    assert line(page, field).text() == typed
    assert focused() is line(page, field)
    assert len(kept(house)) == 1
    if field != "stored_wh":
        assert line(page, "stored_wh").text() == "4000"
    hands.press(ESCAPE)
    assert page.detail.isVisible()


@pytest.mark.parametrize("draft", [STRONG, WEAK, ENGINE, PANELS])
def test_changing_nothing_changes_nothing(page: EquipmentPage, house: House, draft: SupplyDraft) -> None:
    owned(house, draft)
    hands.click(page.detail.change_button)
    assert page.sheet.title.text() == f"Change {draft.name}"
    hands.press(ENTER)
    assert [each.draft for each in kept(house)] == [draft]


def test_a_supply_is_changed(page: EquipmentPage, house: House) -> None:
    owned(house, STRONG, WEAK)
    page.table.selectRow(1)
    hands.click(page.detail.change_button)
    fill(page, name="Zinc battery", stored_wh="")
    hands.press(ENTER)
    assert [(each.name, each.draft.stored_wh) for each in kept(house)] == [
        ("Attic battery", 40_000.0),
        ("Zinc battery", None),
    ]
    chosen = page.chosen()
    assert chosen is not None
    assert chosen.supply.name == "Zinc battery"


def test_hidden_rows_leave_no_gap(page: EquipmentPage, qtbot: QtBot) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(SupplyKind.ARRAY)
    above, below = (page.sheet.form.rows[name].editor for name in ("owned", "array_w"))
    # The heading of the panels stands between them and nothing else.
    qtbot.waitUntil(lambda: 0 < below.geometry().top() - above.geometry().bottom() < 80)


def test_figures_may_carry_their_unit(page: EquipmentPage, house: House) -> None:
    hands.click(page.head.add_button)
    fill(
        page, name="Shed battery", stored_wh="100 Ah × 12,8 V", continuous_w="1.2 kW", continuous_va="1.5 kVA"
    )
    hands.press(ENTER)
    (added,) = kept(house)
    assert (added.draft.stored_wh, added.draft.continuous_w, added.draft.continuous_va) == (
        1280.0,
        1200.0,
        1500.0,
    )


# --- what was typed and not saved ---


def test_what_was_typed_is_not_lost_by_esc(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(SupplyKind.GENERATOR)
    page.sheet.fuel.choose(Fuel.DIESEL)
    fill(page, name="Yard engine", continuous_w="2 kW or so")
    with qtbot.waitSignal(house.session.said) as told:
        hands.press(ESCAPE)
    assert told.args == ["Not saved. What you typed is kept: “Add equipment” brings it back."]
    hands.click(page.head.add_button)
    assert page.sheet.afresh_button.isVisible()
    assert (page.sheet.kind.value, page.sheet.fuel.value) == (SupplyKind.GENERATOR, Fuel.DIESEL)
    assert (line(page, "name").text(), line(page, "continuous_w").text()) == ("Yard engine", "2 kW or so")
    fill(page, continuous_w="2 kW")
    hands.press(ENTER)
    assert [each.draft.continuous_w for each in kept(house)] == [2000.0]
    # Once it is saved the next one begins empty.
    hands.click(page.head.add_button)
    assert not page.sheet.afresh_button.isVisible()
    assert line(page, "name").text() == ""


def test_esc_without_typing_says_and_keeps_nothing(page: EquipmentPage, house: House, qtbot: QtBot) -> None:
    hands.click(page.head.add_button)
    with qtbot.assertNotEmitted(house.session.said):
        hands.press(ESCAPE)
    hands.click(page.head.add_button)
    assert not page.sheet.afresh_button.isVisible()


def test_what_came_back_can_be_thrown_away(page: EquipmentPage) -> None:
    hands.click(page.head.add_button)
    page.sheet.kind.choose(SupplyKind.ARRAY)
    fill(page, name="Porch panels")
    hands.click(page.sheet.cancel_button)
    hands.click(page.head.add_button)
    hands.click(page.sheet.afresh_button)
    assert (line(page, "name").text(), page.sheet.kind.value) == ("", SupplyKind.BATTERY)
    assert focused() is line(page, "name")
    hands.press(ESCAPE)
    hands.click(page.head.add_button)
    assert not page.sheet.afresh_button.isVisible()


def test_a_change_that_was_left_comes_back_to_its_own_supply(page: EquipmentPage, house: House) -> None:
    owned(house, STRONG, WEAK)
    page.table.selectRow(1)
    hands.click(page.detail.change_button)
    fill(page, stored_wh="8 kWh")
    # Pressing the other button leaves the sheet as well.
    hands.click(page.head.add_button)
    assert line(page, "stored_wh").text() == ""
    hands.press(ESCAPE)
    page.table.selectRow(0)
    hands.click(page.detail.change_button)
    assert line(page, "stored_wh").text() == "40000"
    hands.press(ESCAPE)
    page.table.selectRow(1)
    hands.click(page.detail.change_button)
    assert line(page, "stored_wh").text() == "8 kWh"


def test_what_was_typed_upon_older_figures_does_not_come_back(page: EquipmentPage, house: House) -> None:
    (strong,) = owned(house, STRONG)
    hands.click(page.detail.change_button)
    fill(page, note="older")
    hands.press(ESCAPE)
    house.session.do(change_supply, strong, replace(STRONG, stored_wh=41_000.0))
    hands.click(page.detail.change_button)
    assert line(page, "stored_wh").text() == "41000"
    assert line(page, "note").text() == ""


def test_another_logbook_has_nothing_of_what_was_typed(
    page: EquipmentPage, house: House, tmp_path: Path
) -> None:
    hands.click(page.head.add_button)
    fill(page, name="Yard engine")
    hands.press(ESCAPE)
    house.session.attach(create_logbook(tmp_path / "other.hearthload", Household()))
    hands.click(page.head.add_button)
    assert line(page, "name").text() == ""

"""The measurement bar: what is said of a measurement, what can be done, and what needs no form."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from hearthload.domain.figures import format_ends
from hearthload.domain.measurement import MeasurementState
from hearthload.estimate.answers import Enough, Estimate, Interval, Lack
from hearthload.service.edits.measurements import finish_measurement, set_aside_measurement
from hearthload.window.readings.measure import MeasureBar
from hearthload.window.readings.measure_words import Action, enough_words, estimate_words
from hearthload.window.words import CAUTION_HARD_WIRED, CAUTION_MEDICAL
from tests.window import hands
from tests.window.filling import House, Stay

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

PLANNED, RUNNING, FINISHED, ASIDE = (
    MeasurementState.PLANNED,
    MeasurementState.RUNNING,
    MeasurementState.FINISHED,
    MeasurementState.SET_ASIDE,
)


def offered(bar: MeasureBar) -> set[Action]:
    return {action for action, button in bar.buttons.items() if button.isVisible()}


# --- what is said ---


def test_nothing_chosen_says_what_to_do(bar: MeasureBar) -> None:
    bar.show_appliance(None)
    assert bar.standing.text() == "Choose an appliance in the list to see its measurement."
    assert offered(bar) == set()


def test_a_running_measurement_says_where_it_stands(house: House, bar: MeasureBar, qtbot: QtBot) -> None:
    stay = house.measured(days=5)
    bar.show_appliance(stay.appliance_id)
    estimate = house.row(stay.appliance_id).estimate
    assert estimate is not None
    assert estimate.daily_kwh is not None
    assert bar.standing.text() == "Running since Wednesday 07:30, on Meter of Larder box  ·  6 readings"
    assert bar.says.text() == estimate_words(estimate)
    assert bar.says.text().startswith(f"{format_ends(estimate.daily_kwh, 'kWh')} a day")
    assert bar.enough.text().startswith(("Not yet well measured", "Well measured"))
    house.read(stay.id, 0.0, 6.0)
    qtbot.waitUntil(lambda: bar.standing.text().endswith("7 readings"))


def known(half_width: float, daily: Interval, *, target: float = 0.3, well: bool = False) -> str:
    enough = Enough(well, target, half_width, () if well else (Lack.NARROWER,), None, seasonal=False)
    return enough_words(
        Estimate(
            readings=8,
            spans=7,
            days=7.0,
            daily_kwh=daily,
            total_per_day_kwh=daily.value,
            preliminary=False,
            enough=enough,
            duty_cycle=None,
            posterior=None,
        )
    )


def test_no_wide_range_is_told_with_a_plus_minus() -> None:
    boiler = Interval(0.77, 0.526, 1.31)
    assert known(0.58, boiler) == (
        "Not yet well measured: known from 0.53 to 1.31 kWh a day, the goal is ± 30 %."
    )
    assert known(0.14, boiler, target=0.1) == "Not yet well measured: known to ± 14 %, the goal is ± 10 %."
    assert known(0.14, boiler, well=True) == "Well measured: known to ± 14 %, the goal is ± 30 %."
    wide = known(0.4, Interval(1.0, 0.7, 1.4), target=0.5, well=True)
    assert wide == "Well measured: known from 0.70 to 1.40 kWh a day, the goal is within 50 %."


def test_one_reading_asks_for_a_second(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    house.started(appliance_id, house.meter())
    bar.show_appliance(appliance_id)
    assert bar.standing.text().endswith("1 reading")
    assert bar.enough.text() == "Two readings, half a day apart or more, give the first average."


def test_a_hard_wired_appliance_is_for_an_electrician(house: House, bar: MeasureBar) -> None:
    bar.show_appliance(house.appliance(hard_wired=True))
    assert bar.standing.text() == "Not measured by a plug-in meter"
    assert bar.caution.text() == CAUTION_HARD_WIRED
    assert bar.caution.isVisible()
    assert offered(bar) == set()


def test_the_medical_caution_stands_until_the_meter_is_in(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance(medical=True)
    bar.show_appliance(appliance_id)
    assert bar.caution.text() == CAUTION_MEDICAL
    house.started(appliance_id, house.meter())
    assert not bar.caution.isVisible()


# --- what can be done ---


def as_none(house: House) -> int:
    return house.appliance()


def as_planned(house: House) -> int:
    appliance_id = house.appliance()
    house.planned(appliance_id)
    return appliance_id


def as_running(house: House) -> int:
    return house.measured().appliance_id


def as_finished(house: House) -> int:
    stay = house.measured()
    house.session.do(finish_measurement, stay.id, house.clock())
    return stay.appliance_id


def as_set_aside(house: House) -> int:
    stay = house.measured()
    house.session.do(set_aside_measurement, stay.id)
    return stay.appliance_id


@pytest.mark.parametrize(
    ("make", "possible"),
    [
        (as_none, {Action.START, Action.PLAN}),
        (as_planned, {Action.START, Action.DROP_PLAN}),
        (as_running, {Action.FINISH, Action.RESET, Action.SWAP, Action.SET_ASIDE, Action.DESCRIBE}),
        (as_finished, {Action.REOPEN, Action.SET_ASIDE, Action.START, Action.PLAN, Action.DESCRIBE}),
        (as_set_aside, {Action.TAKE_UP, Action.START, Action.PLAN}),
    ],
)
def test_only_what_is_possible_is_offered(
    house: House, bar: MeasureBar, make: Callable[[House], int], possible: set[Action]
) -> None:
    bar.show_appliance(make(house))
    assert offered(bar) == possible == set(bar.possible)


def test_undo_takes_the_buttons_along(house: House, bar: MeasureBar) -> None:
    appliance_id = house.appliance()
    house.meter()
    bar.show_appliance(appliance_id)
    house.planned(appliance_id)
    assert offered(bar) == {Action.START, Action.DROP_PLAN}
    house.session.undo()
    assert offered(bar) == {Action.START, Action.PLAN}


# --- what needs no form ---


@pytest.mark.parametrize(
    ("make", "action", "after"),
    [
        (as_running, Action.SET_ASIDE, [ASIDE]),
        (as_finished, Action.SET_ASIDE, [ASIDE]),
        (as_finished, Action.REOPEN, [RUNNING]),
        (as_set_aside, Action.TAKE_UP, [RUNNING]),
        (as_planned, Action.DROP_PLAN, []),
    ],
)
def test_a_click_does_it_and_undo_takes_it_back(
    house: House,
    bar: MeasureBar,
    *,
    make: Callable[[House], int],
    action: Action,
    after: list[MeasurementState],
) -> None:
    appliance_id = make(house)
    before = house.states(appliance_id)
    bar.show_appliance(appliance_id)
    hands.click(bar.buttons[action])
    assert bar.open_form is None
    assert house.states(appliance_id) == after
    assert action not in offered(bar)
    house.session.undo()
    assert house.states(appliance_id) == before
    assert action in offered(bar)


# --- several measurements ---


def test_one_of_several_measurements_can_be_chosen(house: House, bar: MeasureBar, qtbot: QtBot) -> None:
    first = house.measured(days=3, until=20)
    house.session.do(finish_measurement, first.id, house.ago(20))
    second = house.started(first.appliance_id, first.meter_id, days_ago=2.0)
    bar.show_appliance(first.appliance_id)
    now, then = (bar.choice.itemText(place) for place in range(bar.choice.count()))
    assert now == "22 Nov 2026  ·  running  ·  Meter of Larder box"
    assert then.startswith("1 Nov 2026 to 4 Nov 2026  ·  finished  ·  Meter of Larder box")
    assert bar.choice.value == second
    bar.choice.setFocus()
    with qtbot.waitSignal(bar.measurement_wanted) as told:
        hands.press(Qt.Key.Key_Down)
    assert told.args == [first.id]
    bar.show_measurement(first.id)
    assert bar.standing.text() == "Finished 4 Nov 07:30 on Meter of Larder box  ·  4 readings"
    # It cannot be taken up again while another one of its appliance is under way.
    assert Action.SET_ASIDE in offered(bar)
    assert not offered(bar) & {Action.REOPEN, Action.START, Action.FINISH}


def test_there_is_no_choice_of_one(house: House, bar: MeasureBar) -> None:
    stay: Stay = house.measured()
    bar.show_appliance(stay.appliance_id)
    assert not bar.choice.isVisible()

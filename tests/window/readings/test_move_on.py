"""A finished measurement's meter moves on: which appliance comes next, and the start form that asks."""

from __future__ import annotations

from collections.abc import Callable

from hearthload.domain.appliance import Role
from hearthload.service import queries
from hearthload.service.edits.measurements import finish_measurement
from hearthload.window.readings.measure_forms import ActionForm
from hearthload.window.readings.page import ReadingsPage
from tests.window import hands
from tests.window.filling import House


def test_one_planned_for_the_meter_comes_first(house: House) -> None:
    stay = house.measured(days=3)
    never = house.appliance("Attic lamp", role=Role.ESSENTIAL)
    planned = house.appliance("Well pump")
    house.planned(planned, stay.meter_id)
    logbook = house.session.logbook
    assert queries.next_for_meter(logbook, stay.meter_id) is None
    house.session.do(finish_measurement, stay.id, house.clock())
    following = queries.next_for_meter(logbook, stay.meter_id)
    assert following is not None
    assert following.id == planned
    other = house.meter("Spare")
    following = queries.next_for_meter(logbook, other)
    assert following is not None
    assert following.id == never


def test_none_waits_where_all_are_measured_off_or_hard_wired(house: House) -> None:
    stay = house.measured(days=3)
    house.appliance("Cooker", hard_wired=True)
    house.appliance("Toaster", role=Role.OFF)
    house.session.do(finish_measurement, stay.id, house.clock())
    assert queries.next_for_meter(house.session.logbook, stay.meter_id) is None


def test_a_meter_that_may_not_be_used_there_is_not_offered(house: House) -> None:
    stay = house.measured(days=3)
    house.appliance("Workshop saw", nameplate_w=9000.0)
    house.session.do(finish_measurement, stay.id, house.clock())
    assert queries.next_for_meter(house.session.logbook, stay.meter_id) is None


def test_the_link_opens_the_start_form_with_the_meter(
    house: House, opened: Callable[[], ReadingsPage]
) -> None:
    house.meter("Another meter")
    stay = house.measured(days=3)
    pump = house.appliance("Well pump")
    house.session.do(finish_measurement, stay.id, house.clock())
    page = opened()
    page.roster.choose(stay.appliance_id)
    assert page.work.measure.move_on.link.text() == "Move it on to Well pump"
    hands.click(page.work.measure.move_on.link)
    assert page.roster.view.chosen_id() == pump
    form = page.work.measure.open_form
    assert isinstance(form, ActionForm)
    assert form.meter is not None
    assert form.meter.value == stay.meter_id
    hands.click(form.accept_button)
    assert house.states(pump) == [queries.measurements_of(house.session.logbook, pump)[0].measurement.state]
    assert page.work.measure.move_on.isHidden()

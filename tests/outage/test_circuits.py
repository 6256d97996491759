"""Amps by hand: the weakest element, and four fifths of it for a run of three hours."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.outage.answers import LoadInput
from hearthload.outage.circuits import Element, Rating, circuit_check
from hearthload.outage.facts import Facts
from tests.outage.appliances import KNOWN, USUAL, line_of, measured

HEATER = LoadInput(
    "Heater",
    Kind.KITCHEN,
    Role.WANTED,
    plug="nema_5_15",
    running_w=1500.0,
    power_factor=1.0,
    use=Use.HOURS_A_DAY,
    hours_a_day=2.0,
)
METER = Rating(Element.METER, "Red meter", 15.0)
CORD = Rating(Element.CORD, "Garden cord", 10.0)


def test_a_heater_for_hours_is_too_much_for_its_plug() -> None:
    # 1500 W at 120 V = 12.5 A; 15 A carry it for two hours, 12 A of them for six.
    short = circuit_check(line_of(HEATER), [METER], USUAL)
    assert short.needed_a is not None
    assert short.allowed_a is not None
    assert (short.needed_a.value, short.allowed_a.value) == (12.5, 15.0)
    assert (short.fits, short.long_run) == (True, False)
    long = circuit_check(line_of(replace(HEATER, hours_a_day=6.0)), [METER], USUAL)
    assert long.allowed_a is not None
    assert long.allowed_a.value == pytest.approx(12.0)
    assert (long.fits, long.long_run) == (False, True)
    assert [step.equation for step in long.steps][-2:] == ["I = S / V", "I_max = f · I_r"]


def test_exactly_three_hours_are_long() -> None:
    assert circuit_check(line_of(replace(HEATER, hours_a_day=3.0)), [], USUAL).long_run
    assert not circuit_check(line_of(replace(HEATER, hours_a_day=2.99)), [], USUAL).long_run


def test_the_weakest_element_governs() -> None:
    found = circuit_check(line_of(HEATER), [METER, CORD, Rating(Element.OUTLET, "Outlet", 20.0)], USUAL)
    assert (found.element, found.element_name, found.fits) == (Element.CORD, "Garden cord", False)


def test_apparent_power_is_what_heats() -> None:
    # 920 W at PF 0.5 and 230 V: 8 A.
    load = replace(HEATER, running_w=920.0, power_factor=0.5, plug="cee_7", voltage_v=None)
    found = circuit_check(line_of(load), [], USUAL)
    assert found.needed_a is not None
    assert found.needed_a.value == pytest.approx(8.0)


def test_volts_are_the_loads_then_the_supplys_then_the_plugs() -> None:
    def amps(volts: float | None, supply_v: float | None) -> float:
        found = circuit_check(line_of(replace(HEATER, voltage_v=volts)), [], USUAL, supply_v)
        assert found.needed_a is not None
        return found.needed_a.value

    assert amps(100.0, 125.0) == pytest.approx(15.0)
    assert amps(None, 125.0) == pytest.approx(12.0)
    assert amps(None, None) == pytest.approx(12.5)


def test_one_of_several_appliances_has_its_own_plug() -> None:
    found = circuit_check(line_of(replace(HEATER, quantity=3)), [], USUAL)
    assert found.needed_a is not None
    assert found.needed_a.value == pytest.approx(12.5)


def test_a_defrost_heater_is_what_the_plug_carries() -> None:
    # 475 W at 120 V against 70 W / 0.7 = 100 VA.
    load = LoadInput(
        "Fridge",
        Kind.REFRIGERATOR,
        Role.ESSENTIAL,
        plug="nema_5_15",
        cycling=Cycling.FROST_FREE,
        quantity=2,
        measured=measured(1.0, running_w=70.0),
    )
    found = circuit_check(line_of(load), [], USUAL)
    assert found.needed_a is not None
    assert found.needed_a.value == pytest.approx(475.0 / 120.0)


def test_what_is_not_rated_is_named_and_not_guessed() -> None:
    load = replace(HEATER, plug="unknown")
    found = circuit_check(line_of(load), [Rating(Element.SOCKET, "Socket", None)], USUAL)
    assert (found.element, found.allowed_a, found.needed_a, found.fits) == (None, None, None, None)
    assert found.not_rated == ("not sure", "Socket")


def test_hard_wired_has_no_plug() -> None:
    found = circuit_check(line_of(replace(HEATER, hard_wired=True)), [], USUAL)
    assert found.element is None


def test_no_watts_no_verdict() -> None:
    found = circuit_check(line_of(replace(HEATER, running_w=None)), [METER], USUAL)
    assert found.needed_a is None
    assert found.fits is None


def test_a_plan_may_hold_to_another_share() -> None:
    facts = Facts(KNOWN, {"long_run_share": 1.0})
    found = circuit_check(line_of(replace(HEATER, hours_a_day=6.0), facts=facts), [], facts)
    assert found.fits
    assert found.steps[-1].source == "set in this plan"


@given(st.lists(st.floats(0.5, 63.0), min_size=1, max_size=5), st.floats(1.0, 3000.0), st.floats(0.0, 24.0))
def test_one_more_element_never_allows_more(amps: list[float], watts: float, hours: float) -> None:
    line = line_of(replace(HEATER, running_w=watts, hours_a_day=hours))
    ratings = [Rating(Element.OUTLET, f"Outlet {i}", rating) for i, rating in enumerate(amps)]
    fewer = circuit_check(line, ratings[:-1], USUAL).allowed_a
    more = circuit_check(line, ratings, USUAL).allowed_a
    assert fewer is not None
    assert more is not None
    assert more.value <= fewer.value
    assert more.value <= min(*amps, 15.0)

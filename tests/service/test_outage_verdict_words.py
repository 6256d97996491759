"""The verdict in a sentence: carried for how long, short by what, or what is still to look up."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.domain.plan import Plan, PlanDraft
from hearthload.domain.supply import Supply
from hearthload.outage.answers import Limit, LimitCode, Outcome, Verdict
from hearthload.outage.steps import Figure
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_verdict_words import (
    below_hours_words,
    fails_first_words,
    hours_sentence,
    hours_words,
    interval_words,
    plan_hours,
    plan_words,
    verdict_sentence,
)
from tests.window.equipment.gear import ENGINE, PANELS, STRONG

_TYPED = PlanDraft("Winter storm")
PLAN = Plan(
    1, "Winter storm", 3.0, 1, None, 20.0, 15.0, 0.0, _TYPED.confidence, _TYPED.waking_from_h,
    _TYPED.waking_to_h, None, None, "",
)  # fmt: skip


@pytest.fixture
def house_of_two() -> tuple[Supply, Supply]:
    return Supply(1, STRONG), Supply(2, PANELS)


def limit(code: LimitCode, outcome: Outcome, needed: float = 2.0, offered: float | None = 1.0) -> Limit:
    margin = None if offered is None else offered / needed - 1.0
    figure = Figure(needed, None, None, "kWh", ())
    missing = f"the {code.value}" if outcome is Outcome.NOT_KNOWN else ""
    return Limit(code, figure, offered, "kWh", margin, outcome, missing, "", ())


def answer(
    outcome: Outcome, *limits: Limit, hours: Figure | None = None, first: LimitCode | None = None
) -> SupplyAnswer:
    supply = Supply(1, STRONG)
    return SupplyAnswer(supply, (supply,), Verdict("it", outcome, limits, hours, first), None, None, ())


def figure(value: float, low: float | None, high: float | None) -> Figure:
    return Figure(value, low, high, "h", ())


@pytest.mark.parametrize(
    ("days", "words", "hours"),
    [
        (3.0, "Winter storm, 3 days", "72 h"),
        (8 / 24, "Winter storm, 8 h", "8 h"),
        (1.0, "Winter storm, 1 day", "24 h"),
    ],
)
def test_a_plan_is_named_with_its_length(days: float, words: str, hours: str) -> None:
    plan = replace(PLAN, days=days)
    assert (plan_words(plan), plan_hours(plan)) == (words, hours)


def test_what_carries_says_for_how_long() -> None:
    carries = answer(Outcome.CARRIES, hours=figure(81.4, 74.2, 90.1), first=LimitCode.ENERGY)
    assert verdict_sentence(carries, PLAN) == "Carries the plan's loads for all 72 h."
    assert hours_sentence(carries, PLAN) == "Its energy lasts 81 h (74 to 90 h) with the plan's loads."
    assert fails_first_words(carries.verdict) == "in time: energy"
    assert hours_words(carries) == "81 h"


def test_of_a_combination_the_hours_are_the_batterys(house_of_two: tuple[Supply, Supply]) -> None:
    hours = figure(5.4, 3.2, 9.6)
    both = replace(answer(Outcome.CARRIES, hours=hours), members=house_of_two)
    assert below_hours_words(both) == "battery alone"
    assert hours_sentence(both, PLAN) == (
        "Its battery alone, with nothing charging it, lasts 5.4 h (3.2 to 9.6 h) with the plan's loads."
    )
    assert below_hours_words(answer(Outcome.CARRIES, hours=hours)) == "3.2 to 9.6 h"


def test_an_engine_carries_as_long_as_there_is_fuel() -> None:
    engine = Supply(2, ENGINE)
    carries = replace(answer(Outcome.CARRIES), supply=engine, members=(engine,))
    assert verdict_sentence(carries, PLAN) == (
        "Carries the plan's loads for all 72 h, as long as there is fuel."
    )
    assert hours_words(carries) == "with fuel"
    short = replace(carries, verdict=replace(carries.verdict, outcome=Outcome.FALLS_SHORT))
    assert hours_words(short) == "–"


def test_what_falls_short_says_the_worst_first_and_names_the_others() -> None:
    short = answer(
        Outcome.FALLS_SHORT,
        limit(LimitCode.ENERGY, Outcome.FALLS_SHORT, 2.0, 1.5),
        limit(LimitCode.START_VA, Outcome.FALLS_SHORT, 4.0, 1.0),
        limit(LimitCode.RUNNING_W, Outcome.FALLS_SHORT),
        limit(LimitCode.VOLTAGE, Outcome.CARRIES),
        replace(limit(LimitCode.FUEL, Outcome.FALLS_SHORT), counts=False),
        first=LimitCode.START_VA,
    )
    assert verdict_sentence(short, PLAN) == (
        "Falls short: starting power, 4.00 kWh needed, 1.00 kWh offered; also energy and running watts."
    )
    assert fails_first_words(short.verdict) == "starting power"


def test_what_is_not_known_says_what_to_look_up_each_once() -> None:
    unsure = answer(
        Outcome.NOT_KNOWN,
        limit(LimitCode.ENERGY, Outcome.NOT_KNOWN, offered=None),
        limit(LimitCode.ENERGY, Outcome.NOT_KNOWN, offered=None),
        limit(LimitCode.VOLTAGE, Outcome.NOT_KNOWN, offered=None),
        replace(limit(LimitCode.FUEL, Outcome.NOT_KNOWN), counts=False),
    )
    assert verdict_sentence(unsure, PLAN) == "Not known. Still to look up: the energy; the voltage."
    assert (hours_words(unsure), hours_sentence(unsure, PLAN)) == ("not known", "")


@pytest.mark.parametrize(
    ("hours", "cell", "ends"),
    [
        (figure(5.43, 3.2, 9.6), "5.4 h", "3.2 to 9.6 h"),
        (figure(31.0, 26.4, None), "31 h", "26 h or more"),
        (figure(1234.0, 1100.0, 1400.0), "1230 h", "1100 to 1400 h"),
    ],
)
def test_hours_with_their_interval(hours: Figure, cell: str, ends: str) -> None:
    found = answer(Outcome.CARRIES, hours=hours)
    assert (hours_words(found), interval_words(hours)) == (cell, ends)


def test_an_open_end_is_said() -> None:
    found = answer(Outcome.CARRIES, hours=figure(31.0, 26.4, None))
    assert hours_sentence(found, PLAN) == "Its energy lasts 31 h, at least 26 h with the plan's loads."


@pytest.mark.parametrize(
    ("codes", "cell"),
    [
        ((LimitCode.START_VA,), "cannot start it"),
        ((LimitCode.START_VA, LimitCode.RUNNING_W), "cannot run it"),
        ((LimitCode.RUNNING_VA,), "cannot run it"),
        ((LimitCode.BATTERY_CURRENT,), "cannot run it"),
        ((LimitCode.OUTLET_CURRENT,), "cannot run it"),
        ((LimitCode.VOLTAGE,), "cannot run it"),
        ((LimitCode.FREQUENCY,), "cannot run it"),
    ],
)
def test_what_trips_at_once_shows_no_hours(codes: tuple[LimitCode, ...], cell: str) -> None:
    short = [limit(code, Outcome.FALLS_SHORT) for code in codes]
    trips = answer(Outcome.FALLS_SHORT, *short, hours=figure(81.4, 74.2, 90.1), first=codes[0])
    assert (hours_words(trips), below_hours_words(trips)) == (cell, "")
    assert hours_sentence(trips, PLAN) == "Its energy would last 81 h (74 to 90 h) with the plan's loads."
    told = answer(
        Outcome.CARRIES, *(replace(each, counts=False) for each in short), hours=figure(81.4, 74.2, 90.1)
    )
    assert hours_words(told) == "81 h"


def test_energy_that_lasts_longer_than_the_plan_and_falls_short_says_why() -> None:
    energy = limit(LimitCode.ENERGY, Outcome.FALLS_SHORT, 2.0, 1.9)
    short = answer(Outcome.FALLS_SHORT, energy, hours=figure(75.0, 66.0, 86.0), first=LimitCode.ENERGY)
    assert hours_sentence(short, PLAN) == (
        "Its energy lasts 75 h (66 to 86 h) with the plan's loads. That is expected, and longer than the "
        "plan's 72 h; but the verdict asks for energy that is enough in 90 % of such outages."
    )
    under = replace(short, verdict=replace(short.verdict, hours=figure(71.0, 66.0, 76.0)))
    assert "enough" not in hours_sentence(under, PLAN)
    carries = answer(
        Outcome.CARRIES, replace(energy, outcome=Outcome.CARRIES), hours=figure(75.0, 66.0, 86.0)
    )
    assert "enough" not in hours_sentence(carries, PLAN)


def test_panels_alone_say_what_they_need() -> None:
    sun = replace(limit(LimitCode.SUN, Outcome.FALLS_SHORT), needed=None, offered=0.0, unit="W", margin=None,
        missing="a battery with an inverter that the array charges")  # fmt: skip
    alone = answer(Outcome.FALLS_SHORT, sun, first=LimitCode.SUN)
    assert verdict_sentence(alone, PLAN) == (
        "It does nothing alone: it takes a battery with an inverter that the array charges."
    )
    assert fails_first_words(alone.verdict) == "needs a battery"

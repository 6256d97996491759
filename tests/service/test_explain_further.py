"""Time running, energy per use, light and heavy days: what was read is told apart from what is assumed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.figures import (
    ends_as_printed,
    format_ends,
    format_number,
    format_percent,
    format_share_of_day,
    format_watts,
)
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import DutyCycle, Estimate
from hearthload.service.edits.readings import add_reading
from hearthload.service.explain import explain
from tests.service.building import House, a_house, read_on
from tests.service.explaining import daily, measured, told

ASSUMED = "Its watts while idle were never read; 1.0 W is assumed."


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def duty_of(estimate: Estimate) -> DutyCycle:
    assert estimate.duty_cycle is not None
    return estimate.duty_cycle


def spot(house: House, stay: int, day: float, watts: float, state: RunState) -> None:
    add_reading(house.logbook, stay, read_on(day, 28.08 + 0.1 * (day - 8), power_w=watts, state=state))


def test_nothing_assumed_is_told_as_read(house: House) -> None:
    said, _ = told(house, measured(house, nameplate_w=130.0))
    # 130·(1 − 0.2·√(2/π)) = 109.3 W.
    assert said["Time running"].startswith(
        "Its watts while running were never read; from the nameplate (130 W) about 109 W is assumed. "
        + ASSUMED
    )
    said, _ = told(house, measured(house, running_w=90.0))
    stated = "Its watts while running were never read; 90 W was stated for it. "
    assert said["Time running"].startswith(stated + ASSUMED)


def test_what_was_read_is_told_with_how_often(house: House) -> None:
    stay = measured(house)
    spot(house, stay, 9, 88.0, RunState.RUNNING)
    said, estimate = told(house, stay)
    assert said["Time running"].startswith(
        f"It draws 88 W while running, by one reading of its watts. {ASSUMED}"
    )
    assert duty_of(estimate).idle_spots == 0
    spot(house, stay, 10, 2.0, RunState.IDLE)
    assert "It draws 2.0 W while idle, by one reading." in told(house, stay)[0]["Time running"]
    spot(house, stay, 11, 90.0, RunState.RUNNING)
    spot(house, stay, 12, 3.0, RunState.IDLE)
    said, estimate = told(house, stay)
    assert "It draws 89 W while running, by 2 readings of its watts." in said["Time running"]
    assert "It draws 2.5 W while idle, by 2 readings." in said["Time running"]
    assert (duty_of(estimate).spots, duty_of(estimate).idle_spots) == (2, 2)


@pytest.mark.parametrize(
    ("cycling", "words"),
    [
        (Cycling.ON_AND_OFF, "So it runs {share} of the time, {hours}."),
        (Cycling.FROST_FREE, "So its compressor, the defrost taken off, runs {share} of the time, {hours}."),
        (Cycling.VARIABLE_SPEED, "So it runs on average at {share} of its highest watts ({low} to {high})."),
        (Cycling.NOT_KNOWN, "That is as much energy as running at 90 W for {hours} and idling otherwise."),
    ],
)
def test_what_a_share_means_depends_on_how_the_machine_runs(
    house: House, cycling: Cycling, words: str
) -> None:
    said, estimate = told(house, measured(house, running_w=90.0, cycling=cycling))
    share = duty_of(estimate).share
    low, value, high = (format_percent(part) for part in (share.low, share.value, share.high))
    expected = words.format(share=value, hours=format_share_of_day(share), low=low, high=high)
    assert said["Time running"].endswith(expected)


def test_of_changing_speed_the_highest_watts_are_told_as_such(house: House) -> None:
    stay = measured(house, cycling=Cycling.VARIABLE_SPEED)
    for day, watts in ((9, 80.0), (10, 120.0)):
        spot(house, stay, day, watts, RunState.RUNNING)
    said, _ = told(house, stay)
    assert said["Time running"].startswith("The highest watts read while it was running are 120 W.")


def test_an_average_beyond_the_running_watts_is_told_not_clipped(house: House) -> None:
    # 0.24 kWh a day are 10 W.
    said, estimate = told(house, measured(house, Kind.ALWAYS_ON, (0.24,) * 8, running_w=9.0))
    assert duty_of(estimate).share.value == 1.0
    low = format_percent(duty_of(estimate).share.low)
    assert said["Time running"].endswith(
        "On average it takes 10 W, more than those 9.0 W, which no share of time can explain: the watts "
        f"while running are really more, or they change. It probably runs at least {low} of the time."
    )
    assert "100 %" not in said["Time running"]
    said, _ = told(house, measured(house, steps=(1.2,) * 8, running_w=45.0, cycling=Cycling.VARIABLE_SPEED))
    assert said["Time running"].endswith(" of its highest watts on average.")


def test_an_average_below_the_idle_watts_is_told_too(house: House) -> None:
    # 0.012 kWh a day are 0.5 W, less than the 1.0 W assumed.
    said, estimate = told(house, measured(house, Kind.ALWAYS_ON, (0.01, 0.01, 0.02) * 4, running_w=40.0))
    assert duty_of(estimate).share.value == 0.0
    assert "no more than while idle" in said["Time running"]
    high = format_percent(duty_of(estimate).share.high)
    assert said["Time running"].endswith(f"but probably at most {high} of the time.")


def test_uses_are_told(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.BY_THE_LOAD, (0.9, 1.1), uses=1))
    assert estimate.per_use is not None
    most = format_number(estimate.per_use.energy_kwh.high, 2)
    assert said["Energy per use"] == (
        f"You counted 2 uses, about 1 a day, too few to say more than this: one use takes at most {most} kWh."
    )
    said, estimate = told(house, measured(house, Kind.BY_THE_LOAD, uses=2))
    assert estimate.per_use is not None
    value, low, high = ends_as_printed(estimate.per_use.energy_kwh)
    counted = "You counted 16 uses, about 2 a day."
    start = f"{counted} One use takes about {value} kWh ({low} to {high}). At "
    assert said["Energy per use"].startswith(start)
    said, _ = told(house, measured(house, Kind.BY_THE_LOAD, (0.9,), uses=1))
    assert said["Energy per use"].startswith("You counted one use, too few")


def test_the_day_that_the_uses_make_is_told_beside_the_measured_one(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.BY_THE_LOAD, uses=2))
    by_uses = estimate.per_use
    assert by_uses is not None
    assert by_uses.daily_kwh is not None
    ends = (
        f"that is {format_ends(by_uses.daily_kwh, 'kWh')} a day with its standby, "
        f"beside {format_ends(daily(estimate), 'kWh')} a day by the measured days; "
        "a plan may state other uses."
    )
    # ln 2 with 1/16 + 0.25·(2 − 16/7)²/64 + 0.01/64 and ln 0.6 with 0.64: 1.80 uses a day.
    drawn = "At 1.8 uses a day, likely by those counted and by what is usual, "
    assert said["Energy per use"].endswith(f". {drawn}{ends}")
    said, _ = told(house, measured(house, Kind.KITCHEN, (2.0,) * 8, uses=50))
    assert ". At the 50 uses a day counted, that is " in said["Energy per use"]


def test_the_equation_of_uses_is_told_with_theirs(house: House) -> None:
    steps = explain(house.logbook, measured(house, Kind.BY_THE_LOAD, uses=2)).equations
    (equation,) = [step.equation for step in steps if step.heading == "Energy per use"]
    assert "e·r + s_b" in equation
    assert "1/N + (0.5·w/T)² + 0.01/T²" in equation


def test_under_three_uses_there_is_no_day_of_them(house: House) -> None:
    said, _ = told(house, measured(house, Kind.BY_THE_LOAD, (0.9, 1.1), uses=1))
    assert "standby" not in said["Energy per use"]


def test_what_the_meter_may_not_see_is_told_until_idle_watts_were_read(house: House) -> None:
    # 0.024 kWh of about 1.01 kWh are 2.4 %.
    stay = measured(house)
    said, before = told(house, stay)
    assert said["Very small loads"] == (
        "Meters ignore very small loads, and no watts above zero were read here while it was idle: for this "
        "the truth can only be higher, not lower, by up to 0.024 kWh a day for each watt not seen."
    )
    spot(house, stay, 8.5, 0.0, RunState.IDLE)
    assert "Very small loads" in told(house, stay)[0]
    spot(house, stay, 9, 2.0, RunState.IDLE)
    said, after = told(house, stay)
    assert "Very small loads" not in said
    assert daily(after).value == pytest.approx(daily(before).value, rel=0.2)


def test_what_is_always_on_has_no_idle_time_to_tell(house: House) -> None:
    # 0.05 kWh a day are 2.1 W.
    said, _ = told(house, measured(house, Kind.ALWAYS_ON, (0.05,) * 8))
    assert "no watts above zero were read here: for this" in said["Very small loads"]


def test_light_and_heavy_days_are_told(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.PUMP))
    day = estimate.one_day
    assert day is not None
    assert said["One day"] == (
        f"A light day is below {format_number(day.low_kwh, 2)} kWh (1 day in 10), a heavy one above "
        f"{format_number(day.high_kwh, 2)} kWh (1 day in 20). Plan for the heavy day."
    )


def test_the_watts_told_are_those_of_the_estimate(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.KITCHEN, nameplate_w=2000.0))
    assert f"about {format_watts(duty_of(estimate).running_w)} is assumed" in said["Time running"]

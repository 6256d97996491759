"""How an estimate came about: the same figures as the estimate's, each step in whole sentences."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.figures import (
    format_days,
    format_days_to_go,
    format_ends,
    format_number,
    format_percent,
    format_watts,
)
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.parts import uncertainty_parts
from hearthload.service.edits.measurements import (
    describe_measurement,
    finish_measurement,
    reset_meter,
    set_aside_measurement,
    swap_meter,
)
from hearthload.service.edits.readings import add_reading
from hearthload.service.edits.settling import join_measurement
from hearthload.service.explain import Explanation, as_markdown, explain
from tests.service.building import House, a_house, on_day, read_on

STEPS = (1.0, 1.08, 0.94, 1.03, 0.97, 1.06, 0.99, 1.01)


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


def measured(
    house: House,
    kind: Kind = Kind.REFRIGERATOR,
    steps: Sequence[float] = STEPS,
    *,
    uses: int | None = None,
    **noted: object,
) -> int:
    """Give a measurement of a new appliance, read every morning."""
    name = f"{kind.value} {len(house.held.appliances)}"
    appliance_id = house.appliance(name, kind, **noted)
    stay = house.started(appliance_id, house.meter(f"Meter of {name}"), energy_kwh=20.0)
    for day in range(1, len(steps) + 1):
        draft = read_on(day, round(20.0 + sum(steps[:day]), 2), uses=uses)
        add_reading(house.logbook, stay, draft)
    return stay


def told(house: House, measurement_id: int) -> tuple[dict[str, str], Estimate]:
    """Give what is said under each heading, and the estimate."""
    steps = explain(house.logbook, measurement_id).steps
    said = {step.heading: step.text for step in steps}
    assert len(said) == len(steps)
    return said, house.logbook.estimates.estimate(measurement_id)


def daily(estimate: Estimate | None) -> Interval:
    assert estimate is not None
    assert estimate.daily_kwh is not None
    return estimate.daily_kwh


def assert_plain(explained: Explanation) -> None:
    for step in explained.steps:
        assert step.text.endswith("."), step
        assert step.text[0].isupper() or step.text.startswith(("begun", "1 ", "2 ")) or step.text[0].isdigit()
        assert not re.search(r"\bnan\b|\binf\b|None|_|\n|–", step.text), step
        assert not re.search(r"[Σμτ√²]|Cov", step.text), step


def test_the_figures_are_those_of_the_estimate(house: House) -> None:
    stay = measured(house)
    said, estimate = told(house, stay)
    assert list(said) == [
        "Readings",
        "Energy over time",
        "Daily energy",
        "What is usual",
        "Where the ± comes from",
        "Another season",
        "Enough?",
    ]
    assert said["Readings"].startswith("9 readings, from 2025-03-03 07:30 to 2025-03-11 07:30.")
    assert estimate.total_per_day_kwh == pytest.approx(sum(STEPS) / 8)
    assert "8 days" in said["Energy over time"]
    assert "8.08 kWh in all: 1.01 kWh a day" in said["Energy over time"]
    interval = daily(estimate)
    assert format_ends(interval, "kWh") in said["Daily energy"]
    ends = f"between {format_number(interval.low, 3)} and {format_number(interval.high, 3)} kWh"
    assert ends in said["Daily energy"]
    assert estimate.season is not None
    low, high = (format_number(end, 2) for end in estimate.season)
    assert f"{low} to {high} times as much" in said["Another season"]
    assert (low, high) == ("0.75", "1.3")


def test_where_the_uncertainty_comes_from_adds_up(house: House) -> None:
    stay = measured(house)
    said, estimate = told(house, stay)
    text = said["Where the ± comes from"]
    assert estimate.posterior is not None
    spans = house.logbook.estimates.spans(stay)
    parts = uncertainty_parts(spans, estimate.posterior, DEFAULTS[Kind.REFRIGERATOR])
    for name, part in (("days", parts.days), ("display", parts.display), ("meter", parts.meter)):
        assert f"{name} alone: ± {format_percent(math.expm1(1.96 * part))}." in text
    assert f"All together: ± {format_percent(estimate.enough.half_width)}." in text
    assert f"{format_percent(parts.scatter)}." in said["What is usual"]
    assert "“refrigerator”" in said["What is usual"]
    assert "about 10 %." in said["What is usual"]


def test_enough_or_how_long_still(house: House) -> None:
    wide = measured(house, target=0.3)
    said, estimate = told(house, wide)
    assert estimate.enough.well_measured
    assert "once the ± is 30 % or less" in said["Enough?"]
    assert said["Enough?"].endswith(f"It is: ± {format_percent(estimate.enough.half_width)}.")
    close = measured(house, target=0.02)
    said, estimate = told(house, close)
    assert not estimate.enough.well_measured
    assert "once the ± is 2 % or less" in said["Enough?"]
    assert f"still to go: {format_days_to_go(estimate.enough.days_to_go)}." in said["Enough?"]
    assert "weekend" not in said["Enough?"]
    short = measured(house, Kind.WORK_ELECTRONICS, STEPS[:3])
    assert "both a weekend day and a working day" in told(house, short)[0]["Enough?"]


@pytest.mark.parametrize("kind", Kind)
def test_every_kind_is_explained_in_plain_words(house: House, kind: Kind) -> None:
    for count in (0, 1, 2, 8):
        stay = measured(house, kind, STEPS[:count], uses=1)
        explained = explain(house.logbook, stay)
        assert_plain(explained)
        said = {step.heading for step in explained.steps}
        assert ("One day" in said) is (kind in {Kind.CLIMATE, Kind.PUMP} and count > 0)
        assert ("Energy per use" in said) is (count > 0)
        assert ("Enough?" in said) is (count > 0)


def test_without_two_readings_it_says_what_is_missing(house: House) -> None:
    stay = measured(house, steps=())
    said, _ = told(house, stay)
    assert said["Readings"].startswith("1 reading, ")
    assert said["Daily energy"].startswith("Two readings")
    plan = house.planned(house.appliance("Lamp", Kind.LAMP_TIMER))
    said, _ = told(house, plan)
    assert said["Readings"] == "There is no reading yet."


def test_runs_and_hours_are_told(house: House) -> None:
    stay = measured(house, steps=STEPS[:2])
    assert "Hours were typed with 0 of them" in told(house, stay)[0]["Readings"]
    add_reading(house.logbook, stay, read_on(3, 23.1, 72.0))
    reset_meter(house.logbook, stay, read_on(4, 0.0), exact_zero=True)
    swap_meter(house.logbook, stay, house.meter("Blue meter"), read_on(5, 7.0), exact_zero=False)
    said = told(house, stay)[0]["Readings"]
    assert "Hours were typed with 1 of them" in said
    assert "the meter was reset on 2025-03-07 07:30, another meter took over on 2025-03-08 07:30;" in said
    all_hours = house.started(house.appliance("Oven", Kind.KITCHEN), house.meter("Red meter"), energy_kwh=1.0)
    assert "with 0 of them" in told(house, all_hours)[0]["Readings"]


def test_the_share_of_time_is_told_with_what_it_rests_on(house: House) -> None:
    stay = measured(house, running_w=90.0)
    said, estimate = told(house, stay)
    duty = estimate.duty_cycle
    assert duty is not None
    assert "draws 90 W while running, by the watts stated for it" in said["Time running"]
    low, share, high = (format_percent(part) for part in (duty.share.low, duty.share.value, duty.share.high))
    assert f"as if it ran {share} of the time, between {low} and {high}." in said["Time running"]
    for number in (1, 2):
        spot = read_on(8, 28.08 + number / 10, power_w=88.0, state=RunState.RUNNING)
        add_reading(house.logbook, stay, read_on(8 + number, spot.energy_kwh, power_w=88.0, state=spot.state))
        said, estimate = told(house, stay)
        words = "one reading" if number == 1 else "2 readings"
        assert f"by {words} of its watts" in said["Time running"]
    assert estimate.duty_cycle is not None
    assert f"{format_watts(estimate.duty_cycle.idle_w)} while idle" in said["Time running"]


@pytest.mark.parametrize(
    ("cycling", "words"),
    [
        (Cycling.ON_AND_OFF, "it runs "),
        (Cycling.FROST_FREE, "the defrost taken off, runs "),
        (Cycling.VARIABLE_SPEED, "of its highest watts"),
        (Cycling.NOT_KNOWN, "as if it ran "),
    ],
)
def test_what_a_share_means_depends_on_how_the_machine_runs(
    house: House, cycling: Cycling, words: str
) -> None:
    stay = measured(house, nameplate_w=120.0, cycling=cycling)
    said, _ = told(house, stay)
    assert words in said["Time running"]
    assert "by its nameplate, which is a maximum" in said["Time running"]


def test_uses_and_single_days_are_told(house: House) -> None:
    few = measured(house, Kind.BY_THE_LOAD, (0.9, 1.1), uses=1)
    said, estimate = told(house, few)
    assert estimate.per_use is not None
    assert "From 2 counted uses, 1.0 a day: at most" in said["Energy per use"]
    assert f"at most {format_number(estimate.per_use.energy_kwh.high, 2)} kWh" in said["Energy per use"]
    many = measured(house, Kind.BY_THE_LOAD, uses=2)
    said, estimate = told(house, many)
    assert estimate.per_use is not None
    assert (
        f"From 16 counted uses, 2.0 a day: {format_ends(estimate.per_use.energy_kwh, 'kWh')}."
        in (said["Energy per use"])
    )
    pump = measured(house, Kind.PUMP)
    said, estimate = told(house, pump)
    day = estimate.one_day
    assert day is not None
    assert f"less than {format_number(day.low_kwh, 2)} kWh" in said["One day"]
    assert f"more than {format_number(day.high_kwh, 2)} kWh" in said["One day"]


def twice(house: House) -> tuple[int, int]:
    """Give two measurements of one refrigerator: a week in spring and another three weeks later."""
    spring = measured(house, steps=STEPS[:6])
    finish_measurement(house.logbook, spring, on_day(6))
    meter_id = house.held.measurement(spring).meter_id
    assert meter_id is not None
    again = house.started(1, meter_id, day=20, energy_kwh=40.0)
    for day in range(1, 6):
        house.read(again, 20 + day, 40.0 + 1.3 * day)
    return spring, again


def test_the_other_measurement_is_told_as_of_another_time(house: House) -> None:
    spring, again = twice(house)
    said, estimate = told(house, again)
    then = daily(house.logbook.estimates.estimate(spring))
    assert said["Measured at another time"] == (
        f"begun on 2025-03-03 07:30: {format_ends(then, 'kWh')} a day."
    )
    assert "Joined" not in said
    assert format_ends(daily(estimate), "kWh") in said["Daily energy"]
    assert "2025-03-23" in told(house, spring)[0]["Measured at another time"]
    describe_measurement(house.logbook, spring, room_temperature_c=14.0, note="")
    assert "07:30 at about 14 °C: " in told(house, again)[0]["Measured at another time"]


def test_one_alone_has_no_other(house: House) -> None:
    stay = measured(house)
    measured(house, Kind.FREEZER)
    assert "Measured at another time" not in told(house, stay)[0]


def test_joined_they_are_told_together(house: House) -> None:
    spring, again = twice(house)
    join_measurement(house.logbook, again, joined=True)
    said, alone = told(house, again)
    together = house.logbook.estimates.joined(again)
    assert together is not None
    assert together.days == pytest.approx(6 + 5)
    assert f"{format_ends(daily(together), 'kWh')} a day from {format_days(11.0)}." in said["Joined"]
    assert format_ends(daily(alone), "kWh") in said["Daily energy"]
    assert daily(together) != daily(alone)
    assert "Measured at another time" in said
    assert "Joined" not in told(house, spring)[0]
    house.logbook.history.undo()
    assert "Joined" not in told(house, again)[0]
    house.logbook.history.redo()
    assert "Joined" in told(house, again)[0]
    set_aside_measurement(house.logbook, spring)
    assert "Joined" not in told(house, again)[0]


def test_as_a_page_the_words_come_first_and_the_equations_below(house: House) -> None:
    stay = measured(house, Kind.PUMP, uses=1, running_w=300.0)
    explained = explain(house.logbook, stay)
    printed = as_markdown(explained)
    page = printed.replace("\u00a0", " ")
    above, below = page.split("## The equations")
    for step in explained.steps:
        assert step.text in above
        assert (f"- *{step.heading}*: {step.equation}" in below) is bool(step.equation)
        assert not step.equation or step.equation not in above
    assert "**Enough?** " in above
    assert "**Daily energy.** " in above
    assert not re.search(r"\d (%|kWh)|± \d", printed)
    assert page.endswith("\n")
    assert not page.endswith("\n\n")


def test_a_page_without_equations_has_no_heading_for_them(house: House) -> None:
    assert "equations" not in as_markdown(explain(house.logbook, measured(house, steps=())))

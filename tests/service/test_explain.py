"""How an estimate came about: the same figures as the estimate's, each step in whole sentences."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.figures import (
    ends_as_printed,
    format_days,
    format_ends,
    format_number,
    format_percent,
    whole_days,
)
from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.parts import Parts, uncertainty_parts
from hearthload.service.edits.measurements import (
    describe_measurement,
    finish_measurement,
    set_aside_measurement,
)
from hearthload.service.edits.settling import join_measurement
from hearthload.service.explain import Explanation, as_markdown, explain
from hearthload.service.explain_energy import widths
from tests.service.building import House, a_house, on_day
from tests.service.explaining import STEPS, daily, measured, told

WHY = "Why not more exact?"
UNEVEN = (0.3, 1.9, 0.2, 2.4)


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    with a_house(tmp_path) as made:
        yield made


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
        WHY,
        "Another season",
        "Enough?",
        "Very small loads",
    ]
    assert said["Readings"].startswith("9 readings, from 3 Mar 2025 07:30 to 11 Mar 2025 07:30.")
    assert estimate.total_per_day_kwh == pytest.approx(sum(STEPS) / 8)
    counted = "In 8 days the meter counted 8.08 kWh: 1.01 kWh for each day measured."
    assert said["Energy over time"] == counted
    value, low, high = ends_as_printed(daily(estimate))
    assert said["Daily energy"].startswith(
        f"Over a longer time an average day probably takes about {value} kWh. "
        f"It is 95 % likely between {low} and {high}."
    )


def test_an_interval_is_printed_with_the_same_ends_wherever_it_stands(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.KITCHEN, UNEVEN))
    _, low, high = ends_as_printed(daily(estimate))
    assert format_ends(daily(estimate)).endswith(f"({low} to {high})")
    assert f"between {low} and {high}." in said["Daily energy"]
    assert f"the range itself goes from {low} to {high} kWh." in said[WHY]
    exact = format_number(daily(estimate).low, 3)
    assert exact != low
    assert not any(exact in text for text in said.values())


def test_where_counted_and_estimated_differ_one_sentence_says_why(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.WORK_ELECTRONICS, (0.1, 0.2, 0.1, 0.13)))
    assert estimate.total_per_day_kwh == pytest.approx(0.1325)
    assert daily(estimate).value < 0.125
    assert " That is less than the 0.133 kWh counted, as it allows for " in said["Daily energy"]
    said, estimate = told(house, measured(house, steps=(1.0,) * 20))
    assert ends_as_printed(daily(estimate))[0] == "1.000"
    assert "counted" not in said["Daily energy"]


@pytest.mark.parametrize(
    ("kind", "steps", "step_kwh"),
    [
        (Kind.REFRIGERATOR, STEPS, 0.01),
        (Kind.REFRIGERATOR, STEPS, 1.0),
        (Kind.ALWAYS_ON, (0.21, 0.22, 0.21, 0.21), 0.01),
        (Kind.KITCHEN, UNEVEN, 0.01),
        (Kind.PUMP, (0.0, 0.0, 0.0), 0.01),
    ],
)
def test_the_printed_parts_make_the_printed_whole(
    house: House, kind: Kind, steps: tuple[float, ...], step_kwh: float
) -> None:
    said, estimate = told(house, measured(house, kind, steps, step_kwh=step_kwh))
    found = re.findall(r"([\d.]+) %", said[WHY])
    whole = float(found[3])
    assert found[3] == format_percent(estimate.enough.half_width).removesuffix(" %")
    # Printed to 0.1 below ten, else to 1: the root moves by no more than each part does.
    rounding = sum(0.05 if float(part) < 9.95 else 0.5 for part in found[:4])
    assert math.hypot(*(float(part) for part in found[:3])) == pytest.approx(whole, abs=rounding)


def test_parts_by_hand() -> None:
    # exp(1.96·0.02) − 1 = 0.03998, exp(1.96·0.0075) − 1 = 0.01481; √(0.58² − 0.03998² − 0.01481²) = 0.57843.
    days, display, meter = widths(Parts(0.2, 0.02, 0.0075, 0.22, 0.6, 0.3), 0.58)
    assert (days, display, meter) == pytest.approx((0.57843, 0.03998, 0.01481), abs=1e-5)
    # A part alone may reach further than both ends do on average: it is cut down to them.
    days, display, meter = widths(Parts(0.0, 1.0, 0.0075, 1.0, 0.6, 0.3), 0.5)
    assert days == pytest.approx(0.0, abs=1e-7)
    assert math.hypot(display, meter) == pytest.approx(0.5)


def test_the_largest_part_is_named_first(house: House) -> None:
    said, _ = told(house, measured(house))
    assert said[WHY].startswith("Mostly because days differ. ")
    assert said[WHY].endswith("More days help with the first two; only a better meter helps with the third.")
    said, _ = told(house, measured(house, Kind.ALWAYS_ON, (1.0, 1.0), step_kwh=1.0))
    assert said[WHY].startswith("Mostly because of the last digit of the display. ")


def test_no_wide_range_is_told_with_a_plus_minus(house: House) -> None:
    for kind in (Kind.KITCHEN, Kind.PUMP, Kind.REFRIGERATOR):
        said, estimate = told(house, measured(house, kind, UNEVEN))
        assert estimate.enough.half_width > 0.3
        assert not any("±" in text for text in said.values())


def test_what_is_usual_names_the_kind_as_the_window_does(house: House) -> None:
    stay = measured(house, Kind.WORK_ELECTRONICS)
    said, estimate = told(house, stay)
    assert estimate.posterior is not None
    spans = house.logbook.estimates.spans(stay)
    parts = uncertainty_parts(spans, estimate.posterior, DEFAULTS[Kind.WORK_ELECTRONICS])
    assert said["What is usual"] == (
        "Appliances like this (work-hours electronics) usually vary by about 50 % from day to day. With your "
        f"readings counted in, yours varies by about {format_percent(parts.scatter)}."
    )
    said, _ = told(house, measured(house, Kind.NOT_SURE))
    assert said["What is usual"].startswith(
        "Appliances whose kind nobody is sure of usually vary by about 30 %"
    )


@pytest.mark.parametrize(
    ("kind", "times", "factor"),
    [
        (Kind.REFRIGERATOR, "25 % less to 34 % more", math.exp(1.96 * 0.15)),
        (Kind.CLIMATE, "a third to three times as much", math.exp(1.96 * 0.6)),
        (Kind.ALWAYS_ON, "4 % less to 4 % more", math.exp(1.96 * 0.02)),
    ],
)
def test_another_season_is_told_in_kwh_too(house: House, kind: Kind, times: str, factor: float) -> None:
    said, estimate = told(house, measured(house, kind))
    value = daily(estimate).value
    _, low, high = ends_as_printed(Interval(value, value / factor, value * factor))
    assert low != high
    now = ends_as_printed(daily(estimate))[0]
    assert said["Another season"] == (
        f"In another season it may take anything from {times}: {low} to {high} kWh a day if it is {now} now. "
        "The figure above is for now only; measure again then."
    )


def days_still(estimate: Estimate) -> Interval:
    assert estimate.enough.days_to_go is not None
    return estimate.enough.days_to_go


def test_enough_or_how_long_still(house: House) -> None:
    said, estimate = told(house, measured(house, target=0.3))
    rule = "at two readings twelve hours or more apart, after at least three days."
    within = format_percent(estimate.enough.half_width)
    assert said["Enough?"] == f"Yes. The goal is to be within 30 %, {rule} It is now within {within}."
    said, estimate = told(house, measured(house, target=0.03))
    assert not estimate.enough.well_measured
    assert said["Enough?"].startswith(f"Not yet. The goal is to be within 3 %, {rule} It is now within ")
    still = days_still(estimate)
    value, low, high = (whole_days(end) for end in (still.value, still.low, still.high))
    assert said["Enough?"].endswith(f". Probably {value} more days, perhaps {low}, perhaps {high}.")
    assert "Still missing" not in said["Enough?"]


def test_what_is_missing_beside_a_narrower_range(house: House) -> None:
    said, estimate = told(house, measured(house, Kind.WORK_ELECTRONICS, (0.5, 0.5)))
    assert estimate.enough.half_width > 0.3
    _, low, high = ends_as_printed(daily(estimate))
    assert f"from {low} to {high} kWh" in said["Enough?"]
    assert " Still missing: three days of measuring and a Saturday or a Sunday. " in said["Enough?"]
    said, _ = told(house, measured(house, Kind.PUMP, (0.0, 0.0, 0.0, 0.0)))
    assert "which is far from that." in said["Enough?"]
    assert said["Enough?"].endswith("How many days more cannot be foreseen.")


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
    assert said["Readings"].startswith("1 reading, on 3 Mar 2025 07:30.")
    assert said["Daily energy"].startswith("Two readings")
    plan = house.planned(house.appliance("Lamp", Kind.LAMP_TIMER))
    said, _ = told(house, plan)
    assert said["Readings"] == "There is no reading yet."


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
        f"Begun on 3 Mar 2025 07:30: {format_ends(then, 'kWh')} a day."
    )
    assert "Joined" not in said
    assert f"about {ends_as_printed(daily(estimate))[0]} kWh." in said["Daily energy"]
    assert "23 Mar 2025" in told(house, spring)[0]["Measured at another time"]
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
    assert f"about {ends_as_printed(daily(alone))[0]} kWh." in said["Daily energy"]
    assert daily(together) != daily(alone)
    assert "Measured at another time" in said
    assert "Joined" not in told(house, spring)[0]
    house.logbook.history.undo()
    assert "Joined" not in told(house, again)[0]
    house.logbook.history.redo()
    assert "Joined" in told(house, again)[0]
    set_aside_measurement(house.logbook, spring)
    assert "Joined" not in told(house, again)[0]


def test_as_a_page_the_equations_stand_below_the_words_where_they_are_wanted(house: House) -> None:
    stay = measured(house, Kind.PUMP, uses=1, running_w=300.0)
    explained = explain(house.logbook, stay)
    printed = as_markdown(explained, equations=True)
    page = printed.replace("\u00a0", " ")
    above, below = page.split("## The equations")
    for step in explained.steps:
        assert step.text in above
        assert (f"- *{step.label}* {step.equation}" in below) is bool(step.equation)
        assert not step.equation or step.equation not in above
    assert as_markdown(explained).replace("\u00a0", " ").strip() == above.strip()
    assert "**Enough?** " in above
    assert "*Enough?* (ln high" in below
    assert "**Daily energy.** " in above
    assert not re.search(r"\d (%|W\b|kWh)|± \d", printed)
    assert page.endswith("\n")
    assert not page.endswith("\n\n")


def test_a_page_without_equations_has_no_heading_for_them(house: House) -> None:
    explained = explain(house.logbook, measured(house, steps=()))
    assert explained.equations == ()
    assert "equations" not in as_markdown(explained, equations=True)

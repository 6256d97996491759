"""Estimates are kept: only what changed is estimated again, told by the very same objects coming back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.household import Household
from hearthload.domain.meter import DisplayRounding, MeterDraft, PowerLoss
from hearthload.errors import RefusedError
from hearthload.estimate.answers import Estimate
from hearthload.service.edits.appliances import change_appliance, remove_appliance
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import (
    describe_measurement,
    finish_measurement,
    remove_measurement,
    reset_meter,
    set_aside_measurement,
    swap_meter,
)
from hearthload.service.edits.meters import change_meter
from hearthload.service.edits.readings import change_reading, remove_reading
from hearthload.service.logbook import open_logbook
from tests.service.building import House, a_house, furnished, on_day, read_on
from tests.store.files import meddling

ROUTER = ApplianceDraft("Router", Kind.ALWAYS_ON)
GREY = MeterDraft("Grey meter")
DAYS = 5


def furnish(house: House) -> None:
    for number, (name, meter) in enumerate((("Router", "Grey meter"), ("Lamp", "Blue meter")), start=1):
        house.measured(name, meter)
        for day in range(2, DAYS + 1):
            house.read(number, day, round(0.31 * day, 2))


@pytest.fixture(scope="module")
def file() -> bytes:
    return furnished(furnish)


@pytest.fixture
def house(tmp_path: Path, file: bytes) -> Iterator[House]:
    """Give two measurements under way, of a router (1) and a lamp (2), each read on five days."""
    with a_house(tmp_path, file) as made:
        yield made


def estimates(house: House) -> tuple[Estimate, Estimate]:
    return house.logbook.estimates.estimate(1), house.logbook.estimates.estimate(2)


def as_if_opened_now(house: House, measurement_id: int) -> bool:
    """Tell whether an estimate agrees with one that was never kept."""
    kept = house.logbook.estimates.estimate(measurement_id)
    with open_logbook(house.path) as again:
        fresh = again.estimates.estimate(measurement_id)
    return (kept.readings, kept.spans, kept.daily_kwh, kept.duty_cycle, kept.enough) == (
        fresh.readings,
        fresh.spans,
        fresh.daily_kwh,
        fresh.duty_cycle,
        fresh.enough,
    )


COSTS_NOTHING: dict[str, Callable[[House], object]] = {
    "asking again": lambda house: house.held,
    "renaming the appliance": lambda house: change_appliance(
        house.logbook, 1, replace(ROUTER, name="Modem", room="Hall", note="new", medical=True)
    ),
    "its role": lambda house: change_appliance(house.logbook, 1, replace(ROUTER, role=Role.ESSENTIAL)),
    "its plug": lambda house: change_appliance(
        house.logbook, 1, replace(ROUTER, plug="cee_7", voltage_v=230.0)
    ),
    "renaming the meter": lambda house: change_meter(
        house.logbook, 1, replace(GREY, name="Old meter", power_loss=PowerLoss.KEEPS, current_a=16.0)
    ),
    "finishing": lambda house: finish_measurement(house.logbook, 1, on_day(DAYS)),
    "setting aside": lambda house: set_aside_measurement(house.logbook, 1),
    "describing": lambda house: describe_measurement(house.logbook, 1, room_temperature_c=17.0, note="x"),
    "the household": lambda house: set_household(house.logbook, Household(name="Cottage")),
    "another appliance": lambda house: house.appliance("Oven"),
}

COSTS_ONE: dict[str, Callable[[House], object]] = {
    "a reading": lambda house: house.read(1, DAYS + 1, 1.9),
    "a reading in between": lambda house: house.read(1, 2.5, 0.7),
    "a correction": lambda house: change_reading(house.logbook, 2, read_on(1, 0.3)),
    "a removed reading": lambda house: remove_reading(house.logbook, 2),
    "the kind": lambda house: change_appliance(house.logbook, 1, replace(ROUTER, kind=Kind.REFRIGERATOR)),
    "the target": lambda house: change_appliance(house.logbook, 1, replace(ROUTER, target=0.02)),
    "the running watts": lambda house: change_appliance(house.logbook, 1, replace(ROUTER, running_w=14.0)),
    "the nameplate": lambda house: change_appliance(house.logbook, 1, replace(ROUTER, nameplate_w=20.0)),
    "the meter's kWh step": lambda house: change_meter(house.logbook, 1, replace(GREY, energy_step_kwh=0.1)),
    "its hours step": lambda house: change_meter(house.logbook, 1, replace(GREY, elapsed_step_h=1.0)),
    "its accuracy": lambda house: change_meter(house.logbook, 1, replace(GREY, gain_percent=5.0)),
    "its rounding": lambda house: change_meter(
        house.logbook, 1, replace(GREY, rounding=DisplayRounding.TRUNCATES)
    ),
    "a reset": lambda house: reset_meter(house.logbook, 1, read_on(DAYS, 0.0), exact_zero=True),
    "a swap": lambda house: swap_meter(
        house.logbook, 1, house.meter("Red meter"), read_on(DAYS, 7.0), exact_zero=False
    ),
    "a zero that is none": lambda house: change_reading(house.logbook, 1, read_on(0, 0.01)),
}


@pytest.mark.parametrize("change", COSTS_NOTHING)
def test_what_an_estimate_does_not_rest_on_costs_nothing(house: House, change: str) -> None:
    before = estimates(house)
    COSTS_NOTHING[change](house)
    after = estimates(house)
    assert after[0] is before[0]
    assert after[1] is before[1]
    assert as_if_opened_now(house, 1)


@pytest.mark.parametrize("change", COSTS_ONE)
def test_what_one_estimate_rests_on_costs_one(house: House, change: str) -> None:
    before = estimates(house)
    COSTS_ONE[change](house)
    after = estimates(house)
    assert after[0] is not before[0]
    assert after[1] is before[1]
    assert as_if_opened_now(house, 1)


@pytest.mark.parametrize("change", COSTS_ONE)
def test_taking_it_back_gives_the_estimate_of_before(house: House, change: str) -> None:
    before = estimates(house)
    COSTS_ONE[change](house)
    estimates(house)
    house.logbook.history.undo()
    after = estimates(house)
    assert (after[0].daily_kwh, after[0].enough) == (before[0].daily_kwh, before[0].enough)
    assert after[1] is before[1]
    assert as_if_opened_now(house, 1)


def test_the_series_is_kept_with_the_estimate(house: House) -> None:
    series = house.logbook.estimates.series(1)
    assert house.logbook.estimates.series(1) is series
    house.read(1, DAYS + 1, 1.9)
    assert len(house.logbook.estimates.series(1).runs[0].snapshots) == DAYS + 2


def test_a_refused_edit_costs_nothing(house: House) -> None:
    before = estimates(house)
    with house.refuses("energy_fell", "energy_kwh"):
        house.read(1, DAYS + 1, 0.1)
    assert estimates(house)[0] is before[0]


def test_another_program_s_change_is_estimated(house: House) -> None:
    before = estimates(house)
    with meddling(house.path) as other:
        other.execute("UPDATE readings SET energy_kwh = 1.7 WHERE id = 6")
    house.logbook.changed_elsewhere()
    assert estimates(house)[0] is not before[0]
    assert as_if_opened_now(house, 1)


def test_what_is_gone_has_no_estimate(house: House) -> None:
    estimates(house)
    remove_measurement(house.logbook, 1)
    remove_appliance(house.logbook, 2)
    for number in (1, 2, 99):
        with pytest.raises(RefusedError) as caught:
            house.logbook.estimates.estimate(number)
        assert caught.value.code == "unknown_measurement"
    house.logbook.history.undo()
    assert as_if_opened_now(house, 2)


def test_a_plan_has_an_estimate_of_nothing(house: House) -> None:
    plan = house.planned(house.appliance("Oven"))
    estimate = house.logbook.estimates.estimate(plan)
    assert (estimate.readings, estimate.spans, estimate.daily_kwh) == (0, 0, None)
    assert house.logbook.estimates.trend(plan) == ()


def test_one_more_reading_adds_one_point_to_the_trend(house: House) -> None:
    before = house.logbook.estimates.trend(1)
    assert [reading.id for reading, _ in before] == [reading.id for reading in house.record(1).readings]
    assert before[-1][1] is house.logbook.estimates.estimate(1)
    house.read(1, DAYS + 1, 1.9)
    after = house.logbook.estimates.trend(1)
    assert len(after) == len(before) + 1
    assert all(one is other for (_, one), (_, other) in zip(before, after, strict=False))
    assert after[-1][1] is house.logbook.estimates.estimate(1)


def test_the_trend_is_kept_up_to_what_changed(house: House) -> None:
    before = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    third = house.record(1).readings[3].id
    change_reading(house.logbook, third, read_on(3, 0.94))
    after = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    assert [one is other for one, other in zip(before, after, strict=True)] == [True] * 3 + [False] * 3


@pytest.mark.parametrize("change", ["the kind", "the target", "the meter's kWh step", "its rounding"])
def test_the_trend_is_new_when_all_of_it_rests_on_the_change(house: House, change: str) -> None:
    before = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    COSTS_ONE[change](house)
    after = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    assert not any(one is other for one, other in zip(before, after, strict=True))


def test_a_swap_leaves_the_trend_before_it(house: House) -> None:
    before = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    COSTS_ONE["a swap"](house)
    after = [estimate for _, estimate in house.logbook.estimates.trend(1)]
    assert [one is other for one, other in zip(before, after, strict=False)] == [True] * len(before)


def test_the_expected_counter_is_that_of_the_kept_series(house: House) -> None:
    expected = house.logbook.estimates.expected_energy_kwh(1, on_day(DAYS + 1))
    assert expected is not None
    assert expected.low < 0.31 * (DAYS + 1) < expected.high
    assert house.logbook.estimates.expected_energy_kwh(house.planned(1), on_day(1)) is None

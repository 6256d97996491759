"""What stands beside the entry form's fields: the last values and the ranges expected of the next ones."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.measurement import MeasurementState
from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.edits.measurements import plan_measurement, reset_meter, swap_meter
from tests.service.made_household import Household, created, opened
from tests.service.made_stays import at, draft


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Household]:
    with opened(tmp_path) as household:
        yield household


def steady(
    house: Household, power_w: float, mornings: int, *, kind: Kind = Kind.ALWAYS_ON, step_kwh: float = 0.01
) -> int:
    """Measure what draws the same watts all day; the display shows whole steps, cut off."""
    stay = house.start(
        house.appliance("Router", kind), house.meter("Grey meter", energy_step_kwh=step_kwh), 0.0
    )
    for day in range(1, mornings + 1):
        house.read(stay, 24.0 * day, shown(power_w, 24.0 * day, step_kwh), 24.0 * day)
    return stay


def shown(power_w: float, hours: float, step_kwh: float) -> float:
    """Give what a counter shows after so many hours at these watts."""
    return round(math.floor(power_w * hours / 1000.0 / step_kwh + 1e-9) * step_kwh, 6)


def test_who_is_read_on_which_meter(house: Household) -> None:
    stay = house.start(house.appliance("Router", Kind.ALWAYS_ON), house.meter("Grey meter"), 0.0, 5.0)
    reading_id = house.read(stay, 24.0, 6.0)
    context = queries.entry_context(house.logbook, stay, at(48.0))
    assert context.measurement.id == stay
    assert context.appliance.name == "Router"
    assert context.meter is not None
    assert context.meter.name == "Grey meter"
    assert context.run is not None
    assert context.run.number == 1
    assert context.last is not None
    assert context.last.id == reading_id


def test_with_the_time_set_back_the_reading_before_it_is_the_last(house: Household) -> None:
    stay = house.measured("Router", 5.0, 6.0, 7.0)
    reset_meter(house.logbook, stay, draft(72.0, 0.0), exact_zero=False)
    for hours, energy, run in ((80.0, 0.0, 2), (71.0, 7.0, 1), (48.0, 7.0, 1), (47.0, 6.0, 1), (0.0, 5.0, 1)):
        context = queries.entry_context(house.logbook, stay, at(hours))
        assert context.last is not None
        assert context.run is not None
        assert (context.last.energy_kwh, context.run.number) == (energy, run)
    assert queries.entry_context(house.logbook, stay, at(-1.0)).last is None


def test_a_plan_has_nothing_to_go_by(house: Household) -> None:
    plan = created(plan_measurement(house.logbook, house.appliance("Router"), None))
    context = queries.entry_context(house.logbook, plan, at(0.0))
    assert context.measurement.state is MeasurementState.PLANNED
    assert (context.run, context.meter, context.last) == (None, None, None)
    assert context.last_values == {}
    assert (context.expected_energy_kwh, context.expected_elapsed_h) == (None, None)


def test_an_unknown_measurement_is_refused(house: Household) -> None:
    with pytest.raises(RefusedError, match="no measurement number 5"):
        queries.entry_context(house.logbook, 5, at(0.0))


def test_of_each_field_the_last_value_typed_stays_beside_it(house: Household) -> None:
    stay = house.start(house.appliance("Washer"), house.meter("Grey meter"), 0.0, 5.0, 0.0)
    house.read(stay, 24.0, 6.0, 24.0, power_w=80.0, voltage_v=231.0, uses=2)
    house.read(stay, 48.0, 7.0, power_w=95.0, room_temperature_c=19.5, highest_power_w=1800.0)
    house.read(stay, 72.0, 8.0, frequency_hz=50.02, current_a=0.4, power_factor=0.95)
    assert queries.entry_context(house.logbook, stay, at(96.0)).last_values == {
        "energy_kwh": 8.0,
        "elapsed_h": 24.0,
        "power_w": 95.0,
        "voltage_v": 231.0,
        "uses": 2.0,
        "room_temperature_c": 19.5,
        "highest_power_w": 1800.0,
        "frequency_hz": 50.02,
        "current_a": 0.4,
        "power_factor": 0.95,
    }


def test_after_a_reset_the_old_counters_are_no_last_values(house: Household) -> None:
    stay = house.start(house.appliance("Washer"), house.meter("Grey meter"), 0.0, 5.0, 0.0)
    house.read(stay, 24.0, 6.0, 24.0, power_w=80.0)
    reset_meter(house.logbook, stay, draft(48.0, 0.3), exact_zero=False)
    values = queries.entry_context(house.logbook, stay, at(72.0)).last_values
    # The watts are the appliance's and stay; the hours of the old count are gone.
    assert values == {"energy_kwh": 0.3, "power_w": 80.0}


def test_after_a_swap_meter_and_counters_are_the_new_ones(house: Household) -> None:
    stay = house.start(house.appliance("Washer"), house.meter("Grey meter"), 0.0, 5.0, 0.0)
    house.read(stay, 24.0, 6.0, 24.0)
    swap_meter(house.logbook, stay, house.meter("White meter"), draft(25.0, 90.0, 400.0), exact_zero=False)
    context = queries.entry_context(house.logbook, stay, at(49.0))
    assert context.meter is not None
    assert context.meter.name == "White meter"
    assert context.last_values == {"energy_kwh": 90.0, "elapsed_h": 400.0}
    assert context.expected_energy_kwh is not None
    assert context.expected_energy_kwh.low >= 90.0
    assert context.expected_elapsed_h is not None
    assert context.expected_elapsed_h.value == pytest.approx(424.0)


@pytest.mark.parametrize(
    ("kind", "power_w", "step_kwh"),
    [
        (Kind.ALWAYS_ON, 8.4, 0.01),
        (Kind.ALWAYS_ON, 8.4, 0.001),
        (Kind.ALWAYS_ON, 120.0, 0.1),
        (Kind.FREEZER, 37.0, 0.01),
        (Kind.REFRIGERATOR, 42.0, 0.1),
        (Kind.NOT_SURE, 3.3, 0.01),
    ],
)
def test_the_expected_range_holds_the_truth_of_a_steady_load(
    house: Household, kind: Kind, power_w: float, step_kwh: float
) -> None:
    stay = steady(house, power_w, 7, kind=kind, step_kwh=step_kwh)
    last, widths = shown(power_w, 168.0, step_kwh), {}
    for hours in (169.0, 180.0, 192.0, 216.0, 336.0):
        expected = queries.entry_context(house.logbook, stay, at(hours)).expected_energy_kwh
        assert expected is not None
        assert last <= expected.low <= expected.value <= expected.high
        assert expected.low <= shown(power_w, hours, step_kwh) <= expected.high
        widths[hours] = expected.high - expected.low
    # Of whole days, the farther away the less sure; a week ahead it still says something.
    assert widths[192.0] < widths[216.0] < widths[336.0]
    assert widths[336.0] < 0.75 * power_w * 168.0 / 1000.0 + 2.0 * step_kwh


def test_more_mornings_narrow_the_expected_range(tmp_path: Path) -> None:
    widths = []
    for mornings in (1, 3, 9):
        (tmp_path / str(mornings)).mkdir()
        with opened(tmp_path / str(mornings)) as house:
            stay = steady(house, 42.0, mornings, kind=Kind.REFRIGERATOR)
            at_next = queries.entry_context(house.logbook, stay, at(24.0 * mornings + 24.0))
            assert at_next.expected_energy_kwh is not None
            widths.append(at_next.expected_energy_kwh.high - at_next.expected_energy_kwh.low)
    assert widths[0] > widths[1] > widths[2]


def test_between_two_readings_their_counters_bound_what_is_expected(house: Household) -> None:
    stay = house.measured("Freezer", 0.0, 1.0, 2.0, 3.0, kind=Kind.FREEZER)
    expected = queries.entry_context(house.logbook, stay, at(36.0)).expected_energy_kwh
    assert expected is not None
    assert 1.0 <= expected.low <= expected.value <= expected.high <= 2.0


def test_before_the_first_reading_nothing_is_expected(house: Household) -> None:
    stay = house.start(house.appliance("Freezer"), house.meter("Grey meter"), 24.0, 0.0, 0.0)
    context = queries.entry_context(house.logbook, stay, at(23.0))
    assert (context.expected_energy_kwh, context.expected_elapsed_h) == (None, None)


def test_the_hours_expected_agree_with_the_clock(house: Household) -> None:
    stay = house.start(house.appliance("Freezer"), house.meter("Grey meter"), 0.0, 0.0, 100.0)
    expected = queries.entry_context(house.logbook, stay, at(24.0)).expected_elapsed_h
    assert expected is not None
    # 1/60 + 0.10 + 0.0005·24 = 0.128667 h either way.
    assert expected.value == pytest.approx(124.0)
    assert expected.low == pytest.approx(124.0 - 0.128667, abs=1e-6)
    assert expected.high == pytest.approx(124.0 + 0.128667, abs=1e-6)
    # A minute after the last reading the range begins where the counter stood: it does not run backward.
    soon = queries.entry_context(house.logbook, stay, at(1 / 60)).expected_elapsed_h
    assert soon is not None
    assert soon.low == 100.0


def test_the_hours_expected_come_from_the_last_reading_that_had_them(house: Household) -> None:
    stay = house.start(house.appliance("Freezer"), house.meter("Grey meter"), 0.0, 0.0)
    assert queries.entry_context(house.logbook, stay, at(24.0)).expected_elapsed_h is None
    house.read(stay, 24.0, 1.0, 24.2)
    house.read(stay, 48.0, 2.0)
    expected = queries.entry_context(house.logbook, stay, at(72.0)).expected_elapsed_h
    assert expected is not None
    assert expected.value == pytest.approx(72.2)
    # Set back to before that reading there is none to start from.
    assert queries.entry_context(house.logbook, stay, at(23.0)).expected_elapsed_h is None


def test_what_is_expected_is_nothing_to_complain_about(house: Household) -> None:
    stay = steady(house, 42.0, 5)
    context = queries.entry_context(house.logbook, stay, at(144.0))
    assert context.expected_energy_kwh is not None
    assert context.expected_elapsed_h is not None
    for energy in (context.expected_energy_kwh.low, context.expected_energy_kwh.high):
        for elapsed in (context.expected_elapsed_h.low, context.expected_elapsed_h.high):
            typed = draft(144.0, energy, elapsed)
            assert queries.preview(house.logbook, stay, typed, at(144.0)).complaints == ()

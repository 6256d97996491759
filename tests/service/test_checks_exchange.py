"""Numbers in each other's fields, watts in the counter's, hours without their colon, digits exchanged."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hearthload.estimate.answers import Interval
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.service.checks_exchange import EXCHANGE, TO_WATTS
from hearthload.service.slips import energy_fix, hours_fix
from tests.service.made_stays import Stay, appliance, assert_plain, codes, draft, only, saved

# 1 kWh a day, read in the morning, the hours running with the clock.
STAY = Stay(readings=(saved(1, 0.0, 12.34, 100.0), saved(2, 24.0, 13.34, 124.0)))
EXPECTED = Interval(14.34, 14.1, 14.6)

# 700 W and 1000 W, from zero.
HEATER = Stay(readings=(saved(1, 0.0, 0.0, 0.0), saved(2, 24.0, 16.8, 24.0)))
KILOWATT = Stay(readings=(saved(1, 0.0, 0.0, 0.0), saved(2, 24.0, 24.0, 24.0)))


def exchanged(stay: Stay, energy: float, hours: float | None, expected: Interval | None) -> list[Complaint]:
    found = stay.check(draft(48.0, energy, hours), expected=expected)
    assert_plain(found)
    return [complaint for complaint in found if complaint.code == "exchanged"]


def test_each_in_the_other_s_range_is_asked_about() -> None:
    complaint = only(STAY.check(draft(48.0, 148.0, 14.34), expected=EXPECTED))
    assert (complaint.field, complaint.code) == ("energy_kwh", "exchanged")
    assert complaint.fixes[0] == EXCHANGE
    # Hours cannot fall, so it cannot be saved so; a reset and a swap are what else it may be.
    assert complaint.weight is Weight.STOPS
    assert [fix.action for fix in complaint.fixes[1:]] == [FixAction.METER_RESET, FixAction.METER_SWAPPED]


def test_without_an_expected_energy_the_hours_alone_tell() -> None:
    assert len(exchanged(STAY, 148.0, 14.34, None)) == 1


@pytest.mark.parametrize("hours", [12.9, 900.0])
def test_hours_that_no_counter_can_show_as_energy_were_not_exchanged(hours: float) -> None:
    """Less than before, or 37 kW since then."""
    assert exchanged(STAY, 148.0, hours, None) == []


def test_counters_that_could_stand_so_are_a_question() -> None:
    (complaint,) = exchanged(HEATER, 48.0, 33.6, Interval(33.6, 31.0, 36.0))
    assert complaint.weight is Weight.WARNS


@pytest.mark.parametrize(
    ("energy", "hours"),
    [
        pytest.param(14.34, 148.0, id="as they should be"),
        pytest.param(148.0, 148.0, id="twice the same number"),
        pytest.param(14.34, None, id="no hours"),
        pytest.param(148.0, None, id="no hours, an odd energy"),
        pytest.param(140.0, 14.34, id="no hours either way"),
        pytest.param(148.0, 12.9, id="less energy than before"),
        pytest.param(148.0, 25.0, id="far more energy than expected"),
        pytest.param(148.0, 14.34 + 250.0, id="more energy than any circuit carries"),
        pytest.param(14.34, 140.0, id="hours against the clock only"),
    ],
)
def test_not_asked_where_they_fit_no_better_the_other_way(energy: float, hours: float | None) -> None:
    assert exchanged(STAY, energy, hours, EXPECTED) == []


@pytest.mark.parametrize(("energy", "hours"), [(48.0, 48.05), (48.05, 48.0), (47.95, 48.1), (48.12, 47.9)])
def test_a_load_of_one_kilowatt_fits_as_it_stands(energy: float, hours: float) -> None:
    assert KILOWATT.check(draft(48.0, energy, hours), expected=Interval(48.0, 45.0, 51.0)) == ()


@given(st.integers(-5, 5), st.integers(-5, 5))
def test_whatever_fits_as_it_stands_is_not_asked_about(energy_off: int, hours_off: int) -> None:
    # Hours agree with the clock within 1/60 + 0.10 + 0.0005·24 h, which is above 0.12.
    energy, hours = 48.0 + energy_off / 50, 48.0 + hours_off / 50
    assert exchanged(KILOWATT, energy, hours, Interval(48.0, 47.8, 48.2)) == []


def test_hours_are_held_against_the_last_that_were_typed() -> None:
    stay = replace(STAY, readings=(saved(1, 0.0, 12.34, 100.0), saved(2, 24.0, 13.34)))
    assert len(exchanged(stay, 148.0, 14.34, EXPECTED)) == 1
    never = replace(STAY, readings=(saved(1, 0.0, 12.34), saved(2, 24.0, 13.34)))
    assert exchanged(never, 148.0, 14.34, EXPECTED) == []


def test_exchanged_back_nothing_is_said() -> None:
    assert STAY.check(draft(48.0, 14.34, 148.0), expected=EXPECTED) == ()


PLATED = replace(STAY, appliance=appliance(running_w=85.0))


def watts(stay: Stay, energy: float, **spots: float) -> list[Complaint]:
    found = stay.check(draft(48.0, energy, **spots), expected=EXPECTED)
    assert_plain(found)
    return [complaint for complaint in found if complaint.code == "watts_in_counter"]


def test_watts_typed_as_kwh_are_recognised() -> None:
    complaint = only(PLATED.check(draft(48.0, 86.0), expected=EXPECTED))
    assert (complaint.code, complaint.field) == ("watts_in_counter", "energy_kwh")
    assert complaint.weight is Weight.WARNS
    assert complaint.fixes == (TO_WATTS,)
    assert complaint.sentence.startswith("86 is near its watts")


@pytest.mark.parametrize(
    ("energy", "said"), [(68.0, True), (67.0, False), (102.0, True), (103.0, False), (85.5, False)]
)
def test_whole_numbers_within_a_fifth_of_the_known_watts(energy: float, said: bool) -> None:
    assert bool(watts(PLATED, energy)) is said


def test_more_than_is_carried_stops() -> None:
    (complaint,) = watts(replace(STAY, appliance=appliance(nameplate_w=900.0)), 880.0)
    assert complaint.weight is Weight.STOPS


def test_watts_read_before_are_known_too() -> None:
    first, second = STAY.readings
    spotted = replace(STAY, readings=(replace(first, power_w=85.0), second))
    assert len(watts(spotted, 86.0)) == 1
    assert watts(STAY, 86.0) == []


def test_not_where_watts_were_typed_or_the_number_is_expected_or_small() -> None:
    assert watts(PLATED, 86.0, power_w=86.0) == []
    small = replace(STAY, appliance=appliance(running_w=9.0))
    readings = (saved(1, 0.0, 1.0), saved(2, 24.0, 2.0))
    assert replace(small, readings=readings).check(draft(48.0, 9.0), expected=Interval(3.0, 2.9, 3.1)) != ()
    assert "watts_in_counter" not in codes(
        replace(small, readings=readings).check(draft(48.0, 9.0), expected=Interval(3.0, 2.9, 3.1))
    )
    found = codes(PLATED.check(draft(48.0, 86.0), expected=Interval(86.0, 80.0, 92.0)))
    assert "watts_in_counter" not in found
    assert "watts_in_counter" not in codes(PLATED.check(draft(48.0, 86.0)))
    higher = replace(PLATED, readings=(saved(1, 0.0, 100.0), saved(2, 24.0, 101.0)))
    fell = higher.check(draft(48.0, 86.0), expected=Interval(102.0, 101.8, 102.2))
    assert codes(fell) == ["energy_fell"]


def test_a_slipped_mark_is_likelier_than_watts() -> None:
    heavy = replace(STAY, appliance=appliance(running_w=1430.0))
    complaint = only(heavy.check(draft(48.0, 143.0), expected=EXPECTED))
    assert complaint.fixes[0] == Fix("Make it 14.30 kWh", FixAction.SET_VALUE, 14.3)
    near = replace(STAY, appliance=appliance(running_w=150.0))
    assert watts(near, 143.0) == []


EXPECTED_H = Interval(102.28, 102.1, 102.5)


@pytest.mark.parametrize(
    ("typed", "label", "value"),
    [(10217.0, "Make it 102:17", 102 + 17 / 60), (10209.0, "Make it 102:09", 102.15)],
)
def test_hours_and_minutes_without_their_colon(typed: float, label: str, value: float) -> None:
    (fix,) = hours_fix(typed, EXPECTED_H)
    assert (fix.label, fix.action) == (label, FixAction.SET_VALUE)
    assert fix.value == pytest.approx(value)


@pytest.mark.parametrize("typed", [102.28, 10200.0, 10260.0, 10275.0, 99.0, 0.0])
def test_no_colon_is_missing(typed: float) -> None:
    assert hours_fix(typed, EXPECTED_H) == ()


def test_no_colon_is_missing_where_the_hours_are_expected_or_nothing_is() -> None:
    assert hours_fix(10217.0, None) == ()
    # 102 h and 75 minutes would be 103.25 h, but no display shows 75 minutes.
    assert hours_fix(10275.0, Interval(103.2, 103.0, 103.4)) == ()
    assert hours_fix(10217.0, Interval(10217.0, 102.0, 20000.0)) == ()


@settings(max_examples=50)
@given(st.integers(1, 900), st.integers(0, 59))
def test_a_forgotten_colon_is_found_again(hours: int, minutes: int) -> None:
    meant = hours + minutes / 60
    (fix,) = hours_fix(100.0 * hours + minutes, Interval(meant, meant - 0.2, meant + 0.2))
    assert fix.value == pytest.approx(meant)
    assert fix.label == f"Make it {hours}:{minutes:02d}"


def test_the_colon_is_offered_at_entry() -> None:
    found = STAY.check(draft(48.0, 14.34, 14800.0), expected=EXPECTED)
    (complaint,) = (each for each in found if each.field == "elapsed_h")
    assert complaint.fixes[0] == Fix("Make it 148:00", FixAction.SET_VALUE, 148.0)


@pytest.mark.parametrize(("typed", "meant"), [(41.34, 14.34), (14.43, 14.34), (41.2, 14.2)])
def test_two_digits_exchanged(typed: float, meant: float) -> None:
    expected = Interval(meant, meant - 0.05, meant + 0.05)
    assert energy_fix(typed, expected, 0.01) == (Fix(f"Make it {meant:.2f} kWh", FixAction.SET_VALUE, meant),)


def test_none_of_several_is_picked() -> None:
    # 231.45 and 312.45 would both do.
    assert energy_fix(321.45, Interval(270.0, 230.0, 315.0), 0.01) == ()
    assert energy_fix(321.45, Interval(270.0, 230.0, 300.0), 0.01) != ()


@pytest.mark.parametrize("typed", [14.34, 15.34, 43.14, 14.36, 0.0])
def test_no_two_digits_were_exchanged(typed: float) -> None:
    assert energy_fix(typed, Interval(14.34, 14.32, 14.35), 0.01) == ()
    assert energy_fix(typed, None, 0.01) == ()


@settings(max_examples=60)
@given(st.integers(1000, 99_999), st.integers(0, 3))
def test_what_is_offered_is_expected_and_two_digits_away(count: int, place: int) -> None:
    digits = f"{count / 100:.2f}"
    first, second = digits[place], digits[place + 1]
    assume("." not in {first, second} and first != second)
    meant = float(digits[:place] + second + first + digits[place + 2 :])
    (fix,) = energy_fix(count / 100, Interval(meant, meant - 1e-9, meant + 1e-9), 0.01)
    assert fix.value == meant
    typed, offered = sorted(digits), sorted(f"{meant:.2f}".rjust(len(digits), "0"))
    assert typed == offered

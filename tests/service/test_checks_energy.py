"""The energy counter against its neighbours and against what was expected."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.domain.measurement import MeasurementState
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction, Weight
from hearthload.service.checks import check_reading
from tests.service.made_stays import Stay, assert_plain, at, began, codes, draft, meter, only, saved

# 1.00 kWh a day, read in the morning.
STAY = Stay(readings=(saved(1, 0.0, 12.34), saved(2, 24.0, 13.34)))
RESTARTS = {FixAction.METER_RESET, FixAction.METER_SWAPPED}


def actions(fixes: tuple[Fix, ...]) -> list[FixAction]:
    return [fix.action for fix in fixes]


@pytest.mark.parametrize(("energy", "said"), [(13.34, []), (13.33, ["energy_fell"]), (0.0, ["energy_fell"])])
def test_a_counter_does_not_run_backward(energy: float, said: list[str]) -> None:
    found = STAY.check(draft(48.0, energy))
    assert_plain(found)
    assert codes(found) == said
    assert {(complaint.field, complaint.weight) for complaint in found} <= {("energy_kwh", Weight.STOPS)}


def test_the_sentence_says_where_the_counter_stood() -> None:
    complaint = only(STAY.check(draft(48.0, 0.5)))
    assert "13.34 kWh" in complaint.sentence
    assert "24 Nov 07:30" in complaint.sentence
    coarse = replace(STAY, meter=meter(energy_step_kwh=0.1))
    assert "13.3 kWh" in only(coarse.check(draft(48.0, 0.5))).sentence


def test_a_fall_at_the_end_may_be_a_reset_or_another_meter() -> None:
    complaint = only(STAY.check(draft(48.0, 0.5)))
    assert actions(complaint.fixes) == [FixAction.METER_RESET, FixAction.METER_SWAPPED]
    assert [fix.value for fix in complaint.fixes] == [None, None]


@pytest.mark.parametrize(
    ("stay", "hours", "ignoring"),
    [
        pytest.param(
            replace(STAY, state=MeasurementState.FINISHED, finished_at=at(90.0)), 48.0, None, id="over"
        ),
        pytest.param(replace(STAY, state=MeasurementState.SET_ASIDE), 48.0, None, id="set aside"),
        pytest.param(STAY, 12.0, None, id="not the last"),
        pytest.param(STAY, 24.0, 2, id="a correction"),
    ],
)
def test_no_reset_is_offered_where_none_can_be_entered(
    stay: Stay, hours: float, ignoring: int | None
) -> None:
    (complaint,) = (c for c in stay.check(draft(hours, 0.5), ignoring=ignoring) if c.code == "energy_fell")
    assert not RESTARTS & set(actions(complaint.fixes))


def test_a_slipped_decimal_mark_is_offered_before_a_reset() -> None:
    # 14.30 typed with its mark one place too far left lies below 13.34, and ten times as much is expected.
    complaint = only(STAY.check(draft(48.0, 1.43), expected=Interval(14.34, 14.1, 14.6)))
    assert complaint.code == "energy_fell"
    assert complaint.fixes[0] == Fix("Make it 14.30 kWh", FixAction.SET_VALUE, 14.3)
    assert actions(complaint.fixes[1:]) == [FixAction.METER_RESET, FixAction.METER_SWAPPED]


@pytest.mark.parametrize(("energy", "said"), [(13.34, False), (13.35, True)])
def test_a_counter_does_not_pass_the_reading_after_it(energy: float, said: bool) -> None:
    found = STAY.check(draft(24.0, energy), ignoring=2)
    assert codes(found) == []
    stay = replace(STAY, readings=(*STAY.readings, saved(3, 48.0, 13.34)))
    found = stay.check(draft(24.0, energy), ignoring=2)
    assert_plain(found)
    assert ("energy_above_next" in codes(found)) is said


def test_passing_the_next_reading_says_what_was_read_then_and_what_would_fit() -> None:
    stay = Stay(readings=(saved(1, 0.0, 8.5), saved(2, 24.0, 9.33), saved(3, 48.0, 10.27)))
    complaint = only(stay.check(draft(24.0, 93.3), ignoring=2))
    assert complaint.weight is Weight.STOPS
    assert complaint.sentence == "The counter is higher than the next reading's 10.27 kWh, read 25 Nov 07:30."
    assert complaint.fixes == (Fix("Make it 9.33 kWh", FixAction.SET_VALUE, 9.33),)
    assert only(stay.check(draft(24.0, 88.0), ignoring=2)).fixes == (
        Fix("Make it 8.80 kWh", FixAction.SET_VALUE, 8.8),
    )
    assert only(stay.check(draft(24.0, 77.0), ignoring=2)).fixes == ()


def test_neighbours_are_those_of_the_same_run() -> None:
    reset = Stay(
        readings=(saved(1, 0.0, 12.0), saved(2, 24.0, 13.0), saved(3, 25.0, 0.0, run=2)),
        runs=(began(1, 0.0), began(2, 25.0)),
    )
    assert codes(reset.check(draft(48.0, 0.9))) == []
    assert codes(reset.check(draft(-1.0, 11.9))) == ["goes_between"]
    assert codes(reset.check(draft(-1.0, 12.1))) == ["before_last", "energy_above_next"]


def test_a_corrected_reading_is_not_its_own_neighbour() -> None:
    assert codes(STAY.check(draft(24.0, 12.9), ignoring=2)) == []
    assert codes(STAY.check(draft(24.0, 12.3), ignoring=2)) == ["energy_fell"]


# Expected 14.0, from 13.8 to 14.3. Far is three half-widths and two display steps of 0.01 away:
# above 14.0 + 3·0.3 + 0.02 = 14.92, below 14.0 - 3·0.2 - 0.02 = 13.38.
EXPECTED = Interval(14.0, 13.8, 14.3)


@pytest.mark.parametrize(
    ("energy", "said"),
    [(14.919, []), (14.921, ["unexpected"]), (13.381, []), (13.379, ["unexpected"]), (14.0, []), (14.31, [])],
)
def test_far_from_expected_is_asked_about(energy: float, said: list[str]) -> None:
    found = STAY.check(draft(48.0, energy), expected=EXPECTED)
    assert_plain(found)
    assert codes(found) == said
    assert {(complaint.field, complaint.weight) for complaint in found} <= {("energy_kwh", Weight.WARNS)}


def test_a_coarser_display_asks_later() -> None:
    # With steps of 0.1 far begins above 14.0 + 3·0.3 + 0.2 = 15.1.
    coarse = replace(STAY, meter=meter(energy_step_kwh=0.1))
    assert codes(coarse.check(draft(48.0, 15.09), expected=EXPECTED)) == []
    assert codes(coarse.check(draft(48.0, 15.11), expected=EXPECTED)) == ["unexpected"]


def test_without_a_meter_the_usual_display_is_taken() -> None:
    unknown = replace(STAY, meter=None)
    assert codes(unknown.check(draft(48.0, 14.919), expected=EXPECTED)) == []
    assert codes(unknown.check(draft(48.0, 14.921), expected=EXPECTED)) == ["unexpected"]


def test_the_unexpected_value_comes_with_the_range_and_the_slip() -> None:
    complaint = only(STAY.check(draft(48.0, 141.2), expected=EXPECTED))
    assert complaint.code == "unexpected"
    assert complaint.sentence == "By now it should show 13.80 to 14.30 kWh. A slip, or an unusual day?"
    assert complaint.fixes == (Fix("Make it 14.12 kWh", FixAction.SET_VALUE, 14.12),)


def test_an_unusual_day_that_is_no_slip_has_no_fix() -> None:
    assert only(STAY.check(draft(48.0, 17.0), expected=EXPECTED)).fixes == ()


def test_nothing_is_unexpected_while_nothing_is_expected() -> None:
    assert codes(STAY.check(draft(48.0, 40.0))) == []


def test_a_stop_is_not_doubled_by_a_warning() -> None:
    assert codes(STAY.check(draft(48.0, 13.0), expected=EXPECTED)) == ["energy_fell"]
    stop = only(STAY.check(draft(12.0, 20.0), expected=Interval(12.8, 12.6, 13.0)))
    assert stop.code == "before_last"


def test_a_reading_in_doubt_that_is_right_makes_nothing_unexpected() -> None:
    # Far from 14.0 without the reading in doubt, and near 16.0 with it.
    typed = draft(48.0, 16.0)
    assert codes(STAY.check(typed, expected=EXPECTED)) == ["unexpected"]
    found = check_reading(
        STAY.record,
        STAY.meter,
        STAY.appliance,
        typed,
        at(100.0),
        expected=EXPECTED,
        or_expected=Interval(16.1, 15.9, 16.3),
    )
    assert codes(found) == []


def test_no_reset_is_offered_where_the_hours_ran_on() -> None:
    stay = Stay(readings=(saved(1, 0.0, 12.34, 0.0), saved(2, 24.0, 13.34, 24.0)))
    complaint = only(stay.check(draft(48.0, 1.43, 48.0), expected=Interval(14.34, 14.1, 14.6)))
    assert complaint.fixes == (Fix("Make it 14.30 kWh", FixAction.SET_VALUE, 14.3),)
    assert "not reset" in complaint.sentence
    reset = only(stay.check(draft(48.0, 0.4, 9.5)))
    assert actions(reset.fixes) == [FixAction.METER_RESET, FixAction.METER_SWAPPED]


def test_a_real_reset_is_said_once() -> None:
    stay = Stay(readings=(saved(1, 0.0, 12.34, 0.0), saved(2, 24.0, 13.34, 24.0)))
    assert codes(stay.check(draft(48.0, 0.4, 9.5))) == ["energy_fell"]
    # Hours that slipped keep their own fix: 4.8 is 48 with its mark moved.
    both = stay.check(draft(48.0, 1.43, 4.8))
    assert codes(both) == ["energy_fell", "hours_fell"]
    assert [fix.label for fix in both[1].fixes] == ["Make it 48:00"]

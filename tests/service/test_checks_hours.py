"""The hours counter against its neighbours and against the clock."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.service.answers import Fix, FixAction, Weight
from tests.service.made_stays import Stay, assert_plain, at, began, codes, draft, meter, only, saved

STAY = Stay(readings=(saved(1, 0.0, 1.0, 0.0), saved(2, 24.0, 2.0, 24.0)))

# A day after the last reading, with a display of h:mm: 24 h may be off by
# 1/60 + 0.10 + 0.0005·24 = 0.016667 + 0.10 + 0.012 = 0.128667 h either way.
DAY_MARGIN_H = 0.128667


def said(stay: Stay, hours: float, elapsed_h: float | None, energy_kwh: float = 3.0) -> list[str]:
    """Give the codes about the hours."""
    found = stay.check(draft(hours, energy_kwh, elapsed_h))
    assert_plain(found)
    return [complaint.code for complaint in found if complaint.field == "elapsed_h"]


@pytest.mark.parametrize(
    ("off_h", "expected"),
    [
        (0.0, []),
        (DAY_MARGIN_H - 1e-4, []),
        (DAY_MARGIN_H + 1e-4, ["hours_against_clock"]),
        (-DAY_MARGIN_H + 1e-4, []),
        (-DAY_MARGIN_H - 1e-4, ["hours_against_clock"]),
    ],
)
def test_a_day_s_hours_agree_with_the_clock_within_seven_minutes(off_h: float, expected: list[str]) -> None:
    assert said(STAY, 48.0, 48.0 + off_h) == expected


@pytest.mark.parametrize(
    ("span_h", "step_h", "margin_h"),
    [
        (24.0, 0.1, 0.212),  # 0.1 + 0.10 + 0.012
        (24.0, 1.0, 1.112),  # 1 + 0.10 + 0.012
        (2.0, 1 / 60, 0.117667),  # 0.016667 + 0.10 + 0.001
        (200.0, 1 / 60, 0.216667),  # 0.016667 + 0.10 + 0.10
    ],
)
def test_the_margin_grows_with_the_step_and_with_the_time(
    span_h: float, step_h: float, margin_h: float
) -> None:
    stay = replace(STAY, meter=meter(elapsed_step_h=step_h))
    for sign in (1.0, -1.0):
        inside, outside = (24.0 + span_h + sign * (margin_h + more) for more in (-1e-5, 1e-5))
        assert said(stay, 24.0 + span_h, inside) == []
        assert said(stay, 24.0 + span_h, outside) == ["hours_against_clock"]


def test_too_many_and_too_few_hours_are_told_apart() -> None:
    more = only(STAY.check(draft(48.0, 3.0, 50.0)))
    less = only(STAY.check(draft(48.0, 3.0, 45.5)))
    assert (more.weight, less.weight) == (Weight.WARNS, Weight.WARNS)
    assert "2 h ahead of" in more.sentence
    assert "power" not in more.sentence.casefold()
    assert "2 h 30 min behind" in less.sentence
    assert "power off" in less.sentence.casefold()


def test_hours_do_not_run_backward() -> None:
    assert said(STAY, 48.0, 24.0) == ["hours_against_clock"]
    assert said(STAY, 48.0, 23.99) == ["hours_fell"]
    complaint = only(STAY.check(draft(48.0, 3.0, 1.5)))
    assert (complaint.field, complaint.code, complaint.weight) == ("elapsed_h", "hours_fell", Weight.STOPS)
    assert "24 h" in complaint.sentence
    assert "24 Nov 07:30" in complaint.sentence
    assert [fix.action for fix in complaint.fixes] == [FixAction.METER_RESET, FixAction.METER_SWAPPED]


def test_hours_that_fell_by_a_slip_of_the_decimal_mark() -> None:
    complaint = only(STAY.check(draft(48.0, 3.0, 4.8)))
    assert complaint.code == "hours_fell"
    assert complaint.fixes[0] == Fix("Make it 48:00", FixAction.SET_VALUE, 48.0)


def test_hours_that_ran_ahead_by_a_slip_of_the_decimal_mark() -> None:
    complaint = only(STAY.check(draft(48.0, 3.0, 4795.0)))
    assert complaint.code == "hours_against_clock"
    assert complaint.fixes == (Fix("Make it 47:57", FixAction.SET_VALUE, 47.95),)


def test_hours_do_not_pass_the_reading_after() -> None:
    assert said(STAY, 12.0, 24.0, 1.5) == ["hours_against_clock"]
    assert said(STAY, 12.0, 24.01, 1.5) == ["hours_above_next"]
    (complaint,) = (c for c in STAY.check(draft(12.0, 1.5, 30.0)) if c.code == "hours_above_next")
    assert complaint.weight is Weight.STOPS
    assert complaint.fixes == ()
    assert "24 h" in complaint.sentence
    assert "24 Nov 07:30" in complaint.sentence


def test_readings_without_hours_are_passed_over() -> None:
    # The neighbours at 24 h and 72 h have no hours: those at 0 h and 96 h are the ones to compare with.
    sparse = Stay(
        readings=(
            saved(1, 0.0, 1.0, 100.0),
            saved(2, 24.0, 2.0),
            saved(3, 72.0, 4.0),
            saved(4, 96.0, 5.0, 196.0),
        )
    )
    # From 0 h the margin at 48 h is 0.016667 + 0.10 + 0.0005·48 = 0.140667 h.
    assert said(sparse, 48.0, 148.14) == []
    assert said(sparse, 48.0, 148.15) == ["hours_against_clock"]
    assert said(sparse, 48.0, 99.9) == ["hours_fell"]
    assert said(sparse, 48.0, 196.1) == ["hours_above_next"]


def test_hours_are_not_compared_across_a_reset() -> None:
    reset = Stay(
        readings=(saved(1, 0.0, 1.0, 500.0), saved(2, 24.0, 0.0, run=2)),
        runs=(began(1, 0.0), began(2, 24.0)),
    )
    assert said(reset, 48.0, 3.0, 1.0) == []


def test_the_first_hours_of_a_run_have_nothing_to_disagree_with() -> None:
    bare = Stay(readings=(saved(1, 0.0, 1.0), saved(2, 24.0, 2.0)))
    assert said(bare, 48.0, 777.0) == []


def test_hours_may_be_left_out() -> None:
    assert said(STAY, 48.0, None) == []


def test_a_correction_is_compared_with_the_reading_before_it() -> None:
    assert codes(STAY.check(draft(24.0, 2.0, 24.1), ignoring=2)) == []
    assert codes(STAY.check(draft(24.0, 2.0, 24.2), ignoring=2)) == ["hours_against_clock"]


def test_the_time_that_the_hours_give_is_offered() -> None:
    # 24 h were counted at the second reading of 24 Nov 07:30, and 5 h 30 min since.
    less = only(STAY.check(draft(48.0, 3.0, 29.5), now=at(48.5)))
    (fix,) = less.fixes
    assert (fix.label, fix.action, fix.moment) == ("Read at yesterday 13:00", FixAction.SET_TIME, at(29.5))
    # 50 h would be two hours from now.
    assert only(STAY.check(draft(48.0, 3.0, 50.0), now=at(48.5))).fixes == ()
    # 26 h 30 min would be behind a reading of 26 h.
    stay = replace(STAY, readings=(*STAY.readings, saved(3, 26.0, 2.4)))
    typed = stay.check(draft(25.0, 2.2, 26.5))
    assert not [fix for found in typed for fix in found.fixes if fix.action is FixAction.SET_TIME]


def test_a_time_before_the_last_reading_is_said_alone_with_the_time_that_the_hours_give() -> None:
    complaint = only(STAY.check(draft(12.0, 3.0, 48.0), now=at(48.0)))
    assert (complaint.field, complaint.code) == ("taken_at", "before_last")
    assert complaint.sentence.startswith("There is a reading of yesterday 07:30 already")
    assert [(fix.label, fix.moment) for fix in complaint.fixes] == [("Read at today 07:30", at(48.0))]

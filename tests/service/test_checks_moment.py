"""When a reading was taken: in the past, in its run's time, one to a minute."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

import pytest

from hearthload.domain.measurement import MeasurementState
from hearthload.service.answers import FixAction, Weight
from hearthload.service.checks_moment import moment_complaints
from tests.service.made_stays import MORNING, NOW, Stay, assert_plain, at, began, codes, draft, only, saved

STAY = Stay(readings=(saved(1, 0.0, 1.0), saved(2, 24.0, 2.0)))

# A reset on the third morning: she reads the old counters at 48 h, then the new ones begin.
RESET = Stay(
    readings=(
        saved(1, 0.0, 1.0),
        saved(2, 24.0, 2.0),
        saved(3, 48.0, 3.0),
        saved(4, 50.0, 0.0, run=2),
        saved(5, 72.0, 1.0, run=2),
    ),
    runs=(began(1, 0.0), began(2, 50.0)),
)
MINUTE_H = 1 / 60


def stopped(stay: Stay, hours: float, energy_kwh: float, ignoring: int | None = None) -> list[str]:
    """Give the codes that stop a reading because of its time."""
    found = stay.check(draft(hours, energy_kwh), ignoring=ignoring)
    assert_plain(found)
    return [c.code for c in found if c.weight is Weight.STOPS and c.field == "taken_at"]


@pytest.mark.parametrize(("late_s", "said"), [(0, []), (120, []), (121, ["future"])])
def test_two_minutes_ahead_of_the_clock_pass(late_s: int, said: list[str]) -> None:
    typed = replace(draft(0.0, 3.0), taken_at=NOW + timedelta(seconds=late_s))
    assert codes(STAY.check(typed)) == said


def test_the_future_is_told_by_the_moment_and_not_by_the_wall() -> None:
    # 18:00 at five hours behind UTC is 23:00 UTC, which is 00:00 the next day at one hour ahead.
    now = datetime(2026, 11, 25, 0, 0, tzinfo=timezone(timedelta(hours=1)))
    behind = timezone(timedelta(hours=-5))
    past = replace(draft(0.0, 3.0), taken_at=datetime(2026, 11, 24, 18, 0, tzinfo=behind))
    ahead = replace(past, taken_at=datetime(2026, 11, 24, 18, 3, tzinfo=behind))
    assert codes(STAY.check(past, now=now)) == []
    assert codes(STAY.check(ahead, now=now)) == ["future"]


@pytest.mark.parametrize(("year", "said"), [(26, ["too_early"]), (1999, ["too_early"]), (2000, [])])
def test_a_year_before_the_logbook_s_age_is_a_slip(year: int, said: list[str]) -> None:
    found = Stay().check(replace(draft(0.0, 1.0), taken_at=datetime(year, 1, 1, 12, 0, tzinfo=UTC)))
    assert codes(found) == said


def test_a_time_without_offset_is_stopped() -> None:
    naive = replace(draft(0.0, 3.0), taken_at=MORNING.replace(tzinfo=None))
    complaint = only(STAY.check(naive))
    assert (complaint.field, complaint.code, complaint.weight) == ("taken_at", "naive_time", Weight.STOPS)


def test_one_reading_to_a_minute_whatever_the_seconds_and_the_offset() -> None:
    # The readings there are were taken at 07:30:00; the last second of that minute is still the same minute.
    assert stopped(STAY, 24.0 + 59 / 3600, 2.0) == ["same_minute"]
    assert stopped(STAY, 24.0 + 60 / 3600, 2.0) == []
    elsewhere = replace(draft(0.0, 2.0), taken_at=at(24.0).astimezone(timezone(timedelta(hours=-8))))
    assert codes(STAY.check(elsewhere)) == ["same_minute"]


def test_correcting_a_reading_in_its_own_minute_is_no_second_reading() -> None:
    assert stopped(STAY, 24.0, 2.5, ignoring=2) == []
    assert stopped(STAY, 0.0, 2.5, ignoring=2) == ["same_minute"]


@pytest.mark.parametrize(("hours", "said"), [(48.0 - MINUTE_H, ["before_run"]), (48.0, []), (49.0, [])])
def test_a_reading_after_a_reset_is_not_moved_before_it(hours: float, said: list[str]) -> None:
    assert stopped(RESET, hours, 0.0, ignoring=4) == said


@pytest.mark.parametrize(("hours", "said"), [(50.0 + MINUTE_H, ["after_run"]), (50.0, []), (49.0, [])])
def test_a_reading_before_a_reset_is_not_moved_after_it(hours: float, said: list[str]) -> None:
    assert stopped(RESET, hours, 3.0, ignoring=3) == said


def test_a_new_reading_goes_into_the_run_of_its_time() -> None:
    # 0.5 kWh fits the new counters only, 3.1 kWh the old ones only.
    assert stopped(RESET, 60.0, 0.5) == []
    assert stopped(RESET, 49.0, 3.1) == []
    assert stopped(RESET, 49.0, 0.5) == ["before_last"]
    assert stopped(RESET, 60.0, 3.1) == ["before_last"]


def test_nothing_is_read_before_an_exact_zero() -> None:
    exact = Stay(readings=(saved(1, 0.0, 0.0), saved(2, 24.0, 1.0)), runs=(began(1, 0.0, exact_start=True),))
    assert stopped(exact, -1.0, 0.0) == ["before_zero"]
    assert stopped(exact, 1.0, 0.0) == []
    # Without an exact zero the counters ran before the first reading too, so an earlier one may come in.
    assert stopped(replace(exact, runs=(began(1, 0.0),)), -1.0, 0.0) == []


def test_the_exact_zero_itself_may_be_moved() -> None:
    exact = Stay(readings=(saved(1, 0.0, 0.0), saved(2, 24.0, 1.0)), runs=(began(1, 0.0, exact_start=True),))
    assert stopped(exact, -1.0, 0.0, ignoring=1) == []
    assert stopped(exact, 2.0, 0.0, ignoring=1) == []


@pytest.mark.parametrize(("hours", "said"), [(30.0, []), (30.0 + MINUTE_H, ["after_finish"])])
def test_nothing_is_read_after_the_finish(hours: float, said: list[str]) -> None:
    finished = replace(STAY, state=MeasurementState.FINISHED, finished_at=at(30.0))
    assert stopped(finished, hours, 3.0) == said


@pytest.mark.parametrize("state", [MeasurementState.RUNNING, MeasurementState.SET_ASIDE])
def test_only_a_finished_measurement_has_an_end(state: MeasurementState) -> None:
    assert codes(replace(STAY, state=state).check(draft(40.0, 3.0))) == []


def test_a_reading_between_others_is_said_to_be_one() -> None:
    complaint = only(STAY.check(draft(12.0, 1.5)))
    assert (complaint.field, complaint.code, complaint.weight) == ("taken_at", "goes_between", Weight.WARNS)
    assert "23 Nov 07:30" in complaint.sentence
    assert "24 Nov 07:30" in complaint.sentence


def test_a_reading_before_the_first_is_said_to_be_one() -> None:
    complaint = only(STAY.check(draft(-2.0, 0.5)))
    assert complaint.code == "goes_between"
    assert "first" in complaint.sentence
    assert "23 Nov 07:30" in complaint.sentence


def test_a_reading_between_two_runs_is_between_the_old_last_and_the_new_first() -> None:
    complaint = only(RESET.check(draft(49.0, 3.1)))
    assert complaint.code == "goes_between"
    assert "25 Nov 07:30" in complaint.sentence  # 48 h
    assert "25 Nov 09:30" in complaint.sentence  # 50 h


def test_the_last_reading_is_between_nothing() -> None:
    assert codes(STAY.check(draft(24.0 + MINUTE_H, 2.0))) == []


def test_counters_that_do_not_fit_in_stop_the_time_too() -> None:
    # What would fit after the last reading has a wrong time; what would not is named beside the time.
    found = STAY.check(draft(12.0, 2.5))
    assert codes(found) == ["before_last"]
    assert {complaint.weight for complaint in found} == {Weight.STOPS}
    assert codes(STAY.check(draft(12.0, 0.5))) == ["before_last", "energy_fell"]


def test_a_plan_without_a_run_has_no_order_to_keep() -> None:
    plan = Stay(runs=(), state=MeasurementState.PLANNED)
    assert codes(plan.check(draft(5.0, 3.0))) == []


def test_a_time_still_to_come_today_was_yesterday() -> None:
    (complaint,) = moment_complaints(at(16.0), at(0.5))
    assert complaint.sentence == "That lies in the future, today 23:30: look at the day and the time."
    assert [(fix.label, fix.action, fix.moment) for fix in complaint.fixes] == [
        ("Read at yesterday 23:30", FixAction.SET_TIME, at(-8.0))
    ]
    (later,) = moment_complaints(at(26.0), at(0.5))
    assert later.fixes == ()

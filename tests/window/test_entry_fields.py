"""Raw texts of the entry form as readings or complaints, the round's order, and words beside fields."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest

from hearthload.domain.reading import RunState
from hearthload.service.answers import Complaint, Fix, FixAction, RoundStop, Weight
from hearthload.window.readings.entry_fields import numbered, read_entry
from hearthload.window.readings.entry_fixes import fix_text
from hearthload.window.readings.entry_judge import settled_only
from hearthload.window.readings.entry_round import Round
from hearthload.window.readings.entry_words import clock_hours_words, counter_words, span_words, when_words

NOW = datetime(2026, 11, 24, 7, 30, tzinfo=timezone(timedelta(hours=1)))


def test_all_fields_are_read_with_their_units() -> None:
    texts = {
        "energy_kwh": "12,34 kWh",
        "elapsed_h": "37:20",
        "taken_at": "yesterday 7:15",
        "power_w": "92 W",
        "voltage_v": "231.5",
        "current_a": "0,41 A",
        "power_factor": "0.97",
        "highest_power_w": "880",
        "frequency_hz": "50.02 Hz",
        "uses": "3",
        "room_temperature_c": "−4,5",
        "state": "running",
        "note": "  defrosted ",
    }
    draft = read_entry(texts, NOW).draft
    assert draft is not None
    assert draft.energy_kwh == 12.34
    assert draft.elapsed_h == pytest.approx(37 + 1 / 3)
    assert draft.taken_at == NOW - timedelta(days=1, minutes=15)
    assert (draft.power_w, draft.voltage_v, draft.current_a, draft.power_factor) == (92.0, 231.5, 0.41, 0.97)
    assert (draft.highest_power_w, draft.frequency_hz, draft.uses) == (880.0, 50.02, 3)
    assert (draft.room_temperature_c, draft.state, draft.note) == (-4.5, RunState.RUNNING, "defrosted")


def test_every_wrong_text_is_complained_about_at_its_field() -> None:
    texts = {"energy_kwh": "1e400", "elapsed_h": "37:99", "taken_at": "noon", "uses": "2.5", "power_w": "-4"}
    entry = read_entry(texts, NOW)
    assert entry.draft is None
    assert {c.field: c.code for c in entry.complaints} == {
        "energy_kwh": "too_large",
        "elapsed_h": "minutes",
        "taken_at": "not_moment",
        "uses": "not_whole",
        "power_w": "negative",
    }
    assert all(c.weight is Weight.STOPS for c in entry.complaints)


def test_an_empty_counter_is_neither_a_draft_nor_a_complaint() -> None:
    entry = read_entry({"elapsed_h": "37:20"}, NOW)
    assert (entry.draft, entry.complaints) == (None, ())


def test_fixes_carry_their_keys() -> None:
    fix = Fix("Make it 12.34 kWh", FixAction.SET_VALUE, 12.34)
    reset = Fix("The meter was reset", FixAction.METER_RESET)
    complaints = (
        Complaint("energy_kwh", "energy_fell", Weight.STOPS, "Fell.", (fix, reset)),
        Complaint("elapsed_h", "hours_fell", Weight.STOPS, "Fell.", (reset,)),
    )
    marked, ordered = numbered(complaints)
    labels = [each.label for complaint in marked for each in complaint.fixes]
    assert labels == [
        "Make it 12.34 kWh (Alt+1)",
        "The meter was reset (Alt+2)",
        "The meter was reset (Alt+3)",
    ]
    assert [each for _, each in ordered] == [fix, reset, reset]


def test_a_half_typed_number_is_not_complained_about_yet() -> None:
    fell = Complaint("energy_kwh", "energy_fell", Weight.STOPS, "Fell.")
    other = Complaint("power_w", "negative", Weight.STOPS, "Negative.")
    assert settled_only([fell, other], "energy_kwh", ()) == [other]
    assert settled_only([fell, other], "energy_kwh", (fell,)) == [fell, other]
    assert settled_only([fell, other], "", ()) == [fell, other]


def stops(marks: str) -> tuple[RoundStop, ...]:
    """Give one stop for each mark: x was read today, a point was not."""
    return tuple(
        RoundStop(place, place, f"appliance {place}", "", f"meter {place}", read_today=mark == "x")
        for place, mark in enumerate(marks, 1)
    )


def test_the_round_goes_once_round_from_the_first_unread() -> None:
    tour = Round(stops("x.x.."))
    first = tour.first()
    assert first is not None
    assert first.measurement_id == 2
    assert tour.place_words(2) == "Morning round: 3 of 5, next: appliance 4"
    tour = tour.renewed(stops("xxx..")).skipping(4)
    after = tour.next_after(2)
    assert after is not None
    assert after.measurement_id == 5
    tour = tour.renewed(stops("xxx.x"))
    assert tour.next_after(5) is None
    assert tour.done_words() == "The round is done. Without a reading of today: appliance 4."


def test_the_round_comes_back_to_what_was_left_before() -> None:
    tour = Round(stops("..x"))
    after = tour.renewed(stops(".xx")).next_after(2)
    assert after is not None
    assert after.measurement_id == 1


def test_a_round_of_nothing_says_what_to_do() -> None:
    assert "start its measurement" in Round(()).done_words()
    assert Round(stops("x")).done_words() == "The round is done: the one meter is read."


def test_words_beside_fields() -> None:
    days = [timedelta(0), timedelta(days=1), timedelta(days=2), timedelta(days=8), timedelta(days=330)]
    assert [when_words(NOW - back, NOW) for back in days] == [
        "today 07:30",
        "yesterday 07:30",
        "Sunday 07:30",
        "16 Nov 07:30",
        "29 Dec 2025 07:30",
    ]
    assert (counter_words(12.3, 0.01), counter_words(12.345, 0.01)) == ("12.30", "12.345")
    assert clock_hours_words(37 + 1 / 3) == "37:20"
    assert (span_words(24.0), span_words(50.0)) == ("24 h", "2 days 2 h")
    assert (fix_text("elapsed_h", 37.5, None), fix_text("energy_kwh", 12.34, None)) == ("37:30", "12.34")

"""A slip that was saved, and the right reading after it: the one before is put right, not the one typed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.reading import ReadingDraft
from hearthload.service import queries
from hearthload.service.answers import Complaint, FixAction
from hearthload.service.edits.readings import change_reading
from hearthload.service.edits.settling import answer_doubt
from tests.service.made_household import Household, opened
from tests.service.made_stays import at, codes, draft

# 0.43 kWh a day from 10.19 on, read in the morning; the sixth was 12.34.
RIGHT = (10.19, 10.62, 11.05, 11.48, 11.91)


def measured(house: Household, kind: Kind = Kind.REFRIGERATOR, **noted: float) -> int:
    stay = house.start(
        house.appliance("Larder", kind, **noted), house.meter("Grey meter"), 0.0, RIGHT[0], 0.0
    )
    for day, energy_kwh in enumerate(RIGHT[1:], start=1):
        house.read(stay, 24.0 * day, energy_kwh, 24.0 * day)
    return stay


def said(house: Household, stay: int, typed: ReadingDraft) -> tuple[Complaint, ...]:
    return queries.preview(house.logbook, stay, typed, typed.taken_at).complaints


@pytest.mark.parametrize(
    ("slip", "code"),
    [(21.34, "energy_fell"), (123.4, "energy_fell"), (13.24, "energy_fell"), (18.34, "energy_fell")],
)
def test_the_right_reading_after_a_slip_puts_the_slip_right(tmp_path: Path, slip: float, code: str) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        number = house.read(stay, 120.0, slip, 120.0)
        typed = draft(144.0, 12.77, 144.0)
        (complaint,) = said(house, stay, typed)
        assert complaint.code == code
        (fix,) = complaint.fixes
        assert (fix.label, fix.action) == (
            "The reading before was the slip: make it 12.34 kWh",
            FixAction.SET_BEFORE,
        )
        assert (fix.value, fix.reading_id) == (12.34, number)
        change_reading(house.logbook, number, draft(120.0, 12.34, 120.0))
        assert said(house, stay, typed) == ()


def test_it_goes_before_a_reset(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        house.read(stay, 120.0, 21.34)
        (complaint,) = said(house, stay, draft(144.0, 12.77))
        assert [fix.action for fix in complaint.fixes] == [
            FixAction.SET_BEFORE,
            FixAction.METER_RESET,
            FixAction.METER_SWAPPED,
        ]


def test_a_right_reading_before_is_left_alone(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        house.read(stay, 120.0, 12.34, 120.0)
        for typed in (draft(144.0, 1.277, 144.0), draft(144.0, 127.7, 144.0)):
            (complaint,) = said(house, stay, typed)
            assert [fix.label for fix in complaint.fixes] == ["Make it 12.77 kWh"]


def test_hours_that_were_saved_without_their_colon_are_put_right(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        number = house.read(stay, 120.0, 12.34, 12005.0)
        (complaint,) = said(house, stay, draft(144.0, 12.77, 144.1))
        assert complaint.code == "hours_fell"
        assert complaint.fixes[0].label == "The reading before was the slip: make it 120:05"
        assert complaint.fixes[0].reading_id == number
        change_reading(house.logbook, number, draft(120.0, 12.34, 120.1))
        assert codes(said(house, stay, draft(144.0, 12.77, 144.1))) == []


def test_what_is_expected_goes_without_a_reading_in_doubt(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        house.read(stay, 120.0, 21.34, 120.0)
        expected = queries.entry_context(house.logbook, stay, at(144.0)).expected_energy_kwh
        assert expected is not None
        assert 12.4 < expected.low < 12.77 < expected.high < 13.1


def test_an_unusual_day_that_was_right_does_not_make_the_next_one_unexpected(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        house.read(stay, 120.0, 15.34, 120.0)
        assert queries.open_doubts(house.logbook, stay) != ()
        assert said(house, stay, draft(144.0, 15.77, 144.0)) == ()


@pytest.mark.parametrize("answered", [False, True])
def test_what_is_expected_after_a_tenfold_slip_can_be(tmp_path: Path, *, answered: bool) -> None:
    with opened(tmp_path) as house:
        stay = measured(house, Kind.CLIMATE, nameplate_w=60.0)
        number = house.read(stay, 120.0, 65.725)
        (doubt,) = queries.open_doubts(house.logbook, stay)
        assert doubt.reading is not None
        assert doubt.reading.id == number
        if answered:
            answer_doubt(house.logbook, stay, doubt.doubt.code, number)
        expected = queries.entry_context(house.logbook, stay, at(144.0)).expected_energy_kwh
        assert expected is not None
        assert expected.low < expected.high
        assert expected.low <= expected.value <= expected.high
        assert expected.low >= (65.7 if answered else 11.91)


def test_a_reading_of_the_same_minute_was_before(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay = measured(house)
        moment = replace(draft(120.0, 12.34), taken_at=at(120.0).replace(second=20))
        expected = queries.entry_context(house.logbook, stay, moment.taken_at).expected_energy_kwh
        house.read(stay, 120.0, 12.34)
        after = queries.entry_context(house.logbook, stay, moment.taken_at).expected_energy_kwh
        assert expected is not None
        assert after is not None
        assert expected.low < 12.34
        assert 12.34 <= after.low <= after.high < 12.4

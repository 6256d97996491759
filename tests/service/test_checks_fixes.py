"""What a one-click fix is worth: applied, its complaint is gone."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.domain.reading import ReadingDraft
from hearthload.errors import RefusedError
from hearthload.estimate.answers import Interval
from hearthload.service import queries
from hearthload.service.answers import Complaint, FixAction
from hearthload.service.edits.measurements import reset_meter, swap_meter
from hearthload.service.edits.readings import add_reading
from tests.service.made_household import Household, opened
from tests.service.made_stays import NOW, Stay, at, codes, draft, meter, saved

FACTORS = (0.001, 0.01, 0.1, 10.0, 100.0, 1000.0)


def mended(typed: ReadingDraft, complaint: Complaint) -> list[ReadingDraft]:
    """Give the reading with each of the values that the complaint's fixes set."""
    values = [fix.value for fix in complaint.fixes if fix.action is FixAction.SET_VALUE]
    changed: list[dict[str, Any]] = [{complaint.field: value} for value in values]
    return [replace(typed, **fields) for fields in changed]


@given(
    before=st.integers(0, 50_000),
    gained=st.integers(3, 400),
    width=st.integers(3, 60),
    factor=st.sampled_from(FACTORS),
)
def test_a_slipped_decimal_mark_of_the_energy_is_put_right(
    before: int, gained: int, width: int, factor: float
) -> None:
    # Counts of 0.01 kWh. What she meant lies inside the expected range, which begins above the last reading.
    stay = Stay(readings=(saved(1, 0.0, before / 100),))
    low, high = before + max(gained - width, 1), before + gained + width
    expected = Interval((before + gained) / 100, low / 100, high / 100)
    typed = draft(24.0, (before + gained) / 100 * factor)
    found = [c for c in stay.check(typed, expected=expected) if c.field == "energy_kwh"]
    for complaint in found:
        better = mended(typed, complaint)
        assert better
        assert [codes(stay.check(each, expected=expected)) for each in better] == [[]] * len(better)
    # A value as far away as a slip makes it does not pass in silence, unless that is nothing out of the way.
    near = 3.0 * width / 100 + 0.02
    assert found or abs(typed.energy_kwh - expected.value) <= near + 1e-9


@given(
    before_min=st.integers(0, 50_000),
    span_min=st.integers(120, 6000),
    off_min=st.integers(-5, 5),
    factor=st.sampled_from(FACTORS),
)
def test_a_slipped_decimal_mark_of_the_hours_is_put_right(
    before_min: int, span_min: int, off_min: int, factor: float
) -> None:
    # The display shows h:mm, she types hours with two decimals; what she meant is within five minutes of the
    # clock, where the margin is more than seven.
    stay = Stay(readings=(saved(1, 0.0, 0.0, before_min / 60),))
    meant = round((before_min + span_min + off_min) / 60, 2)
    typed = draft(span_min / 60, 0.01, meant * factor)
    found = [c for c in stay.check(typed) if c.field == "elapsed_h"]
    assert found
    for complaint in found:
        better = mended(typed, complaint)
        assert better
        assert [codes(stay.check(each)) for each in better] == [[]] * len(better)


@given(energy=st.floats(0.0, 2000.0), low=st.floats(5.0, 9.0), width=st.floats(0.1, 3.0))
def test_no_value_is_offered_where_the_typed_one_is_expected(energy: float, low: float, width: float) -> None:
    stay = Stay(readings=(saved(1, 0.0, 5.0),), meter=meter(energy_step_kwh=0.001))
    expected = Interval(low + width / 2, low, low + width)
    found = stay.check(draft(24.0, energy), expected=expected)
    offered = [fix for complaint in found for fix in complaint.fixes if fix.action is FixAction.SET_VALUE]
    if expected.low <= energy <= expected.high:
        assert offered == []
    for fix in offered:
        assert fix.value is not None
        # Within the expected range, give or take the step of the display.
        assert expected.low - 0.0011 <= fix.value <= expected.high + 0.0011


def measured(house: Household) -> int:
    """Measure a freezer for three mornings, one kWh a day."""
    stay = house.start(
        house.appliance("Barn freezer", Kind.FREEZER), house.meter("Grey meter"), 0.0, 5.0, 0.0
    )
    for day in (1, 2, 3):
        house.read(stay, 24.0 * day, 5.0 + day, 24.0 * day)
    return stay


def test_saying_that_the_meter_was_reset_lets_the_reading_be_saved(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay, typed = measured(house), draft(96.0, 0.4, 9.5)
        found = queries.preview(house.logbook, stay, typed, NOW).complaints
        assert codes(found) == ["energy_fell"]
        assert all(FixAction.METER_RESET in [fix.action for fix in c.fixes] for c in found)
        with pytest.raises(RefusedError, match="cannot run backward"):
            add_reading(house.logbook, stay, typed)
        reset_meter(house.logbook, stay, typed, exact_zero=False)
        newest = queries.reading_rows(house.logbook, stay)[0]
        assert (newest.reading.energy_kwh, newest.run.number) == (0.4, 2)


def test_saying_that_it_is_another_meter_lets_the_reading_be_saved(tmp_path: Path) -> None:
    with opened(tmp_path) as house:
        stay, typed = measured(house), draft(96.0, 0.4)
        (complaint,) = queries.preview(house.logbook, stay, typed, NOW).complaints
        assert FixAction.METER_SWAPPED in [fix.action for fix in complaint.fixes]
        swap_meter(house.logbook, stay, house.meter("White meter"), typed, exact_zero=False)
        newest = queries.reading_rows(house.logbook, stay)[0]
        assert (newest.reading.energy_kwh, newest.meter_name) == (0.4, "White meter")


@pytest.mark.parametrize("factor", FACTORS)
def test_the_fix_beside_a_slip_makes_the_preview_what_was_meant(tmp_path: Path, factor: float) -> None:
    with opened(tmp_path) as house:
        stay, meant = measured(house), draft(96.0, 9.05, 96.0)
        slipped = replace(meant, energy_kwh=meant.energy_kwh * factor)
        (complaint,) = queries.preview(house.logbook, stay, slipped, NOW).complaints
        assert mended(slipped, complaint) == [meant]
        assert queries.preview(house.logbook, stay, meant, at(97.0)).complaints == ()

"""The preview: what a reading would give is exactly what saving it gives afterwards."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.domain.reading import ReadingDraft, RunState
from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.edits.household import set_household
from hearthload.service.edits.measurements import (
    finish_measurement,
    plan_measurement,
    reset_meter,
    set_aside_measurement,
    swap_meter,
)
from hearthload.service.edits.readings import add_reading
from tests.service.made_household import Household, created, opened
from tests.service.made_stays import NOW, at, codes, draft


@pytest.fixture
def house(tmp_path: Path) -> Iterator[Household]:
    with opened(tmp_path) as household:
        yield household


def from_zero(house: Household) -> int:
    """Measure from an exact zero on a display that cuts off."""
    freezer = house.appliance("Freezer", Kind.FREEZER, target=0.07)
    meter_id = house.meter("Grey meter", rounding=DisplayRounding.TRUNCATES, gain_percent=2.0)
    stay = house.start(freezer, meter_id, 0.0, 0.0, 0.0, exact_zero=True)
    for day in (1, 2, 3):
        house.read(stay, 24.0 * day, 0.9 * day, 24.0 * day, power_w=90.0 if day != 2 else 1.0)
    return stay


def from_anywhere(house: Household) -> int:
    return house.measured("Refrigerator", 812.4, 813.5, 814.4)


def after_a_reset(house: Household) -> int:
    stay = house.measured("Refrigerator", 812.4, 813.5)
    reset_meter(house.logbook, stay, draft(30.0, 0.0), exact_zero=True)
    house.read(stay, 54.0, 1.1)
    return stay


def after_a_swap(house: Household) -> int:
    stay = house.measured("Refrigerator", 812.4, 813.5)
    white = house.meter("White meter", energy_step_kwh=0.1, elapsed_step_h=1.0)
    swap_meter(house.logbook, stay, white, draft(30.0, 57.0), exact_zero=False)
    return stay


def over(house: Household) -> int:
    stay = from_anywhere(house)
    finish_measurement(house.logbook, stay, at(80.0))
    return stay


def only_begun(house: Household) -> int:
    return house.measured("Refrigerator", 812.4)


CASES = [
    pytest.param(from_zero, draft(96.0, 3.55, 96.1), id="the next morning, from zero"),
    pytest.param(from_zero, draft(36.0, 1.3, 36.0), id="between, from zero"),
    pytest.param(from_zero, draft(96.0, 3.55, 90.0), id="after a power cut"),
    pytest.param(from_anywhere, draft(72.0, 815.2), id="the next morning"),
    pytest.param(from_anywhere, draft(-10.0, 812.0), id="before the first"),
    pytest.param(from_anywhere, draft(30.0, 813.5), id="nothing used meanwhile"),
    pytest.param(from_anywhere, draft(72.0, 830.0), id="a doubtful one that is saved anyway"),
    pytest.param(
        from_anywhere, draft(72.0, 815.2, power_w=110.0, uses=2, state=RunState.RUNNING), id="with watts"
    ),
    pytest.param(after_a_reset, draft(78.0, 2.2), id="after a reset"),
    pytest.param(after_a_reset, draft(12.0, 812.9), id="before a reset"),
    pytest.param(after_a_reset, draft(27.0, 813.6), id="last before a reset"),
    pytest.param(after_a_swap, draft(54.0, 58.1, 24.0), id="after a swap"),
    pytest.param(over, draft(72.0, 815.2), id="a late entry to a finished one"),
    pytest.param(only_begun, draft(24.0, 813.3), id="the second of all"),
]


@pytest.mark.parametrize(("made", "typed"), CASES)
def test_the_preview_is_what_saving_gives(
    house: Household, made: Callable[[Household], int], typed: ReadingDraft
) -> None:
    stay = made(house)
    (row,) = queries.roster(house.logbook, NOW)
    before = queries.preview(house.logbook, stay, typed, NOW)
    assert not before.stopped
    assert before.before is not None
    assert before.before is row.estimate
    reading_id = created(add_reading(house.logbook, stay, typed))
    assert before.after == house.row(row.appliance.id).estimate
    (saved,) = (row for row in queries.reading_rows(house.logbook, stay) if row.reading.id == reading_id)
    spans = (saved.span_energy_kwh, saved.span_h, saved.span_power_w)
    assert (before.span_energy_kwh, before.span_h, before.span_power_w) == spans


def test_looking_ahead_changes_nothing(house: Household) -> None:
    stay = from_zero(house)
    known = queries.roster(house.logbook, NOW)
    rows = queries.reading_rows(house.logbook, stay)
    for _ in range(2):
        queries.preview(house.logbook, stay, draft(96.0, 3.6), NOW)
    assert queries.reading_rows(house.logbook, stay) == rows
    assert queries.roster(house.logbook, NOW)[0].estimate is known[0].estimate
    assert house.logbook.history.undo_name == "add reading: Freezer"


def test_the_span_that_the_reading_closes(house: Household) -> None:
    shown = queries.preview(house.logbook, from_anywhere(house), draft(60.0, 815.0), NOW)
    # 815.0 - 814.4 = 0.6 kWh in 12 h are 50 W.
    assert shown.span_energy_kwh == pytest.approx(0.6)
    assert shown.span_h == pytest.approx(12.0)
    assert shown.span_power_w == pytest.approx(50.0)


def test_a_reading_before_the_first_closes_no_span(house: Household) -> None:
    shown = queries.preview(house.logbook, from_anywhere(house), draft(-10.0, 812.0), NOW)
    assert (shown.span_energy_kwh, shown.span_h, shown.span_power_w) == (None, None, None)
    assert shown.after is not None
    assert shown.after != shown.before


def test_what_is_stopped_gives_nothing_and_is_not_saved(house: Household) -> None:
    stay = from_anywhere(house)
    for typed in (
        draft(72.0, 814.3),
        draft(48.0, 814.5),
        draft(72.0, float("nan")),
        draft(72.0, 9999.0),
        draft(24.0 * 11, 815.0),
        replace(draft(72.0, 815.0), taken_at=at(72.0).replace(tzinfo=None)),
    ):
        shown = queries.preview(house.logbook, stay, typed, NOW)
        assert shown.stopped
        assert (shown.span_energy_kwh, shown.span_h, shown.span_power_w, shown.after) == (None,) * 4
        with pytest.raises(RefusedError) as refused:
            add_reading(house.logbook, stay, typed)
        assert (refused.value.field, refused.value.code) == (
            shown.complaints[0].field,
            shown.complaints[0].code,
        )
    assert len(queries.reading_rows(house.logbook, stay)) == 3


def test_a_warning_does_not_stop(house: Household) -> None:
    shown = queries.preview(house.logbook, from_anywhere(house), draft(72.0, 830.0), NOW)
    assert codes(shown.complaints) == ["unexpected"]
    assert not shown.stopped
    assert shown.after is not None


def test_the_household_s_mains_are_reckoned_with(house: Household) -> None:
    stay = house.start(house.appliance("Heater", Kind.CLIMATE), house.meter("Grey meter", current_a=8.0), 0.0)
    # 46 kWh a day are 1917 W: 230·8 = 1840 W are passed, 240·8 = 1920 W are not.
    typed = draft(24.0, 46.0)
    assert "above_rating" in codes(queries.preview(house.logbook, stay, typed, NOW).complaints)
    set_household(house.logbook, replace(queries.household(house.logbook), mains_voltage_v=240.0))
    assert "above_rating" not in codes(queries.preview(house.logbook, stay, typed, NOW).complaints)


def test_seconds_are_as_they_will_be_kept(house: Household) -> None:
    stay = from_anywhere(house)
    typed = replace(draft(0.0, 815.2), taken_at=at(72.0).replace(second=41, microsecond=999_999))
    shown = queries.preview(house.logbook, stay, typed, NOW)
    add_reading(house.logbook, stay, typed)
    assert shown.after == queries.roster(house.logbook, NOW)[0].estimate


def test_a_plan_and_what_is_set_aside(house: Household) -> None:
    plan = created(plan_measurement(house.logbook, house.appliance("Toaster"), None))
    shown = queries.preview(house.logbook, plan, draft(24.0, 5.0), NOW)
    assert (shown.before, shown.after, shown.complaints) == (None, None, ())
    stay = from_anywhere(house)
    set_aside_measurement(house.logbook, stay)
    assert queries.preview(house.logbook, stay, draft(72.0, 815.2), NOW).after is not None

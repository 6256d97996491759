"""How warm the room was: what was typed with readings, else what was stated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from hearthload.domain.measurement import MeasurementRecord
from hearthload.service import queries
from hearthload.service.edits.measurements import describe_measurement
from hearthload.service.edits.readings import add_reading
from hearthload.service.explain import explain, room_words
from hearthload.service.rooms import room_temperature_c
from tests.service.building import House, a_house, read_on
from tests.service.made_stays import Stay, saved


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    """Give a router (1) measured on a grey meter (1): readings 1 and 2."""
    with a_house(tmp_path) as made:
        made.measured()
        yield made


def record(*typed_c: float | None, stated_c: float | None = None) -> MeasurementRecord:
    readings = tuple(
        replace(saved(number, 24.0 * number, float(number)), room_temperature_c=typed)
        for number, typed in enumerate(typed_c, start=1)
    )
    made = Stay(readings=readings).record
    return replace(made, measurement=replace(made.measurement, room_temperature_c=stated_c))


@pytest.mark.parametrize(
    ("typed_c", "stated_c", "warmth"),
    [
        ([], None, None),
        ([None, None], None, None),
        ([None, None], 21.0, 21.0),
        ([18.0, None, 21.0], None, 19.5),
        ([18.0, None, 21.0], 30.0, 19.5),
        ([0.0], 21.0, 0.0),
        ([-3.0, 2.0], None, -0.5),
    ],
)
def test_the_mean_of_what_was_typed_goes_before_what_was_stated(
    typed_c: list[float | None], stated_c: float | None, warmth: float | None
) -> None:
    assert room_temperature_c(record(*typed_c, stated_c=stated_c)) == warmth


def test_in_words() -> None:
    assert room_words(record(None)) == ""
    assert room_words(record(17.0, 18.2)) == "about 18 °C"
    assert room_words(record(0.0)) == "about 0 °C"
    assert room_words(record(-0.2)) == "about 0 °C"


def test_it_stands_beside_the_measurement_and_in_its_explanation(house: House) -> None:
    def shown() -> tuple[float | None, str]:
        (choice,) = queries.measurements_of(house.logbook, 1)
        return choice.room_temperature_c, explain(house.logbook, 1).steps[0].text

    warmth, words = shown()
    assert warmth is None
    assert "°C" not in words
    describe_measurement(house.logbook, 1, room_temperature_c=16.0, note="")
    warmth, words = shown()
    assert warmth == 16.0
    assert words.endswith("The room had about 16 °C.")
    add_reading(house.logbook, 1, read_on(2, 0.6, room_temperature_c=23.4))
    warmth, words = shown()
    assert warmth == 23.4
    assert words.endswith("The room had about 23 °C.")
    house.logbook.history.undo()
    house.logbook.history.undo()
    assert shown()[0] is None

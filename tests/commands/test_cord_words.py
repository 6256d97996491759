"""What may be typed about a cord: lengths in both units, wire sizes in many spellings."""

from __future__ import annotations

import pytest

from hearthload.commands.cord_words import typed_gauge, typed_length_m, typed_number
from hearthload.domain.typed import TypedError
from hearthload.errors import RefusedError
from hearthload.service.outages import cord_gauges

GAUGES = dict(cord_gauges())


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("15", 15.0),
        ("15 m", 15.0),
        ("7,5m", 7.5),
        ("7.5 metres", 7.5),
        ("1 Meter", 1.0),
        ("50 ft", 15.24),
        ("50ft", 15.24),
        ("1 foot", 0.3048),
        ("100 Feet", 30.48),
        ("10'", 3.048),
        (" 3 ", 3.0),
    ],
)
def test_lengths(typed: str, metres: float) -> None:
    assert typed_length_m(typed) == pytest.approx(metres)


@pytest.mark.parametrize("typed", ["", "m", "ten", "5 miles", "-3 m", "nan", "1e3", "1.2.3", "5 ft 6"])
def test_lengths_that_are_none(typed: str) -> None:
    with pytest.raises(TypedError):
        typed_length_m(typed)


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("awg_14", "awg_14"),
        ("14 AWG", "awg_14"),
        ("14awg", "awg_14"),
        ("AWG 14", "awg_14"),
        ("awg14", "awg_14"),
        ("AWG-14", "awg_14"),
        ("#14 AWG", "awg_14"),
        ("14 gauge", "awg_14"),
        ("1/0 AWG", "awg_1_0"),
        ("AWG 1/0", "awg_1_0"),
        ("awg_4_0", "awg_4_0"),
        ("00 AWG", "awg_2_0"),
        ("mm2_1.5", "mm2_1.5"),
        ("1.5 mm2", "mm2_1.5"),
        ("1,5 mm²", "mm2_1.5"),
        ("1.50mm²", "mm2_1.5"),
        ("0,75 MM2", "mm2_0.75"),
        ("4 mm^2", "mm2_4"),
        ("2.5 sq mm", "mm2_2.5"),
        ("10 mm²", "mm2_10"),
    ],
)
def test_wire_sizes(typed: str, key: str) -> None:
    assert typed_gauge(typed, GAUGES) == key


def test_every_size_goes_by_its_key_and_by_its_name() -> None:
    assert [typed_gauge(key, GAUGES) for key in GAUGES] == list(GAUGES)
    assert [typed_gauge(name, GAUGES) for name in GAUGES.values()] == list(GAUGES)


@pytest.mark.parametrize(
    "typed", ["", "14", "1.5", "13 AWG", "3/0 AWG", "1.7 mm²", "thick", "AWG mm2", "1e1 mm2"]
)
def test_sizes_that_there_are_not_list_those_that_there_are(typed: str) -> None:
    with pytest.raises(RefusedError) as caught:
        typed_gauge(typed, GAUGES)
    assert all(name in str(caught.value) for name in GAUGES.values())


def test_a_number_is_refused_with_its_option() -> None:
    assert typed_number("--watts", "1500 W", "w") == 1500.0
    with pytest.raises(RefusedError, match=r"^--watts: “many” is not a number"):
        typed_number("--watts", "many", "w")
    with pytest.raises(RefusedError, match=r"^--length: “far” is not a number"):
        typed_number("--length", "far")

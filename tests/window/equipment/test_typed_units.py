"""Figures typed with their unit: thousands, amp-hours times volts, and units of another quantity."""

from __future__ import annotations

import pytest

from hearthload.domain.typed import TypedError
from hearthload.window.equipment.typed_units import parse_quantity


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("2000", "Wh", 2000.0),
        ("2000 Wh", "Wh", 2000.0),
        ("2 kWh", "Wh", 2000.0),
        ("2,5kwh", "Wh", 2500.0),
        # 100 Ah of 12.8 V are 1280 Wh.
        ("100 Ah x 12.8 V", "Wh", 1280.0),
        ("100 Ah × 12,8 V", "Wh", 1280.0),
        ("100Ah*12.8V", "Wh", 1280.0),
        ("12.8 V X 100 ah", "Wh", 1280.0),
        ("1.8 kW", "W", 1800.0),
        ("1800w", "W", 1800.0),
        ("1800", "W", 1800.0),
        ("0", "W", 0.0),
        ("2.2 kVA", "VA", 2200.0),
        ("2200 va", "VA", 2200.0),
        ("51,2 V", "V", 51.2),
        ("1.1 l/h", "L/h", 1.1),
        ("30°", "°", 30.0),
        ("5 s", "s", 5.0),
        ("3", "", 3.0),
    ],
)
def test_what_can_be_taken(text: str, unit: str, value: float) -> None:
    assert parse_quantity(text, unit) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "unit", "code", "says"),
    [
        ("100 Ah", "Wh", "other_unit", "100 Ah × 12.8 V"),
        ("100 × 12.8", "Wh", "product", "both units"),
        ("100 Ah × 12.8 Ah", "Wh", "product", "both units"),
        ("2 × 1000 Wh", "Wh", "product", "both units"),
        ("100 Ah × 12.8 V × 2", "Wh", "not_number", "not a number"),
        ("1..0 Ah × 12.8 V", "Wh", "ambiguous", "decimal mark"),
        ("2 kW", "Wh", "other_unit", "These are watts"),
        ("2 kWh", "W", "other_unit", "These are watt-hours"),
        ("2 kVA", "W", "other_unit", "These are volt-amperes"),
        ("2 kW", "VA", "other_unit", "These are watts"),
        ("2 MW", "W", "unit", "does not belong here"),
        ("2 kV", "V", "unit", "does not belong here"),
        ("5 outlets", "", "unit", "does not belong here"),
        ("much", "W", "not_number", "not a number"),
        ("-2 kW", "W", "negative", "negative"),
        ("1e3 W", "W", "exponent", "exponent"),
        ("", "W", "empty", "Nothing is typed"),
    ],
)
def test_what_cannot_is_refused_in_a_sentence(text: str, unit: str, code: str, says: str) -> None:
    with pytest.raises(TypedError) as refused:
        parse_quantity(text, unit)
    assert refused.value.code == code
    assert says in str(refused.value)

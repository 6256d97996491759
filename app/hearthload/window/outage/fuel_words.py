"""What must be said about keeping fuel, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from hearthload.domain.figures import format_number

_SENTENCES: Final[Mapping[str, str]] = {
    "local_law_first": "What may be kept at home is for the fire authority to say.",
    "not_in_living_space": "Keep fuel out of rooms that are lived in.",
    "refuel_cold": "Refuel outdoors, with the engine off and cold.",
    "above_uk_notice": "In the United Kingdom more than {} L of petrol must be notified.",
    "above_us_cap": "Many local codes in the United States allow {} L of petrol at most.",
    "goes_stale": "It keeps about {} months.",
    "cylinders_outdoors": "Cylinders stand outdoors, upright.",
    "too_little_vapour": "One 9 kg cylinder gives only about {} L/h at this temperature: join several.",
}
"""By the codes of the cautions about fuel."""


def fuel_cautions(notes: Iterable[tuple[str, float | None]]) -> tuple[str, ...]:
    """Say each caution about fuel, given by its code and its figure."""
    return tuple(_SENTENCES[code].format("" if value is None else _plain(value)) for code, value in notes)


def _plain(value: float) -> str:
    return f"{value:g}" if value == round(value) else format_number(value, 2)

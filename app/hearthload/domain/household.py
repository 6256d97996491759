"""The household that a logbook belongs to: what its mains give and what energy costs."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Household:
    """Settings of one household; `price_per_kwh` in its own currency is optional."""

    name: str = ""
    mains_voltage_v: float = 230.0
    mains_frequency_hz: float = 50.0
    default_plug: str = "unknown"
    price_per_kwh: float | None = None
    currency: str = ""
    note: str = ""

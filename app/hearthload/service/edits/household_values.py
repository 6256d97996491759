"""What is typed about the household made fit to keep, or refused in a clear sentence."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.household import Household
from hearthload.service.edits.refusing import refuse_unknown_plug
from hearthload.service.tidy import refuse_outside, tidy_line, tidy_note


def tidied_household(household: Household) -> Household:
    """Give a household's settings fit to keep."""
    refuse_outside(
        household.mains_voltage_v, "mains_voltage_v", "The mains voltage", low=50, high=500, unit="V"
    )
    refuse_outside(
        household.mains_frequency_hz, "mains_frequency_hz", "The mains frequency", low=40, high=70, unit="Hz"
    )
    refuse_outside(household.price_per_kwh, "price_per_kwh", "The price of a kWh", low=0, high=1e6, unit="")
    refuse_unknown_plug(household.default_plug, "default_plug")
    return replace(
        household,
        name=tidy_line(household.name, "name"),
        currency=tidy_line(household.currency, "currency"),
        note=tidy_note(household.note),
    )

"""Simulated appliances for the calibration study, one simulator for each kind that a person may choose.

Each is built from how the machine works, not from the estimator's model: cold appliances are renewal
cycles of a compressor pulled by room warmth, doors and defrosts; loads are events on a clock that runs
only while people are up; pumps and heaters follow rain and cold. Amounts are broad ranges of ordinary
household machines.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from simulators_base import Generator, Load
from simulators_cold import freezer, refrigerator
from simulators_habits import (
    always_on,
    by_the_load,
    evening_electronics,
    kitchen,
    lamp_timer,
    work_electronics,
)
from simulators_weather import climate, pump

NOT_SURE = "not_sure"

SIMULATORS: Mapping[str, Callable[[Generator], Load]] = MappingProxyType(
    {
        "refrigerator": refrigerator,
        "freezer": freezer,
        "climate": climate,
        "always_on": always_on,
        "by_the_load": by_the_load,
        "lamp_timer": lamp_timer,
        "evening_electronics": evening_electronics,
        "work_electronics": work_electronics,
        "kitchen": kitchen,
        "pump": pump,
    }
)
"""Simulators by the kind that a person would choose for the appliance."""

FAMILIES = (*SIMULATORS, NOT_SURE)
"""The kinds told: of those not sure, every appliance comes up in turn."""

STEADY = ("refrigerator", "freezer", "always_on", "lamp_timer")
COLD = ("refrigerator", "freezer")
BY_THE_USE = ("by_the_load", "kitchen")
WEATHER = ("climate", "pump")


def made_of(family: str, index: int) -> str:
    """Give the simulator behind appliance number `index` of a family."""
    return tuple(SIMULATORS)[index % len(SIMULATORS)] if family == NOT_SURE else family

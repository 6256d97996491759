"""Appliances: things that use electricity."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class UsePattern(StrEnum):
    """How an appliance comes to use energy."""

    STEADY = "steady"
    THERMOSTATIC = "thermostatic"
    BY_THE_USE = "by_the_use"
    SCHEDULED = "scheduled"
    WEATHER_DRIVEN = "weather_driven"


class Kind(StrEnum):
    """What sort of appliance it is; each kind has its own expectations of level and scatter."""

    REFRIGERATOR = "refrigerator"
    FREEZER = "freezer"
    CLIMATE = "climate"
    ALWAYS_ON = "always_on"
    BY_THE_LOAD = "by_the_load"
    LAMP_TIMER = "lamp_timer"
    EVENING_ELECTRONICS = "evening_electronics"
    WORK_ELECTRONICS = "work_electronics"
    KITCHEN = "kitchen"
    PUMP = "pump"
    NOT_SURE = "not_sure"

    @property
    def use_pattern(self) -> UsePattern:
        """Give the pattern of use that this kind follows."""
        return _PATTERNS[self]


_PATTERNS = {
    Kind.REFRIGERATOR: UsePattern.THERMOSTATIC,
    Kind.FREEZER: UsePattern.THERMOSTATIC,
    Kind.CLIMATE: UsePattern.WEATHER_DRIVEN,
    Kind.ALWAYS_ON: UsePattern.STEADY,
    Kind.BY_THE_LOAD: UsePattern.BY_THE_USE,
    Kind.LAMP_TIMER: UsePattern.SCHEDULED,
    Kind.EVENING_ELECTRONICS: UsePattern.BY_THE_USE,
    Kind.WORK_ELECTRONICS: UsePattern.SCHEDULED,
    Kind.KITCHEN: UsePattern.BY_THE_USE,
    Kind.PUMP: UsePattern.WEATHER_DRIVEN,
    Kind.NOT_SURE: UsePattern.STEADY,
}


class Role(StrEnum):
    """What an appliance is in an outage."""

    ESSENTIAL = "essential"
    WANTED = "wanted"
    OFF = "off"


class Cycling(StrEnum):
    """How a machine with a motor or compressor runs."""

    NOT_KNOWN = "not_known"
    ON_AND_OFF = "on_and_off"
    FROST_FREE = "frost_free"
    VARIABLE_SPEED = "variable_speed"


@dataclass(frozen=True, slots=True)
class ApplianceDraft:
    """An appliance as typed in, before it has a place in the logbook.

    `plug` is a key of `domain.plugs.PLUGS`. `nameplate_w` and `running_w` are watts; `running_w` is what
    the person says it draws while running. `target` is the wanted half-width of the daily figure as a
    fraction (0.10 for ± 10 %); None takes the kind's own. `hard_wired` appliances are not for a plug-in
    meter. `medical` marks equipment that keeps somebody alive or healthy. `cycling` tells how its motor runs.
    """

    name: str
    kind: Kind
    room: str = ""
    role: Role = Role.WANTED
    plug: str = "unknown"
    voltage_v: float | None = None
    nameplate_w: float | None = None
    running_w: float | None = None
    target: float | None = None
    hard_wired: bool = False
    medical: bool = False
    note: str = ""
    cycling: Cycling = Cycling.NOT_KNOWN


@dataclass(frozen=True, slots=True)
class Appliance:
    """An appliance in the logbook: its number and what was typed about it."""

    id: int
    name: str
    kind: Kind
    room: str
    role: Role
    plug: str
    voltage_v: float | None
    nameplate_w: float | None
    running_w: float | None
    target: float | None
    hard_wired: bool
    medical: bool
    note: str
    cycling: Cycling = Cycling.NOT_KNOWN

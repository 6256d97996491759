"""Supplies: equipment she has or is offered, by its generic specification; None is not known."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class SupplyKind(StrEnum):
    """What a supply is made of."""

    BATTERY = "battery"
    GENERATOR = "generator"
    ARRAY = "array"
    COMBINATION = "combination"


class Chemistry(StrEnum):
    """What stores the energy."""

    NOT_KNOWN = "not_known"
    LFP = "lfp"
    NMC = "nmc"
    FLOODED_LEAD = "flooded_lead"
    AGM = "agm"
    GEL = "gel"
    NICKEL = "nickel"

    @property
    def is_lead(self) -> bool:
        """Tell whether it is a lead-acid battery."""
        return self in {Chemistry.FLOODED_LEAD, Chemistry.AGM, Chemistry.GEL}


class Waveform(StrEnum):
    """The shape of an inverter's voltage."""

    NOT_KNOWN = "not_known"
    SINE = "sine"
    MODIFIED_SINE = "modified_sine"


class Fuel(StrEnum):
    """What a generator burns."""

    PETROL = "petrol"
    DIESEL = "diesel"
    PROPANE = "propane"


class EngineControl(StrEnum):
    """How a generator keeps its frequency."""

    FIXED_SPEED = "fixed_speed"
    INVERTER = "inverter"


@dataclass(frozen=True, slots=True)
class SupplyDraft:
    """A supply as typed in; which fields count depends on its kind.

    All: `voltage_v`, `frequency_hz`, `plug` (key of `domain.plugs.PLUGS` for its outlets), `outlet_a` amps of
    one outlet, `outlets` how many, `owned` or offered. `continuous_w`, `continuous_va`, `start_w`,
    `start_va` for `start_s` seconds; a generator's rated and most watts are `continuous_w` and `start_w`.
    BATTERY (with inverter): `stored_wh` as stated on discharge, `chemistry`, `battery_v` nominal volts,
    `battery_limit_a` most amps on discharge, `idle_w` draw of the inverter with nothing on, `charge_w` most
    watts it takes from the wall, `solar_w` from panels, `waveform`. GENERATOR: `fuel`, `control`, `tank_l` in
    litres, `half_load_l_h` and `full_load_l_h` litres an hour. ARRAY: `array_w` at standard test conditions,
    `tilt_deg`, `azimuth_deg` (180 south), `grid_tied`. COMBINATION: `members`, numbers of other supplies.
    """

    name: str
    kind: SupplyKind
    owned: bool = True
    voltage_v: float | None = None
    frequency_hz: float | None = None
    plug: str = "unknown"
    outlet_a: float | None = None
    outlets: int | None = None
    continuous_w: float | None = None
    continuous_va: float | None = None
    start_w: float | None = None
    start_va: float | None = None
    start_s: float | None = None
    stored_wh: float | None = None
    chemistry: Chemistry = Chemistry.NOT_KNOWN
    battery_v: float | None = None
    battery_limit_a: float | None = None
    idle_w: float | None = None
    charge_w: float | None = None
    solar_w: float | None = None
    waveform: Waveform = Waveform.NOT_KNOWN
    fuel: Fuel = Fuel.PETROL
    control: EngineControl = EngineControl.FIXED_SPEED
    tank_l: float | None = None
    half_load_l_h: float | None = None
    full_load_l_h: float | None = None
    array_w: float | None = None
    tilt_deg: float | None = None
    azimuth_deg: float | None = None
    grid_tied: bool = False
    note: str = ""
    members: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Supply:
    """A supply in the logbook: its number and what was typed about it."""

    id: int
    draft: SupplyDraft

    @property
    def name(self) -> str:
        """Give its name."""
        return self.draft.name

    @property
    def kind(self) -> SupplyKind:
        """Give what it is made of."""
        return self.draft.kind

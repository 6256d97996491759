"""The rows of the equipment sheet: which kinds have them, what they are called, where to find the figure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from hearthload.domain.supply import SupplyKind
from hearthload.service.outage_words import MOST_POWER

BATTERY, GENERATOR, ARRAY = SupplyKind.BATTERY, SupplyKind.GENERATOR, SupplyKind.ARRAY
FEEDING: Final = frozenset({BATTERY, GENERATOR})


@dataclass(frozen=True, slots=True)
class LineField:
    """A line with a number: its name in `SupplyDraft`, caption, unit and hint, other words by kind.

    `may_be_nothing`: zero is an answer, as with no charging from panels. `whole`: no part of one.
    """

    name: str
    caption: str
    unit: str
    hint: str
    kinds: frozenset[SupplyKind]
    captions: Mapping[SupplyKind, str] = field(default_factory=dict)
    hints: Mapping[SupplyKind, str] = field(default_factory=dict)
    may_be_nothing: bool = False
    whole: bool = False


@dataclass(frozen=True, slots=True)
class ChoiceField:
    """A list to choose from, or a box to tick, that the sheet makes itself: its name and kinds."""

    name: str
    kinds: frozenset[SupplyKind]


@dataclass(frozen=True, slots=True)
class Section:
    """Rows under a heading."""

    heading: str
    rows: tuple[LineField | ChoiceField, ...]

    def has(self, kind: SupplyKind) -> bool:
        """Tell whether a kind has any of its rows."""
        return any(kind in row.kinds for row in self.rows)


def _battery(name: str, caption: str, unit: str, hint: str, *, may_be_nothing: bool = False) -> LineField:
    return LineField(name, caption, unit, hint, frozenset({BATTERY}), may_be_nothing=may_be_nothing)


def _engine(name: str, caption: str, unit: str, hint: str) -> LineField:
    return LineField(name, caption, unit, hint, frozenset({GENERATOR}))


def _array(name: str, caption: str, unit: str, hint: str, *, may_be_nothing: bool = False) -> LineField:
    return LineField(name, caption, unit, hint, frozenset({ARRAY}), may_be_nothing=may_be_nothing)


SECTIONS: Final = (
    Section(
        "Energy",
        (
            _battery("stored_wh", "Stored energy", "Wh",
                "“Capacity” on the plate: 2000, 2 kWh, or amp-hours times volts, 100 Ah × 12.8 V"),
            ChoiceField("chemistry", frozenset({BATTERY})),
            _battery("battery_v", "Battery voltage", "V",
                "Nominal, on the battery itself; empty for one box with battery and inverter in it"),
            _battery("battery_limit_a", "Battery current", "A",
                "Most on discharge, from its papers; empty for one box"),
        ),
    ),
    Section(
        "Power",
        (
            LineField("continuous_w", "Continuous power", "W",
                "“Rated output”: what it gives all the time, not for seconds", FEEDING,
                captions={GENERATOR: "Rated power"},
                hints={GENERATOR: "“Rated” or “COP”: all the time, not the largest figure"}),
            LineField("continuous_va", "Continuous VA", "VA", "Often beside the watts", FEEDING),
            LineField("start_w", "Starting power", "W",
                "“Surge” or “peak”: for motors that start", FEEDING,
                captions={GENERATOR: f"{MOST_POWER[0].upper()}{MOST_POWER[1:]}"},
                hints={GENERATOR: "“Maximum” or “surge”: for motors that start"}),
            LineField("start_va", "Starting VA", "VA", "Empty when not stated", FEEDING),
            LineField("start_s", "Lasting", "s", "For how many seconds it gives its starting power", FEEDING),
            _battery("idle_w", "Idle draw", "W",
                "Of the inverter with nothing on, from its papers; empty: typical for its size",
                may_be_nothing=True),
            ChoiceField("waveform", FEEDING),
        ),
    ),
    Section(
        "Charging",
        (
            _battery("charge_w", "From the wall", "W",
                "“AC input”: most that it takes from a socket or generator; 0 for none", may_be_nothing=True),
            _battery("solar_w", "From panels", "W",
                "“Solar” or “DC input”: most that it takes; 0 for none", may_be_nothing=True),
        ),
    ),
    Section(
        "Fuel",
        (
            ChoiceField("fuel", frozenset({GENERATOR})),
            ChoiceField("control", frozenset({GENERATOR})),
            _engine("tank_l", "Tank", "L", "What its tank holds"),
            _engine("half_load_l_h", "At half load", "L/h", "From its papers; empty: typical for its size"),
            _engine("full_load_l_h", "At full load", "L/h", "From its papers; empty: typical for its size"),
        ),
    ),
    Section(
        "Outlets",
        (
            LineField("voltage_v", "Voltage", "V", "As printed at its outlets", FEEDING),
            LineField("frequency_hz", "Frequency", "Hz", "50 or 60, as printed", FEEDING),
            ChoiceField("plug", FEEDING),
            LineField("outlet_a", "Current of one", "A", "Beside the outlet or on its breaker", FEEDING),
            LineField("outlets", "Outlets", "", "How many there are", FEEDING, whole=True),
        ),
    ),
    Section(
        "Panels",
        (
            _array("array_w", "Power of all", "W",
                "“Pmax” or “Wp” on the back of each panel, times how many"),
            _array("tilt_deg", "Tilt", "°", "0 lies flat, 90 stands upright; empty: fit for the latitude",
                may_be_nothing=True),
            _array("azimuth_deg", "Direction", "°", "90 east, 180 south, 270 west; empty: to the midday sun",
                may_be_nothing=True),
            ChoiceField("grid_tied", frozenset({ARRAY})),
        ),
    ),
    Section("Made of", (ChoiceField("members", frozenset({SupplyKind.COMBINATION})),)),
)  # fmt: skip
"""The rows in their order on the sheet."""

LINES: Final = tuple(row for section in SECTIONS for row in section.rows if isinstance(row, LineField))

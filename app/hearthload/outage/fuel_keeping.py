"""Cautions about keeping fuel, as data; local law comes before every figure here."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.supply import Fuel

_UK_NOTICE_L = 30.0  # Petroleum (Consolidation) Regulations 2014
_US_CAP_L = 95.0  # 25 US gallons, a common local cap
_PROPANE_KG_L = 0.51
# A 9 kg bottle gives off about 1 kg/h at 20 °C and half of it at 0 °C; common practice.
_VAPOUR_KG_H_20, _VAPOUR_KG_H_0 = 1.0, 0.5
_LEAST_VAPOUR_KG_H = 0.05
# Months that a fuel keeps, low and high, without a stabiliser; published advice.
_KEEPS_MONTHS = {Fuel.PETROL: (3.0, 6.0), Fuel.DIESEL: (6.0, 12.0)}


class FuelCaution(StrEnum):
    """What must be said about fuel that is kept."""

    LOCAL_LAW_FIRST = "local_law_first"
    NOT_IN_LIVING_SPACE = "not_in_living_space"
    REFUEL_COLD = "refuel_cold"
    ABOVE_UK_NOTICE = "above_uk_notice"
    ABOVE_US_CAP = "above_us_cap"
    GOES_STALE = "goes_stale"
    CYLINDERS_OUTDOORS = "cylinders_outdoors"
    TOO_LITTLE_VAPOUR = "too_little_vapour"


@dataclass(frozen=True, slots=True)
class FuelNote:
    """A caution with its figure in `unit`, None where it has none; `typical`: not checked."""

    code: FuelCaution
    value: float | None
    unit: str
    source: str
    typical: bool


def keeping_cautions(
    fuel: Fuel, litres: float, litres_per_hour: float, outdoor_c: float
) -> tuple[FuelNote, ...]:
    """Give the cautions for so much fuel [L], used so fast [L/h] at an air temperature [°C]."""
    notes = [
        FuelNote(FuelCaution.LOCAL_LAW_FIRST, None, "", "fire authority", typical=False),
        FuelNote(FuelCaution.REFUEL_COLD, None, "", "advice of state authorities", typical=False),
    ]
    if fuel is Fuel.PROPANE:
        notes.append(FuelNote(FuelCaution.CYLINDERS_OUTDOORS, None, "", "common practice", typical=True))
        most = bottle_litres_per_hour(outdoor_c)
        if litres_per_hour > most:
            notes.append(
                FuelNote(FuelCaution.TOO_LITTLE_VAPOUR, most, "L/h", "common practice", typical=True)
            )
        return tuple(notes)
    source = "Petroleum (Consolidation) Regulations 2014"
    notes.append(FuelNote(FuelCaution.NOT_IN_LIVING_SPACE, None, "", source, typical=False))
    if fuel is Fuel.PETROL and litres > _UK_NOTICE_L:
        notes.append(FuelNote(FuelCaution.ABOVE_UK_NOTICE, _UK_NOTICE_L, "L", source, typical=False))
    if fuel is Fuel.PETROL and litres > _US_CAP_L:
        cap = "common cap under local US fire codes"
        notes.append(FuelNote(FuelCaution.ABOVE_US_CAP, _US_CAP_L, "L", cap, typical=True))
    months = _KEEPS_MONTHS[fuel][0]
    notes.append(
        FuelNote(FuelCaution.GOES_STALE, months, "months", "published advice on fuel", typical=False)
    )
    return tuple(notes)


def bottle_litres_per_hour(outdoor_c: float) -> float:
    """Give the propane that a 9 kg bottle gives off as vapour [L/h], linear in the air's temperature [°C].

    About 1 kg/h at 20 °C and half of it at 0 °C; it falls as the bottle empties.
    """
    kg_h = _VAPOUR_KG_H_0 + (_VAPOUR_KG_H_20 - _VAPOUR_KG_H_0) * outdoor_c / 20.0
    return max(kg_h, _LEAST_VAPOUR_KG_H) / _PROPANE_KG_L

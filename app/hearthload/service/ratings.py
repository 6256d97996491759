"""What a meter, a plug and a circuit carry, and whether an appliance asks for more."""

from __future__ import annotations

from dataclasses import dataclass

from hearthload.domain.appliance import Appliance
from hearthload.domain.figures import format_percent, format_watts
from hearthload.domain.household import Household
from hearthload.domain.meter import Meter
from hearthload.domain.plugs import LONG_RUN_SHARE, PLUGS, plug_limit_w
from hearthload.service.answers import Complaint, Weight

LARGEST_CIRCUIT_A = 32.0
"""No plug-in circuit of a household carries more [A]: the largest plug the program knows, IEC 60309."""

OTHER_VOLTAGE = 1.1
"""Mains voltages stay within a tenth of their nominal value (IEC 60038, ± 10 %)."""


NAMEPLATE_MARGIN = 1.25
"""More than any nameplate is out: the widest tolerance, of small motors, is + 20 % (IEC 60335-1, 10.1)."""


@dataclass(frozen=True, slots=True)
class Rating:
    """The most watts that one part of the way carries, and which part that is."""

    power_w: float
    part: str


def voltage_of(appliance: Appliance, household: Household) -> float:
    """Give the voltage that an appliance is used at [V]: its own, else the household's mains."""
    return appliance.voltage_v if appliance.voltage_v is not None else household.mains_voltage_v


def lowest_rating(meter: Meter | None, appliance: Appliance, household: Household) -> Rating:
    """Give the weakest part between the wall and the appliance: P = V·I [W] for each."""
    volts = voltage_of(appliance, household)
    found = [Rating(volts * LARGEST_CIRCUIT_A, "a household circuit")]
    if meter is not None and meter.current_a is not None:
        found.append(Rating(volts * meter.current_a, f"the meter “{meter.name}”"))
    for plug, part in _plugs(meter, appliance, household):
        limit = plug_limit_w(plug, volts)
        if limit is not None:
            found.append(Rating(limit, part))
    return min(found, key=lambda rating: rating.power_w)


def most_w(meter: Meter | None, appliance: Appliance, household: Household) -> float:
    """Give the watts beyond which no average is foreseen: the weakest part's or a nameplate's."""
    plate = appliance.nameplate_w
    carried = lowest_rating(meter, appliance, household).power_w
    return carried if plate is None else min(carried, NAMEPLATE_MARGIN * plate)


def meter_complaints(meter: Meter, appliance: Appliance, household: Household) -> tuple[Complaint, ...]:
    """Say what speaks against putting an appliance on a meter; what stops comes first."""
    found = (
        _load(meter, appliance, household),
        _voltage(meter, appliance, household),
        _shapes(meter, appliance),
    )
    complaints = [complaint for complaint in found if complaint is not None]
    return tuple(sorted(complaints, key=lambda complaint: complaint.weight is not Weight.STOPS))


def _plugs(meter: Meter | None, appliance: Appliance, household: Household) -> list[tuple[str, str]]:
    own = appliance.plug if appliance.plug != "unknown" else household.default_plug
    plugs = [(own, "its plug")]
    if meter is not None:
        plugs.append((meter.plug, "the meter's plug"))
    return plugs


def _load(meter: Meter, appliance: Appliance, household: Household) -> Complaint | None:
    power = appliance.nameplate_w if appliance.nameplate_w is not None else appliance.running_w
    if power is None:
        return None
    rating = lowest_rating(meter, appliance, household)
    carries = f"{rating.part} carries {format_watts(rating.power_w)}"
    asks = f"{appliance.name} takes {format_watts(power)}, and {carries}"
    if power > rating.power_w:
        return Complaint(
            "meter_id",
            "over_rating",
            Weight.STOPS,
            f"{asks}: too much. Never load a meter or a plug beyond the rating marked on it; use one that is "
            "rated for this load, or ask an electrician to measure it.",
        )
    if power > LONG_RUN_SHARE * rating.power_w:
        return Complaint(
            "meter_id",
            "near_rating",
            Weight.WARNS,
            f"{asks}. For three hours or more, stay under {format_percent(LONG_RUN_SHARE)} of a rating; the "
            "figures marked on the meter and the plug decide. Feel now and then whether they get warm.",
        )
    return None


def _voltage(meter: Meter, appliance: Appliance, household: Household) -> Complaint | None:
    volts = voltage_of(appliance, household)
    if meter.voltage_v is None or volts <= OTHER_VOLTAGE * meter.voltage_v:
        return None
    return Complaint(
        "meter_id",
        "over_voltage",
        Weight.STOPS,
        f"{appliance.name} is used at {volts:.0f} V, and the meter “{meter.name}” is made for "
        f"{meter.voltage_v:.0f} V. Never use a meter above the voltage marked on it. If the volts are not "
        "those of your mains, set them for the appliance, or for the household in the Logbook menu.",
    )


def _shapes(meter: Meter, appliance: Appliance) -> Complaint | None:
    vague = {"unknown", "other"}
    if meter.plug == appliance.plug or {meter.plug, appliance.plug} & vague:
        return None
    own, its = PLUGS[appliance.plug].name, PLUGS[meter.plug].name
    return Complaint(
        "meter_id",
        "other_plug",
        Weight.WARNS,
        f"{appliance.name} has a {own} plug and the meter “{meter.name}” takes {its}: do they fit each other "
        "without an adapter?",
    )

"""Human words for what outage plans are made of: roles, uses, notes, months, batteries, fuels."""

from __future__ import annotations

import calendar
from collections.abc import Iterable, Mapping
from decimal import Decimal
from math import isfinite
from typing import Final

from hearthload.domain.appliance import Role
from hearthload.domain.figures import (
    DASH,
    decimals_for,
    format_days,
    format_decimals,
    format_number,
    format_plus_minus,
    format_watts,
)
from hearthload.domain.plan import Plan, PlanLoad, Use
from hearthload.domain.supply import EngineControl, Fuel
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.outage.answers import Note
from hearthload.outage.steps import Figure

ROLES: Final[Mapping[Role, str]] = {Role.ESSENTIAL: "essential", Role.WANTED: "wanted", Role.OFF: "off"}

USES: Final[Mapping[Use, str]] = {
    Use.AS_MEASURED: "as measured",
    Use.HOURS_A_DAY: "hours a day",
    Use.USES_A_DAY: "uses a day",
    Use.ASSUMED: "assumed",
}

MONTHS: Final = tuple((number, calendar.month_name[number]) for number in range(1, 13))

NOTES: Final[Mapping[Note, str]] = {
    Note.NO_ENERGY: "Its energy a day is not known, so the totals are short of it: measure it, or type your "
    "own figure.",
    Note.NO_WATTS: "Its watts are not known, so the totals are short of them: read them off a meter or its "
    "nameplate.",
    Note.ASSUMED_ENERGY: "Its energy a day is assumed, not measured.",
    Note.ASSUMED_WATTS: "Its watts are the nameplate's, or follow from an assumed energy: read them off "
    "a meter.",
    Note.NOT_WELL_MEASURED: "It is not well measured yet: a few more days make its figure surer.",
    Note.MEASURED_COLD: "It was measured in a room under 10 °C, where little is known of how energy follows "
    "the room: measure it once in a warmer one.",
    Note.TOO_COLD: "The room is so cold that a machine with a freezer may not start, and its food may thaw.",
    Note.ANOTHER_SEASON: "It goes by the weather and was measured in another season: say how many times as "
    "much it takes in the plan's.",
    Note.MEDICAL: "Somebody's life or health hangs on it: ask its supplier and the clinician, and keep a "
    "fallback that needs no electricity.",
    Note.HARD_WIRED: "It is hard-wired: connecting it to any supply is for a licensed electrician.",
    Note.DEFROST_HEATER: "Its defrost heater draws more than its compressor, for some minutes a day.",
    Note.POOR_LOAD: "Heat from a battery costs much: leave it off, or find a way without electricity.",
}

FUELS: Final[Mapping[Fuel, str]] = {
    Fuel.PETROL: "petrol",
    Fuel.DIESEL: "diesel",
    Fuel.PROPANE: "propane",
}

CONTROLS: Final[Mapping[EngineControl, str]] = {
    EngineControl.FIXED_SPEED: "fixed speed",
    EngineControl.INVERTER: "with inverter",
}

ROOMS: Final[Mapping[str, str]] = {
    "loads": "Loads",
    "inverter": "Inverter",
    "battery": "Battery",
    "sun": "Sun",
    "generator": "Generator and fuel",
    "cords": "Cords",
}

DIGITS: Final = 3
SHORT_DAYS: Final = 0.995
"""From here on a plan's length is told in days [d]."""

NOT_KNOWN: Final = "not known"


def use_words(load: PlanLoad) -> str:
    """Say how much an appliance is used: "as measured", "3 h a day", "2 uses a day", "assumed"."""
    match load.use:
        case Use.HOURS_A_DAY:
            return f"{load.hours_a_day or 0.0:g} h a day"
        case Use.USES_A_DAY:
            uses = load.uses_a_day or 0.0
            return f"{uses:g} use a day" if uses == 1.0 else f"{uses:g} uses a day"
        case _:
            return USES[load.use]


def plan_words(plan: Plan) -> str:
    """Say in one line what a plan is about."""
    room = "rooms as measured" if plan.room_c is None else f"rooms at {plan.room_c:g} °C"
    return " · ".join(
        (
            f"{format_days(plan.days)} in {calendar.month_name[plan.month]}",
            room,
            f"battery at {plan.battery_c:g} °C",
            f"outdoors {plan.outdoor_c:g} °C",
            f"enough in {100.0 * plan.confidence:g} % of such outages",
        )
    )


def number_text(value: float, unit: str) -> str:
    """Print a figure that has no interval, without its unit."""
    if unit in {"W", "VA"}:
        return format_watts(value).removesuffix(" W")
    return "0" if value == 0.0 else format_number(value, 3)


def short_number(value: float) -> str:
    """Print a number with three digits that count, whole numbers whole, no zeros at the end."""
    text = format_decimals(value, max(0, decimals_for(value, DIGITS)))
    return text.rstrip("0").rstrip(".") if "." in text else text


def exact_number(value: float) -> str:
    """Print a number with all digits that anybody could type, never in scientific notation."""
    return format(Decimal(f"{value:.10g}"), "f") if isfinite(value) else DASH


def exact_text(figure: Figure) -> str:
    """Print a figure, and its interval where it has one, with all digits and without its unit."""
    value = exact_number(figure.value)
    if figure.low is None or figure.high is None:
        return value
    return f"{value} ({exact_number(figure.low)} to {exact_number(figure.high)})"


def is_short(plan: Plan) -> bool:
    """Tell whether a plan is shorter than a day, so that figures for a day would say too much."""
    return plan.days < SHORT_DAYS


def span_words(plan: Plan) -> str:
    """Say over which time figures are told: "a day", "in 4 h" where the plan is shorter than that."""
    return f"in {format_days(plan.days)}" if is_short(plan) else "a day"


def hours_in(hours_a_day: float, plan: Plan) -> float:
    """Give for how long something runs that runs so many hours a day [h]: a day, or in a shorter plan."""
    return min(hours_a_day, HOURS_PER_DAY) * (plan.days if is_short(plan) else 1.0)


def figure_text(figure: Figure | None) -> str:
    """Print a figure with its interval where it has one, without its unit."""
    if figure is None:
        return DASH
    if figure.low is None or figure.high is None:
        return number_text(figure.value, figure.unit)
    return format_plus_minus(figure.value, figure.low, figure.high)


def listed(names: Iterable[str]) -> str:
    """Write names in a row: "a, b and c"."""
    *most, last = tuple(names) or ("",)
    return f"{', '.join(most)} and {last}" if most else last


def gaps_words(not_known: Iterable[str], assumed: Iterable[str]) -> tuple[str, ...]:
    """Say which loads the totals are short of, and which they only assume."""
    missing, taken = tuple(not_known), tuple(assumed)
    said = []
    if missing:
        said.append(f"Not known, so the totals are too small: {listed(missing)}.")
    if taken:
        said.append(f"Rests on assumptions: {listed(taken)}.")
    return tuple(said)

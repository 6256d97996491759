"""Human words for every enum and the sentences that pages share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.measurement import MeasurementState, RunCause
from hearthload.domain.meter import DisplayRounding, PowerLoss
from hearthload.domain.plugs import PLUGS
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import DutyBasis, DutyNature, Enough, Lack
from hearthload.service import kind_words

KIND_WORDS: Final[Mapping[Kind, str]] = kind_words.KIND_WORDS

KIND_CHOICES: Final[Mapping[Kind, str]] = {
    Kind.REFRIGERATOR: "refrigerator: larder, medicine, with or without freezer",
    Kind.FREEZER: "freezer: chest or upright",
    Kind.CLIMATE: "heating, cooling, drying air: boiler, dehumidifier",
    Kind.ALWAYS_ON: "always on: router, alarm, clock",
    Kind.BY_THE_LOAD: "by the load: washing, drying, dishes, charging",
    Kind.LAMP_TIMER: "lamp or timer: lights, something used at night",
    Kind.EVENING_ELECTRONICS: "evening electronics: television corner, stereo",
    Kind.WORK_ELECTRONICS: "work-hours electronics: laptop and screen",
    Kind.KITCHEN: "kitchen, several times a day: kettle, toaster",
    Kind.PUMP: "pump: follows rain, well or cellar",
    Kind.NOT_SURE: "not sure: anything else",
}

ROLE_WORDS: Final[Mapping[Role, str]] = {
    Role.ESSENTIAL: "essential: must stay on",
    Role.WANTED: "wanted: on when there is enough",
    Role.OFF: "off in an outage",
}

STATE_WORDS: Final[Mapping[MeasurementState, str]] = {
    MeasurementState.PLANNED: "planned",
    MeasurementState.RUNNING: "running",
    MeasurementState.FINISHED: "finished",
    MeasurementState.SET_ASIDE: "set aside",
}

NOT_MEASURED = "not yet"
HARD_WIRED = "hard-wired"

CAUSE_WORDS: Final[Mapping[RunCause, str]] = {
    RunCause.START: "start",
    RunCause.RESET: "meter reset",
    RunCause.SWAP: "meter swapped",
}

RUN_STATE_WORDS: Final[Mapping[RunState, str]] = {
    RunState.RUNNING: "running",
    RunState.IDLE: "idle",
    RunState.HEATING: "defrost or heater",
}

CYCLING_WORDS: Final[Mapping[Cycling, str]] = {
    Cycling.NOT_KNOWN: "not sure, or does not apply",
    Cycling.ON_AND_OFF: "on and off",
    Cycling.FROST_FREE: "on and off, and defrosts by itself",
    Cycling.VARIABLE_SPEED: "at changing speed (inverter drive)",
}

NATURE_WORDS: Final[Mapping[DutyNature, str]] = {
    DutyNature.SHARE: "running {} of the time",
    DutyNature.WITHOUT_DEFROST: "its compressor running {} of the time",
    DutyNature.EQUIVALENT: "as if running {} of the time",
    DutyNature.MEAN_LOAD: "on average at {} of its highest watts",
}

POWER_LOSS_WORDS: Final[Mapping[PowerLoss, str]] = {
    PowerLoss.KEEPS: "keeps its counters",
    PowerLoss.RESETS: "starts again from zero",
    PowerLoss.UNKNOWN: "not sure",
}

ROUNDING_WORDS: Final[Mapping[DisplayRounding, str]] = {
    DisplayRounding.UNKNOWN: "not sure",
    DisplayRounding.TRUNCATES: "cuts the rest off",
    DisplayRounding.ROUNDS: "rounds to the nearest",
}

DUTY_BASIS_WORDS: Final[Mapping[DutyBasis, str]] = {
    DutyBasis.SPOTS: "watts read at the meter",
    DutyBasis.STATED: "the watts stated for it",
    DutyBasis.NAMEPLATE: "its nameplate watts",
}

CAUTION_HARD_WIRED = (
    "A hard-wired appliance is not for a plug-in meter. Enter what its nameplate says; opening it or "
    "measuring it is for a licensed electrician."
)
CAUTION_MEDICAL = (
    "Equipment that keeps someone alive or healthy needs the supplier's and the clinician's advice, and a "
    "fallback that needs no electricity. Do not interrupt it to plug in a meter."
)
CAUTION_METER_LIMIT = (
    "A meter carries no more than the weakest of its own rating, its plug and the socket. For loads that run "
    "three hours or more, keep to 80 % of that."
)
CAUTION_ESTIMATE = "Figures are estimates from your readings, not a guarantee."


def plug_words(key: str) -> str:
    """Give a plug's trade name with its amps, or "not sure"."""
    plug = PLUGS.get(key)
    if plug is None:
        return key
    if plug.current_a is None or "A" in plug.name.rsplit(", ", 1)[-1].split():
        return plug.name
    return f"{plug.name}, {plug.current_a:g} A"


def plug_choices() -> tuple[tuple[str, str], ...]:
    """Give every plug with its words, for a list to choose from."""
    return tuple((key, plug_words(key)) for key in PLUGS)


_LACK_WORDS: Final[Mapping[Lack, str]] = {
    Lack.TWO_READINGS: "wants two readings at least half a day apart",
    Lack.THREE_DAYS: "wants at least three days",
    Lack.TWO_WEEKS: "wants at least two weeks, for the weather",
    Lack.WEEKEND_DAY: "wants a Saturday or a Sunday",
    Lack.WEEKDAY: "wants a working day",
}


def lack_words(lack: Lack, enough: Enough) -> str:
    """Say what is still wanting, such as "± 14 %, the goal is ± 10 %"."""
    if lack is Lack.NARROWER:
        return f"± {enough.half_width * 100:.0f} %, the goal is ± {enough.target * 100:.0f} %"
    return _LACK_WORDS[lack]

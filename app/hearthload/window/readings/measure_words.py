"""Words of the measurement bar: where a measurement stands, what it says, what can be done with it now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import Final

from hearthload.domain.figures import (
    LARGEST_PLUS_MINUS,
    ends_as_printed,
    format_days,
    format_days_to_go,
    format_decimals,
    format_ends,
    format_number,
    format_percent,
)
from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.estimate.answers import Estimate, Interval, Lack
from hearthload.service.answers import MeasurementChoice
from hearthload.window.readings.entry_words import MONTHS, when_words
from hearthload.window.words import NATURE_WORDS, STATE_WORDS, lack_words


class Action(StrEnum):
    """What can be done with a measurement."""

    START = "start"
    PLAN = "plan"
    RESET = "reset"
    SWAP = "swap"
    FINISH = "finish"
    REOPEN = "reopen"
    TAKE_UP = "take_up"
    SET_ASIDE = "set_aside"
    DROP_PLAN = "drop_plan"
    DESCRIBE = "describe"
    JOIN = "join"
    PART = "part"


@dataclass(frozen=True, slots=True)
class ActionWords:
    """A button's label with its Alt key, and one sentence saying what it is for."""

    label: str
    purpose: str


ACTION_WORDS: Final = {
    Action.START: ActionWords("&Start measurement", "Plug a meter in and note what it shows at first."),
    Action.PLAN: ActionWords("&Plan measurement", "Note which meter comes to this appliance later."),
    Action.FINISH: ActionWords("Fi&nish measurement", "The meter is free for another appliance."),
    Action.REOPEN: ActionWords("Re&open", "Go on with this measurement on the same meter."),
    Action.TAKE_UP: ActionWords("Take &up again", "Use this measurement's readings again."),
    Action.RESET: ActionWords(
        "Meter was &reset", "The counters began again from zero; the measurement goes on."
    ),
    Action.SWAP: ActionWords("S&wap meter", "Another meter goes on from here; the measurement goes on."),
    Action.SET_ASIDE: ActionWords("Set as&ide", "Keep the readings but do not use them."),
    Action.JOIN: ActionWords(
        "&Join with the one before", "Let both measurements count together, as of one season."
    ),
    Action.PART: ActionWords("&Keep apart", "Let this measurement count by itself, as of its own season."),
    Action.DROP_PLAN: ActionWords("Re&move plan", "Forget that this measurement was planned."),
    Action.DESCRIBE: ActionWords(
        "Room and no&te", "Note how warm the room was, and anything worth remembering."
    ),
}


SELDOM: Final = frozenset({Action.SET_ASIDE, Action.DESCRIBE, Action.JOIN, Action.PART})
"""What is seldom done and stands back behind the rest."""


def possible_actions(
    state: MeasurementState | None,
    *,
    hard_wired: bool,
    running_elsewhere: bool,
    joins: tuple[Action, ...] = (),
) -> tuple[Action, ...]:
    """Give what can be done now, the likeliest first.

    `running_elsewhere`: another measurement is running. `joins`: what can be done about an earlier one.
    """
    if hard_wired and state is None:
        return ()
    again = () if running_elsewhere or hard_wired else (Action.START, Action.PLAN)
    match state:
        case MeasurementState.RUNNING:
            return (Action.FINISH, Action.RESET, Action.SWAP, Action.SET_ASIDE, Action.DESCRIBE, *joins)
        case MeasurementState.PLANNED:
            return (*again[:1], Action.DROP_PLAN)
        case MeasurementState.FINISHED:
            return (
                *(() if running_elsewhere else (Action.REOPEN,)),
                Action.SET_ASIDE,
                Action.DESCRIBE,
                *again,
                *joins,
            )
        case MeasurementState.SET_ASIDE:
            return (Action.TAKE_UP, *again)
        case _:
            return again


def standing_words(measurement: Measurement, meter_name: str, readings: int, now: datetime) -> str:
    """Say where a measurement stands: "Running since yesterday 07:30, on Meter A · 8 readings"."""
    count = "no reading yet" if readings == 0 else "1 reading" if readings == 1 else f"{readings} readings"
    on = f" on {meter_name}" if meter_name else ""
    match measurement.state:
        case MeasurementState.PLANNED:
            return f"Planned{on}" if meter_name else "Planned, meter not yet chosen"
        case MeasurementState.RUNNING:
            since = f" since {when_words(measurement.started_at, now)}" if measurement.started_at else ""
            return f"Running{since}{',' if since and on else ''}{on}  ·  {count}"
        case MeasurementState.FINISHED:
            at = f" {when_words(measurement.finished_at, now)}" if measurement.finished_at else ""
            return f"Finished{at}{on}  ·  {count}"
        case _:
            return f"Set aside{on}  ·  {count}, kept but not used"


def estimate_words(estimate: Estimate | None, *, joined: bool = False) -> str:
    """Say what the readings give so far."""
    if estimate is None or estimate.daily_kwh is None:
        return ""
    said = [f"{format_ends(estimate.daily_kwh, 'kWh')} a day"]
    if estimate.one_day is not None and not estimate.preliminary:
        low, high = estimate.one_day.low_kwh, estimate.one_day.high_kwh
        said.append(f"on single days {format_number(low, 2)} to {format_number(high, 2)} kWh")
    if estimate.per_use is not None and not estimate.per_use.at_most:
        said.append(f"{format_ends(estimate.per_use.energy_kwh, 'kWh')} a use")
    if estimate.duty_cycle is not None:
        duty = estimate.duty_cycle
        said.append(NATURE_WORDS[duty.nature].format(format_percent(duty.share.value)))
    said.append(f"measured {format_days(estimate.days)}")
    words = ", ".join(said)
    remarks = [
        *(["with the measurement before"] if joined else []),
        *(["preliminary"] if estimate.preliminary else []),
    ]
    return f"{words} ({', '.join(remarks)})" if remarks else words


def season_words(estimate: Estimate | None) -> str:
    """Say how far another season may be from well measured weeks, which the figure itself does not hold."""
    if estimate is None or estimate.season is None or not estimate.enough.well_measured:
        return ""
    low, high = (format_number(end, 2) for end in estimate.season)
    return f"These weeks only: in another season it may take {low} to {high} times as much."


def enough_words(estimate: Estimate | None) -> str:
    """Say whether it is time to finish: "known to ± 14 %, the goal is ± 10 %: about 3 (2 to 5) days more"."""
    if estimate is None or estimate.daily_kwh is None:
        return "Two readings, half a day apart or more, give the first average."
    enough, daily = estimate.enough, estimate.daily_kwh
    if enough.well_measured:
        known = _known_words(daily, enough.half_width, format_percent(enough.half_width))
        goal = _goal_words(enough.target, format_percent(enough.target))
        return f"Well measured: {known}, the goal is {goal}."
    width, target = _two_percents(enough.half_width, enough.target)
    close = Lack.NARROWER not in enough.lacks
    goal = "which would do" if close else f"the goal is {_goal_words(enough.target, target)}"
    narrow = f"{_known_words(daily, enough.half_width, width)}, {goal}"
    reasons = [narrow, *(lack_words(lack, enough) for lack in enough.lacks if lack is not Lack.NARROWER)]
    more = "" if enough.days_to_go is None else f"; {format_days_to_go(enough.days_to_go)} more"
    return f"Not yet well measured: {'; '.join(reasons)}{more}."


def _known_words(daily: Interval, half_width: float, printed: str) -> str:
    """Say how well it is known: with one ± while that is narrow, else by its ends, which no ± fits."""
    if half_width <= LARGEST_PLUS_MINUS:
        return f"known to ± {printed}"
    _, low, high = ends_as_printed(daily)
    return f"known from {low} to {high} kWh a day"


def _goal_words(target: float, printed: str) -> str:
    return f"{'± ' if target <= LARGEST_PLUS_MINUS else 'within '}{printed}"


def choice_words(choice: MeasurementChoice) -> str:
    """Name one of several measurements: its days, its state, its meter."""
    first, last = choice.first_day, choice.last_day
    said = [STATE_WORDS[choice.measurement.state], choice.meter_name]
    if choice.daily_kwh is not None:
        said.append(f"{format_ends(choice.daily_kwh, 'kWh')} a day")
    if choice.room_temperature_c is not None:
        said.append(f"at {format_decimals(choice.room_temperature_c, 0)} °C")
    if first is not None and last is not None:
        said.insert(0, _day(first) if first == last else f"{_day(first)} to {_day(last)}")
    return "  ·  ".join(part for part in said if part)


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def _two_percents(width: float, target: float) -> tuple[str, str]:
    """Print a half-width and its target with as many digits as keep them apart."""
    if format_percent(width) != format_percent(target):
        return format_percent(width), format_percent(target)
    return f"{format_decimals(100.0 * width, 1)} %", format_percent(target)


def joins(choices: Sequence[MeasurementChoice], shown: MeasurementChoice | None) -> tuple[Action, ...]:
    """Give whether the shown measurement can be joined to an earlier one, or kept apart from it again."""
    if shown is None or shown.measurement.started_at is None:
        return ()
    if shown.measurement.joined:
        return (Action.PART,)
    usable = {MeasurementState.RUNNING, MeasurementState.FINISHED}
    earlier = (
        choice.measurement.started_at is not None
        and choice.measurement.started_at < shown.measurement.started_at
        and choice.measurement.state in usable
        for choice in choices
    )
    return (Action.JOIN,) if any(earlier) else ()

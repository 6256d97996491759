"""Doubts in plain words: what is odd, how odd, and what is likely behind it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime

from hearthload.domain.doubt import Doubt, DoubtCode, Likely
from hearthload.domain.figures import format_hours, format_number, format_percent, format_watts
from hearthload.service.sentences import said_moment, said_when
from hearthload.service.slips import hours_text

SELDOM = 1e-4
"""Chances below this are told as "hardly ever"."""


def doubt_sentence(doubt: Doubt, taken_at: datetime | None, now: datetime | None = None) -> str:
    """Say a doubt in one or two sentences; `taken_at` is when the reading concerned was taken.

    With `now` that is said as one says it, "yesterday 07:30", else for good, "2026-11-24 07:30".
    """
    when = ""
    if taken_at is not None:
        when = f"{said_moment(taken_at) if now is None else said_when(taken_at, now)}: "
    return when + _SENTENCES[doubt.code](doubt)


def how_odd(tail: float | None) -> str:
    """Say a chance as one in so many series, empty where it was not tested."""
    if tail is None:
        return ""
    if tail < SELDOM:
        return "By chance alone this would hardly ever happen."
    return f"The usual ups and downs do as much about once in {format_number(1.0 / tail, 1)}."


def _kwh(value: float) -> str:
    return f"{format_number(value, 3)} kWh"


def _counter(value: float) -> str:
    """Say what a counter shows, with all digits it has."""
    return f"{value:.3f}".rstrip("0").rstrip(".") + " kWh"


_BACK = {
    Likely.RESET: "it looks as if the meter was reset; the count goes on from there",
    Likely.ROLL_OVER: "it looks as if the counter went past its last digit and began again",
    Likely.TYPO: "it looks like a slip of the finger; the estimate goes without this reading",
    Likely.HELD: "it is held back until the next reading tells whether it was a reset, a swap or a slip",
}


def _back(doubt: Doubt) -> str:
    before, after = doubt.values["before_kwh"], doubt.values["after_kwh"]
    fell = f"the counter fell from {_counter(before)} to {_counter(after)}"
    return f"{fell}: {_BACK.get(doubt.likely, 'look at it')}."


def _impossible(doubt: Doubt) -> str:
    average, limit = doubt.values["average_w"], doubt.values["limit_w"]
    return (
        f"{format_watts(average)} on average since the reading before, and no more than "
        f"{format_watts(limit)} can pass. A digit, a decimal mark or the time is wrong."
        f"{_fitting(doubt)}"
    )


_BOUNDS: Mapping[DoubtCode, str] = {
    DoubtCode.ABOVE_HIGHEST: "the highest watts seen",
    DoubtCode.ABOVE_NAMEPLATE: "its nameplate",
    DoubtCode.ABOVE_RUNNING: "its watts while running",
}


def _above(doubt: Doubt) -> str:
    average, limit = doubt.values["average_w"], doubt.values["limit_w"]
    said = (
        f"{format_watts(average)} on average since the reading before is above {_BOUNDS[doubt.code]}, "
        f"{format_watts(limit)}. One of the two is a slip."
    )
    return said + _fitting(doubt)


def _much_for_kind(doubt: Doubt) -> str:
    average = format_watts(doubt.values["average_w"])
    said = f"{average} on average since the reading before is far more than an appliance of its kind takes."
    return said + (_fitting(doubt) or " Is a digit or the decimal mark wrong?")


def _fitting(doubt: Doubt) -> str:
    """Say what would fit, where something would."""
    if doubt.suggested_kwh is None:
        return ""
    return f" {_counter(doubt.suggested_kwh)} fits, {_SLIPS[doubt.likely]}."


def _hours(doubt: Doubt) -> str:
    clock, counted = doubt.values["clock_h"], doubt.values["counted_h"]
    likely = (
        "a power cut, or a wrong time"
        if doubt.likely is Likely.POWER_CUT
        else "the time or a digit of the hours is wrong"
    )
    said = (
        f"{format_hours(clock)} went by on the clock and the meter counted {format_hours(counted)}: {likely}."
    )
    if doubt.suggested_h is not None:
        said += f" {hours_text(doubt.suggested_h)} fits the clock."
    slipped = doubt.suggested_h is not None and doubt.likely is not Likely.POWER_CUT
    if slipped or "by_clock_kwh" not in doubt.values:
        return said
    by_clock, by_hours = doubt.values["by_clock_kwh"], doubt.values["by_hours_kwh"]
    return f"{said} By the clock it took {_kwh(by_clock)} a day, by the meter's hours {_kwh(by_hours)}."


_SLIPS: Mapping[Likely, str] = {
    Likely.DECIMAL_SLIP: "with the decimal mark moved",
    Likely.SWAPPED_DIGITS: "with two digits exchanged",
    Likely.WRONG_DIGIT: "with one digit changed",
    Likely.HOURS_AS_ENERGY: "if hours and kWh were exchanged",
}


def _odd_reading(doubt: Doubt) -> str:
    expected = _counter(round(doubt.values["expected_kwh"], 2))
    return f"about {expected} would fit the readings around it. {how_odd(doubt.tail)}{_fitting(doubt)}"


def _odd_span(doubt: Doubt) -> str:
    gained, expected = doubt.values["gained_kwh"], doubt.values["expected_kwh"]
    return (
        f"{_kwh(gained)} since the reading before; usually about {_kwh(max(expected, 0.0))} in that time. "
        f"{how_odd(doubt.tail)} An unusual day, or a slip?{_fitting(doubt)}"
    )


def _course(doubt: Doubt) -> str:
    step = doubt.values["step_kwh"]
    way = "more" if step > 0.0 else "less"
    begins = (
        "from here on it takes" if doubt.code is DoubtCode.CHANGE else "over the whole time it came to take"
    )
    asks = "Did the room, the setting or the use change?"
    return f"{begins} {_kwh(abs(step))} a day {way}. {how_odd(doubt.tail)} {asks}"


def _implausible(doubt: Doubt) -> str:
    daily, low, high = (doubt.values[name] for name in ("daily_kwh", "low_kwh", "high_kwh"))
    return (
        f"{_kwh(daily)} a day is outside what this kind of appliance takes, {_kwh(low)} to {_kwh(high)}. "
        "Is it of another kind, or is there more than one thing on the meter?"
    )


def _duty(doubt: Doubt) -> str:
    share = format_percent(doubt.values["duty"])
    if doubt.code is DoubtCode.DUTY_HIGH:
        return (
            f"it runs {share} of the time. A cold appliance needs a look then: its seal, its frost, the room."
        )
    return f"it runs only {share} of the time. Are the running watts right, and was it switched on?"


def _varies(doubt: Doubt) -> str:
    del doubt
    return "it varies more from day to day than is usual for its kind. Another kind may suit it better."


_SENTENCES: Mapping[DoubtCode, Callable[[Doubt], str]] = {
    DoubtCode.COUNTER_BACK: _back,
    DoubtCode.IMPOSSIBLE_POWER: _impossible,
    DoubtCode.ABOVE_HIGHEST: _above,
    DoubtCode.ABOVE_NAMEPLATE: _above,
    DoubtCode.ABOVE_RUNNING: _above,
    DoubtCode.MUCH_FOR_KIND: _much_for_kind,
    DoubtCode.HOURS_AGAINST_CLOCK: _hours,
    DoubtCode.ODD_READING: _odd_reading,
    DoubtCode.ODD_SPAN: _odd_span,
    DoubtCode.CHANGE: _course,
    DoubtCode.DRIFT: _course,
    DoubtCode.IMPLAUSIBLE_DAY: _implausible,
    DoubtCode.DUTY_HIGH: _duty,
    DoubtCode.DUTY_LOW: _duty,
    DoubtCode.VARIES_MUCH: _varies,
}

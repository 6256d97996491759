"""Doubts: each kind of them from a series made to raise it, in figures that can be worked out by hand."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta

import pytest

from hearthload.domain.appliance import Cycling, Kind
from hearthload.domain.doubt import Doubt, DoubtCode, Likely
from hearthload.domain.reading import RunState
from hearthload.estimate.api import estimate
from hearthload.estimate.counters import LARGEST_POWER_KW, settled
from hearthload.estimate.doubts import Limits, find_doubts
from hearthload.estimate.plausible import PLAUSIBLE_KWH
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.service.doubt_words import doubt_sentence, how_odd
from tests.estimate.measurements import MONDAY, every_morning, read, series_of

FRIDGE = Kind.REFRIGERATOR
ALIKE = [20.0 + day for day in range(12)]
STEADY = {Kind.REFRIGERATOR, Kind.FREEZER, Kind.ALWAYS_ON, Kind.LAMP_TIMER}


@dataclass(frozen=True)
class Case:
    """A series, what the way carries, and what the doubt about it must hold."""

    series: Series
    reading: int | None
    likely: Likely
    limits: Limits | None = None


def doubts(series: Series, limits: Limits | None = None) -> tuple[Doubt, ...]:
    return find_doubts(series, estimate(settled(series)[0]), limits)


def fridge(energies_kwh: Sequence[float]) -> Series:
    return every_morning(FRIDGE, energies_kwh)


def changed(at: int, excess_kwh: float) -> Series:
    return fridge([*ALIKE[:at], round(ALIKE[at] + excess_kwh, 2), *ALIKE[at + 1 :]])


def boiler(energies_kwh: Sequence[float]) -> Series:
    return replace(every_morning(Kind.CLIMATE, energies_kwh), nameplate_w=130.0)


def counted(*readings: tuple[float, float, float]) -> Series:
    return Series(FRIDGE, (RunSeries(tuple(read(*reading) for reading in readings)),))


def running_all(watts: float, daily_kwh: float) -> Series:
    """Give a cold appliance of so many watts while running, known from five spots."""
    snapshots = [
        replace(read(day, round(daily_kwh * day, 2)), power_w=watts, state=RunState.RUNNING)
        for day in range(10)
    ]
    run = RunSeries(tuple(snapshots))
    return Series(FRIDGE, (run,), cycling=Cycling.ON_AND_OFF)


def cumulated(steps: Sequence[float]) -> list[float]:
    return [round(20.0 + sum(steps[:day]), 2) for day in range(len(steps) + 1)]


MADE: dict[DoubtCode, Callable[[], Case]] = {
    DoubtCode.COUNTER_BACK: lambda: Case(fridge([10, 11, 1.2, 13, 14]), 2, Likely.TYPO),
    DoubtCode.IMPOSSIBLE_POWER: lambda: Case(fridge([0, 1, 179]), 2, Likely.DECIMAL_SLIP),
    DoubtCode.ABOVE_HIGHEST: lambda: Case(fridge([0, 1, 5]), 2, Likely.TYPO, Limits(3.68, 100.0)),
    DoubtCode.ABOVE_NAMEPLATE: lambda: Case(boiler([5.7, 6.05, 64.0]), 2, Likely.DECIMAL_SLIP),
    DoubtCode.ABOVE_RUNNING: lambda: Case(replace(fridge([0, 1, 5]), running_w=100.0), 2, Likely.TYPO),
    DoubtCode.MUCH_FOR_KIND: lambda: Case(
        every_morning(Kind.WORK_ELECTRONICS, [5.0, 6.0, 73.0]), 2, Likely.DECIMAL_SLIP
    ),
    DoubtCode.HOURS_AGAINST_CLOCK: lambda: Case(
        counted((0, 0, 0), (1, 1, 24), (2, 2, 44)), 2, Likely.POWER_CUT
    ),
    DoubtCode.ODD_READING: lambda: Case(changed(5, 0.7), 5, Likely.WRONG_DIGIT),
    DoubtCode.ODD_SPAN: lambda: Case(
        fridge([*ALIKE[:6], *(kwh + 1.3 for kwh in ALIKE[6:])]), 6, Likely.NOT_KNOWN
    ),
    DoubtCode.CHANGE: lambda: Case(fridge(cumulated([1.0] * 7 + [1.15] * 7)), 7, Likely.NOT_KNOWN),
    DoubtCode.DRIFT: lambda: Case(
        fridge(cumulated([1.0 + 0.035 * day for day in range(21)])), None, Likely.NOT_KNOWN
    ),
    DoubtCode.IMPLAUSIBLE_DAY: lambda: Case(
        fridge([40.0 * day for day in range(8)]), None, Likely.OTHER_KIND
    ),
    DoubtCode.DUTY_HIGH: lambda: Case(running_all(45.0, 1.08), None, Likely.NOT_KNOWN),
    DoubtCode.DUTY_LOW: lambda: Case(running_all(1000.0, 0.6), None, Likely.NOT_KNOWN),
    DoubtCode.VARIES_MUCH: lambda: Case(
        fridge(cumulated([0.2, 3.0, 0.4, 2.2, 0.1, 1.9])), None, Likely.OTHER_KIND
    ),
}


@pytest.mark.parametrize("code", DoubtCode)
def test_each_can_be_raised_and_is_worded(code: DoubtCode) -> None:
    case = MADE[code]()
    (doubt,) = (found for found in doubts(case.series, case.limits) if found.code is code)
    assert (doubt.reading, doubt.likely) == (case.reading, case.likely)
    for taken_at in (None, MONDAY):
        sentence = doubt_sentence(doubt, taken_at)
        assert sentence.endswith((".", "?"))
        assert sentence.startswith("2026-03-02 07:00: ") is (taken_at is not None)
        assert not re.search(r"\bnan\b|\binf\b|None|_|\n|\d{12}", sentence), sentence


@pytest.mark.parametrize("what", [Likely.TYPO, Likely.RESET, Likely.ROLL_OVER, Likely.HELD])
def test_a_counter_that_fell_is_worded_by_what_it_was(what: Likely) -> None:
    energies = {
        Likely.TYPO: [10, 11, 1.2, 13],
        Likely.RESET: [10, 11, 0.2, 1.2],
        Likely.ROLL_OVER: [997, 998, 0.2, 1.2],
        Likely.HELD: [10, 11, 12, 1.2],
    }[what]
    (doubt,) = (found for found in doubts(fridge(energies)) if found.code is DoubtCode.COUNTER_BACK)
    assert doubt.likely is what
    assert doubt.left_out is (what in {Likely.TYPO, Likely.HELD})
    said = doubt_sentence(doubt, None)
    word = {Likely.TYPO: "slip", Likely.RESET: "reset;", Likely.ROLL_OVER: "last digit", Likely.HELD: "held"}
    assert word[what] in said
    assert f"from {doubt.values['before_kwh']:g} kWh to {doubt.values['after_kwh']:g} kWh" in said


def test_the_least_that_two_readings_allow_is_held_against_what_is_carried() -> None:
    # 24 h at 3.68 kW are 88.32 kWh; a difference of two displays is known to a step of 0.01.
    limits = Limits(3.68)
    assert not power(fridge([0.0, 88.33]), limits)
    (doubt,) = power(fridge([0.0, 88.34]), limits)
    assert doubt.values["average_w"] == pytest.approx(88_330 / 24)
    assert doubt.values["limit_w"] == pytest.approx(3680.0)
    # Without limits of its own no plug carries more than 32 A at 230 V.
    assert pytest.approx(0.032 * 230) == LARGEST_POWER_KW
    assert not power(fridge([0.0, 24 * 7.36]), None)
    assert power(fridge([0.0, 24 * 7.36 + 0.02]), None)


def power(series: Series, limits: Limits | None) -> list[Doubt]:
    return [doubt for doubt in doubts(series, limits) if doubt.code is DoubtCode.IMPOSSIBLE_POWER]


@pytest.mark.parametrize(("energy", "told"), [(2.769, False), (2.771, True)])
def test_above_the_highest_watts_seen_by_more_than_a_meter_errs(energy: float, told: bool) -> None:
    # 1.15 times 100 W for 24 h are 2.76 kWh, and a step of 0.01 more may be the display.
    found = doubts(fridge([0.0, energy]), Limits(3.68, 100.0))
    assert (DoubtCode.ABOVE_HIGHEST in {doubt.code for doubt in found}) is told


# After 24 h the hours agree within a minute's step, 0.10 h and 0.0005 · 24 h: 0.1287 h.
@pytest.mark.parametrize(
    ("hours", "likely"),
    [
        (24.0, None),
        (23.88, None),
        (23.86, Likely.POWER_CUT),
        (24.12, None),
        (24.14, Likely.WRONG_TIME),
        (0.5, Likely.POWER_CUT),
        (0.0, Likely.WRONG_TIME),
    ],
)
def test_hours_against_the_clock(hours: float, likely: Likely | None) -> None:
    found = doubts(counted((0, 0, 100), (1, 1, 100 + hours)))
    assert [doubt.likely for doubt in found] == ([] if likely is None else [likely])


@pytest.mark.parametrize(
    ("minutes", "rounded"), [((0, 30, 0, 30), True), ((0, 30, 0, 31), False), ((0, 30, 0), False)]
)
def test_somebody_who_types_half_hours_is_not_asked_about_minutes(
    minutes: tuple[int, ...], rounded: bool
) -> None:
    # Each morning 0.45 h before or after the half hour that was typed: less than 30/60 + 0.03 h.
    snapshots = [
        Snapshot(MONDAY + timedelta(days=day, minutes=minute), float(day), 24.0 * day + (minute > 0) * 0.05)
        for day, minute in enumerate(minutes)
    ]
    codes = {doubt.code for doubt in doubts(Series(FRIDGE, (RunSeries(tuple(snapshots)),)))}
    assert (DoubtCode.HOURS_AGAINST_CLOCK not in codes) is rounded


def test_both_averages_are_told_when_they_differ_by_more_than_a_fiftieth() -> None:
    (close,) = doubts(counted((0, 0, 0), (1, 1, 23.6)))
    assert close.values == {"clock_h": 24.0, "counted_h": 23.6}
    (apart,) = doubts(counted((0, 0, 0), (1, 1, 20.0)))
    assert apart.values["by_clock_kwh"] == pytest.approx(1.0)
    assert apart.values["by_hours_kwh"] == pytest.approx(1.2)
    said = doubt_sentence(apart, None)
    for figure in ("24 h", "20 h", "1.00 kWh", "1.20 kWh"):
        assert figure in said
    assert "kWh" not in doubt_sentence(close, None)


def test_an_odd_reading_says_what_would_fit_and_what_was_meant() -> None:
    (doubt,) = (found for found in doubts(changed(5, 0.7)) if found.code is DoubtCode.ODD_READING)
    assert doubt.values["expected_kwh"] == pytest.approx(25.0, abs=1e-9)
    assert doubt.suggested_kwh == pytest.approx(25.0, abs=0.11)
    said = doubt_sentence(doubt, None)
    assert said.startswith("about 25 kWh would fit")
    assert "one digit changed" in said


def test_digits_exchanged_are_told_apart_from_one_wrong_digit() -> None:
    energies = [round(0.10 + 1.02 * day, 2) for day in range(13)]
    energies[5] = 5.02  # for 5.20
    (doubt,) = (found for found in doubts(fridge(energies)) if found.code is DoubtCode.ODD_READING)
    assert (doubt.likely, doubt.suggested_kwh) == (Likely.SWAPPED_DIGITS, 5.2)
    assert "5.2 kWh fits, with two digits exchanged" in doubt_sentence(doubt, None)


@pytest.mark.parametrize(("tail", "words"), [(0.002, "about once in 500"), (5e-5, "hardly ever"), (None, "")])
def test_how_odd_it_is(tail: float | None, words: str) -> None:
    assert words in how_odd(tail)
    assert bool(how_odd(tail)) is bool(words)


@pytest.mark.parametrize("kind", Kind)
def test_only_what_is_steady_is_tested_for_oddness(kind: Kind) -> None:
    typed = every_morning(kind, [*ALIKE[:5], 25.7, *ALIKE[6:]])
    codes = {doubt.code for doubt in doubts(typed)}
    assert (DoubtCode.ODD_READING in codes) is (kind in STEADY)


@pytest.mark.parametrize("kind", Kind)
def test_a_plausible_day_lies_within_the_band_of_its_kind(kind: Kind) -> None:
    low, high = PLAUSIBLE_KWH[kind]
    assert low < 1e-9 or low < high
    far = every_morning(kind, [3.0 * high * day for day in range(20)])
    (doubt,) = (found for found in doubts(far) if found.code is DoubtCode.IMPLAUSIBLE_DAY)
    assert (doubt.values["low_kwh"], doubt.values["high_kwh"]) == (low, high)
    middle = (low * high) ** 0.5 if low else 0.3 * high
    near = every_morning(kind, [middle * day for day in range(20)])
    assert DoubtCode.IMPLAUSIBLE_DAY not in {found.code for found in doubts(near)}


def test_nothing_is_said_of_the_whole_while_it_is_preliminary() -> None:
    assert doubts(fridge([0.0, 29.0])) == ()
    assert DoubtCode.IMPLAUSIBLE_DAY in {doubt.code for doubt in doubts(fridge([0.0, 40.0, 80.0, 120.0]))}


@pytest.mark.parametrize(("watts", "daily_kwh"), [(100.0, 1.0), (90.0, 0.7), (50.0, 0.9), (45.0, 0.98)])
def test_an_ordinary_share_of_time_is_not_doubted(watts: float, daily_kwh: float) -> None:
    assert doubts(running_all(watts, daily_kwh)) == ()


def test_shares_are_asked_about_for_cold_appliances_only() -> None:
    wide = replace(running_all(45.0, 1.08), kind=Kind.NOT_SURE)
    assert not {doubt.code for doubt in doubts(wide)} & {DoubtCode.DUTY_HIGH, DoubtCode.DUTY_LOW}


def test_readings_are_numbered_run_after_run_and_told_in_order_of_time() -> None:
    second = [(4, 0.0), (5, 1.0), (6, 0.4), (7, 3.0), (8, 400.0), (9, 401.0)]
    series = series_of(Kind.NOT_SURE, [(0, 5.0), (1, 6.0), (2, 7.0)], second)
    found = [(doubt.reading, doubt.code) for doubt in doubts(series) if doubt.reading is not None]
    assert found == [(5, DoubtCode.COUNTER_BACK), (7, DoubtCode.IMPOSSIBLE_POWER)]


def test_each_doubt_is_told_once_of_a_reading() -> None:
    for case in (made() for made in MADE.values()):
        told = [(doubt.reading, doubt.code) for doubt in doubts(case.series, case.limits)]
        assert len(told) == len(set(told))


def test_what_is_not_odd_raises_nothing() -> None:
    assert doubts(fridge(ALIKE)) == ()
    assert doubts(fridge([])) == ()
    assert doubts(fridge([20.0])) == ()
    assert doubts(Series(FRIDGE, (RunSeries((Snapshot(MONDAY, 1.0, 3.0),)),))) == ()


def test_a_tenfold_slip_of_what_is_not_steady_is_doubted_with_what_was_meant() -> None:
    # 57.95 kWh in a day are 2414 W, and the nameplate says 130 W.
    (doubt,) = (found for found in doubts(boiler([5.7, 6.05, 64.0])) if found.reading is not None)
    assert (doubt.code, doubt.reading, doubt.suggested_kwh) == (DoubtCode.ABOVE_NAMEPLATE, 2, 6.4)
    assert doubt_sentence(doubt, None).endswith("6.4 kWh fits, with the decimal mark moved.")
    assert not [found for found in doubts(boiler([5.7, 6.05, 9.8])) if found.reading is not None]


@pytest.mark.parametrize(("typed", "code"), [(37.0, DoubtCode.ODD_SPAN), (320.0, DoubtCode.IMPOSSIBLE_POWER)])
def test_the_latest_reading_is_doubted_with_what_was_meant(typed: float, code: DoubtCode) -> None:
    # 32.0 is meant, after 31.0: one digit wrong, the mark moved (289 kWh in a day are 12 kW).
    (doubt,) = (found for found in doubts(fridge([*ALIKE, typed])) if found.reading == 12)
    assert (doubt.code, doubt.suggested_kwh) == (code, 32.0)


def test_an_odd_day_before_others_is_no_slip() -> None:
    later = fridge([*ALIKE[:6], *(kwh + 7.0 for kwh in ALIKE[6:])])
    (doubt,) = (found for found in doubts(later) if found.code is DoubtCode.ODD_SPAN)
    assert (doubt.likely, doubt.suggested_kwh) == (Likely.NOT_KNOWN, None)


def test_one_slip_is_one_doubt() -> None:
    # Too low by 0.9 kWh: the span after it holds 1.9 kWh, 79 W on average and above 1.15·60 W.
    found = doubts(changed(5, -0.9), Limits(3.68, 60.0))
    assert [(doubt.code, doubt.reading) for doubt in found if doubt.reading is not None] == [
        (DoubtCode.ODD_READING, 5)
    ]


@pytest.mark.parametrize(("typed_h", "meant_h"), [(4800.0, 48.0), (84.0, 48.0), (2880.0, 48.0), (43.5, None)])
def test_hours_that_were_meant_are_offered_and_told_once(typed_h: float, meant_h: float | None) -> None:
    found = doubts(counted((0, 0, 0), (1, 1, 24), (2, 2, typed_h), (3, 3, 72)))
    (doubt,) = (doubt for doubt in found if doubt.code is DoubtCode.HOURS_AGAINST_CLOCK)
    assert (doubt.reading, doubt.suggested_h) == (2, meant_h)
    said = doubt_sentence(doubt, None)
    # What was slipped says nothing about a day; what was not is told by both averages.
    assert said.endswith("48:00 fits the clock.") is (meant_h is not None)
    assert ("by the meter's hours" in said) is (meant_h is None)

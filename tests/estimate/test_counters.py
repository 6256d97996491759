"""Counters that went back: a reset, a roll-over or a slip, and what is left to reckon with."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.counters import Fall, settled
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import ordered
from tests.estimate.measurements import every_morning, read, run_of, series_of

FRIDGE = Kind.REFRIGERATOR


def left(series: Series) -> list[list[float]]:
    """Give the counters that are left, run by run."""
    return [[snapshot.energy_kwh for snapshot in run.snapshots] for run in series.runs]


def mornings(*energies_kwh: float) -> tuple[Series, tuple[Fall, ...]]:
    return settled(every_morning(FRIDGE, energies_kwh))


@pytest.mark.parametrize(
    ("energies", "what", "about", "runs"),
    [
        pytest.param([10, 11, 1.2, 13, 14], "typo", 1.2, [[10, 11, 13, 14]], id="one too low"),
        pytest.param([10, 11, 120, 13, 14], "typo", 120, [[10, 11, 13, 14]], id="one too high"),
        pytest.param([15, 11, 12, 13], "typo", 15, [[11, 12, 13]], id="the first too high"),
        pytest.param([10, 11, 21, 13], "typo", 21, [[10, 11, 13]], id="the last but one too high"),
        pytest.param([10, 11, 12, 0.5, 1.5], "reset", 0.5, [[10, 11, 12], [0.5, 1.5]], id="set to zero"),
        pytest.param([10, 0.5, 1.5], "reset", 0.5, [[10], [0.5, 1.5]], id="set to zero after the first"),
        pytest.param(
            [9997, 9998.5, 0.4, 1.9], "roll_over", 0.4, [[9997, 9998.5], [0.4, 1.9]], id="past all nines"
        ),
        pytest.param([998, 999, 0.4], "roll_over", 0.4, [[998, 999], [0.4]], id="past all nines at last"),
        pytest.param([10, 11, 12, 1.3], "held", 1.3, [[10, 11, 12]], id="the last, nobody can tell"),
        pytest.param([10, 11, 12, 11.5], "held", 11.5, [[10, 11, 12]], id="the last, a little back"),
    ],
)
def test_told_apart_by_what_comes_after(
    energies: list[float], what: str, about: float, runs: list[list[float]]
) -> None:
    clean, (fall,) = mornings(*energies)
    assert (fall.what, fall.reading.energy_kwh) == (what, about)
    assert left(clean) == runs
    at = next(at for at in range(1, len(energies)) if energies[at] < energies[at - 1])
    assert (fall.before_kwh, fall.after_kwh) == (energies[at - 1], energies[at])


def test_what_only_rises_is_left_as_it_is() -> None:
    series = every_morning(FRIDGE, [10, 11, 11, 13])
    clean, found = settled(series)
    assert clean is series
    assert found == ()


@pytest.mark.parametrize(("second", "fell"), [(9.5, False), (9.49, True)])
def test_half_a_step_of_the_display_is_no_fall(second: float, fell: bool) -> None:
    _, found = settled(every_morning(FRIDGE, [10.0, second, 11.0], step_kwh=1.0))
    assert bool(found) is fell


def test_the_next_reading_tells_what_was_held() -> None:
    assert [fall.what for fall in mornings(10, 11, 12, 1.3, 2.3)[1]] == ["reset"]
    assert [fall.what for fall in mornings(10, 11, 12, 1.3, 14)[1]] == ["typo"]
    clean, _ = mornings(10, 11, 12, 1.3)
    assert clean == every_morning(FRIDGE, [10, 11, 12])


def test_two_falls_of_one_run() -> None:
    clean, found = mornings(10, 11, 1.2, 13, 14, 0.3, 1.3)
    assert [(fall.what, fall.reading.energy_kwh) for fall in found] == [("typo", 1.2), ("reset", 0.3)]
    assert left(clean) == [[10, 11, 13, 14], [0.3, 1.3]]


def with_hours(*readings: tuple[float, float, float]) -> Series:
    """Give one run of days, displayed energy and displayed hours."""
    return Series(FRIDGE, (RunSeries(tuple(read(*reading) for reading in readings)),))


BEFORE = ((0.0, 10.0, 100.0), (1.0, 11.0, 124.0), (2.0, 12.0, 148.0))


@pytest.mark.parametrize(
    ("last", "what"),
    [
        pytest.param((3.0, 0.4, 9.0), "reset", id="both counters fell"),
        pytest.param((3.0, 0.4, 172.0), "held", id="the hours ran on"),
        pytest.param((3.0, 9.9, 1.0), "held", id="no circuit carries 9.9 kWh in an hour"),
        pytest.param((3.0, 7.3, 1.0), "reset", id="7.3 kWh in an hour can be"),
        pytest.param((3.0, 0.4, 24.2), "held", id="more hours than went by"),
        pytest.param((3.0, 0.4, 24.05), "reset", id="all the hours that went by"),
    ],
)
def test_hours_that_fell_too_tell_at_once(last: tuple[float, float, float], what: str) -> None:
    _, (fall,) = settled(with_hours(*BEFORE, last))
    assert fall.what == what


def test_only_the_run_that_began_at_an_exact_zero_goes_on_as_one() -> None:
    run = replace(run_of(list(enumerate([0.0, 1.0, 2.0, 0.4, 1.4]))), exact_start=True)
    clean, _ = settled(Series(FRIDGE, (run,)))
    assert [part.exact_start for part in clean.runs] == [True, False]


def test_other_runs_and_what_is_noted_stay() -> None:
    series = replace(series_of(FRIDGE, [(0, 5.0), (1, 6.0)], [(2, 3.0), (3, 1.0), (4, 2.0)]), target=0.2)
    clean, (fall,) = settled(series)
    assert fall.what == "reset"
    assert clean.runs[0] == series.runs[0]
    assert left(clean) == [[5.0, 6.0], [3.0], [1.0, 2.0]]
    assert (clean.kind, clean.target) == (FRIDGE, 0.2)


gains = st.lists(st.integers(40, 160), min_size=5, max_size=12)


@settings(max_examples=50)
@given(gains, st.data())
def test_a_slip_in_the_middle_leaves_the_others_as_if_it_had_not_been_typed(
    steps: list[int], data: st.DataObject
) -> None:
    energies = [round(20.0 + sum(steps[:at]) / 100, 2) for at in range(len(steps) + 1)]
    at = data.draw(st.integers(2, len(energies) - 2))
    slipped = data.draw(st.integers(0, round(100 * energies[at - 1]) - 1)) / 100
    typed = [*energies[:at], slipped, *energies[at + 1 :]]
    clean, (fall,) = settled(every_morning(FRIDGE, typed))
    rest = series_of(FRIDGE, [(day, energy) for day, energy in enumerate(energies) if day != at])
    assert (fall.what, fall.reading) == ("typo", read(at, slipped))
    assert clean == rest


def test_the_estimate_is_that_of_the_series_without_the_slip() -> None:
    days = [20.0, 20.97, 22.02, 22.99, 24.05, 25.01]
    typed = every_morning(FRIDGE, [*days[:3], 2.3, *days[4:]])
    without = series_of(FRIDGE, [(day, energy) for day, energy in enumerate(days) if day != 3])
    assert estimate(settled(typed)[0]) == estimate(without)
    assert estimate(typed) != estimate(without)


counters = st.lists(st.integers(0, 2000).map(lambda count: count / 100), min_size=1, max_size=14)


@settings(max_examples=100)
@given(counters)
def test_afterwards_nothing_falls_and_no_reading_is_lost_without_a_word(energies: list[float]) -> None:
    series = every_morning(FRIDGE, energies)
    clean, found = settled(series)
    assert settled(clean)[1] == ()
    gone = [fall.reading for fall in found if fall.what in {"typo", "held"}]
    kept = [snapshot for run in clean.runs for snapshot in ordered(run)]
    assert sorted(gone + kept, key=moment) == list(series.runs[0].snapshots)
    parted = sum(fall.what in {"reset", "roll_over"} for fall in found)
    assert len(clean.runs) == 1 + parted


def moment(snapshot: Snapshot) -> float:
    return snapshot.taken_at.timestamp()


@settings(max_examples=50)
@given(counters, st.randoms())
def test_the_order_of_rows_does_not_matter(energies: list[float], chance: Random) -> None:
    series = every_morning(FRIDGE, energies)
    shuffled = list(series.runs[0].snapshots)
    chance.shuffle(shuffled)
    other = replace(series, runs=(replace(series.runs[0], snapshots=tuple(shuffled)),))
    assert settled(other)[1] == settled(series)[1]
    if settled(series)[1]:
        assert settled(other)[0] == settled(series)[0]

"""`estimate` against the page's method done again, slowly and plainly, in `reference`."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate import energy
from hearthload.estimate.answers import Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.enough import days_to_go
from hearthload.estimate.kinds import defaults_for
from hearthload.estimate.series import RunSeries, Series
from tests.estimate import reference
from tests.estimate.measurements import answered, read, series

NEAR = 1e-7

HELD_SHARE = 0.01
"""By so much of its half-width an end of the interval may move where the display's part is held."""
TARGETS = st.sampled_from([0.05, 0.1, 0.3, 1.0, 3.0])

# Days relative to what is expected of the kind: quiet, uneven, and one with a day of nothing.
QUIET = [1.0, 1.1, 0.9, 1.05, 1.0, 0.95, 1.08, 1.02]
UNEVEN = [1.4, 0.6, 2.1, 0.9, 0.3, 1.7, 1.1, 0.8, 2.6, 0.5, 1.2]
HOLLOW = [1.0, 0.0, 0.7]


def run_of(
    days: list[float], level_kwh: float, start_d: float, gaps_d: list[float], step: float
) -> RunSeries:
    """Give a run of uneven days and gaps, cut off by the display, with hours now and then."""
    moment, true_kwh = start_d, 0.0
    readings = [read(moment, 0.0, 0.0)]
    for at, times in enumerate(days):
        gap = gaps_d[at % len(gaps_d)]
        moment += gap
        true_kwh += level_kwh * times * gap
        hours = round(24.0 * (moment - start_d) + 0.03, 2) if at % 3 else None
        readings.append(read(moment, round(true_kwh // step * step, 6), hours))
    return RunSeries(tuple(readings), step)


SHAPES: dict[str, tuple[tuple[list[float], ...], list[float], float]] = {
    # Days of each run, gaps between readings, display's step as a share of the day expected.
    "two readings": ((QUIET[:1],), [1.0], 0.01),
    "every morning": ((QUIET,), [1.0], 0.01),
    "odd hours": ((UNEVEN,), [1.02, 0.4, 0.55, 2.03, 0.98], 0.01),
    "reset": ((QUIET[:3], UNEVEN[:4], HOLLOW), [1.0, 0.97, 1.04], 0.01),
    "coarse display": ((UNEVEN, QUIET[:2]), [0.5, 1.0, 0.7], 1.3),
    "a month": ((UNEVEN + QUIET + HOLLOW,), [1.0, 1.1, 0.9, 2.0], 0.002),
}


def measured(kind: Kind, shape: str) -> Series:
    """Give a measurement of a kind's usual size in one of the shapes."""
    days, gaps, step = SHAPES[shape]
    level = reference.TABLE[kind].m0_kwh
    return Series(
        kind,
        tuple(
            run_of(part, 1.3 * level, 21.0 * number, gaps, step * level) for number, part in enumerate(days)
        ),
    )


@pytest.fixture
def held_never(monkeypatch: pytest.MonkeyPatch) -> None:
    """Have every second pass factor its own V, as the page says it."""
    monkeypatch.setattr(energy, "HELD", -1.0)


@pytest.mark.usefixtures("held_never")
@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_agrees(kind: Kind, shape: str) -> None:
    assert_agrees(measured(kind, shape))


@pytest.mark.usefixtures("held_never")
@pytest.mark.parametrize("rounding", DisplayRounding)
@pytest.mark.parametrize("kind", list(Kind))
def test_exact_zeros_agree(kind: Kind, rounding: DisplayRounding) -> None:
    plain = measured(kind, "coarse display")
    runs = (replace(run, exact_start=True, rounding=rounding, gain_percent=2.0) for run in plain.runs)
    assert_agrees(replace(plain, runs=tuple(runs)))


@settings(max_examples=120)
@given(series())
def test_drawn_measurements_agree(drawn: Series) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(energy, "HELD", -1.0)
        assert_agrees(drawn)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("kind", list(Kind))
def test_holding_the_display_s_part_moves_next_to_nothing(kind: Kind, shape: str) -> None:
    assert_moves_little(measured(kind, shape))


@pytest.mark.parametrize("kind", list(Kind))
@pytest.mark.parametrize("minutes", [1, 6, 15])
def test_second_readings_after_some_minutes_are_no_reason_to_hold(kind: Kind, minutes: int) -> None:
    # Every morning and again some minutes later, on a fine display: such spans are mostly display.
    level = reference.TABLE[kind].m0_kwh
    gaps = [minutes / 1440.0, 1.0 - minutes / 1440.0]
    days = [at_once for day in UNEVEN for at_once in (0.0 if day < 1.0 else 3.0, day)]
    assert_moves_little(Series(kind, (run_of(days, level, 21.0, gaps, 0.001),)))


@settings(max_examples=120)
@given(series())
def test_holding_the_display_s_part_moves_drawn_measurements_little(drawn: Series) -> None:
    assert_moves_little(drawn)


def assert_moves_little(taken: Series) -> None:
    answer = answered(estimate(taken))
    wanted = [math.log(part) for part in reference.daily_kwh(taken)]
    most = HELD_SHARE * 0.5 * (wanted[2] - wanted[1])
    found = [math.log(part) for part in (answer.value, answer.low, answer.high)]
    assert found == pytest.approx(wanted, abs=most)


def assert_agrees(taken: Series) -> None:
    answer = answered(estimate(taken))
    wanted = reference.daily_kwh(taken)
    assert (answer.value, answer.low, answer.high) == pytest.approx(wanted, rel=NEAR)


@settings(max_examples=60)
@given(series(), TARGETS)
def test_days_to_go_agree(drawn: Series, target: float) -> None:
    posterior = estimate(drawn).posterior
    assert posterior is not None
    found = days_to_go(posterior, defaults_for(drawn.kind), target)
    median, low, high = reference.days_to_go(drawn, target)
    if math.isinf(median):
        assert found is None
        return
    assert isinstance(found, Interval)
    wanted = (median, low, min(high, 366.0))
    assert (found.value, found.low, found.high) == pytest.approx(wanted, rel=1e-6, abs=1e-5)

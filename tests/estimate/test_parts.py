"""The uncertainty of a daily figure in parts: days, display and meter make up the whole."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.parts import Parts, median_scatter, uncertainty_parts
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series
from hearthload.estimate.spans import spans_of
from tests.estimate.measurements import every_morning, series, series_of

ROUTER = Kind.ALWAYS_ON


def split(made: Series) -> tuple[Parts, Posterior]:
    posterior = estimate(made).posterior
    assert posterior is not None
    return uncertainty_parts(spans_of(made), posterior, DEFAULTS[made.kind]), posterior


@settings(max_examples=40)
@given(series(calm=True))
def test_the_squares_of_the_parts_make_up_the_square_of_the_whole(made: Series) -> None:
    parts, posterior = split(made)
    assume(parts.display**2 + parts.meter**2 <= parts.total**2)
    assert min(parts.days, parts.display, parts.meter) >= 0.0
    whole = parts.days**2 + parts.display**2 + parts.meter**2
    assert whole == pytest.approx(parts.total**2, rel=1e-9)
    assert parts.total == posterior.log_moments()[1]


@pytest.mark.parametrize(("percent", "gain"), [(None, 0.0075), (3.0, 0.03 / math.sqrt(3.0)), (0.0, 0.0)])
def test_the_meter_s_part_is_its_gain(percent: float | None, gain: float) -> None:
    made = every_morning(ROUTER, [0.0, 0.25, 0.5, 0.75])
    run = replace(made.runs[0], gain_percent=percent)
    parts, _ = split(replace(made, runs=(run,)))
    assert parts.meter == pytest.approx(gain)
    assert parts.days**2 + parts.display**2 == pytest.approx(parts.total**2 - gain**2)


@pytest.mark.parametrize(("days", "step"), [(1.0, 0.01), (4.0, 0.01), (4.0, 0.1)])
def test_of_two_readings_the_display_s_part_is_that_of_their_difference(days: float, step: float) -> None:
    # One span: w = 1/T whatever V is, and the difference of two displays has variance q²/6.
    made = series_of(Kind.REFRIGERATOR, [(0, 3.0), (days, 3.0 + days)], step_kwh=step)
    parts, posterior = split(made)
    assert parts.display == pytest.approx(step / math.sqrt(6.0) / days / posterior.median_kwh())


def test_more_days_shrink_the_first_two_and_leave_the_meter_s() -> None:
    few, _ = split(every_morning(ROUTER, [0.25 * day for day in range(4)]))
    many, _ = split(every_morning(ROUTER, [0.25 * day for day in range(22)]))
    assert many.days < 0.7 * few.days
    assert many.display < 0.4 * few.display
    assert many.meter == pytest.approx(few.meter)
    assert many.total > many.meter


def test_a_coarser_display_weighs_more() -> None:
    energies = [0.3 * day for day in range(11)]
    fine, _ = split(every_morning(ROUTER, energies, step_kwh=0.01))
    coarse, _ = split(every_morning(ROUTER, energies, step_kwh=0.1))
    assert coarse.display > 3.0 * fine.display


def test_the_unit_of_energy_does_not_matter() -> None:
    energies = [0.0, 0.9, 2.1, 2.9, 4.2]
    made = every_morning(Kind.REFRIGERATOR, energies)
    defaults = DEFAULTS[Kind.REFRIGERATOR]
    parts, posterior = split(made)
    mega = every_morning(Kind.REFRIGERATOR, [1000.0 * kwh for kwh in energies], step_kwh=10.0)
    moved = replace(posterior, mean_log=tuple(log + math.log(1000.0) for log in posterior.mean_log))
    other = uncertainty_parts(spans_of(mega), moved, replace(defaults, m0_kwh=1000.0))
    for name in ("days", "display", "meter", "total", "scatter"):
        assert getattr(other, name) == pytest.approx(getattr(parts, name), rel=1e-9)


@pytest.mark.parametrize("kind", Kind)
def test_the_season_is_the_kind_s_and_in_none_of_the_others(kind: Kind) -> None:
    parts, posterior = split(every_morning(kind, [0.0, 1.0, 2.0, 3.0]))
    assert parts.season == DEFAULTS[kind].u_season
    defaults = replace(DEFAULTS[kind], u_season=9.0)
    other = uncertainty_parts(spans_of(every_morning(kind, [0.0, 1.0, 2.0, 3.0])), posterior, defaults)
    assert replace(other, season=parts.season) == parts


def test_the_scatter_told_is_the_median_of_its_weights() -> None:
    weights, c = (0.2, 0.25, 0.1, 0.45), (0.4, 0.1, 0.3, 0.2)
    nodes = Posterior(weights, (0.0,) * 4, (0.01,) * 4, c, (0.0,) * 4, 0.0, 5.0, 0.01)
    # In order of size 0.1 (0.25), 0.2 (0.70): the half is reached at 0.2.
    assert median_scatter(nodes) == 0.2
    calm, _ = split(every_morning(Kind.REFRIGERATOR, [float(day) for day in range(12)]))
    wild, _ = split(every_morning(Kind.REFRIGERATOR, [0, 0.3, 2.1, 2.4, 4.2, 4.6, 7.0]))
    assert calm.scatter < DEFAULTS[Kind.REFRIGERATOR].c0 < wild.scatter


def test_the_parts_make_up_the_whole_with_a_coarse_display() -> None:
    parts, _ = split(every_morning(Kind.REFRIGERATOR, [0.0, 1.0], step_kwh=1.0))
    assert parts.days**2 + parts.display**2 + parts.meter**2 == pytest.approx(parts.total**2, rel=1e-9)

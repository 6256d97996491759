"""Another season: how many times as much, by kind, and in none of the other figures."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.kinds import DEFAULTS, another_season
from hearthload.estimate.series import Series
from tests.estimate.measurements import every_morning
from tests.estimate.reference import TABLE


@pytest.mark.parametrize("kind", Kind)
def test_each_kind_s_factor_is_two_normal_deviations(kind: Kind) -> None:
    low, high = another_season(DEFAULTS[kind])
    assert math.log(high) == pytest.approx(1.96 * TABLE[kind].u_season)
    assert low * high == pytest.approx(1.0)


def test_by_hand() -> None:
    assert another_season(DEFAULTS[Kind.REFRIGERATOR]) == pytest.approx((0.7453, 1.3418), abs=1e-4)
    assert another_season(DEFAULTS[Kind.CLIMATE]) == pytest.approx((0.3085, 3.2413), abs=1e-4)
    assert another_season(DEFAULTS[Kind.ALWAYS_ON]) == pytest.approx((0.9616, 1.0400), abs=1e-4)


@given(st.floats(0.0, 2.0))
def test_no_season_no_factor_and_more_season_more_factor(u_season: float) -> None:
    low, high = another_season(replace(DEFAULTS[Kind.LAMP_TIMER], u_season=u_season))
    assert 0.0 < low <= 1.0 <= high
    wider = another_season(replace(DEFAULTS[Kind.LAMP_TIMER], u_season=u_season + 0.1))
    assert wider[0] < low
    assert wider[1] > high


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("energies", [[], [1.0], [1.0, 2.0], [1.0, 2.0, 3.1, 4.0, 5.2, 6.0]])
def test_an_estimate_always_tells_it_and_readings_do_not_narrow_it(kind: Kind, energies: list[float]) -> None:
    assert estimate(every_morning(kind, energies)).season == another_season(DEFAULTS[kind])


def test_it_does_not_depend_on_the_watts_stated_or_on_runs() -> None:
    season = another_season(DEFAULTS[Kind.FREEZER])
    assert estimate(Series(Kind.FREEZER, (), running_w=90.0)).season == season


def test_it_is_in_no_other_figure(monkeypatch: pytest.MonkeyPatch) -> None:
    energies = [1.0, 2.0, 3.1, 4.0, 5.2, 6.0]
    before = estimate(every_morning(Kind.CLIMATE, energies))
    other = replace(DEFAULTS[Kind.CLIMATE], u_season=0.01)
    monkeypatch.setattr("hearthload.estimate.kinds.DEFAULTS", {**DEFAULTS, Kind.CLIMATE: other})
    after = estimate(every_morning(Kind.CLIMATE, energies))
    assert after.season != before.season
    assert replace(after, season=before.season) == before

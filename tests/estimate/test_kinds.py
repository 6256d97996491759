"""Defaults and targets against the page's table, and stated watts."""

from __future__ import annotations

import math

import pytest

from hearthload.domain.appliance import Kind
from hearthload.estimate.kinds import defaults_for, is_seasonal, target_for
from tests.estimate.reference import TABLE


def test_there_are_eleven_kinds_and_all_are_on_the_page() -> None:
    assert len(Kind) == 11
    assert set(TABLE) == set(Kind)


@pytest.mark.parametrize("kind", list(Kind))
def test_defaults_are_the_page_s(kind: Kind) -> None:
    row, defaults = TABLE[kind], defaults_for(kind)
    assert (defaults.c0, defaults.s_c, defaults.p_tau) == (row.c0, row.s_c, row.p_tau)
    assert (defaults.kd, defaults.kw, defaults.rough) == (row.kd, row.kw, row.profile == "rough")
    assert (defaults.m0_kwh, defaults.ms, defaults.u_season) == (row.m0_kwh, row.ms, row.u_season)
    assert (defaults.weekend, defaults.clockwork) == (row.weekend, row.clockwork)
    assert sum(defaults.p_tau) == pytest.approx(1.0)


@pytest.mark.parametrize("kind", list(Kind))
def test_targets_are_the_page_s(kind: Kind) -> None:
    assert target_for(kind, None) == TABLE[kind].target
    if not is_seasonal(kind):
        assert target_for(kind, 0.03) == 0.03


def test_weather_driven_kinds_never_get_a_target_under_thirty_percent() -> None:
    assert {kind for kind in Kind if is_seasonal(kind)} == {Kind.CLIMATE, Kind.PUMP}
    for kind in (Kind.CLIMATE, Kind.PUMP):
        assert [target_for(kind, wanted) for wanted in (0.01, 0.29, 0.30, 0.5)] == [0.30, 0.30, 0.30, 0.5]


@pytest.mark.parametrize("wanted", [0.0, -0.1, math.nan, math.inf])
def test_a_target_that_is_none_leaves_the_kind_s_own(wanted: float) -> None:
    assert target_for(Kind.FREEZER, wanted) == 0.10


@pytest.mark.parametrize(
    ("kind", "watts", "m0_kwh"),
    [
        (Kind.ALWAYS_ON, 50.0, 1.2),  # 24 h a day
        (Kind.REFRIGERATOR, 120.0, 0.96),  # a third of the day
        (Kind.FREEZER, 90.0, 0.72),
        (Kind.KITCHEN, 2000.0, 0.25),  # running watts say nothing about the day
        (Kind.FREEZER, 0.0, 0.8),
        (Kind.FREEZER, -3.0, 0.8),
        (Kind.FREEZER, math.nan, 0.8),
    ],
)
def test_stated_watts_set_the_level_expected(kind: Kind, watts: float, m0_kwh: float) -> None:
    told = defaults_for(kind, watts)
    assert told.m0_kwh == pytest.approx(m0_kwh)
    assert (told.c0, told.ms, told.kd) == (TABLE[kind].c0, TABLE[kind].ms, TABLE[kind].kd)

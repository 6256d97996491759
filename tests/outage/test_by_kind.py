"""Figures by kind: each has its range and source, and a plan may set its own."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hearthload.domain.appliance import Cycling, Kind, Role, UsePattern
from hearthload.errors import RefusedError
from hearthload.outage.answers import LoadInput
from hearthload.outage.by_kind import BY_KIND, row_for
from hearthload.outage.facts import Fact, Facts, by_key
from hearthload.outage.facts_loads import FACTS
from tests.outage.appliances import KNOWN, line_of, measured


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact.key)
def test_a_fact_lies_in_its_range_and_has_a_source(fact: Fact) -> None:
    assert fact.least <= fact.low <= fact.value <= fact.high <= fact.most
    assert fact.source
    assert fact.name
    assert fact.room == "loads"


def test_every_kind_has_a_row_and_only_cold_ones_know_the_room() -> None:
    assert set(BY_KIND) == set(Kind)
    for kind, row in BY_KIND.items():
        is_cold = kind.use_pattern is UsePattern.THERMOSTATIC
        assert (row.alpha is not None) == (row.u_alpha is not None) == is_cold


def test_keys_are_there_once_and_by_kind() -> None:
    assert by_key(FACTS)["start_multiple.refrigerator"].value == 4.0
    assert len({fact.key for fact in FACTS}) == len(FACTS)


@pytest.mark.parametrize(
    ("kind", "multiple"),
    [
        # Default start over running of the trade facts: resistive 1, electronics 1.2, microwave 1.3,
        # fixed-speed cold machines 4, pumps 4, window air conditioner 5.
        (Kind.KITCHEN, 1.3),
        (Kind.EVENING_ELECTRONICS, 1.2),
        (Kind.FREEZER, 4.0),
        (Kind.PUMP, 4.0),
        (Kind.CLIMATE, 5.0),
    ],
)
def test_start_multiples_are_the_trades(kind: Kind, multiple: float) -> None:
    assert BY_KIND[kind].start_multiple.value == multiple


def test_variable_speed_starts_gently() -> None:
    assert row_for(Kind.CLIMATE, Cycling.VARIABLE_SPEED).start_multiple.value == 1.3
    assert row_for(Kind.CLIMATE, Cycling.VARIABLE_SPEED).power_factor.key == "power_factor.climate"
    assert row_for(Kind.FREEZER, Cycling.VARIABLE_SPEED).power_factor.key == "power_factor.variable_speed"
    assert row_for(Kind.FREEZER, Cycling.FROST_FREE) == row_for(Kind.FREEZER)


def test_ranges_on_a_ratio_scale_have_their_middle_there() -> None:
    fact = BY_KIND[Kind.FREEZER].daily_kwh
    assert (fact.low, fact.high) == (0.5, 3.9)
    assert fact.value == pytest.approx(math.sqrt(0.5 * 3.9))


def test_a_plans_own_figure_stands_in_place_and_says_so() -> None:
    freezer = LoadInput("Freezer", Kind.FREEZER, Role.ESSENTIAL, measured=measured(1.0, running_w=100.0))
    usual = line_of(freezer)
    own = line_of(freezer, facts=Facts(KNOWN, {"start_multiple.freezer": 6.0, "power_factor.freezer": 0.8}))
    # 100 W / 0.7 · 4 and 100 W / 0.8 · 6.
    assert usual.each_start_va == pytest.approx(571.43, abs=0.01)
    assert own.each_start_va == pytest.approx(750.0)
    assert own.start_va is not None
    assert own.start_va.steps[-1].source == "set in this plan"
    assert own.start_va.steps[-1].typical is False
    assert usual.start_va is not None
    assert usual.start_va.steps[-1].typical is True


def test_the_loads_own_figure_comes_before_the_plans() -> None:
    freezer = LoadInput(
        "Freezer", Kind.FREEZER, Role.ESSENTIAL, running_w=70.0, start_multiple=3.0, start_s=2.0
    )
    line = line_of(freezer, facts=Facts(KNOWN, {"start_multiple.freezer": 6.0}))
    # 70 W / 0.7 = 100 VA, three times that.
    assert line.each_start_va == pytest.approx(300.0)
    assert line.start_s == 2.0
    assert line_of(replace(freezer, start_multiple=0.5)).each_start_va == pytest.approx(100.0)


def test_a_figure_outside_what_may_be_typed_is_refused() -> None:
    with pytest.raises(RefusedError, match=r"must lie between 0\.1 and 1"):
        Facts(KNOWN, {"power_factor.pump": 1.2})

"""Cautions beside an outage's figures: said where they hold, and nowhere else."""

from __future__ import annotations

import pytest

from hearthload.domain.supply import Chemistry, Supply
from hearthload.service.outage_cautions import HALF_A_LEG, LEAD_FREEZES, supply_cautions
from tests.outage.supply_cases import facts, plan
from tests.outage.supply_drafts import battery, generator


@pytest.mark.parametrize(
    ("chemistry", "celsius", "said"),
    [
        (Chemistry.AGM, -0.5, True),
        (Chemistry.FLOODED_LEAD, -12.0, True),
        (Chemistry.GEL, 0.0, False),
        (Chemistry.LFP, -12.0, False),
        (Chemistry.NICKEL, -12.0, False),
    ],
)
def test_discharged_lead_freezes_in_frost(chemistry: Chemistry, celsius: float, *, said: bool) -> None:
    members = [Supply(1, generator()), Supply(2, battery(chemistry=chemistry))]
    found = supply_cautions(members, [], plan(battery_c=celsius), facts(), 230.0)
    assert (LEAD_FREEZES in found) is said


@pytest.mark.parametrize(
    ("mains_v", "said"), [(99.0, False), (100.0, True), (120.0, True), (127.0, True), (230.0, False)]
)
def test_a_generator_of_two_legs_is_cautioned_where_mains_are_low(mains_v: float, *, said: bool) -> None:
    engine = supply_cautions([Supply(1, generator())], [], plan(), facts(), mains_v)
    assert (HALF_A_LEG in engine) is said
    assert HALF_A_LEG not in supply_cautions([Supply(1, battery())], [], plan(), facts(), mains_v)


def test_the_words_give_the_figures() -> None:
    for figure in ("empty at about 0 °C", "40 % charge at about −9 °C", "−65 °C"):
        assert figure in LEAD_FREEZES

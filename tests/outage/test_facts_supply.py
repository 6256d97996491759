"""The supply side's figures of the trade: each in its range, named once, with its source in words."""

from __future__ import annotations

import re

import pytest

from hearthload.errors import RefusedError
from hearthload.outage.facts import Fact, by_key
from hearthload.outage.facts_supply import FACTS
from tests.outage.supply_cases import facts


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: fact.key)
def test_a_fact_lies_in_its_range_and_the_range_may_be_typed(fact: Fact) -> None:
    assert fact.least <= fact.low <= fact.value <= fact.high <= fact.most
    assert fact.source
    assert not re.search(r"\b[A-E]\d+\.\d+\b", fact.source), "a row's number instead of a source"
    assert fact.room in {"inverter", "battery", "sun", "generator", "cords"}


def test_keys_occur_once_and_a_value_out_of_range_is_refused() -> None:
    assert len(by_key(FACTS)) == len(FACTS)
    with pytest.raises(RefusedError, match="usable depth of discharge"):
        facts({"battery_dod_lfp": 1.2})


def test_nrel_losses_multiply_to_fourteen_percent() -> None:
    # Default losses of NREL/TP-6A20-62641 together: 14.1 %, by multiplying what is left of each.
    first = ["soiling", "shading", "snow", "mismatch", "wiring"]
    keys = [*first, "connections", "first_light", "nameplate", "ageing", "availability"]
    left = 1.0
    for key in keys:
        left *= 1.0 - facts()[f"sun_{key}"]
    assert 100.0 * (1.0 - left) == pytest.approx(14.1, abs=0.05)

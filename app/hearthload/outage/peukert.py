"""Peukert's law: what lead-acid cells give when they are drawn on fast, or unevenly."""

from __future__ import annotations

import math

from hearthload.domain.supply import Chemistry
from hearthload.outage.answers import Demand
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Input, Step
from hearthload.outage.working import Term, worked


def peukert_key(chemistry: Chemistry) -> str | None:
    """Give the key of the exponent, None where the rate of discharge does not matter."""
    if not chemistry.is_lead:
        return None
    kinds = {Chemistry.AGM: "agm", Chemistry.GEL: "gel", Chemistry.FLOODED_LEAD: "flooded"}
    return f"battery_peukert_{kinds[chemistry]}"


def steadiness(chemistry: Chemistry, draws: Demand | None, facts: Facts) -> float:
    """Give the mean draw over Peukert's effective one [1]: r = P/(mean of P_i^k)^(1/k).

    A draw that comes and goes uses up the charge of lead-acid cells as a steady one of (mean of I^k)^(1/k)
    does, which is more than its mean. 1 for steady draws, where none are given, and for all others.
    """
    key = peukert_key(chemistry)
    if key is None or draws is None:
        return 1.0
    pairs = list(zip(draws.watts, draws.share, strict=True))
    mean = math.fsum(watts * share for watts, share in pairs)
    if not 0.0 < mean < math.inf:
        return 1.0
    exponent = facts[key]
    uneven = math.fsum(share * (watts / mean) ** exponent for watts, share in pairs)
    return float(min(uneven ** (-1.0 / exponent), 1.0))


def rate_factor(chemistry: Chemistry, hours: float, facts: Facts, steady: float = 1.0) -> float:
    """Give the share of the rated capacity in a full discharge over so many hours [1].

    Peukert: C_eff/C_H = r·(t/H)^((k − 1)/k) for lead-acid with r = `steady`, the mean draw over the effective
    one; no credit beyond the rated capacity; 1 for all others.
    """
    key = peukert_key(chemistry)
    if key is None:
        return 1.0
    exponent = facts[key]
    share = max(hours, 0.0) / facts["battery_rated_h"]
    return min(steady * float(share ** ((exponent - 1.0) / exponent)), 1.0)


def rate_steps(chemistry: Chemistry, hours: float, draws: Demand | None, facts: Facts) -> tuple[Step, ...]:
    """Write down the share of the rated capacity at a rate of discharge; nothing where it does not matter."""
    key = peukert_key(chemistry)
    if key is None:
        return ()
    even = worked(
        facts,
        "Mean draw over the steady draw that uses up as much (Peukert)",
        "r = P/(mean of P_i^k)^(1/k) over the demand",
        steadiness(chemistry, draws, facts),
        "",
        Term(key, "k"),
        source="Peukert's law",
    )
    rate = worked(
        facts,
        "Capacity at this rate of discharge (Peukert)",
        "k_rate = r·(t/H)^((k − 1)/k), at most 1",
        rate_factor(chemistry, hours, facts, even.value),
        "",
        Input("mean draw over the steady one", "r", even.value, ""),
        Input("hours of a full discharge", "t", hours, "h"),
        Term("battery_rated_h", "H"),
        Term(key, "k"),
        source="Peukert's law",
    )
    return even, rate

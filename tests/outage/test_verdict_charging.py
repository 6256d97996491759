"""Verdicts on a battery that a generator charges: what the engine gives, what lead-acid takes in a run."""

from __future__ import annotations

import pytest

from hearthload.domain.supply import Chemistry
from hearthload.outage.answers import Limit, LimitCode, Outcome
from hearthload.outage.verdict_energy import most_out_kwh
from tests.outage.supply_drafts import battery, generator, judge, limit

CARRIES, SHORT = Outcome.CARRIES, Outcome.FALLS_SHORT


def test_a_small_set_charges_with_four_fifths_of_what_height_leaves() -> None:
    # A set of 500 W at 1677 m, 5 steps of 305 m above 152 m: 0.85 left, 0.8 of which charge: 340 W of the 500
    # that the battery takes. 1481.88/(0.9·0.96·340) = 5.0446 h a day, at 0.8 of the rating that is left.
    found = judge([battery(stored_wh=2000.0), generator(continuous_w=500.0)], days=14.0, altitude_m=1677.0)
    hours, share = (limit(found, each, counts=False) for each in (LimitCode.RECHARGE, LimitCode.MEAN_LOAD))
    assert hours.needed is not None
    assert hours.needed.value == pytest.approx(5.0446, abs=1e-3)
    assert any(step.equation == "P_g = b·f·P_r" for step in hours.needed.steps)
    assert share.offered == pytest.approx(0.8)
    assert share.outcome is CARRIES
    # Round the clock the 50 W are over the same 425 W.
    alone = judge([generator(continuous_w=500.0)], altitude_m=1677.0)
    assert limit(alone, LimitCode.MEAN_LOAD, counts=False).offered == pytest.approx(50.0 / 425.0)


def test_short_runs_leave_the_last_part_of_lead_acid_uncharged() -> None:
    # 3 kWh a day in two parts of 1.5, runs of 2 that leave 1 out: 1.5, 1; 2.5, 1; 2.5. Runs of 1: 1.5, 1;
    # 2.5, 1.5; 3.0, 2.0; 3.5. The sun at a day's end brings what is out down further: 1.5, 1, 2.5, 1, 0.4.
    def most(run_kwh: float, sun_kwh: float = 0.0, days: float = 2.0) -> float:
        phases = ((days, sun_kwh),)
        return most_out_kwh(3.0, days, phases, runs=2, run_kwh=run_kwh, uncharged_kwh=1.0)

    assert [most(2.0), most(1.0)] == pytest.approx([2.5, 3.5])
    assert most(2.0, 0.6) == pytest.approx(2.5)
    assert most(2.0, 1.0) == pytest.approx(2.5)
    # What is out lies within what is left uncharged: the run brings nothing. 0.4, 0.8, 1.2 and back to 1.
    assert most_out_kwh(0.8, 3.0, ((3.0, 0.0),), runs=2, run_kwh=5.0, uncharged_kwh=1.0) == pytest.approx(1.4)


def test_lead_and_generator_by_hand() -> None:
    # 1.48188 kWh a day, half of it between runs: 0.74094 kWh. AGM of 6 kWh at 25 °C, over more than 20 h:
    # 6·0.5·0.8·0.97 = 2.328 kWh usable, 4.656 kWh in all, of which runs leave a fifth out: 0.9312 kWh. The
    # first day's parts take 0.741 (within the fifth), 1.482 and then 1.672 from 0.931.
    def energy(stored_wh: float, chemistry: Chemistry = Chemistry.AGM) -> Limit:
        bank = battery(stored_wh=stored_wh, chemistry=chemistry, battery_v=24.0, battery_limit_a=100.0)
        return limit(judge([bank, generator()], days=14.0), LimitCode.ENERGY)

    found = energy(6000.0)
    assert found.needed is not None
    assert found.needed.value == pytest.approx(0.9312 + 0.74094, abs=1e-4)
    assert found.outcome is CARRIES
    assert found.offered == pytest.approx(2.328)
    left = next(step for step in found.needed.steps if step.equation == "E_x = (1 − s)·E_u/DoD")
    assert left.value == pytest.approx(0.9312)
    # 3 kWh: 1.164 usable, 0.4656 left out and 0.741 more: 1.2066. To be full each time it would do.
    assert energy(3000.0).outcome is SHORT
    assert energy(3000.0, Chemistry.LFP).outcome is CARRIES

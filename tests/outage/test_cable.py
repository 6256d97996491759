"""Cords and cables against the trade's tables, closed forms and what must hold for all of them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.errors import RefusedError
from hearthload.outage.answers import Outcome
from hearthload.outage.cable import AWG, GAUGES, METRIC, CordUse, check_cord, current_a
from tests.outage.supply_cases import facts

COOL = {"cord_copper_c": 20.0}


@pytest.mark.parametrize(
    ("gauge", "metres"), [("awg_16", 11), ("awg_14", 18), ("awg_12", 29), ("awg_10", 46)]
)
def test_longest_at_120_v_and_12_a(gauge: str, metres: int) -> None:
    # 3.6 V of drop, copper at 20 °C: L = 3.6/(2·12·R).
    found = check_cord(gauge, CordUse(12.0, 120.0, 10.0), facts(COOL))
    assert found.longest_m.value == pytest.approx(metres, abs=0.6)


@pytest.mark.parametrize(("gauge", "metres"), [("mm2_1", 18), ("mm2_1.5", 26), ("mm2_2.5", 43)])
def test_longest_at_230_v_and_10_a(gauge: str, metres: int) -> None:
    # 6.9 V of drop: L = 6.9/(2·10·R).
    found = check_cord(gauge, CordUse(10.0, 230.0, 10.0), facts(COOL))
    assert found.longest_m.value == pytest.approx(metres, abs=0.6)


@pytest.mark.parametrize(("gauge", "metres"), [("mm2_35", 3.2), ("mm2_50", 4.7), ("mm2_70", 6.6)])
def test_longest_at_12_v_and_100_a(gauge: str, metres: float) -> None:
    # 0.36 V of drop: L = 0.36/(2·100·R).
    found = check_cord(gauge, CordUse(100.0, 12.0, 3.0, direct=True), facts(COOL))
    assert found.longest_m.value == pytest.approx(metres, abs=0.06)
    assert found.outcome is Outcome.NOT_KNOWN
    assert found.missing == "the cable's own current rating"


def test_warm_copper_resists_by_a_sixth_more() -> None:
    # 1 + 0.00393·40 = 1.157 at 60 °C.
    use = CordUse(10.0, 230.0, 20.0)
    warm, cool = (check_cord("mm2_1.5", use, each).running_drop.value for each in (facts(), facts(COOL)))
    assert warm / cool == pytest.approx(1.1572)


def test_drops_by_hand() -> None:
    # AWG 14 at 60 °C: 8.28·1.1572 = 9.5816 Ω/km. 30 m, 9 A, PF 0.8, 120 V: 2·30·9·0.0095816·0.8/120 = 3.45 %.
    # Start at 40 A, PF 1: 2·30·40·0.0095816/120 = 19.2 %, more than 15 %.
    found = check_cord("awg_14", CordUse(9.0, 120.0, 30.0, 0.8, 40.0), facts())
    assert found.running_drop.value == pytest.approx(0.034494, abs=1e-5)
    assert found.starting_drop is not None
    assert found.starting_drop.value == pytest.approx(0.19163, abs=1e-5)
    assert found.outcome is Outcome.FALLS_SHORT
    # AWG 12: 6.029 Ω/km, start 12.06 %, running 2.17 %, 25 A: it does.
    assert found.smallest is GAUGES["awg_12"]


def test_the_cords_own_rating_and_long_runs() -> None:
    # 1500 W at 120 V are 12.5 A. AWG 16 carries 13 A, but 10.4 A for hours; AWG 14 carries 14.4 A for hours.
    amps = current_a(1500.0, 120.0, 1.0, facts()).value
    assert amps == pytest.approx(12.5)
    assert check_cord("awg_16", CordUse(amps, 120.0, 3.0), facts()).outcome is Outcome.CARRIES
    long = check_cord("awg_16", CordUse(amps, 120.0, 3.0, long_run=True), facts())
    assert long.outcome is Outcome.FALLS_SHORT
    assert long.carries_a is not None
    assert long.carries_a.value == pytest.approx(10.4)
    assert long.smallest is GAUGES["awg_14"]
    # A 1.5 mm² lead carries 3 kW at 230 V: 13.04 A of 16 A.
    assert check_cord("mm2_1.5", CordUse(3000 / 230, 230.0, 5.0), facts()).outcome is Outcome.CARRIES


def test_thick_cords_have_customary_currents_and_say_so() -> None:
    # 3.45 kW at 120 V are 28.75 A: more than AWG 12's 25 A, within AWG 10's customary 30 A. At 5 m and 60 °C:
    # 2·5·28.75·0.00379566/120 = 0.91 %.
    found = check_cord("awg_10", CordUse(28.75, 120.0, 5.0), facts())
    assert (found.outcome, found.smallest) == (Outcome.CARRIES, GAUGES["awg_10"])
    assert found.running_drop.value == pytest.approx(0.0090938, abs=1e-6)
    assert found.carries_a is not None
    assert found.carries_a.value == 30.0
    assert found.carries_a.steps[-1].typical
    assert found.carries_a.steps[-1].source.startswith("customary")
    # For hours AWG 10 carries 24 A. 8 kW at 230 V are 34.8 A: 6 mm², 40 A, where 4 mm² carries 32 A.
    assert check_cord("awg_10", CordUse(24.1, 120.0, 5.0, long_run=True), facts()).smallest is None
    metric = check_cord("mm2_4", CordUse(8000 / 230, 230.0, 5.0), facts())
    assert (metric.outcome, metric.smallest) == (Outcome.FALLS_SHORT, GAUGES["mm2_6"])
    # What was checked is not marked; no customary figure is at hand for 10 mm².
    checked = check_cord("awg_12", CordUse(10.0, 120.0, 5.0), facts()).carries_a
    assert checked is not None
    assert not checked.steps[-1].typical
    assert check_cord("mm2_10", CordUse(10.0, 230.0, 5.0), facts()).outcome is Outcome.NOT_KNOWN


def test_where_no_size_does_the_thickest_that_carries_says_how_long_it_may_be() -> None:
    # 15 A at 120 V over 60 m: AWG 10 at 20 °C allows 3.6/(2·15·0.00328) = 36.59 m, and no thicker cord has a
    # current.
    far = check_cord("awg_14", CordUse(15.0, 120.0, 60.0), facts(COOL))
    assert far.smallest is None
    assert far.thickest is GAUGES["awg_10"]
    assert far.thickest_longest_m is not None
    assert far.thickest_longest_m.value == pytest.approx(3.6 / (2 * 15 * 0.00328))
    assert far.longest_m.value == pytest.approx(3.6 / (2 * 15 * 0.00828))
    # A start at 90 A bounds it further: 18/(2·90·0.00328) = 30.49 m.
    start = check_cord("awg_14", CordUse(15.0, 120.0, 60.0, 1.0, 90.0), facts(COOL))
    assert start.thickest_longest_m is not None
    assert start.thickest_longest_m.value == pytest.approx(18 / (2 * 90 * 0.00328))
    # Near enough, the smallest is named instead; 50 A is more than any cord is known to carry.
    near = check_cord("awg_14", CordUse(15.0, 120.0, 36.0), facts(COOL))
    assert (near.smallest, near.thickest, near.thickest_longest_m) == (GAUGES["awg_10"], None, None)
    strong = check_cord("awg_14", CordUse(50.0, 120.0, 1.0), facts(COOL))
    assert (strong.smallest, strong.thickest, strong.thickest_longest_m) == (None, None, None)
    # A DC cable has no cord's rating: 70 mm² carries 100 A of 12 V for 6.6 m within 0.36 V.
    direct = check_cord("mm2_35", CordUse(100.0, 12.0, 9.0, direct=True), facts(COOL))
    assert (direct.smallest, direct.thickest) == (None, GAUGES["mm2_70"])
    assert direct.thickest_longest_m is not None
    assert direct.thickest_longest_m.value == pytest.approx(0.36 / (2 * 100 * 0.000272))


def test_a_chart_of_5_v_at_three_halves_of_the_current() -> None:
    # A common chart allows AWG 14 for 7.6 m (25 ft) at 12 A: 2·7.62·18·0.00828 = 2.3 V, well within 5 V.
    found = check_cord("awg_14", CordUse(18.0, 120.0, 7.62), facts(COOL))
    assert found.running_drop.value * 120.0 == pytest.approx(2.271, abs=1e-3)


@given(
    st.sampled_from((AWG, METRIC)),
    st.floats(0.1, 60.0),
    st.sampled_from((12.0, 120.0, 230.0)),
    st.floats(0.1, 100.0),
    st.floats(1.0, 7.0),
)
def test_thicker_never_drops_more_and_the_smallest_does(
    family: tuple[object, ...], amps: float, volts: float, metres: float, start: float
) -> None:
    use = CordUse(amps, volts, metres, 0.9, amps * start)
    found = [check_cord(gauge.key, use, facts()) for gauge in (AWG if family is AWG else METRIC)]
    drops = [each.running_drop.value for each in found]
    assert drops == sorted(drops, reverse=True)
    smallest = found[0].smallest
    doing = [each.gauge for each in found if each.outcome is Outcome.CARRIES]
    assert smallest is (doing[0] if doing else None)
    for each in found:
        assert (each.thickest is None) is (each.thickest_longest_m is None)
        if each.thickest is not None and each.thickest_longest_m is not None:
            assert smallest is None
            assert each.thickest_longest_m.value < metres
    for each in found:
        fits = each.running_drop.value <= 0.03 and (
            each.starting_drop is None or each.starting_drop.value <= 0.15
        )
        near = abs(each.longest_m.value / metres - 1.0) < 1e-9
        assert near or fits == (each.longest_m.value >= metres)


def test_what_is_no_cord_is_refused() -> None:
    with pytest.raises(RefusedError):
        check_cord("awg_99", CordUse(1.0, 120.0, 1.0), facts())
    with pytest.raises(RefusedError):
        check_cord("awg_14", CordUse(1.0, 0.0, 1.0), facts())
    nothing = check_cord("awg_14", CordUse(0.0, 120.0, 1.0), facts())
    assert nothing.outcome is Outcome.CARRIES

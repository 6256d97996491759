"""Verdicts on combinations, and what must hold for every supply however odd."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.supply import Chemistry, Fuel, SupplyDraft, SupplyKind, Waveform
from hearthload.outage.answers import Limit, LimitCode, Outcome, Totals
from hearthload.outage.battery import CHEMISTRIES
from hearthload.outage.sizing import size
from hearthload.outage.verdict_energy import most_out_kwh
from tests.outage.supply_cases import FREEZER_AND_ROUTER, facts, line, plan, totals
from tests.outage.supply_drafts import array, battery, generator, judge, limit

CARRIES, SHORT, UNKNOWN = Outcome.CARRIES, Outcome.FALLS_SHORT, Outcome.NOT_KNOWN
RANK = {SHORT: 0, UNKNOWN: 1, CARRIES: 2}


def day_by_day(daily: float, days: int, brought: list[float]) -> float:
    out = most = 0.0
    for day in range(days):
        out += daily
        most = max(most, out)
        out = max(out - brought[day], 0.0)
    return most


@given(st.floats(0.1, 5.0), st.integers(1, 12), st.integers(0, 5), st.floats(0.0, 6.0), st.floats(0.0, 6.0))
def test_most_out_is_what_going_day_by_day_finds(
    daily: float, days: int, bad: int, poor: float, later: float
) -> None:
    brought = [poor] * bad + [later] * days
    found = most_out_kwh(daily, float(days), ((float(bad), poor), (max(days - bad, 0.0), later)))
    assert found == pytest.approx(day_by_day(daily, days, brought))


def test_part_of_a_day_takes_its_part() -> None:
    assert most_out_kwh(2.4, 0.25, ((3.0, 9.0), (0.0, 9.0))) == pytest.approx(0.6)
    assert most_out_kwh(2.0, 1.5, ((0.0, 0.0), (1.5, 0.5))) == pytest.approx(2.5)


def test_battery_and_array_by_hand() -> None:
    # 1.48188 kWh a day, 7 days: 10.37 kWh, more than the 4.0909 kWh usable. 3 sun hours, 800 W, PR 0.73035:
    # 1.75283 kWh, on a cloudy day 0.26292. Three cloudy days take 2·(1.48188 − 0.26292) + 1.48188 = 3.91979;
    # the fourth begins at 3.65687 and goes to 5.13876 before its sun: falls short. On mean sun it carries.
    found = judge([battery(), array()], days=7.0, peak_sun_hours=3.0)
    energy = limit(found, LimitCode.ENERGY)
    assert energy.needed is not None
    assert energy.needed.value == pytest.approx(5.13876, abs=1e-3)
    assert energy.outcome is SHORT
    mean = limit(found, LimitCode.ENERGY, counts=False)
    assert mean.needed is not None
    assert mean.needed.value == pytest.approx(1.48188)
    assert mean.outcome is CARRIES
    assert judge([battery(stored_wh=6400.0), array()], days=7.0, peak_sun_hours=3.0).outcome is CARRIES
    # Without the array the same battery lasts four days.
    assert judge([battery(stored_wh=6400.0)], days=7.0).outcome is SHORT


def test_sun_that_is_not_known_leaves_open_only_what_it_decides() -> None:
    unknown = judge([battery(), array()], days=7.0)
    assert unknown.outcome is UNKNOWN
    assert limit(unknown, LimitCode.ENERGY).missing == "peak sun hours of the month, or the latitude"
    assert judge([battery(), array()]).outcome is CARRIES
    no_input = judge([battery(solar_w=None), array()], days=7.0, peak_sun_hours=3.0)
    assert limit(no_input, LimitCode.ENERGY).missing == "most watts that the battery takes from panels"


def test_grid_tied_panels_give_nothing() -> None:
    found = judge([battery(stored_wh=6400.0), array(grid_tied=True)], days=7.0, peak_sun_hours=3.0)
    assert found.outcome is SHORT
    assert limit(found, LimitCode.SUN, counts=False).outcome is SHORT


def test_a_frozen_lithium_battery_takes_no_charge() -> None:
    found = judge([battery(stored_wh=8000.0), array()], days=7.0, peak_sun_hours=3.0, battery_c=-3.0)
    assert found.outcome is SHORT
    assert limit(found, LimitCode.RECHARGE, counts=False).outcome is SHORT


def test_battery_and_generator_by_hand() -> None:
    # 1.48188 kWh a day through 0.9·0.96 at 500 W: 3.430 h a day; the battery need hold half a day only, for
    # the generator charges twice a day.
    found = judge([battery(stored_wh=2000.0), generator()], days=14.0)
    assert found.outcome is CARRIES
    assert found.hours is None
    energy, hours = limit(found, LimitCode.ENERGY), limit(found, LimitCode.RECHARGE, counts=False)
    assert energy.needed is not None
    assert energy.needed.value == pytest.approx(1.48188 / 2)
    assert energy.needed.steps[-1].quantity.endswith("the generator charging 2 times a day")
    assert hours.needed is not None
    assert hours.needed.value == pytest.approx(3.4303, abs=1e-3)
    # 14 days of 3.43 h at 0.1·2 + 0.45·0.5 L/h: 20.41 L.
    fuel = limit(found, LimitCode.FUEL, counts=False)
    assert fuel.needed is not None
    assert fuel.needed.value == pytest.approx(14 * 3.4303 * 0.425, abs=1e-2)
    assert judge([battery(stored_wh=2000.0, charge_w=None), generator()], days=14.0).outcome is UNKNOWN


def test_a_battery_smaller_than_a_days_draw_is_carried_by_more_runs() -> None:
    # 1.48188 kWh a day; 1.5 kWh lithium gives 1.5·0.9/1.1 = 1.227 kWh. Once a day falls short; twice a day
    # 0.741 are out at once. 0.5 kWh gives 0.409: three runs leave 0.494 out, four 0.370.
    def energy(stored_wh: float, runs: float) -> Limit:
        own = {"generator_runs_a_day": runs}
        found = judge([battery(stored_wh=stored_wh), generator()], own=own, days=14.0)
        assert limit(found, LimitCode.RECHARGE, counts=False).outcome is CARRIES
        return limit(found, LimitCode.ENERGY)

    once = energy(1500.0, 1.0)
    assert once.outcome is SHORT
    assert once.needed is not None
    assert once.needed.value == pytest.approx(1.48188)
    assert once.needed.steps[-1].quantity.endswith("the generator charging once a day")
    assert energy(1500.0, 2.0).outcome is CARRIES
    assert (energy(500.0, 3.0).outcome, energy(500.0, 4.0).outcome) == (SHORT, CARRIES)
    four = energy(500.0, 4.0).needed
    assert four is not None
    assert four.value == pytest.approx(1.48188 / 4)


def test_runs_that_bring_too_little_leave_the_rest_out() -> None:
    # 3 kWh a day in two parts of 1.5, each run brings 1: out 1.5, 0.5; 2.0, 1.0; 2.5, 1.5; 3.0, 2.0.
    assert most_out_kwh(3.0, 2.0, ((2.0, 0.0),), runs=2, run_kwh=1.0) == pytest.approx(3.0)
    # A sun of 0.6 at each day's end. Day 1: 1.5, 0.5, 2.0, 1.0 less 0.6 is 0.4. Day 2: 1.9, 0.9, 2.4.
    assert most_out_kwh(3.0, 2.0, ((2.0, 0.6),), runs=2, run_kwh=1.0) == pytest.approx(2.4)
    # Three quarters of a day: 1.5, 0.5 after its one whole run, then 0.75 more.
    assert most_out_kwh(3.0, 0.75, ((0.75, 9.0),), runs=2, run_kwh=1.0) == pytest.approx(1.5)
    assert most_out_kwh(3.0, 0.9, ((0.9, 9.0),), runs=2, run_kwh=1.0) == pytest.approx(1.7)


@given(st.floats(0.1, 5.0), st.floats(0.1, 9.0), st.integers(1, 5), st.floats(0.0, 6.0), st.floats(0.0, 6.0))
def test_more_runs_never_leave_more_out(
    daily: float, days: float, runs: int, engine: float, sun: float
) -> None:
    def most(count: int) -> float:
        return most_out_kwh(daily, days, ((days, sun),), runs=count, run_kwh=engine / count)

    assert most(2 * runs) <= most(runs) * (1.0 + 1e-9)


def test_energy_of_two_batteries_adds_and_both_idle() -> None:
    # 4.0909 kWh each; the second idles at 10 W besides: 71.745 W, two days 3.44376 kWh.
    found = limit(judge([battery(), battery(name="Second")]), LimitCode.ENERGY)
    assert found.needed is not None
    assert found.needed.value == pytest.approx(3.44376)
    assert found.offered == pytest.approx(2 * 4.0909, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(CHEMISTRIES), st.floats(0.1, 7.0), st.floats(0.0, 0.5), st.floats(-15.0, 35.0))
def test_the_battery_that_sizing_asks_for_carries(
    chemistry: Chemistry, days: float, sd_kwh: float, battery_c: float
) -> None:
    what, planned = totals(FREEZER_AND_ROUTER, days, sd_kwh=sd_kwh), plan(days=days, battery_c=battery_c)
    sized = size(what, planned, facts())
    assert sized is not None
    stored = next(each for each in sized.stored if each.chemistry is chemistry)
    bought = battery(
        stored_wh=1000.0 * stored.stored_kwh.value,
        chemistry=chemistry,
        continuous_w=sized.inverter_w.value,
        continuous_va=sized.inverter_va.value,
        start_va=sized.start_va.value,
        start_s=sized.start_s,
        idle_w=None,
        battery_v=48.0,
        battery_limit_a=sized.direct[-1].current_a.value,
    )
    found = judge([bought], what, days=days, battery_c=battery_c)
    assert found.outcome is (UNKNOWN if stored.not_known else CARRIES)


@settings(max_examples=60, deadline=None)
@given(
    lead=st.booleans(),
    days=st.floats(1.0, 7.0),
    sd_kwh=st.floats(0.0, 0.5),
    latitude=st.floats(-60.0, 60.0),
    month=st.integers(1, 12),
    typed=st.one_of(st.none(), st.floats(0.5, 7.0)),
)
def test_the_array_that_sizing_asks_for_keeps_a_days_draw_in(
    *, lead: bool, days: float, sd_kwh: float, latitude: float, month: int, typed: float | None
) -> None:
    sky: dict[str, float | int | None] = {"latitude_deg": latitude, "month": month, "peak_sun_hours": typed}
    what = totals(FREEZER_AND_ROUTER, days, sd_kwh=sd_kwh)
    sized = size(what, plan(days=days, **sky), facts())
    assert sized is not None
    assert sized.sun is not None
    chemistry = Chemistry.GEL if lead else Chemistry.LFP
    panels = sized.sun.lead_array_w if lead else sized.sun.array_w
    stored = next(each for each in sized.stored if each.chemistry is chemistry)
    assert panels is not None

    def most_out(array_w: float, *, counts: bool) -> Limit:
        bought = battery(
            stored_wh=1000.0 * stored.stored_kwh.value,
            chemistry=chemistry,
            continuous_w=sized.inverter_w.value,
            continuous_va=sized.inverter_va.value,
            idle_w=None,
            solar_w=1e6,
        )
        # No cloudy days: what stays out beyond a day is what the sun does not bring back.
        own = {"sun_cloudy_days": 0.0}
        found = judge([bought, array(array_w=array_w)], what, own=own, days=days, **sky)  # type: ignore[arg-type]
        return limit(found, LimitCode.ENERGY, counts=counts)

    day = sized.drawn.plan_kwh.value / days
    for counts in (False, True):  # on mean sun, and at the low end of an estimate
        told = most_out(panels.value, counts=counts)
        assert told.outcome is CARRIES
        assert told.needed is not None
        assert told.needed.value == pytest.approx(day)
    # A little less than the load over its reserve, and the low end no longer brings it back.
    if days >= 2.0:
        short = most_out(0.98 * panels.value / 1.3, counts=True).needed
        assert short is not None
        assert short.value > 1.01 * day


GROWS = st.sampled_from(
    ("continuous_w", "continuous_va", "start_va", "start_s", "stored_wh", "charge_w", "solar_w", "outlet_a",
     "battery_limit_a")
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    stored=st.floats(50.0, 20_000.0),
    rating=st.floats(50.0, 3000.0),
    start_s=st.floats(0.1, 5.0),
    days=st.floats(0.1, 12.0),
    field=GROWS,
    more=st.floats(1.0, 10.0),
    combined=st.booleans(),
    chemistry=st.sampled_from(CHEMISTRIES),
)
def test_a_bigger_supply_never_gets_a_worse_outcome(
    *,
    stored: float,
    rating: float,
    start_s: float,
    days: float,
    field: str,
    more: float,
    combined: bool,
    chemistry: Chemistry,
) -> None:
    first = battery(
        stored_wh=stored,
        continuous_w=rating,
        continuous_va=rating,
        start_va=2 * rating,
        start_s=start_s,
        chemistry=chemistry,
        outlet_a=0.5,
        battery_v=12.0,
        battery_limit_a=15.0,
        charge_w=60.0,
        solar_w=100.0,
    )
    rest = [array(), generator()] if combined else []
    bigger = replace(first, **{field: getattr(first, field) * more})
    small = judge([first, *rest], days=days, peak_sun_hours=2.0)
    large = judge([bigger, *rest], days=days, peak_sun_hours=2.0)
    assert RANK[large.outcome] >= RANK[small.outcome]


ODD = st.one_of(
    st.none(), st.sampled_from((0.0, -1.0, 1e-300, 1e-9, 1e300, math.inf, math.nan)), st.floats(-10.0, 1e7)
)
RATINGS = (
    "continuous_w",
    "continuous_va",
    "start_w",
    "start_va",
    "start_s",
    "charge_w",
    "solar_w",
    "array_w",
)
STORE = ("stored_wh", "battery_v", "battery_limit_a", "idle_w", "voltage_v", "frequency_hz", "outlet_a")
ENGINE = ("tank_l", "half_load_l_h", "full_load_l_h")


@settings(max_examples=300, deadline=None)
@given(
    odd=st.fixed_dictionaries(dict.fromkeys((*RATINGS, *STORE, *ENGINE), ODD)),
    kinds=st.lists(st.sampled_from(SupplyKind), min_size=0, max_size=4),
    sort=st.tuples(st.sampled_from(Chemistry), st.sampled_from(Waveform), st.sampled_from(Fuel)),
    days=st.sampled_from((1 / 6, 3.0, 60.0)),
    celsius=st.sampled_from((-60.0, 20.0, 80.0)),
)
def test_odd_specifications_get_a_verdict_too(
    *,
    odd: dict[str, float | None],
    kinds: list[SupplyKind],
    sort: tuple[Chemistry, Waveform, Fuel],
    days: float,
    celsius: float,
) -> None:
    chemistry, waveform, fuel = sort
    members = [
        SupplyDraft("Odd", kind, chemistry=chemistry, waveform=waveform, fuel=fuel, **odd)  # type: ignore[arg-type]
        for kind in kinds
    ]
    found = judge(
        members,
        lines=[line(), line("Lamp", va=None)],
        days=days,
        battery_c=celsius,
        outdoor_c=celsius,
        altitude_m=4000.0,
        peak_sun_hours=0.0,
    )
    assert found.limits
    counted = [each.outcome for each in found.limits if each.counts]
    assert found.outcome is min(counted, key=lambda outcome: RANK[outcome], default=UNKNOWN)
    for each in found.limits:
        assert each.margin is None or math.isfinite(each.margin)
        if each.counts and each.outcome is UNKNOWN:
            assert each.missing


def test_days_of_recharge_by_the_sun_leave_the_generator_out() -> None:
    # 1.75283 kWh of sun over 1.48188 drawn leave 0.27095 a day for the 4.0909 kWh taken: 15.1 days.
    found = judge([battery(), array(), generator()], days=7.0, peak_sun_hours=3.0)
    days = next(each for each in found.limits if each.about == "by the sun")
    assert days.needed is not None
    assert days.needed.value == 5.0
    assert days.offered == pytest.approx(4.0909 / 0.27095, rel=1e-3)
    assert days.margin == pytest.approx(5.0 * 0.27095 / 4.0909 - 1.0, rel=1e-3)
    assert (days.outcome, days.counts) == (SHORT, False)


def test_recharge_by_the_sun_reads_the_days_wanted_first() -> None:
    def days(sun_hours: float, what: Totals | None = None) -> Limit:
        found = judge([battery(), array()], what, days=7.0, peak_sun_hours=sun_hours)
        return next(each for each in found.limits if each.about == "by the sun")

    # 5 sun hours bring 2.92138 kWh, 1.43950 over the loads: 4.0909 kWh are back in 2.842 days, 76 % to spare.
    enough = days(5.0)
    assert enough.needed is not None
    assert (enough.needed.value, enough.unit, enough.outcome) == (5.0, "d", CARRIES)
    assert enough.offered == pytest.approx(2.842, abs=2e-3)
    assert enough.margin == pytest.approx(5.0 / 2.842 - 1.0, abs=2e-3)
    # One sun hour brings 0.584 kWh, less than the loads take: it never gets full.
    never = days(1.0)
    assert never.needed is not None
    assert (never.needed.value, never.offered, never.margin) == (5.0, None, None)
    assert never.outcome is SHORT
    assert never.steps[-1].quantity.endswith("it is never full again")
    # Where some load is not known, enough is not sure.
    unsure = days(5.0, totals(FREEZER_AND_ROUTER, 7.0, not_known=("Well pump",)))
    assert unsure.outcome is UNKNOWN
    assert unsure.missing == "watts or energy of Well pump"
